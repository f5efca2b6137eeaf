//! The closed-class words of the kitchen: units, numbers, sizes, preparations, places, fillers.
//!
//! One table, built once, one lookup per word. A word may carry several tags ("half" is a number
//! and a share, "can" a unit). Nothing here looks at neighbours; the readers do.

use std::collections::HashMap;

use super::lexicon::Fast;
use crate::units::{Ratio, Unit};
use crate::words::{Form, Place};

/// What one word can be.
#[derive(Clone, Copy, Debug, Default)]
pub struct Tag {
    pub unit: Option<Unit>,
    /// The value of a number word.
    pub value: Option<Ratio>,
    bits: u32,
}

impl Tag {
    /// Whether the word is in the vocabulary at all.
    pub fn is_known(self) -> bool {
        self.bits != 0 || self.unit.is_some() || self.value.is_some()
    }
}

macro_rules! bits {
    ($($(#[$doc:meta])* $name:ident = $bit:literal, $test:ident;)+) => {
        $(const $name: u32 = 1 << $bit;)+
        impl Tag {
            $($(#[$doc])* pub fn $test(self) -> bool { self.bits & $name != 0 })+
        }
    };
}

bits! {
    /// "large", "medium": never part of a food's name.
    SIZE = 0, is_size;
    /// "chopped", "peeled": what was done to it; never part of a name on its own.
    PREPARATION = 1, is_preparation;
    /// "finely", "freshly": goes with a preparation.
    ADVERB = 2, is_adverb;
    /// "the", "my", "these".
    DETERMINER = 3, is_determiner;
    /// "just", "also", "really": may be skipped anywhere.
    FILLER = 4, is_filler;
    /// "about", "around": before an amount.
    ABOUT = 5, is_about;
    /// "some", "several": an amount without a number.
    VAGUE = 6, is_vague;
    /// "fresh", "ripe", "red": says what the food is like and may stand in its name.
    QUALITY = 7, is_quality;
    /// "for", "from", "with": ends a name.
    STOP = 8, is_stop;
    /// "i", "we", "mum": who did it, in this household.
    SUBJECT = 9, is_subject;
    /// "it", "them", "those".
    PRONOUN = 10, is_pronoun;
    /// A unit that packs something: "bag", "can", "box".
    PACK = 11, is_pack;
    /// Never food: "shampoo", "tickets".
    NOT_FOOD = 12, is_not_food;
    /// A unit only after a number: "g", "l", "c", "part".
    SHY_UNIT = 13, is_shy_unit;
    /// A unit that may follow the food: "2 garlic cloves".
    TRAILING_UNIT = 14, is_trailing_unit;
    /// Every wording of a day holds one of these, or a number.
    DAY = 15, is_day_word;
}

/// All closed-class words.
#[derive(Debug)]
pub struct Vocabulary {
    words: HashMap<&'static str, Tag, Fast>,
}

impl Default for Vocabulary {
    fn default() -> Vocabulary {
        Vocabulary::new()
    }
}

impl Vocabulary {
    pub fn new() -> Vocabulary {
        let mut vocabulary = Vocabulary { words: HashMap::default() };
        for (unit, words) in UNITS {
            for word in words.split(' ') {
                vocabulary.tag(word).unit = Some(*unit);
            }
        }
        for (word, num, den) in NUMBERS {
            vocabulary.tag(word).value = Ratio::new(*num, *den);
        }
        for (bit, words) in CLASSES {
            for word in words.split_whitespace() {
                vocabulary.tag(word).bits |= bit;
            }
        }
        vocabulary
    }

    pub fn get(&self, word: &str) -> Tag {
        self.words.get(word).copied().unwrap_or_default()
    }

    fn tag(&mut self, word: &'static str) -> &mut Tag {
        self.words.entry(word).or_default()
    }
}

/// Spellings of the units, singular, plural and short.
const UNITS: &[(Unit, &str)] = &[
    (Unit::Gram, "g gr gram grams gramme grammes gm gms"),
    (Unit::Kilogram, "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes"),
    (Unit::Milligram, "mg milligram milligrams"),
    (Unit::Ounce, "oz ozs ounce ounces"),
    (Unit::Pound, "lb lbs pound pounds lbm"),
    (Unit::Stone, "stone"),
    (Unit::Milliliter, "ml mls milliliter milliliters millilitre millilitres mil"),
    (Unit::Centiliter, "cl centiliter centiliters centilitre centilitres"),
    (Unit::Deciliter, "dl deciliter deciliters decilitre decilitres"),
    (Unit::Liter, "l ltr ltrs liter liters litre litres"),
    (Unit::Teaspoon, "tsp tsps teaspoon teaspoons teaspoonful teaspoonfuls t"),
    (
        Unit::Tablespoon,
        "tbsp tbsps tbs tbl tblsp tablespoon tablespoons tablespoonful tablespoonfuls",
    ),
    (Unit::FluidOunce, "floz"),
    (Unit::Cup, "cup cups cupful cupfuls c"),
    (Unit::Pint, "pt pts pint pints"),
    (Unit::Quart, "qt qts quart quarts"),
    (Unit::Gallon, "gal gals gallon gallons"),
    (Unit::Piece, "piece pieces pc pcs"),
    (Unit::Dozen, "dozen dozens doz dz"),
    (Unit::Bunch, "bunch bunches bundle bundles bouquet bouquets"),
    (Unit::Head, "head heads"),
    (Unit::Bulb, "bulb bulbs"),
    (Unit::Clove, "clove cloves"),
    (Unit::Stalk, "stalk stalks stem stems"),
    (Unit::Rib, "rib ribs"),
    (Unit::Stick, "stick sticks"),
    (Unit::Spear, "spear spears"),
    (Unit::Sprig, "sprig sprigs"),
    (Unit::Leaf, "leaf leaves"),
    (Unit::Ear, "ear ears cob cobs"),
    (Unit::Slice, "slice slices rasher rashers"),
    (Unit::Wedge, "wedge wedges"),
    (Unit::Handful, "handful handfuls"),
    (Unit::Pinch, "pinch pinches"),
    (Unit::Dash, "dash dashes"),
    (Unit::Drop, "drop drops"),
    (Unit::Scoop, "scoop scoops"),
    (Unit::Shot, "shot shots"),
    (Unit::Jigger, "jigger jiggers"),
    (Unit::Part, "part parts"),
    (Unit::Inch, "inch inches"),
    (Unit::Can, "can cans tin tins"),
    (Unit::Jar, "jar jars"),
    (Unit::Bottle, "bottle bottles"),
    (Unit::Carton, "carton cartons"),
    (Unit::Tube, "tube tubes"),
    (Unit::Tub, "tub tubs"),
    (Unit::Pot, "pot pots"),
    (Unit::Package, "package packages pkg pkgs pkt pkts packet packets pack packs"),
    (Unit::Container, "container containers"),
    (Unit::Envelope, "envelope envelopes env sachet sachets"),
    (Unit::Sheet, "sheet sheets"),
    (Unit::Bag, "bag bags"),
    (Unit::Sack, "sack sacks"),
    (Unit::Box, "box boxes"),
    (Unit::Crate, "crate crates"),
    (Unit::Case, "case cases"),
    (Unit::Basket, "basket baskets"),
    (Unit::Bucket, "bucket buckets"),
    (Unit::Punnet, "punnet punnets"),
    (Unit::Tray, "tray trays flat flats"),
    (Unit::Net, "net nets"),
    (Unit::Bowl, "bowl bowls bowlful"),
    (Unit::Plate, "plate plates"),
    (Unit::Glass, "glass glasses"),
    (Unit::Loaf, "loaf loaves"),
    (Unit::Roll, "roll rolls"),
    (Unit::Block, "block blocks"),
    (Unit::Brick, "brick bricks"),
    (Unit::Bar, "bar bars"),
    (Unit::Cube, "cube cubes"),
    (Unit::Knob, "knob knobs"),
    (Unit::Portion, "portion portions serving servings"),
];

const NUMBERS: &[(&str, i64, i64)] = &[
    ("zero", 0, 1),
    ("one", 1, 1),
    ("two", 2, 1),
    ("three", 3, 1),
    ("four", 4, 1),
    ("five", 5, 1),
    ("six", 6, 1),
    ("seven", 7, 1),
    ("eight", 8, 1),
    ("nine", 9, 1),
    ("ten", 10, 1),
    ("eleven", 11, 1),
    ("twelve", 12, 1),
    ("thirteen", 13, 1),
    ("fourteen", 14, 1),
    ("fifteen", 15, 1),
    ("sixteen", 16, 1),
    ("seventeen", 17, 1),
    ("eighteen", 18, 1),
    ("nineteen", 19, 1),
    ("twenty", 20, 1),
    ("thirty", 30, 1),
    ("forty", 40, 1),
    ("fifty", 50, 1),
    ("sixty", 60, 1),
    ("seventy", 70, 1),
    ("eighty", 80, 1),
    ("ninety", 90, 1),
    ("half", 1, 2),
    ("halves", 1, 2),
    ("quarter", 1, 4),
    ("quarters", 1, 4),
    ("third", 1, 3),
    ("thirds", 1, 3),
];

const CLASSES: &[(u32, &str)] = &[
    (
        SIZE,
        "large small medium big huge tiny little giant jumbo sized size mediumsized heaping heaped \
         rounded scant generous good-sized biggish smallish lg sm med xl whole-sized enormous massive \
         level overflowing fat old mouldy moldy slimy rotten smelly limp wilted stale shrivelled spoiled spoilt manky sad nice lovely gorgeous beautiful great giant-sized medium-size",
    ),
    (
        PREPARATION,
        "chopped minced diced sliced peeled grated shredded crushed melted softened beaten cooked \
         cubed quartered halved trimmed cored seeded deseeded pitted stemmed drained rinsed washed \
         packed sifted toasted julienned crumbled mashed slivered shelled shucked deveined scrubbed \
         snipped torn pressed smashed separated divided thawed warmed chilled cut pounded squeezed \
         strained skinned scalded hulled husked blanched poached boiled scrambled shaved zested \
         juiced flaked whisked lightly-beaten unpeeled uncooked cleaned soaked prepared optional \
         ripped broken reserved unwrapped crosswise lengthwise warm cooled rolled-out deribbed \
         snapped steamed hard-boiled hardboiled roughly-chopped picked",
    ),
    (
        ADVERB,
        "finely freshly coarsely thinly roughly lightly thickly very well loosely firmly tightly \
         thin diagonally vertically hard newly just slightly too not quite extra-finely",
    ),
    (DETERMINER, "the a an my our your his her their this that these those both all any no such"),
    (
        FILLER,
        "just also then so ok okay oh well right hey hi yep yes yeah yup please pls btw fyi now today \
         already finally again still alright um uh erm hm hmm ah lol haha plus actually too really \
         only even another more other extra additional first next later basically literally like \
         morning everyone guys folks update",
    ),
    (
        ABOUT,
        "about around approximately approx roughly nearly almost over circa maybe perhaps say ~ ca up",
    ),
    (VAGUE, "some several few many lots loads bit plenty tons much any most bits"),
    (
        QUALITY,
        "fresh ripe firm raw frozen dried dry ground whole organic red green yellow white black purple \
         brown golden dark light new old sweet sour hot cold plain unsalted salted smoked roasted \
         canned tinned skinless boneless bone-in lean extra virgin low fat free reduced sodium \
         instant quick cooking quick-cooking all-purpose purpose self rising raising long short grain \
         baby young mixed italian french greek spanish mexican chinese japanese indian english irish \
         german swiss dutch persian turkish american thai asian korean local wild spicy mild sharp \
         mature soft crisp crunchy creamy thick thin smooth sweetened unsweetened flavored flavoured \
         condensed evaporated skim skimmed semi full fat-free gluten dairy sugar-free lowfat nonfat \
         homemade seedless round pickled candied crystallized unflavored unbleached bleached strong \
         fine coarse kosher pure real good quality top best leftover spare dry-roasted day-old \
         vegetarian vegan imported sparkling",
    ),
    (
        STOP,
        "for from with without at on to into onto in by off out because since so but or if when while \
         which that who where before after until till was were is are has have had went going gone \
         per each as instead via inside under over near this last yesterday tonight tomorrow today \
         cos cuz coz and than now then again already though yet left remaining came come arrived gone \
         finished anymore please thanks thx ta cheers sitting standing thawing defrosting missing everyone",
    ),
    (
        SUBJECT,
        "i we he she i've we've he's she's me us you mum mom dad mam mama papa grandma grandpa gran \
         granny nana nan grandad granddad kids children boys girls ive weve someone somebody \
         everyone everybody both son daughter wife husband partner flatmate roommate auntie aunt \
         uncle brother sister hubby",
    ),
    (PRONOUN, "it them that this those these they one ones itll it's they're that's lot rest"),
    (
        PACK,
        "can cans tin tins jar jars bottle bottles carton cartons tube tubes tub tubs pot pots package \
         packages pkg pkgs pkt pkts packet packets pack packs container containers envelope \
         envelopes sachet sachets bag bags sack sacks box boxes crate crates case cases basket \
         baskets bucket buckets punnet punnets tray trays flat flats net nets loaf loaves roll rolls \
         block blocks brick bricks bar bars stick sticks piece pieces bunch bunches slice slices",
    ),
    (SHY_UNIT, "g l c t part parts stone inch inches flat flats stem stems mil head can cans case"),
    (
        TRAILING_UNIT,
        "clove cloves stalk stalks sprig sprigs rib ribs bulb bulbs head heads ear ears cob cobs spear \
         spears wedge wedges slice slices bunch bunches loaf loaves leaf leaves cube cubes",
    ),
    (
        NOT_FOOD,
        "shampoo conditioner soap detergent bleach toothpaste toothbrush toilet tissue tissues towel \
         towels tickets ticket money cash dollars euros bucks phone book books car bike shoes socks \
         shirt shirts clothes pants paint nails batteries battery bulbs diapers nappies wipes \
         cigarettes cigs card cards game games dog cat cats dogs puppy kitten minutes minute hours \
         hour days day weeks week months month years year people friends guys kids points pts votes \
         miles mile km percent job jobs email emails message messages text texts call calls question \
         questions problem problems idea ideas news gas petrol fuel gravel sand soil cement deodorant \
         lotion perfume sunscreen medicine pills tablets aspirin ibuprofen vitamins foil napkins \
         sponges razors floss tape paper pens pencils stamps flowers roses candles gifts gift toys \
         foam followers likes goals goal wins time times stuff things thing laundry appointment \
         crap weed litter",
    ),
    (
        DAY,
        "yesterday yesterdays yesturday yesteday yestrday yeserday yestarday ystrday yest yersterday yday today todya tday tonight tonite \
         tnight tomorrow tomorow tommorow tommorrow tomorrows tmrw tmr tmw tomoz tomoro tomo tmoro tomrw moro morrow moz night nights nite evening eve \
         morning mornin morn afternoon aft arvo lunchtime day days dys week weeks wk wks weekend weekends month months mth mths year years yr yrs \
         fortnight fortnights recently ago agao agoo back earlier later now while time halloween christmas xmas valentines valentine's monday mon mondy \
         munday moday mondays tuesday tues tue teusday tuseday tusday tuesdy tuesdays wednesday weds wensday wendsday wednsday wednesdy wedsday wednesay \
         wed wednesdays thursday thurs thur thu thrusday thirsday thursdy thusday thursdays friday fri firday fryday fridy freiday fridays saturday \
         saterday satuday saturdy satruday sat saturdays sunday sundy suday sunnday sun sundays january jan february feb febuary march mar april apr \
         may june jun july jul august aug september sept sep october oct november nov december dec",
    ),
];

/// The place a phrase names, if its words are a place of every kitchen.
pub fn place(word: &str, next: &str) -> Option<(Place, usize)> {
    let place = match word {
        "fridge" | "refrigerator" | "icebox" | "refrigerater" | "frige" | "fridges" => {
            Place::Fridge
        }
        "freezer" | "freezers" | "deepfreeze" => Place::Freezer,
        "crisper" => return Some((Place::Crisper, if next == "drawer" { 2 } else { 1 })),
        "veg" | "vegetable" | "salad" | "veggie" if next == "drawer" => {
            return Some((Place::Crisper, 2));
        }
        "deep" | "chest" if matches!(next, "freeze" | "freezer") => {
            return Some((Place::Freezer, 2));
        }
        "counter" | "countertop" | "worktop" | "table" | "windowsill" => Place::Counter,
        "kitchen" if matches!(next, "counter" | "table" | "worktop") => {
            return Some((Place::Counter, 2));
        }
        "fruit" if next == "bowl" => return Some((Place::Counter, 2)),
        "pantry" | "larder" | "cupboard" | "cabinet" | "cool_dark" => Place::CoolDark,
        "ground" | "garden" | "bed" => Place::InGround,
        "second" | "outside" | "garage" | "spare" | "basement" | "downstairs" | "big"
            if matches!(next, "fridge" | "freezer") =>
        {
            let own = Place::Own(format!("{word} {next}"));
            return Some((own, 2));
        }
        "cellar" | "basement" | "porch" | "garage" | "shed" | "balcony" | "attic" | "hallway"
        | "cooler" | "larder's" => Place::Own(word.to_owned()),
        "root" if next == "cellar" => return Some((Place::Own("cellar".to_owned()), 2)),
        _ => return None,
    };
    Some((place, 1))
}

/// The form a word says food is in.
pub fn form(word: &str) -> Option<Form> {
    match word {
        "cooked" | "boiled" | "roasted" | "baked" | "steamed" | "leftover" | "leftovers"
        | "fried" | "grilled" | "hardboiled" | "poached" => Some(Form::Cooked),
        "frozen" => Some(Form::Frozen),
        "thawed" | "defrosted" => Some(Form::Thawed),
        "dried" | "dehydrated" => Some(Form::Dried),
        "opened" | "open" => Some(Form::Opened),
        "cut" | "chopped" | "sliced" | "diced" | "peeled" | "halved" | "quartered" | "shredded"
        | "grated" | "cubed" | "minced" => Some(Form::Cut),
        _ => None,
    }
}
