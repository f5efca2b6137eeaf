//! Fixed phrases of the kitchen that are no verb with foods: outages, chores, totals, absences.

use std::ops::Range;

use super::Analysis;
use super::days::{self, Facing, Reach};
use super::details::{self, Detail, Details, Way};
use super::tokens::{Kind, initial};
use crate::statement::{Item, Scope, Statement};
use crate::units::{Minor, Ratio};
use crate::words::{Destination, Intent, Place};

/// The statement a fixed phrase makes, if the clause is one.
pub fn read(a: &Analysis<'_>, clause: Range<usize>, details: &Details) -> Option<Statement> {
    let initials = a.text.initials(clause.clone());
    let phrase = Phrase { a, clause, details, initials };
    phrase
        .outage()
        .or_else(|| phrase.water())
        .or_else(|| phrase.put_away())
        .or_else(|| phrase.bag_emptied())
        .or_else(|| phrase.trip_planned())
        .or_else(|| phrase.trip_total())
        .or_else(|| phrase.away())
        .or_else(|| phrase.eaters())
}

struct Phrase<'a, 'b> {
    a: &'a Analysis<'b>,
    clause: Range<usize>,
    details: &'a Details,
    initials: u64,
}

/// What a power cut does, and a fridge that fails; of other things these words mean much else
/// ("half of it is in the fridge", "cut up", "took it out of the fridge").
const GONE: &[&str] = &["off", "out", "gone", "cut", "down", "stopped", "packed", "went"];

/// Words that may stand between a fridge and what became of it.
const BETWEEN: &[&str] =
    &["is", "was", "has", "had", "been", "just", "got", "again", "door", "were"];

impl Phrase<'_, '_> {
    fn has(&self, words: &[&str]) -> bool {
        self.find(words).is_some()
    }

    fn find(&self, words: &[&str]) -> Option<usize> {
        let begins = words.iter().all(|word| self.initials & initial(word) != 0);
        if begins { self.a.text.find(self.clause.clone(), words) } else { None }
    }

    fn any(&self, words: &[&str]) -> bool {
        words.iter().any(|word| {
            self.initials & initial(word) != 0
                && self.clause.clone().any(|i| self.a.text.word(i) == *word)
        })
    }

    /// A food that is not also an ordinary word.
    fn names_food(&self) -> bool {
        self.a.foods_in(self.clause.clone()).any(|f| !self.a.lexicon.entry(f.entry).homonym)
    }

    fn len(&self) -> usize {
        self.clause
            .clone()
            .filter(|&i| self.a.text.is_word(i) || self.a.text.number(i).is_some())
            .count()
    }

    /// "The fridge has been off", "freezer's out", "somebody turned off the fridge".
    fn device_is_gone(&self) -> bool {
        let device = |i: usize| {
            matches!(unowned(self.a.text.word(i)), "fridge" | "freezer" | "refrigerator")
        };
        let said_of_it = self.clause.clone().filter(|&i| device(i)).any(|i| {
            let mut after = (i + 1..self.clause.end).map(|k| self.a.text.word(k));
            after.find(|word| !BETWEEN.contains(word)).is_some_and(|word| GONE.contains(&word))
        });
        said_of_it || self.any(&["turned", "switched"]) && self.any(&["off"])
    }

    /// "fridge was off 5 hours", "power's gone", "the freezer died".
    fn outage(&self) -> Option<Statement> {
        let power =
            self.any(&["power", "electricity", "electric", "power's", "electricity's", "mains"]);
        let device = self.clause.clone().find_map(|i| {
            let word = unowned(self.a.text.word(i));
            let next = self.a.text.word(i + 1);
            if !matches!(
                word,
                "fridge"
                    | "freezer"
                    | "refrigerator"
                    | "second"
                    | "outside"
                    | "garage"
                    | "chest"
                    | "spare"
            ) {
                return None;
            }
            let (place, length) = super::vocabulary::place(word, next)?;
            (matches!(word, "fridge" | "freezer" | "refrigerator") || length == 2).then_some(place)
        });
        if !power && device.is_none() && !self.any(&["blackout"]) {
            return None;
        }
        let told = self.any(&[
            "report", "turn", "switch", "provider", "company", "bill", "app", "update", "check",
            "my", "call",
        ]);
        let has_food = self.names_food();
        let broken = self.any(&[
            "outage",
            "died",
            "dead",
            "broke",
            "broken",
            "failed",
            "failing",
            "unplugged",
            "defrosted",
            "tripped",
            "failure",
            "blackout",
            "busted",
            "conked",
        ]);
        let gone = broken || power && self.any(GONE) || self.device_is_gone();
        let working = self.any(&["working"])
            && self.any(&["not", "isn't", "wasn't", "stopped", "isnt", "wasnt"]);
        let open =
            self.any(&["open", "ajar"]) && self.any(&["door", "left", "was"]) && device.is_some();
        let back = power && self.any(&["back"]) || device.is_some() && self.has(&["back", "on"]);
        if has_food || told || self.len() > 12 {
            return None;
        }
        let power_gone = self.clause.clone().any(|i| {
            let w = |k: usize| self.a.text.word(i + k);
            let name = matches!(
                w(0),
                "power" | "power's" | "electricity" | "electricity's" | "electric" | "mains"
            );
            let verb = usize::from(matches!(w(1), "is" | "has" | "was" | "just" | "went"));
            let state = |k: usize| {
                matches!(
                    w(k),
                    "out"
                        | "off"
                        | "gone"
                        | "cut"
                        | "outage"
                        | "failure"
                        | "down"
                        | "failed"
                        | "went"
                        | "died"
                        | "been"
                )
            };
            let end = |k: usize| {
                i + k + 1 >= self.clause.end
                    || matches!(
                        w(k + 1),
                        "for"
                            | "since"
                            | "again"
                            | "from"
                            | "all"
                            | "in"
                            | "last"
                            | "at"
                            | "out"
                            | "off"
                    )
                    || self.a.text.number(i + k + 1).is_some()
                    || !self.a.text.is_word(i + k + 1)
                    || days::at(self.a, i + k + 1..self.clause.end, Facing::Past).is_some()
            };
            name && (state(1 + verb) && end(1 + verb) || verb == 1 && state(3) && end(3))
        });
        // The power of another house.
        let elsewhere = self.any(&[
            "office", "work", "school", "college", "hospital", "airport", "hotel", "gym", "station",
        ]);
        if elsewhere {
            return None;
        }
        let blackout = self.any(&["blackout"]) && self.len() < 6
            || power_gone
            || power
                && (self.has(&["no", "power"])
                    || self.has(&["lost", "power"])
                    || self.has(&["no", "electricity"]));
        let failed = device.is_some() && (gone || working || open) && !self.any(&["ice", "magnet"]);
        if !blackout && !failed && !back {
            return None;
        }
        let mut statement = Statement::new(Intent::Outage);
        statement.confidence = 0.9;
        statement.day = self.details.day();
        statement.minutes = minutes(self.a, self.clause.clone());
        statement.scope = match device {
            Some(place) if !blackout => Some(Scope::Place(place)),
            _ => Some(Scope::All),
        };
        if back && !gone {
            statement.topic = Some("back".to_owned());
        }
        Some(statement)
    }

    /// "water changed", "fresh water for the asparagus", "water's done".
    fn water(&self) -> Option<Statement> {
        let at = self
            .clause
            .clone()
            .find(|&i| matches!(self.a.text.word(i), "water" | "water's" | "waters"))?;
        let next = self.a.text.word(at + 1);
        let before = if at > self.clause.start { self.a.text.word(at - 1) } else { "" };
        let done =
            matches!(next, "changed" | "done" | "swapped" | "refreshed" | "replaced" | "renewed")
                || (matches!(next, "is" | "was" | "has" | "all" | "got" | "been")
                    && self.any(&["changed", "done", "swapped", "refreshed"]));
        let given = at + 1 >= self.clause.end && self.any(&["gave", "got", "has", "have", "with"]);
        // "changed the water filter"
        if matches!(
            next,
            "filter"
                | "filters"
                | "heater"
                | "pump"
                | "bottle"
                | "cooler"
                | "tank"
                | "meter"
                | "bill"
                | "bowl"
                | "butt"
        ) {
            return None;
        }
        let fresh = matches!(before, "fresh" | "new" | "clean")
            && (matches!(next, "for" | "on" | "in") || given)
            && !self.any(&["need", "needs"]);
        if !done && !fresh || self.len() > 12 {
            return None;
        }
        let list = super::items::read(
            self.a,
            past_prepositions(self.a, at + 1, self.clause.end)..self.clause.end,
            self.details,
        );
        let list = list.found.into_iter().filter(|f| f.known && f.item.name != "water");
        let mut statement = Statement::new(Intent::WaterChanged);
        statement.confidence = 0.95;
        statement.items = list.map(|f| f.item).collect();
        if statement.items.is_empty() {
            let from = self
                .clause
                .clone()
                .find(|&i| matches!(self.a.text.word(i), "gave" | "changed"))
                .map_or(self.clause.start, |i| i + 1);
            let lead = super::items::read(
                self.a,
                from..at.saturating_sub(usize::from(fresh)),
                self.details,
            );
            statement.items = lead
                .found
                .into_iter()
                .filter(|f| f.known && f.item.name != "water" && !f.item.name.ends_with("water"))
                .map(|f| f.item)
                .collect();
        }
        if statement.items.is_empty() {
            statement.scope = Some(Scope::All);
        }
        statement.day = self.details.day();
        Some(statement)
    }

    /// "all put away", "everything's put away", "groceries are away".
    fn put_away(&self) -> Option<Statement> {
        let groceries = |i: &usize| {
            matches!(
                unowned(self.a.text.word(*i)),
                "all" | "everything" | "shopping" | "groceries" | "food" | "shop" | "delivery"
            )
        };
        let first = self.clause.clone().find(groceries);
        let all = first.is_some();
        // "the shopping's away", "groceries are all away"
        let are_away = first.is_some_and(|i| {
            let be =
                |k: &usize| matches!(self.a.text.word(*k), "is" | "are" | "all" | "now" | "safely");
            let at = (i + 1..self.clause.end).find(|k| !be(k)).unwrap_or(self.clause.end);
            self.a.text.word(at) == "away" && at + 1 >= self.clause.end
        });
        let away =
            self.has(&["put", "away"]) || are_away || (self.any(&["put"]) && self.any(&["away"]));
        let unpacked = self.any(&["unpacked"]) && all;
        if !(all && away || unpacked) || self.names_food() || self.len() > 10 {
            return None;
        }
        if self.any(&[
            "not", "haven't", "hasn't", "isn't", "need", "needs", "must", "will", "can", "could",
            "should", "please", "didn't", "never",
        ]) {
            return None;
        }
        let mut statement = Statement::new(Intent::PutAway);
        statement.confidence = 0.95;
        statement.scope = Some(Scope::All);
        statement.day = self.details.day();
        Some(statement)
    }

    /// "84.10 all in", "spent 84.10 at the market", "the shop came to 84.10".
    fn trip_total(&self) -> Option<Statement> {
        if self.names_food() || self.len() > 12 {
            return None;
        }
        let value = self.clause.clone().find_map(|i| {
            let value = self.a.text.number(i)?;
            let text = self.a.text.word(i);
            let symbol = i > 0 && super::prices::is_symbol(self.a.text.word(i - 1))
                || super::prices::is_symbol(self.a.text.word(i + 1))
                || super::prices::is_money_word(self.a.text.word(i + 1));
            let decimals = text.rfind(['.', ',']).is_some_and(|p| text.len() - p - 1 == 2);
            (symbol || decimals || self.has(&["all", "in"]) || self.any(&["spent"]))
                .then_some(value)
        })?;
        let shop = self.any(&[
            "shop",
            "shopping",
            "groceries",
            "market",
            "supermarket",
            "food",
            "grocery",
            "store",
            "receipt",
            "bill",
            "till",
        ]);
        let said = self.has(&["all", "in"]) && self.len() <= 6
            || (self.any(&["total", "altogether", "totalled"]) && (shop || self.len() <= 4))
            || (self.any(&["spent", "came", "cost", "was", "were", "paid", "totalled", "comes"])
                && shop);
        if !said {
            return None;
        }
        let scale = Ratio::whole(10_i64.pow(self.a.context.currency.decimals()));
        let mut statement = Statement::new(Intent::TripTotal);
        statement.confidence = 0.9;
        statement.total = value.checked_mul(scale).map(|r| Minor(r.rounded()));
        statement.day = self.details.day();
        Some(statement)
    }

    /// "emptied the trimmings bag", "composted the stock bag".
    fn bag_emptied(&self) -> Option<Statement> {
        let bags: [&[&str]; 4] =
            [&["trimmings", "bag"], &["stock", "bag"], &["scrap", "bag"], &["scraps", "bag"]];
        let bag = bags.iter().find_map(|bag| self.find(bag))?;
        let verbs: [(&[&str], Destination); 3] = [
            (&["composted", "compost"], Destination::Compost),
            (&["emptied", "tossed", "threw", "binned", "chucked", "dumped"], Destination::Trash),
            (&["fed"], Destination::AnimalFeed),
        ];
        let (_, to) = verbs.iter().find(|(verbs, _)| self.any(verbs))?;
        let before =
            (self.clause.start..bag).all(|i| !matches!(self.a.text.word(i), "into" | "in"));
        let food = self
            .a
            .foods_in(self.clause.clone())
            .any(|f| !f.fuzzy && f.tokens.start != bag && !self.a.lexicon.entry(f.entry).homonym);
        if !before || self.len() > 8 || food {
            return None;
        }
        let hens = self.any(&["hens", "chickens", "pigs", "goats", "rabbits", "ducks"]);
        let heap = self.any(&["compost", "heap", "worms", "composted"]);
        let to = match (hens, heap) {
            (true, _) => Destination::AnimalFeed,
            (_, true) => Destination::Compost,
            _ => *to,
        };
        let mut statement = Statement::new(Intent::Discarded);
        statement.confidence = 0.9;
        statement.day = self.details.day();
        statement.items =
            vec![Item { name: "trimmings bag".to_owned(), to: Some(to), ..Item::default() }];
        Some(statement)
    }

    /// "shop is on the 12th", "next shop friday", "going shopping tomorrow".
    fn trip_planned(&self) -> Option<Statement> {
        let shop = self.has(&["next", "shop"])
            || self.has(&["the", "shop"]) && self.any(&["is", "will", "moved", "now"])
            || self.has(&["shop", "is"])
            || self.has(&["shop", "on"])
            || self.any(&["shopping"]) && self.any(&["going", "next", "is", "doing", "trip", "go"])
            || self.has(&["big", "shop"])
            || self.has(&["market", "day"])
            || self.has(&["shopping", "day"])
            || self.has(&["shop", "day"])
            || self.has(&["shop", "moved"])
            || self.has(&["to", "the", "shop"]) && self.any(&["going", "i'll", "we'll"]);
        let list = self.any(&[
            "list", "bag", "closed", "shut", "opens", "open", "sold", "out", "trolley", "centre",
            "center", "mall", "online", "remind", "reminder", "channel", "cart",
        ]);
        if !shop || list || self.len() > 10 || self.names_food() {
            return None;
        }
        let day = days::find(self.a, self.clause.clone(), Facing::Future)?.day?;
        if day < self.a.context.today {
            return None;
        }
        let mut statement = Statement::new(Intent::TripPlanned);
        statement.confidence = 0.9;
        statement.day = Some(day);
        Some(statement)
    }

    /// "we're away until sunday", "back on the 14th", "away friday to monday".
    fn away(&self) -> Option<Statement> {
        let first = self.a.text.word(self.clause.start);
        let who = self.any(&[
            "we're",
            "we",
            "were",
            "everyone's",
            "everyone",
            "all",
            "i'm",
            "nobody",
            "house",
            "us",
        ]) || matches!(first, "away" | "gone" | "back" | "on");
        let back = first == "back" && self.len() <= 4
            || self.has(&["we're", "back"])
            || self.has(&["we", "are", "back"]);
        let gone = self.any(&["gone"])
            && (first == "gone" || self.has(&["we're", "gone"]) || self.has(&["all", "gone"]))
            && self.any(&["until", "till", "til"]);
        let away = back
            || gone
            || self.any(&["away", "holiday", "vacation", "holidays"])
            || self.has(&["out", "of", "town"])
            || self.has(&["nobody", "home"])
            || self.has(&["not", "home"])
            || self.has(&["not", "here"]);
        let other = self.any(&[
            "game", "games", "match", "fixture", "kit", "team", "goal", "keyboard", "track", "put",
            "throw", "threw", "far", "right", "blown", "get", "give", "gave", "passed", "run",
            "ran", "take", "go",
        ]);
        if !who || !away || other || self.len() > 14 || self.names_food() {
            return None;
        }
        let mut statement = Statement::new(Intent::Away);
        let back = self.clause.clone().find(|&i| self.a.text.word(i) == "back");
        for span in days::find_all(self.a, self.clause.clone(), Facing::Future) {
            let reaches = span.reach == Reach::Until
                || back.is_some_and(|at| at <= span.tokens.start)
                || statement.day.is_some();
            if reaches {
                statement.until = span.day;
            } else {
                statement.day = span.day;
            }
        }
        if statement.until.is_none()
            && let Some(count) = duration_days(self.a, self.clause.clone())
        {
            statement.until = Some(statement.day.unwrap_or(self.a.context.today).plus(count));
        }
        if statement.until.is_none() && statement.day.is_none() {
            return None;
        }
        // "sat to thursday" reaches to the thursday after that saturday.
        while let (Some(day), Some(until)) = (statement.day, statement.until)
            && until <= day
            && day.days_since(until) < 7
        {
            statement.until = Some(until.plus(7));
        }
        statement.confidence = 0.9;
        Some(statement)
    }

    /// "6 for dinner tonight", "only 2 of us tomorrow", "4 guests on saturday".
    fn eaters(&self) -> Option<Statement> {
        if self.len() > 12 || self.names_food() {
            return None;
        }
        let (at, people) = self.clause.clone().find_map(|i| {
            let value = self.a.text.number(i).or_else(|| self.a.tag(i).value)?;
            (value.denom() == 1 && value.is_positive() && value < Ratio::whole(200))
                .then_some((i, value))
        })?;
        let next = self.a.text.word(at + 1);
        let guests = matches!(next, "guests" | "visitors" | "eaters" | "extra" | "mouths")
            || (matches!(next, "of") && self.a.text.word(at + 2) == "us")
            || matches!(next, "people" | "more")
                && self.any(&[
                    "eating",
                    "dinner",
                    "lunch",
                    "tea",
                    "supper",
                    "staying",
                    "meals",
                    "breakfast",
                ]);
        let meal = (matches!(next, "for") || next == "of" && self.a.text.word(at + 2) == "us")
            && matches!(
                self.a.text.word(at + 2),
                "dinner" | "lunch" | "tea" | "supper" | "breakfast"
            );
        let we_are =
            self.any(&["we're", "we"]) && self.any(&["dinner", "lunch", "tea", "supper"]) && meal;
        if !guests && !meal && !we_are {
            return None;
        }
        let about_food = self.any(&[
            "tonight",
            "tomorrow",
            "dinner",
            "lunch",
            "tea",
            "supper",
            "eating",
            "guests",
            "staying",
            "home",
            "breakfast",
            "week",
            "today",
            "weekend",
        ]) || days::find(self.a, self.clause.clone(), Facing::Future).is_some();
        if !about_food
            || self.any(&[
                "hours",
                "minutes",
                "tickets",
                "table",
                "book",
                "booked",
                "reservation",
                "games",
            ])
        {
            return None;
        }
        let mut statement = Statement::new(Intent::Eaters);
        statement.confidence = 0.85;
        statement.people = u32::try_from(people.numer()).ok();
        let span = days::find(self.a, self.clause.clone(), Facing::Future);
        statement.day = span
            .and_then(|s| s.day)
            .or_else(|| self.any(&["tonight", "today"]).then_some(self.a.context.today));
        Some(statement)
    }
}

/// The word without a closing "'s" ("the fridge's off").
fn unowned(word: &str) -> &str {
    word.strip_suffix("'s").unwrap_or(word)
}

/// How long something took or lay out, in minutes.
pub fn minutes(a: &Analysis<'_>, range: Range<usize>) -> Option<u32> {
    days::elapsed::find(&a.text, range)?.minutes
}

fn duration_days(a: &Analysis<'_>, range: Range<usize>) -> Option<i64> {
    let minutes = days::elapsed::find(&a.text, range)?.minutes?;
    Some(i64::from(minutes / 1440)).filter(|days| *days > 0)
}

/// Why something was thrown out, in people's own words ("slimy", "gone off").
pub fn reason(a: &Analysis<'_>, range: Range<usize>) -> Option<String> {
    let because = range
        .clone()
        .find(|&i| matches!(a.text.word(i), "because" | "cos" | "coz" | "cause" | "cuz" | "since"));
    let condition = range.clone().find(|&i| is_condition(a.text.word(i)));
    let start = match (because, condition) {
        (Some(at), _) => at + 1,
        (None, Some(at)) => at,
        _ => return None,
    };
    // Back over what belongs to the condition: "gone off", "all slimy", "too bitter".
    let mut first = start;
    while first > range.start
        && because.is_none()
        && matches!(
            a.text.word(first - 1),
            "gone"
                | "went"
                | "going"
                | "too"
                | "very"
                | "all"
                | "bit"
                | "a"
                | "out"
                | "of"
                | "past"
                | "completely"
                | "totally"
                | "really"
                | "freezer"
                | "dried"
                | "turned"
                | "got"
        )
    {
        first -= 1;
    }
    while matches!(
        a.text.word(first),
        "it" | "they"
            | "was"
            | "were"
            | "it's"
            | "is"
            | "are"
            | "a"
            | "of"
            | "all"
            | "had"
            | "that"
            | "out"
    ) && first + 1 < range.end
        && !(a.text.word(first) == "out" && a.text.word(first + 1) == "of")
    {
        first += 1;
    }
    let end = (first..range.end)
        .find(|&i| {
            let mark = matches!(a.text.kind(i), Some(Kind::Mark | Kind::Newline | Kind::Emoji))
                && a.text.word(i) != "-"
                && a.text.word(i) != "'";
            let on = because.is_none()
                && i > start
                && (a.food_at(i).is_some()
                    || matches!(a.text.word(i), "to" | "in" | "into" | "and" | "from"));
            mark || on
        })
        .unwrap_or(range.end);
    let text = a.text.slice(first..end).trim().to_lowercase();
    (!text.is_empty() && text.len() <= 80).then_some(text)
}

pub fn is_condition(word: &str) -> bool {
    matches!(
        word,
        "slimy"
            | "mouldy"
            | "moldy"
            | "mold"
            | "mould"
            | "rotten"
            | "rotting"
            | "rotted"
            | "off"
            | "bad"
            | "limp"
            | "wilted"
            | "soft"
            | "mushy"
            | "brown"
            | "black"
            | "smelly"
            | "stinky"
            | "stank"
            | "smelled"
            | "smelt"
            | "bitter"
            | "expired"
            | "sour"
            | "curdled"
            | "burnt"
            | "freezerburnt"
            | "shrivelled"
            | "shriveled"
            | "sprouted"
            | "sprouting"
            | "fuzzy"
            | "bruised"
            | "squishy"
            | "woody"
            | "stale"
            | "wormy"
            | "maggots"
            | "bugs"
            | "soggy"
            | "slime"
            | "gross"
            | "manky"
            | "yucky"
            | "iffy"
            | "dodgy"
            | "rank"
            | "yellow"
            | "yellowed"
            | "dry"
            | "wrinkly"
            | "spoiled"
            | "spoilt"
            | "date"
            | "past"
            | "split"
            | "weevils"
            | "rubbery"
            | "floppy"
            | "turned"
            | "slugs"
            | "caterpillars"
            | "furry"
            | "spotty"
            | "watery"
            | "leaking"
            | "bloated"
            | "ruined"
            | "forgotten"
    )
}

/// The first token at or after `i` that is no preposition.
pub fn past_prepositions(a: &Analysis<'_>, mut i: usize, end: usize) -> usize {
    while i < end
        && (matches!(
            a.text.word(i),
            "on" | "for"
                | "of"
                | "in"
                | "with"
                | "under"
                | "to"
                | "changed"
                | "done"
                | "swapped"
                | "refreshed"
        ))
    {
        i += 1;
    }
    i
}

/// The place a header names: "in the fridge:", "fridge -", "everything in the freezer:".
pub fn header_place(a: &Analysis<'_>, range: Range<usize>) -> Option<Place> {
    range.clone().find_map(|i| {
        details::place_at(a, i, range.end)
            .filter(|(_, way, _)| *way == Way::To)
            .map(|(place, _, _)| place)
            .or_else(|| details::named_place(a, i, range.end).map(|(place, _)| place))
    })
}

/// A price among the details.
pub fn has_price(details: &Details) -> bool {
    details.iter().any(|(_, d)| matches!(d, Detail::Price { .. }))
}
