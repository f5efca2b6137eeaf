//! Signs, states, practices and people in the text.

use std::ops::Range;

use super::{Scan, SignHit, is_slip};
use crate::answers::words::{Danger, State, words};
use crate::rules::Topic;

/// "To check" this many words after "taste" still belongs to it.
const TASTE_REACH: usize = 8;
/// A failure is said within this many words of the fridge.
const FAILURE_REACH: usize = 5;
/// Above this the temperature said is hardly a fridge's.
const ROOM_C: f64 = 19.0;
/// Words shorter than this are no names of medicines.
const MEDICINE_LENGTH: usize = 7;
/// Endings of the international names of medicines.
///
/// # Source
/// WHO, The use of stems in the selection of International Nonproprietary Names (INN).
const MEDICINES: &[&str] = &[
    "statin",
    "pril",
    "sartan",
    "olol",
    "dipine",
    "prazole",
    "cillin",
    "mycin",
    "floxacin",
    "oxetine",
    "azepam",
    "azolam",
    "gliptin",
    "formin",
    "conazole",
    "cycline",
    "triptan",
    "profen",
    "barbital",
    "oxaban",
    "gatran",
    "grelor",
    "limus",
    "pramine",
    "triptyline",
    "thiazide",
    "semide",
];
/// Places that are not cold.
const WARM_PLACES: &[&str] = &[
    "stove",
    "hob",
    "pan",
    "pot",
    "car",
    "table",
    "counter",
    "bench",
    "desk",
    "trunk",
    "boot",
    "bag",
    "backpack",
    "lunchbox",
    "kitchen",
    "sideboard",
    "worktop",
    "sink",
    "thermos",
    "flask",
    "microwave",
    "cooker",
    "garage",
    "shed",
    "porch",
    "garden",
    "patio",
    "windowsill",
    "locker",
    "office",
    "crockpot",
    "sun",
    "tent",
];

impl Scan<'_> {
    pub(super) fn find_dangers(&mut self, harmless: &[bool], cold_c: f64) {
        let made = self.homemade() || self.word(&["fresh", "own"]);
        for (phrase, danger) in &words().phrases {
            for range in self.phrase(phrase) {
                // A plant's name explains its own words ("horse chestnut"), but not where it grows.
                let origin = matches!(
                    danger,
                    Danger::Guided(Topic::Foraged | Topic::WildMushroom | Topic::Ornamental)
                );
                let named = self
                    .foods
                    .iter()
                    .any(|hit| range.start >= hit.tokens.start && range.end <= hit.tokens.end);
                // "Homemade chili oil" is no bottle from the shop.
                let oil = *danger == Danger::Guided(Topic::InOil) && made;
                let hidden = range.clone().all(|i| harmless[i]) || named && !origin;
                if !hidden || oil {
                    self.dangers.push((range, *danger));
                }
            }
        }
        for (known, danger) in &words().slipped {
            let slips = self.tokens.iter().enumerate().filter(|(_, word)| is_slip(word, known));
            self.dangers.extend(slips.map(|(i, _)| (i..i + 1, *danger)));
        }
        let stem = |stems: &[&str]| {
            self.tokens.iter().position(|w| stems.iter().any(|stem| w.starts_with(stem)))
        };
        let mut more = Vec::new();
        // "Taste the chicken to check", but not "taste the soup to check the salt".
        let tastes = ["taste", "tasting", "lick", "sip"];
        for (i, _) in self.tokens.iter().enumerate().filter(|(_, w)| tastes.contains(&w.as_str())) {
            let after = &self.tokens[i + 1..(i + TASTE_REACH).min(self.tokens.len())];
            let checks = after.windows(2).position(|pair| {
                pair[0] == "to"
                    && ["check", "see", "tell", "test", "find"].contains(&pair[1].as_str())
            });
            let Some(at) = checks.map(|at| i + 1 + at) else { continue };
            let what = self.tokens.get(at + 2).map(String::as_str);
            if matches!(what, None | Some("if" | "whether" | "it" | "them" | "that" | "out")) {
                more.push((i..at + 2, Danger::Guided(Topic::TasteTest)));
            }
        }
        more.extend(self.medicines());
        more.extend(self.warm_places());
        more.extend(self.hours_out());
        more.extend(self.failed_fridge(cold_c));
        if let Some(i) = stem(&["thaw", "defrost"])
            && self.word(&[
                "counter", "worktop", "sink", "side", "table", "sun", "radiator", "hot", "warm",
                "room", "outside",
            ])
        {
            more.push((i..i + 1, Danger::WarmThaw));
        }
        if let Some(i) = stem(&["reheat", "microwav", "heat", "warm"])
            && self.word(&["twice", "again", "second", "third", "2nd", "3rd", "times"])
        {
            more.push((i..i + 1, Danger::ReheatAgain));
        }
        let habit = |i: usize| {
            i > 0
                && ["always", "never", "often", "usually", "used"]
                    .contains(&self.tokens[i - 1].as_str())
        };
        // "I've had it in the fridge" is owning, not eating.
        let kept = self.word(&["fridge", "freezer", "refrigerator", "cupboard", "pantry", "since"]);
        let owned = |range: &Range<usize>| {
            kept && self.tokens[range.clone()].iter().any(|word| word == "had")
        };
        self.dangers.retain(|(range, danger)| {
            *danger != Danger::Eaten || !habit(range.start) && !owned(range)
        });
        self.dangers.extend(more);
        let picked = self.word(&[
            "wild",
            "found",
            "picked",
            "foraged",
            "woods",
            "forest",
            "lawn",
            "garden",
            "yard",
            "tree",
            "log",
            "field",
            "park",
            "identify",
            "backyard",
            "growing",
            "grow",
            "ring",
            "expert",
            "app",
            "slugs",
            "slug",
            "snails",
            "test",
            "spoon",
            "gills",
            "cap",
            "facebook",
            "photo",
            "picture",
            "houseplant",
            "stump",
            "meadow",
            "wood",
            "compost",
            "mulch",
        ]);
        let pointed = ["this", "that", "these", "those", "what", "which"];
        let kept = self.word(&[
            "still",
            "old",
            "fridge",
            "day",
            "days",
            "week",
            "weeks",
            "bought",
            "shop",
            "packet",
            "left",
            "yesterday",
            "opened",
            "store",
        ]);
        if let Some(i) = self.tokens.iter().position(|w| w.starts_with("mushroom")) {
            let shown = i > 0 && pointed.contains(&self.tokens[i - 1].as_str()) && !kept;
            if picked || shown {
                self.dangers.push((i..i + 1, Danger::Guided(Topic::WildMushroom)));
            }
        }
        // "Some leaves", "these seeds": of what, nobody says.
        for i in 1..self.tokens.len() {
            let nameless = ["some", "these", "those", "unknown"]
                .contains(&self.tokens[i - 1].as_str())
                && NAMELESS.contains(&self.tokens[i].as_str())
                && !self.foods.iter().any(|hit| hit.tokens.contains(&i))
                && !self.tokens.get(i + 1).is_some_and(|w| ["of", "from"].contains(&w.as_str()));
            if nameless {
                self.dangers.push((i - 1..i + 1, Danger::Guided(Topic::Foraged)));
            }
        }
    }

    pub(super) fn find_signs(&mut self, harmless: &[bool]) {
        for (phrase, floor) in &words().signs {
            for tokens in self.phrase_or_slip(phrase) {
                if tokens.clone().all(|i| harmless[i]) {
                    continue;
                }
                let negated = self.negated(tokens.start);
                let word = (*phrase).to_owned();
                self.signs.push(SignHit { tokens, word, floor: *floor, negated });
            }
        }
    }

    pub(super) fn find_states(&mut self, harmless: &[bool]) {
        for (phrase, state) in &words().states {
            for range in self.phrase_or_slip(phrase) {
                // "Raw kidney beans" may be a name; raw they are all the same.
                let raw = *state == State::Raw && range.start + 1 != self.tokens.len();
                if raw || !range.clone().all(|i| harmless[i]) {
                    self.states.push((range, *state));
                }
            }
        }
    }

    /// Medicines by the stems of their international names ("simvastatin", "ramipril").
    fn medicines(&self) -> impl Iterator<Item = (Range<usize>, Danger)> + '_ {
        let named = |word: &str| {
            word.len() >= MEDICINE_LENGTH && MEDICINES.iter().any(|stem| word.ends_with(stem))
        };
        let found = self.tokens.iter().enumerate().filter(move |(_, word)| named(word));
        found.map(|(i, _)| (i..i + 1, Danger::Guided(Topic::Medicine)))
    }

    /// "Left on the stove", "sat in the pan all night": anywhere but in the cold.
    fn warm_places(&self) -> Option<(Range<usize>, Danger)> {
        let cold = ["fridge", "freezer", "refrigerator", "refrigerated", "chilled", "icebox"];
        if self.word(&cold) {
            return None;
        }
        let at = |words: &[&str]| self.tokens.iter().position(|w| words.contains(&w.as_str()));
        let place = at(WARM_PLACES)?;
        let stays = [
            "left",
            "leave",
            "forgot",
            "forgotten",
            "sat",
            "sitting",
            "stood",
            "standing",
            "been",
            "stayed",
            "since",
            "overnight",
        ];
        at(&stays).map(|_| (place..place + 1, Danger::Out))
    }

    /// "Milk out all morning", "5 hours out": no throwing, running or finding out.
    fn hours_out(&self) -> Option<(Range<usize>, Danger)> {
        let long = [
            "hour",
            "hours",
            "h",
            "hr",
            "hrs",
            "min",
            "mins",
            "minutes",
            "morning",
            "afternoon",
            "evening",
            "night",
            "day",
            "overnight",
            "since",
        ];
        let other = [
            "throw",
            "thrown",
            "threw",
            "run",
            "ran",
            "find",
            "found",
            "cut",
            "turned",
            "turns",
            "take",
            "taken",
            "took",
            "power",
            "powers",
            "electricity",
            "lights",
            "pick",
            "picked",
            "scoop",
            "straight",
            "dried",
            "dry",
        ];
        let out = |i: &usize| {
            self.tokens[*i] == "out"
                && i.checked_sub(1).is_none_or(|j| !other.contains(&self.tokens[j].as_str()))
        };
        let at = (0..self.tokens.len()).find(out)?;
        self.word(&long).then_some((at..at + 1, Danger::Out))
    }

    /// "The fridge that was off", "freezer door left open", "fridge at 12 C": warmer than `cold_c`.
    fn failed_fridge(&self, cold_c: f64) -> Option<(Range<usize>, Danger)> {
        let fails = [
            "off",
            "broke",
            "broken",
            "died",
            "failed",
            "failing",
            "stopped",
            "unplugged",
            "ajar",
            "tripped",
            "outage",
        ];
        let cold = ["fridge", "freezer", "refrigerator", "power", "electricity"];
        let at = self.tokens.iter().position(|w| cold.contains(&w.as_str()))?;
        let after = &self.tokens[at..(at + FAILURE_REACH).min(self.tokens.len())];
        // "Before they go off" is said of the food.
        let spoils = ["go", "goes", "going", "gone", "went", "smells", "smell", "tastes", "bit"];
        let fails = after
            .windows(2)
            .any(|pair| fails.contains(&pair[1].as_str()) && !spoils.contains(&pair[0].as_str()))
            || after.iter().any(|w| w == "door") && after.iter().any(|w| w == "open");
        let warm = super::times::temperature(&self.tokens)
            .is_some_and(|degrees| degrees > cold_c && degrees < ROOM_C);
        (fails || warm).then_some((at..at + 1, Danger::Guided(Topic::PowerCut)))
    }

    /// "not slimy", "no mould", "the bread isn't mouldy"; never "isn't mouldy bread fine?".
    fn negated(&self, at: usize) -> bool {
        let fillers = ["any", "a", "very", "too", "yet", "really", "visibly", "at", "all", "or"];
        let mut i = at;
        while i > 0 && fillers.contains(&self.tokens[i - 1].as_str()) {
            i -= 1;
        }
        let Some(i) = i.checked_sub(1) else { return false };
        match self.tokens[i].as_str() {
            "not" | "no" | "without" | "isnt" | "arent" | "wasnt" => {
                i > 0
                    && !["why", "if", "and", "but", "or", "so", "eat", "to"]
                        .contains(&self.tokens[i - 1].as_str())
                    || i > 0 && self.tokens[i] == "not" && self.tokens[i - 1] == "but"
                    || i > 0 && self.tokens[i] == "no" && self.tokens[i - 1] == "and"
            }
            _ => false,
        }
    }

    pub(super) fn phrase(&self, phrase: &str) -> Vec<Range<usize>> {
        let (phrase, open) = phrase.strip_suffix('*').map_or((phrase, false), |p| (p, true));
        let words: Vec<&str> = phrase.split(' ').collect();
        let fits = |window: &[String]| {
            window.iter().zip(&words).enumerate().all(|(k, (token, word))| {
                token == word || (open && k + 1 == words.len() && token.starts_with(word))
            })
        };
        let windows = self.tokens.windows(words.len()).enumerate();
        windows.filter(|(_, w)| fits(w)).map(|(i, _)| i..i + words.len()).collect()
    }

    fn phrase_or_slip(&self, phrase: &str) -> Vec<Range<usize>> {
        let mut found = self.phrase(phrase);
        if !phrase.contains(' ') {
            let slips = self.tokens.iter().enumerate().filter(|(_, w)| is_slip(w, phrase));
            found.extend(slips.map(|(i, _)| i..i + 1));
        }
        found
    }
}

/// Parts that are shown without the plant they come from.
const NAMELESS: &[&str] = &[
    "leaves",
    "leaf",
    "seeds",
    "roots",
    "flowers",
    "berries",
    "bulbs",
    "greens",
    "plants",
    "shoots",
    "nuts",
    "pods",
    "mushrooms",
];
