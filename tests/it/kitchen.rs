//! The kitchen: small ledgers in text (before, what was said, after), and the laws of the fold.
//!
//! A statement is written `INTENT item, item ...` with an item as words in any order:
//! `3 carrot`, `300g carrot`, `2bunch mint`, `1/2of squash`, `all pea`, and the marks `@place`,
//! `+form`, `>destination`, `=price`, `/unit` (price per), `~total`, `%part`, `made`.

use larderling::conversation::MessageId;
use larderling::dates::{Instant, KitchenDay, Zone};
use larderling::kitchen::{
    self, Clock, Cx, Event, Foods, Lot, Outage, PersonId, Record, State, Told,
};
use larderling::ledger;
use larderling::rules::{
    BagRules, Cite, Food, Grade, Kind, PlaceAdvice, Suitability, Trimming, Water, WaterManner,
    Weight,
};
use larderling::statement::{Item, Price, Scope, Statement};
use larderling::units::{Minor, Ratio, Unit};
use larderling::wording::{Voice, Wording};
use larderling::words::{Destination, FoodId, Form, Intent, Place, Role};

/// A tiny rule set of invented figures, so that these tests speak of the kitchen alone.
struct Shelf {
    foods: Vec<Food>,
    bag: BagRules,
}

const CITE: Cite = Cite { source: 0, grade: Grade::A };

fn food(id: &str, plural: &str, kind: Kind, place: Place, grams: i64) -> Food {
    let trimming = Trimming {
        part: "peel,top,end".to_owned(),
        suitability: Suitability::Good,
        why: "sweet".to_owned(),
        cite: CITE,
    };
    Food {
        id: FoodId::new(id),
        name: id.replace('_', " "),
        plural: plural.to_owned(),
        aliases: Vec::new(),
        kind,
        hazard: false,
        usual_form: Form::Whole,
        keeps_out: Vec::new(),
        left_out_minutes: None,
        places: vec![PlaceAdvice { place, why: String::new(), cite: CITE }],
        lives: Vec::new(),
        safety: Vec::new(),
        conditions: None,
        water: None,
        signs: Vec::new(),
        parts: Vec::new(),
        freeze: None,
        dry: None,
        trimmings: vec![trimming],
        weights: vec![Weight {
            unit: Unit::Piece,
            size: None,
            grams: Ratio::whole(grams),
            cite: CITE,
        }],
        inedible: None,
        wash: None,
        wrap: None,
        uses: Vec::new(),
        caution: None,
    }
}

impl Shelf {
    fn new() -> Shelf {
        let mut foods = vec![
            food("carrot", "carrots", Kind::Root, Place::Crisper, 60),
            food("leek", "leeks", Kind::Allium, Place::Crisper, 150),
            food("fennel", "fennel", Kind::Vegetable, Place::Crisper, 300),
            food("asparagus", "asparagus", Kind::Vegetable, Place::Fridge, 20),
            food("pea", "peas", Kind::Legume, Place::Fridge, 5),
            food("peach", "peaches", Kind::Fruit, Place::Counter, 150),
            food("squash", "squash", Kind::Vegetable, Place::CoolDark, 1000),
            food("potato", "potatoes", Kind::Root, Place::CoolDark, 200),
            food("mince", "mince", Kind::Meat, Place::Fridge, 500),
            food("milk", "milk", Kind::Dairy, Place::Fridge, 1000),
        ];
        for food in &mut foods {
            food.water = match food.id.as_str() {
                "asparagus" => Some((WaterManner::StemsOnly, 2, 9, None)),
                "fennel" | "carrot" => Some((WaterManner::Submerged, 1, 6, None)),
                "potato" => Some((WaterManner::Submerged, 1, 1, Some(24))),
                _ => None,
            }
            .map(|(manner, every_days, longest_days, limit_hours)| Water {
                manner,
                place: Place::Fridge,
                every_days,
                longest_days,
                limit_hours,
                cite: CITE,
            });
        }
        let strong_share = Ratio::new(1, 5).expect("a fifth");
        let refused = vec!["slimy".to_owned()];
        Shelf { foods, bag: BagRules { strong_share, months: 6, refused, cite: CITE } }
    }
}

impl Foods for Shelf {
    fn food(&self, id: &FoodId) -> Option<&Food> {
        self.foods.iter().find(|food| food.id == *id)
    }

    fn dish(&self, _: &str) -> Option<&Food> {
        None
    }

    fn canned(&self, _: &str) -> Option<&Food> {
        None
    }

    fn usual_form(&self, _: Option<&Food>) -> Form {
        Form::Whole
    }

    fn is_main_part(&self, _: &Food, part: &str) -> bool {
        part == "root"
    }

    fn is_hazard(&self, _: &Food) -> bool {
        false
    }

    fn clock(&self, food: Option<&Food>, form: Form, place: &Place) -> Option<Clock> {
        let cold = matches!(place, Place::Fridge | Place::Crisper);
        let meat = food.is_some_and(|food| food.kind == Kind::Meat);
        let days = match form {
            Form::Cooked if cold => 4,
            Form::Thawed if meat => 2,
            _ => return None,
        };
        Some(Clock { days: Some(days), minutes: None, why: "kept cold".into(), source: "S".into() })
    }

    fn left_out(&self, food: Option<&Food>, form: Form) -> Option<Clock> {
        let risky = matches!(form, Form::Cooked | Form::Cut | Form::Thawed)
            || food.is_some_and(|food| matches!(food.kind, Kind::Meat | Kind::Dairy));
        risky.then(|| Clock {
            days: None,
            minutes: Some(120),
            why: "warm too long".into(),
            source: "S".into(),
        })
    }

    fn source(&self, _: Cite) -> String {
        "S".into()
    }

    fn bag(&self) -> &BagRules {
        &self.bag
    }

    fn outage(&self) -> Outage {
        Outage {
            fridge_minutes: 240,
            freezer_minutes: 24 * 60,
            freezer_full_minutes: 48 * 60,
            source: "S".into(),
        }
    }
}

/// A household that is told things, one message at a time.
pub(crate) struct House {
    shelf: Shelf,
    log: Vec<Event>,
    pub(crate) state: State,
    now: Instant,
    messages: u64,
    told: Vec<Told>,
    questions: usize,
}

const ORLA: PersonId = PersonId(1);
const FINN: PersonId = PersonId(2);

impl House {
    pub(crate) fn new() -> House {
        let day: KitchenDay = "2026-05-04".parse().expect("a day");
        House {
            shelf: Shelf::new(),
            log: Vec::new(),
            state: State::default(),
            now: day.at("09:00".parse().expect("a time"), Zone::UTC),
            messages: 0,
            told: Vec::new(),
            questions: 0,
        }
    }

    fn today(&self) -> KitchenDay {
        self.now.day(Zone::UTC)
    }

    fn with<T>(&self, person: PersonId, message: u64, act: impl FnOnce(&Cx<'_>) -> T) -> T {
        act(&Cx {
            foods: &self.shelf,
            now: self.now,
            today: self.today(),
            person: Some(person),
            message: MessageId(message),
            answers: None,
            log: &self.log,
            use_by: &|_: &Lot| None,
            lived: &|_: &Lot, _| None,
            sure: false,
        })
    }

    fn take(&mut self, record: Record) {
        self.log.extend(record.events);
        self.state = record.state;
        self.told = record.told;
        self.questions = record.questions.len();
        assert_eq!(self.state, State::fold(&self.log), "the fold is the kept state");
        assert_eq!(ledger::imbalances(&self.state), [], "the balance holds");
        // Through its stored form and back.
        let text = serde_json::to_string(&self.log).expect("a log prints");
        let read: Vec<Event> = serde_json::from_str(&text).expect("a log reads");
        assert_eq!(read, self.log);
    }

    fn say_as(&mut self, person: PersonId, text: &str) {
        self.now = self.now.plus_minutes(10);
        self.messages += 1;
        let statements: Vec<Statement> = text.split(" | ").map(statement).collect();
        let record =
            self.with(person, self.messages, |cx| kitchen::record(&self.state, &statements, cx));
        self.take(record);
    }

    pub(crate) fn say(&mut self, text: &str) {
        match text.split_once(' ') {
            Some((reply, rest)) if reply.starts_with("reply") => {
                let to: u64 = reply["reply".len()..].parse().expect("a message");
                assert_eq!(rest, "undo");
                self.now = self.now.plus_minutes(10);
                self.messages += 1;
                let target = kitchen::Undoing::This(MessageId(to));
                let record =
                    self.with(ORLA, self.messages, |cx| kitchen::undo(&self.state, target, cx));
                self.take(record);
            }
            _ => match text.strip_prefix("F:") {
                Some(text) => self.say_as(FINN, text),
                None => self.say_as(ORLA, text),
            },
        }
    }

    fn edit(&mut self, message: u64, text: &str) {
        let statements: Vec<Statement> = text.split(" | ").map(statement).collect();
        let record = self.with(ORLA, message, |cx| kitchen::edit(&self.state, &statements, cx));
        self.take(record);
    }

    fn wait_days(&mut self, days: i64) {
        self.now = self.now.plus_minutes(days * 24 * 60);
    }

    fn words(&self) -> String {
        let wording = Wording::english().expect("the wording file is sound");
        let voice =
            Voice { foods: &self.shelf, settings: &self.state.settings, today: self.today() };
        wording.told(&self.told, voice).to_plain()
    }

    /// The lots in text: `2 carrot @crisper`.
    fn lots(&self) -> String {
        let lots: Vec<String> = self
            .state
            .lots
            .iter()
            .map(|lot| {
                let amount = match lot.quantity {
                    Some(q) => match q.unit {
                        Some(unit) => format!("{} {unit} ", q.value),
                        None => format!("{} ", q.value),
                    },
                    None => "some ".to_owned(),
                };
                let form = match lot.form {
                    Form::Whole => String::new(),
                    form => format!(" +{form}"),
                };
                format!("{amount}{}{form} @{}", lot.key(), lot.place)
            })
            .collect();
        lots.join("; ")
    }
}

fn statement(text: &str) -> Statement {
    let (intent, rest) = text.split_once(' ').unwrap_or((text, ""));
    let mut statement = Statement::new(Intent::from_word(intent).expect("an intent"));
    for part in rest.split(", ").filter(|part| !part.is_empty()) {
        let mut item = Item::default();
        for word in part.split_whitespace() {
            let (mark, tail) = word.split_at(1);
            match mark {
                "~" => statement.total = Some(Minor(tail.parse().expect("money"))),
                "^" => statement.day = Some(tail.parse().expect("a day")),
                "#" => statement.minutes = Some(tail.parse().expect("minutes")),
                "!" => {
                    statement.complete = true;
                    statement.scope = Some(match tail {
                        "all" => Scope::All,
                        place => Scope::Place(Place::from(place.to_owned())),
                    });
                }
                "?" => statement.scope = Some(Scope::Place(Place::from(tail.to_owned()))),
                "@" => item.place = Some(Place::from(tail.to_owned())),
                "+" => item.form = Form::from_word(tail),
                ">" => item.to = Destination::from_word(tail),
                "%" => item.part = Some(tail.to_owned()),
                "=" => {
                    let price = Price {
                        minor: Minor(tail.parse().expect("money")),
                        per: None,
                        quantity: None,
                    };
                    item.price = Some(price);
                }
                "/" => {
                    if let Some(price) = &mut item.price {
                        price.per = Unit::from_word(tail);
                    }
                }
                _ => match word {
                    "made" => item.role = Some(Role::Made),
                    "from" => item.role = Some(Role::From),
                    "all" => item.fraction = Some(Ratio::ONE),
                    _ => amount_or_name(word, &mut item),
                },
            }
        }
        if !item.name.is_empty() {
            let last = item.name.split_once(" of the ").map_or(item.name.as_str(), |(_, of)| of);
            let known = Shelf::new().foods.iter().any(|food| food.id.as_str() == last);
            item.food = known.then(|| FoodId::new(last));
            statement.items.push(item);
        }
    }
    statement
}

fn amount_or_name(word: &str, item: &mut Item) {
    if !word.starts_with(|c: char| c.is_ascii_digit()) {
        if !item.name.is_empty() {
            item.name.push(' ');
        }
        item.name.push_str(word);
        return;
    }
    let (word, share) = match word.strip_suffix("of") {
        Some(word) => (word, true),
        None => (word, false),
    };
    let digits = word.find(|c: char| c.is_alphabetic()).unwrap_or(word.len());
    let (number, unit) = word.split_at(digits);
    let value = match number.split_once('/') {
        Some((num, den)) => {
            Ratio::new(num.parse().expect("a number"), den.parse().expect("a number"))
        }
        None => Ratio::from_decimal(number),
    };
    if share {
        item.fraction = value;
    } else {
        item.quantity = value;
        item.unit = match unit {
            "" => None,
            "g" => Some(Unit::Gram),
            "kg" => Some(Unit::Kilogram),
            "lb" => Some(Unit::Pound),
            "l" => Some(Unit::Liter),
            word => Some(Unit::from_word(word).expect("a unit")),
        };
    }
}

/// Says the lines one after the other and compares the lots after the last.
fn check(name: &str, said: &[&str], after: &str) {
    let mut house = House::new();
    for line in said {
        house.say(line);
    }
    assert_eq!(house.lots(), after, "{name}: {said:?}\n{}", house.words());
}

#[test]
fn small_ledgers_come_out_as_said() {
    let cases: &[(&str, &[&str], &str)] = &[
        (
            "a purchase",
            &["acquired 3 leek, 1bunch mint, milk"],
            "3 leek @crisper; 1 bunch mint @counter; some milk @fridge",
        ),
        ("a place said", &["acquired 10kg potato @porch"], "10 kilogram potato @porch"),
        ("a use", &["acquired 5 carrot", "used 3 carrot"], "2 carrot @crisper"),
        (
            "a use by weight from a count",
            &["acquired 5 carrot", "used 120g carrot"],
            "3 carrot @crisper",
        ),
        (
            "a use by count from a weight",
            &["acquired 1kg carrot", "used 3 carrot"],
            "41/50 kilogram carrot @crisper",
        ),
        ("half the", &["acquired 1kg carrot", "used 1/2of carrot"], "1/2 kilogram carrot @crisper"),
        ("half a", &["acquired 1 squash", "used 1/2 squash"], "1/2 squash @cool_dark"),
        ("finished", &["acquired 3 leek", "used all leek"], ""),
        ("a vague use stays vague", &["acquired 3 leek", "used leek"], "some leek @crisper"),
        ("more than on record", &["acquired 3 leek", "used 5 leek"], ""),
        ("never on record", &["used 5 leek"], ""),
        (
            "the older lot goes first",
            &["acquired 3 leek ^2026-05-01", "acquired 4 leek", "used 5 leek"],
            "2 leek @crisper",
        ),
        (
            "fresh goes before frozen",
            &["acquired 5 peach", "preserved 3 peach", "acquired 1 peach", "used 4 peach"],
            "2 peach +frozen @freezer",
        ),
        (
            "frozen when frozen is said",
            &["acquired 5 peach", "preserved 3 peach", "used 1 peach +frozen"],
            "2 peach @counter; 2 peach +frozen @freezer",
        ),
        ("thrown out", &["acquired 3 leek", "discarded leek"], ""),
        (
            "a peel is not the carrot",
            &["acquired 3 carrot", "discarded carrot %peel >compost"],
            "3 carrot @crisper",
        ),
        (
            "the part sold as the food is the food",
            &["acquired 3 carrot", "discarded 2 carrot %root"],
            "1 carrot @crisper",
        ),
        ("given", &["acquired 4 squash", "given 3 squash"], "1 squash @cool_dark"),
        (
            "frozen in part",
            &["acquired 5 peach", "preserved 3 peach"],
            "2 peach @counter; 3 peach +frozen @freezer",
        ),
        (
            "frozen whole keeps its lot",
            &["acquired 5 peach", "preserved peach"],
            "5 peach +frozen @freezer",
        ),
        (
            "two lots freeze into one bag",
            &["acquired 2 peach", "acquired 3 peach", "preserved all peach"],
            "5 peach +frozen @freezer",
        ),
        (
            "dried",
            &["acquired 500g squash", "preserved squash +dried"],
            "500 gram squash +dried @cool_dark",
        ),
        ("frozen without being on record", &["preserved 5 peach"], "5 peach +frozen @freezer"),
        (
            "thawed",
            &["acquired 500g mince @freezer +frozen", "thawed mince"],
            "500 gram mince +thawed @fridge",
        ),
        (
            "cut",
            &["acquired 2 fennel", "prepared 1 fennel +cut"],
            "1 fennel @crisper; 1 fennel +cut @fridge",
        ),
        (
            "in water",
            &["acquired 2 fennel", "prepared fennel +cut | put_in_water fennel"],
            "2 fennel +in_water @fridge",
        ),
        (
            "stems in a jar stay whole",
            &["acquired 20 asparagus", "put_in_water asparagus"],
            "20 asparagus @fridge",
        ),
        ("moved", &["acquired 10kg potato", "moved potato @porch"], "10 kilogram potato @porch"),
        (
            "moved in part",
            &["acquired 10kg potato", "moved 4kg potato @porch"],
            "6 kilogram potato @cool_dark; 4 kilogram potato @porch",
        ),
        (
            "moved to the freezer is frozen",
            &["acquired 5 peach", "moved peach @freezer"],
            "5 peach +frozen @freezer",
        ),
        (
            "moved out of the freezer is thawed",
            &["acquired 500g mince @freezer +frozen", "moved mince @fridge"],
            "500 gram mince +thawed @fridge",
        ),
        (
            "one of several packages is opened",
            &["acquired 3carton broth", "opened broth"],
            "2 carton broth @counter; 1 carton broth +opened @counter",
        ),
        (
            "a dish",
            &[
                "acquired 1kg carrot, 3 leek",
                "prepared 6portion bean stew made, 300g carrot from, 2 leek from",
            ],
            "7/10 kilogram carrot @crisper; 1 leek @crisper; 6 portion bean stew +cooked @fridge",
        ),
        (
            "a dish by part of its name",
            &["prepared 6portion bean stew made", "used 2portion stew"],
            "4 portion bean stew +cooked @fridge",
        ),
        ("a count sets", &["acquired 5 leek", "counted 3 leek"], "3 leek @crisper"),
        (
            "a count above the record adds",
            &["acquired 5 leek", "counted 7 leek"],
            "7 leek @crisper",
        ),
        (
            "a count never touches frozen lots",
            &["acquired 5 peach", "preserved 3 peach", "counted 1 peach"],
            "1 peach @counter; 3 peach +frozen @freezer",
        ),
        (
            "a count of a place touches that place",
            &["acquired 6kg potato", "moved 4kg potato @porch", "counted 1kg potato @porch"],
            "2 kilogram potato @cool_dark; 1 kilogram potato @porch",
        ),
        (
            "a first count is opening stock",
            &["counted 3 leek, 1/2 squash"],
            "3 leek @crisper; 1/2 squash @cool_dark",
        ),
        ("none left", &["acquired 3 leek", "counted 0 leek"], ""),
        (
            "a complete count clears the rest of its place",
            &["counted 3 leek @crisper, 1l milk, 5 peach", "counted 1l milk !fridge"],
            "1 liter milk @fridge; 5 peach @counter",
        ),
        (
            "a count in another unit",
            &["acquired 1bag carrot", "counted 500g carrot"],
            "500 gram carrot @crisper",
        ),
        ("never came", &["acquired 3 leek, milk", "not_received milk"], "3 leek @crisper"),
    ];
    for (name, said, after) in cases {
        check(name, said, after);
    }
}

#[test]
fn what_was_understood_is_said_in_one_line() {
    let mut house = House::new();
    let mut said = String::new();
    let lines = [
        "acquired 3 leek, 1bunch mint, 2l milk, 1.5kg carrot ~640",
        "acquired 1 squash =199",
        "used 3 carrot",
        "used 1/2of squash, leek",
        "used 9 leek",
        "used 2 peach",
        "discarded mint >compost",
        "discarded 250g carrot, 1l milk >drain",
        "discarded carrot %peel >animal_feed",
        "given 300g carrot",
        "acquired 5 peach, 2 fennel, 20 asparagus, 500g mince, 3carton broth",
        "put_away",
        "put_away",
        "preserved 3 peach",
        "preserved mince",
        "thawed mince",
        "prepared 1 fennel +cut",
        "put_in_water fennel",
        "put_in_water asparagus",
        "water_changed",
        "water_changed leek",
        "moved carrot @porch",
        "opened broth",
        "prepared 6portion bean stew made, 300g carrot from, 1 peach from",
        "prepared rice +cooked",
        "counted 4 carrot @porch, 1/2 squash",
        "counted 0 asparagus",
        "counted 1 peach !all",
        "left_out bean stew #480",
        "left_out bean stew #60",
        "left_out bean stew",
        "acquired 500g mince, 2 leek | outage ?fridge #360",
        "outage ?fridge",
        "scraps_saved fennel %end, carrot %peel",
        "stock_made 3l stock",
        "wanted rice, 2 squash",
        "unwanted rice",
        "unwanted rice",
        "not_received leek",
        "trip_total ~8410",
        "used 1000000000kg rice",
        "acquired 2 leek ^2026-05-09",
        "used 1 leek ^2026-05-03",
        "acquired peaches and cream ice",
        "undo",
    ];
    for line in lines {
        house.say(line);
        said.push_str(&format!("> {line}\n{}\n", house.words()));
    }
    insta::with_settings!({ prepend_module_to_snapshot => false }, {
        insta::assert_snapshot!("kitchen_acknowledgements", said);
    });
}

#[test]
fn a_mistake_is_mended_on_its_own_day_and_what_followed_finds_it_again() {
    let cases: &[(&str, &[&str], &str)] = &[
        (
            "undo takes back the newest",
            &["acquired 4 leek", "used 2 leek", "undo"],
            "4 leek @crisper",
        ),
        ("undo twice goes further back", &["acquired 4 leek", "used 2 leek", "undo", "undo"], ""),
        ("an undo is not undone by undo", &["acquired 4 leek", "undo", "undo"], ""),
        (
            "no, 3",
            &["acquired 4 leek, 2 fennel", "correct 3 leek"],
            "3 leek @crisper; 2 fennel @crisper",
        ),
        (
            "a purchase corrected after a use",
            &["acquired 4 leek", "F:used 2 leek", "acquired milk", "correct 5 leek"],
            "3 leek @crisper; some milk @fridge",
        ),
        (
            "half the corrected purchase",
            &["acquired 4 leek", "F:used 1/2of leek", "correct 6 leek"],
            "3 leek @crisper",
        ),
        (
            "a use beyond the record closes up when the purchase is corrected",
            &["acquired 3 leek", "F:used 5 leek", "correct 6 leek"],
            "1 leek @crisper",
        ),
        (
            "a use corrected",
            &["acquired 4 leek", "used 1 leek", "correct 3 leek"],
            "1 leek @crisper",
        ),
        ("another food all along", &["acquired 3 leek", "correct 3 carrot"], "3 carrot @crisper"),
        (
            "those were carrots",
            &["acquired 3 leek, milk", "F:used 1 leek", "correct leek, carrot"],
            "2 carrot @crisper; some milk @fridge",
        ),
        (
            "frozen, then the purchase undone",
            &["acquired 5 peach", "preserved 3 peach", "reply1 undo"],
            "3 peach +frozen @freezer",
        ),
    ];
    for (name, said, after) in cases {
        check(name, said, after);
    }
}

#[test]
fn an_edited_message_replaces_what_its_first_text_recorded() {
    let mut house = House::new();
    house.say("acquired 1kg carrot, 4 leek");
    house.say("used all carrot");
    house.say("F:used 1 leek");
    assert_eq!(house.lots(), "3 leek @crisper");
    house.edit(2, "used 1/2of carrot");
    assert_eq!(house.lots(), "1/2 kilogram carrot @crisper; 3 leek @crisper");
    house.edit(1, "acquired 2kg carrot, 6 leek");
    assert_eq!(house.lots(), "1 kilogram carrot @crisper; 5 leek @crisper");
    house.say("reply2 undo");
    assert_eq!(house.lots(), "2 kilogram carrot @crisper; 5 leek @crisper");
    // An edit to small talk takes back what was recorded.
    house.edit(1, "none");
    assert_eq!(house.lots(), "");
}

#[test]
fn a_statement_moves_to_the_day_it_was_about() {
    let mut house = House::new();
    house.say("prepared 4portion stew made");
    let last = |house: &House| house.state.lots[0].safety_day(Zone::UTC).map(|d| d.to_string());
    assert_eq!(last(&house).as_deref(), Some("2026-05-07"));
    house.say("correct ^2026-05-03");
    assert_eq!(last(&house).as_deref(), Some("2026-05-06"));
    assert_eq!(house.state.lots[0].since.to_string(), "2026-05-03");
    assert_eq!(house.words(), "Now on yesterday: made stew (4 portions).");
}

#[test]
fn two_people_reporting_one_shop_or_one_use_are_asked_once() {
    let mut house = House::new();
    house.say("acquired 4 leek, milk");
    house.say("F:acquired 4 leek, milk");
    assert_eq!((house.questions, house.told.len()), (1, 0));
    assert_eq!(house.lots(), "4 leek @crisper; some milk @fridge");
    // Another amount is another shop; the same person means what they say.
    house.say("F:acquired 3 leek");
    house.say("F:acquired 3 leek");
    assert_eq!(house.questions, 0);
    house.say("used 2 leek");
    house.say("F:used 2 leek");
    assert_eq!(house.questions, 1);
    house.wait_days(1);
    house.say("F:used 2 leek");
    assert_eq!(house.questions, 0);
}

mod laws {
    use proptest::prelude::*;

    use super::*;

    const NAMES: [&str; 8] =
        ["carrot", "leek", "peach", "mince", "fennel", "bean stew", "scraps", "trimmings bag"];

    /// One line anybody might text, in the notation of these tests.
    fn line() -> impl Strategy<Value = String> {
        let intent = prop::sample::select(vec![
            "acquired",
            "acquired",
            "used",
            "used",
            "given",
            "discarded",
            "preserved",
            "thawed",
            "prepared",
            "moved",
            "put_in_water",
            "water_changed",
            "opened",
            "counted",
            "not_received",
            "left_out",
            "put_away",
            "undo",
            "correct",
            "scraps_saved",
            "stock_made",
            "outage",
            "trip_total ~999",
        ]);
        let amount = prop_oneof![
            Just(String::new()),
            (1..9_u8).prop_map(|n| format!("{n} ")),
            (1..2000_u16).prop_map(|n| format!("{n}g ")),
            (1..5_u8).prop_map(|n| format!("{n}bunch ")),
            (1..7_u8, 2..9_u8).prop_map(|(n, d)| format!("{n}/{d}of ")),
            (1..9_u8, 2..7_u8).prop_map(|(n, d)| format!("{n}/{d} ")),
            Just("all ".to_owned()),
            Just("0 ".to_owned()),
        ];
        let mark = prop::sample::select(vec![
            "",
            "",
            "",
            " @freezer",
            " @porch",
            " @fridge",
            " +cut",
            " +cooked",
            " +frozen",
            " made",
            " >compost",
            " >animal_feed",
            " %peel",
            " =250",
            " #500",
            " !fridge",
            " !all",
            " ^2026-05-02",
        ]);
        let item = (amount, prop::sample::select(NAMES.to_vec()), mark)
            .prop_map(|(amount, name, mark)| format!("{amount}{name}{mark}"));
        (intent, prop::collection::vec(item, 0..3))
            .prop_map(|(intent, items)| format!("{intent} {}", items.join(", ")))
    }

    /// What happens to a household: somebody says something, or takes back or edits a message.
    #[derive(Clone, Debug)]
    enum Step {
        Say(bool, String),
        Undo(u8),
        Edit(u8, String),
        Wait(u8),
    }

    fn steps() -> impl Strategy<Value = Vec<Step>> {
        let step = prop_oneof![
            8 => (any::<bool>(), line()).prop_map(|(finn, text)| Step::Say(finn, text)),
            1 => (1..12_u8).prop_map(Step::Undo),
            1 => (1..12_u8, line()).prop_map(|(message, text)| Step::Edit(message, text)),
            1 => (1..4_u8).prop_map(Step::Wait),
        ];
        prop::collection::vec(step, 1..24)
    }

    fn play(steps: &[Step]) -> House {
        let mut house = House::new();
        for step in steps {
            match step {
                Step::Say(finn, text) => house.say_as(if *finn { FINN } else { ORLA }, text),
                Step::Undo(message) => house.say(&format!("reply{message} undo")),
                Step::Edit(message, text) if u64::from(*message) <= house.messages => {
                    house.edit(u64::from(*message), text);
                }
                Step::Edit(..) => {}
                Step::Wait(days) => house.wait_days(i64::from(*days)),
            }
        }
        house
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(256))]

        /// `House::take` checks after each step that the kept state equals the fold of the log,
        /// that the mass balance of every food holds and that the log survives its stored form.
        #[test]
        fn prop_the_fold_is_the_kept_state_and_mass_is_neither_made_nor_lost(steps in steps()) {
            let house = play(&steps);
            for lot in &house.state.lots {
                prop_assert!(lot.quantity.is_none_or(|q| q.value > Ratio::ZERO), "{lot:?}");
                prop_assert!(lot.grams.is_none_or(|grams| grams >= 0), "{lot:?}");
                prop_assert!(lot.cost.is_none_or(|cost| cost.0 >= 0), "{lot:?}");
                prop_assert!(lot.stays.is_sorted_by_key(|stay| stay.from), "{lot:?}");
                let sum: i64 = lot.contents.values().sum();
                prop_assert!(lot.contents.is_empty() || lot.grams == Some(sum), "{lot:?}");
            }
            prop_assert!(house.state.lots.is_sorted_by_key(|lot| lot.id));
            let text = serde_json::to_string(&house.state).expect("a state prints");
            let read: State = serde_json::from_str(&text).expect("a state reads");
            prop_assert_eq!(&read, &house.state);
            prop_assert_eq!(serde_json::to_string(&read).expect("a state prints"), text);
            let _ = house.words();
        }

        /// Taking a message back leaves what would be if it had never been sent.
        #[test]
        fn prop_undo_restores_the_fold_without_the_message(steps in steps(), text in line()) {
            let mut house = play(&steps);
            let before = house.state.clone();
            house.say_as(ORLA, &text);
            let said = house.messages;
            house.say(&format!("reply{said} undo"));
            let mut after = house.state.clone();
            // Numbers once given are not given again.
            after.last_event = before.last_event;
            after.next_lot = before.next_lot;
            prop_assert_eq!(after, before);
        }

        /// Nothing anybody says about food that stays raw or stays cooked gives it more time.
        #[test]
        fn prop_the_last_safe_day_never_moves_later(
            steps in prop::collection::vec(
                prop::sample::select(vec![
                    "moved bean stew @porch", "moved bean stew @fridge", "left_out bean stew #500",
                    "left_out bean stew #30", "used 1portion bean stew",
                    "counted 3portion bean stew +cooked",
                    "outage ?fridge #300", "prepared bean stew +cut", "given 1portion bean stew",
                ]),
                1..8,
            ),
        ) {
            let mut house = House::new();
            house.say("prepared 6portion bean stew made");
            let limit = |house: &House| {
                let first = house.state.lots.iter().filter(|lot| lot.id.0 == 1);
                first.map(|lot| lot.safety_day(Zone::UTC).expect("a last day")).max()
            };
            let mut last = limit(&house);
            for step in steps {
                house.say(step);
                house.wait_days(1);
                let now = limit(&house);
                prop_assert!(now <= last, "{now:?} after {step}");
                last = now.or(last);
            }
        }
    }
}

#[test]
fn what_is_past_its_limit_is_never_told_to_be_kept() {
    let mut house = House::new();
    house.say("acquired 500g mince, 2 leek | put_away");
    house.say("outage ?fridge #360");
    assert!(house.words().contains("Throw out: 500 g mince"), "{}", house.words());
    // A second, short cut brings nothing back.
    house.say("outage ?fridge #60");
    assert!(house.words().contains("Throw out: 500 g mince"), "{}", house.words());
    assert!(house.words().contains("Keep: 2 leeks"), "{}", house.words());
    house.say("left_out mince #10");
    assert!(house.words().contains("Throw out 500 g mince"), "{}", house.words());
    // Nor does freezing it, or thawing it a month later.
    house.say("preserved mince");
    house.wait_days(30);
    house.say("thawed mince");
    let now = house.now;
    assert!(
        house.state.lots.iter().any(|lot| lot.form == Form::Thawed && lot.is_out(now, Zone::UTC))
    );
}

#[test]
fn a_clock_stopped_by_the_freezer_runs_on_after_it() {
    // Cooked on the 4th, last day the 7th; frozen on the 5th with two days left, thawed on the
    // 14th: the thaw day counts, so that the last day is the 16th.
    let mut house = House::new();
    house.say("prepared 4portion stew made");
    house.wait_days(1);
    house.say("preserved stew");
    assert_eq!(house.state.lots[0].safety_day(Zone::UTC), None);
    house.wait_days(9);
    house.say("thawed stew");
    let last = house.state.lots[0].safety_day(Zone::UTC).map(|day| day.to_string());
    assert_eq!(last.as_deref(), Some("2026-05-16"));
    assert_eq!(house.words(), "Took the stew out of the freezer. Use the stew by Saturday.");
}

#[test]
fn an_absurd_amount_loses_nothing_else_of_the_message() {
    let mut house = House::new();
    house.say("acquired 3 leek, 1000000000kg rice, 2 carrot");
    assert_eq!(house.lots(), "3 leek @crisper; 2 carrot @crisper");
    assert!(house.words().contains("more rice than a kitchen holds"), "{}", house.words());
}
