//! Questions and the small talk the bot answers: every `ask_*`, help, thanks, undo, why,
//! eaten_already, setting.
//!
//! A question is ours when it is about keeping, eating or the state of a food, or about what is in
//! the house. Each rule of `RULES` looks at the classes of words in the message
//! (`data/question_words.txt`), the foods named and their order; the first that fits names the
//! intent. In group talk a question also has to pass `quiet::off_topic`.

mod eaten;
mod eating;
mod keeping;
pub mod matters;
pub mod picture;
mod settings;
mod stock;
mod subject;
mod talk;
mod words;

use std::ops::Range;

use super::clauses::Sentence;
use super::days::{self, Facing, Reach, elapsed};
use super::lexicon::FoodSpan;
use super::tokens::initial;
use super::{Analysis, quiet};
use super::{amounts, prices};
use crate::statement::{Item, Price, Scope, Statement};
use crate::units::{Minor, Ratio, Unit};
use crate::words::{Form, Intent};
use subject::Subject;
pub use words::{Class, Sighted};

/// Plurals that are as often no food at all.
const MANY_OF_ANYTHING: &[&str] = &[
    "dates", "stocks", "chips", "rolls", "wraps", "spreads", "games", "bones", "pops", "leaves",
    "blocks", "extracts", "fillings", "mixes", "ports", "skates", "perches", "sprouts", "toasts",
    "coffees", "beers", "wines", "teas", "cokes", "candies", "cakes", "pies", "drinks", "sweets",
    "ramps", "jams", "clouds",
];

/// A message looked at as a question.
pub struct Question<'a> {
    pub a: &'a Analysis<'a>,
    pub range: Range<usize>,
    /// First bytes of its words, to pass over phrases it cannot hold.
    initials: u64,
    pub seen: Sighted,
    /// Foods named, left to right.
    pub foods: Vec<Subject>,
    /// Something that may be a food the lexicon does not know.
    pub unknown: Option<Subject>,
    /// Said as a question.
    pub asks: bool,
    pub addressed: bool,
    pub elapsed: Option<elapsed::Elapsed>,
}

/// What a rule makes of a question: its intent, and the topic if that is not a food.
pub struct Found {
    pub intent: Intent,
    pub topic: Option<String>,
    /// Only these subjects matter; `None` for all of them.
    pub about: Option<Vec<Subject>>,
}

impl Found {
    pub fn new(intent: Intent) -> Option<Found> {
        Some(Found { intent, topic: None, about: None })
    }

    pub fn about(intent: Intent, topic: &str) -> Option<Found> {
        Some(Found { intent, topic: Some(topic.to_owned()), about: None })
    }
}

type Rule = fn(&Question<'_>) -> Option<Found>;

/// The rules by name, the more particular before the more general.
const RULES: &[(&str, Rule)] = &[
    ("someone has eaten it", eaten::eaten_already),
    ("what is in the house", stock::stock),
    ("left out", keeping::left_out),
    ("date label", keeping::date_label),
    ("who may eat it", eating::who_may),
    ("trimmings bag", eating::trimmings),
    ("neighbours", keeping::neighbours),
    ("thawing", keeping::thaw),
    ("how long", keeping::how_long),
    ("freezing or preserving", keeping::preserve),
    ("washing", keeping::wash),
    ("how it keeps", keeping::keeps),
    ("where it goes", keeping::place),
    ("too much of it", eating::use_up),
    ("its condition", eating::condition),
    ("a part of it", eating::part),
    ("reheating", keeping::reheat),
    ("how much it is", keeping::amount),
];

/// Tokens up to which a message without a single word of ours may still be an order ("budget").
const SHORT_ORDER: usize = 8;

/// Nobody asks in more tokens than this; longer stretches are lists and pasted pages.
const LONGEST_QUESTION: usize = 200;

/// The question (or order to the bot) that `range` of the message is, if it is one.
pub fn read_question(a: &Analysis<'_>, range: Range<usize>) -> Option<Statement> {
    if range.len() > LONGEST_QUESTION {
        return None;
    }
    let told = talk::read(a, range.clone())
        .or_else(|| matters::read(a, range.clone()))
        .or_else(|| settings::read(a, &range))
        .or_else(|| picture::read(a, &range));
    if let Some(statement) = told {
        return Some(statement);
    }
    let question = Question::new(a, range);
    let short = question.range.len() <= SHORT_ORDER;
    if question.seen.is_empty() && question.foods.is_empty() && !question.asks && !short {
        return None;
    }
    let (_, found) = question.ruled()?;
    question.refused(&found).is_none().then(|| question.statement(found))
}

/// Why `range` is the question it is, or none, in one line for `--explain`.
pub fn why(a: &Analysis<'_>, range: Range<usize>) -> Option<String> {
    let question = Question::new(a, range);
    let (rule, found) = question.ruled()?;
    let classes = question.seen.names().join(", ");
    Some(match question.refused(&found) {
        Some(refusal) => {
            format!("no question of ours ({refusal}): would be {rule:?}, by: {classes}")
        }
        None => format!("a question by the rule {rule:?}, by: {classes}"),
    })
}

/// A question spread over sentences, the food in one and the question in a later one ("A jug of
/// milk was left in the car. Is it still safe?"): the whole message read as one.
pub fn read_across(a: &Analysis<'_>, sentences: &[Sentence]) -> Option<Statement> {
    let (last, before) = sentences.split_last()?;
    if before.is_empty() || sentences.len() > 3 || a.text.len() > 60 {
        return None;
    }
    let asks_alone = asks(a, last.tokens.clone(), &[]) || last.asked;
    let own_food = a.foods_in(last.tokens.clone()).any(|food| !a.lexicon.entry(food.entry).homonym);
    let points_back = last.tokens.clone().any(|i| {
        matches!(
            a.text.word(i),
            "it" | "this"
                | "that"
                | "they"
                | "them"
                | "these"
                | "those"
                | "still"
                | "ok"
                | "okay"
                | "safe"
        )
    });
    let sure = |food: &FoodSpan| !food.fuzzy && !a.lexicon.entry(food.entry).homonym;
    let food_before = before.iter().any(|sentence| a.foods_in(sentence.tokens.clone()).any(sure));
    if !(asks_alone && points_back && food_before) || own_food {
        return None;
    }
    read_question(a, before[0].tokens.start..last.tokens.end)
}

/// A short message whose sentences say nothing apart but ask something together ("Cookie dough
/// between batches - refrigerate? Or no?").
pub fn read_whole(a: &Analysis<'_>, sentences: &[Sentence]) -> Option<Statement> {
    let short = (2..=3).contains(&sentences.len()) && a.text.len() <= 30;
    let asked = sentences.iter().any(|sentence| sentence.asked);
    let sure = a.foods.iter().any(|food| !food.fuzzy && !a.lexicon.entry(food.entry).homonym);
    // "I ate rice. U?" asks about the other person.
    let returned = sentences.last().is_some_and(|last| {
        last.tokens.len() <= 2
            && last
                .tokens
                .clone()
                .any(|i| matches!(a.text.word(i), "u" | "you" | "ya" | "hbu" | "wbu"))
    });
    if !(short && asked && sure) || returned {
        return None;
    }
    read_question(a, sentences[0].tokens.start..sentences[sentences.len() - 1].tokens.end)
}

impl<'a> Question<'a> {
    pub fn new(a: &'a Analysis<'a>, range: Range<usize>) -> Question<'a> {
        let mut seen = Sighted::new(&a.text, range.clone());
        let foods = subject::foods(a, range.clone(), &seen);
        for food in foods.iter().filter(|food| food.sure) {
            seen.forget(food.tokens.clone());
        }
        drop_nouns(a, &range, &mut seen);
        let unknown =
            if foods.is_empty() { subject::unknown(a, range.clone(), &seen) } else { None };
        let asks = asks(a, range.clone(), &foods);
        let elapsed = elapsed::find(&a.text, range.clone());
        let addressed = a.context.addressed;
        let initials = a.text.initials(range.clone());
        Question { a, range, initials, seen, foods, unknown, asks, addressed, elapsed }
    }

    /// The first rule that fits, and what it makes of the question.
    fn ruled(&self) -> Option<(&'static str, Found)> {
        RULES.iter().find_map(|(name, rule)| rule(self).map(|found| (*name, found)))
    }

    /// Why what was found is none of ours after all.
    fn refused(&self, found: &Found) -> Option<&'static str> {
        if found.intent == Intent::EatenAlready {
            return None;
        }
        // A sentence that is one of ours word for word speaks of nothing else.
        let ours = found.about.as_ref().is_some_and(Vec::is_empty);
        quiet::silent_clause(self.a, self.range.clone()).or_else(|| {
            (!self.addressed && !ours).then(|| quiet::off_topic(self, found.intent)).flatten()
        })
    }

    pub fn word(&self, i: usize) -> &str {
        if self.range.contains(&i) { self.a.text.word(i) } else { "" }
    }

    pub fn has(&self, class: Class) -> bool {
        self.seen.has(class)
    }

    pub fn any(&self, classes: &[Class]) -> bool {
        self.seen.any(classes)
    }

    /// Whether one of `phrases` (words joined by spaces) is said.
    pub fn says(&self, phrases: &[&str]) -> bool {
        phrases.iter().any(|phrase| self.find(phrase).is_some())
    }

    /// Where `phrase` is said.
    pub fn find(&self, phrase: &str) -> Option<usize> {
        if self.initials & initial(phrase) == 0 {
            return None;
        }
        let first = phrase.as_bytes().first();
        let begins = |i: usize| self.a.text.word(i).as_bytes().first() == first;
        self.range.clone().find(|&i| begins(i) && self.says_at(i, phrase))
    }

    pub fn says_at(&self, i: usize, phrase: &str) -> bool {
        phrase.split(' ').enumerate().all(|(k, word)| self.word(i + k) == word)
    }

    /// Ends in a question mark, which may stand just outside the range.
    pub fn marked(&self) -> bool {
        self.a.text.word(self.range.end) == "?" || self.says(&["?"])
    }

    /// The first word that is no greeting or filler.
    pub fn first(&self) -> usize {
        let fillers = [
            "hey", "hi", "hello", "so", "um", "uh", "ok", "okay", "and", "also", "but", "please",
            "quick", "question", ",", "-", ":", "well", "guys", "mum", "mom", "dad", "all", "hmm",
            "oh", "wait", "now",
        ];
        let mut i = self.range.start;
        while i + 1 < self.range.end && fillers.contains(&self.word(i)) {
            i += 1;
        }
        i
    }

    /// A food the lexicon knows for certain, or one that may be food with kitchen words beside it.
    pub fn food(&self) -> bool {
        self.foods.iter().any(|food| food.sure)
            || (!self.foods.is_empty() && self.kitchen())
            || (self.asks
                && !self.has(Class::Elsewhere)
                && self
                    .foods
                    .iter()
                    .any(|food| food.many && !MANY_OF_ANYTHING.contains(&food.name.as_str())))
    }

    /// Words that make a food of one that may be something else ("ribs", "stock").
    pub fn kitchen(&self) -> bool {
        self.any(&[
            Class::Cold,
            Class::Spoil,
            Class::Edible,
            Class::Thaw,
            Class::Reheat,
            Class::Life,
            Class::Treated,
            Class::Ripe,
            Class::Refrigerate,
            Class::Expire,
            Class::Freeze,
            Class::Store,
            Class::Preserve,
            Class::LeftOut,
        ]) || self.says(&["how long"])
            || (self.has(Class::Condition) && self.any(&[Class::Okay, Class::Eat]))
    }

    /// A food, or an unknown noun in a sentence that can only be about food.
    pub fn food_or_unknown(&self) -> bool {
        self.food() || (self.unknown.is_some() && self.only_food())
    }

    /// Words said of nothing but food; spoken to the bot, anything asked about is.
    pub fn only_food(&self) -> bool {
        if self.addressed {
            return true;
        }
        let strict = [Class::Spoil, Class::Life, Class::Refrigerate, Class::Edible];
        (self.any(&strict)
            || self.says(&["leftover", "leftovers", "homemade", "uncooked", "unopened"]))
            && !self.has(Class::Elsewhere)
            && self.range.len() <= 16
    }

    fn statement(&self, found: Found) -> Statement {
        let mut statement = Statement::new(found.intent);
        let foods = match found.about {
            Some(about) => about,
            None if self.foods.is_empty() && asks_of_a_food(found.intent) => {
                self.unknown.iter().cloned().collect()
            }
            None => self.foods.clone(),
        };
        let item = |food| subject::item(self.a, &self.range, &self.seen, food);
        statement.items = foods.iter().map(item).collect();
        if found.intent == Intent::PriceAsked {
            self.price_items(&foods, &mut statement.items);
        }
        if found.intent == Intent::AskBasket {
            for (item, food) in statement.items.iter_mut().zip(&foods) {
                if let Some((quantity, unit)) = self.amount_before(food) {
                    (item.quantity, item.unit) = (Some(quantity), unit);
                }
            }
        }
        if let Some(span) = &self.elapsed {
            statement.minutes = span.minutes;
        }
        if found.intent == Intent::AskThaw || found.intent == Intent::AskPreserve {
            for item in statement.items.iter_mut().filter(|item| item.form.is_none()) {
                item.form = self.says(&["thawed", "defrosted"]).then_some(Form::Thawed);
            }
        }
        let facing = match found.intent {
            Intent::AskNeed | Intent::AskBasket | Intent::AskPlan => Facing::Future,
            _ => Facing::Past,
        };
        for day in days::find_all(self.a, self.range.clone(), facing) {
            match day.reach {
                Reach::Until => statement.until = statement.until.or(day.day),
                _ => statement.day = statement.day.or(day.day),
            }
        }
        let whole_place = statement.items.is_empty()
            && matches!(found.intent, Intent::AskHave | Intent::AskFirst);
        if whole_place && let Some(place) = subject::place(self.a, &self.range) {
            statement.scope = Some(Scope::Place(place));
        }
        statement.topic = found.topic;
        statement.confidence = if self.food() || statement.items.is_empty() { 0.9 } else { 0.6 };
        statement
    }
}

impl Question<'_> {
    /// Gives each food the price said of it: one price is for the first food, several go to
    /// their foods in order. A price in front of an amount ("3.49 for a dozen eggs") is for it.
    fn price_items(&self, foods: &[Subject], items: &mut [Item]) {
        let found = |at: &dyn Fn(usize) -> Option<prices::Found>| {
            let mut found = Vec::new();
            let mut i = self.range.start;
            while i < self.range.end {
                match at(i).filter(|price| price.end > i) {
                    Some(price) => {
                        found.push(price.price);
                        i = price.end;
                    }
                    None => i += 1,
                }
            }
            found
        };
        let mut prices = found(&|i| prices::at(self.a, i, self.range.end));
        if prices.is_empty() {
            prices = found(&|i| self.bare_price(i));
        }
        // "5.98 a kilo against 1.98": the same measure.
        let measure = prices.iter().find_map(|price| price.per);
        if prices.len() > 1 {
            prices.iter_mut().for_each(|price| price.per = price.per.or(measure));
        }
        for ((item, food), price) in items.iter_mut().zip(foods).zip(prices) {
            item.price = Some(price);
            if price.per.is_none()
                && let Some((quantity, unit)) = self.amount_before(food)
            {
                item.quantity = Some(quantity);
                item.unit = unit;
            }
            // "Whole" may be said of the other food only.
            item.form = subject::form_beside(self.a, &self.range, food);
        }
    }

    /// A number alone is a price in a question about prices ("is 2 good for leeks?").
    fn bare_price(&self, i: usize) -> Option<prices::Found> {
        let value = self.a.text.number(i).filter(|value| value.is_positive())?;
        let counted = self.a.tag(i + 1).unit.is_some() && self.range.contains(&(i + 1));
        let scale = Ratio::whole(10_i64.pow(self.a.context.currency.decimals()));
        let minor = value.checked_mul(scale).map(|minor| Minor(minor.rounded()))?;
        let price = Price { minor, per: None, quantity: None };
        (!counted).then_some(prices::Found { price, explicit: false, whole: false, end: i + 1 })
    }

    /// "a dozen", "500 g", "2": the amount that stands before a food.
    fn amount_before(&self, food: &Subject) -> Option<(Ratio, Option<Unit>)> {
        let before = food.tokens.start.saturating_sub(3).max(self.range.start);
        (before..food.tokens.start).find_map(|i| {
            let amount = amounts::read(self.a, i, food.tokens.start)?;
            let quantity = amount.quantity.filter(|_| amount.end == food.tokens.start)?;
            Some((quantity, amount.unit))
        })
    }
}

/// Intents that cannot do without a food: an unknown noun is taken for it.
fn asks_of_a_food(intent: Intent) -> bool {
    matches!(
        intent,
        Intent::AskKeeps
            | Intent::AskWhere
            | Intent::AskPart
            | Intent::AskCondition
            | Intent::AskLeftOut
            | Intent::AskPreserve
            | Intent::AskThaw
            | Intent::AskReheat
            | Intent::AskWash
            | Intent::AskWhoMay
    )
}

/// "store" is a verb only where one can stand; "last friday" lasts no time.
fn drop_nouns(a: &Analysis<'_>, range: &Range<usize>, seen: &mut Sighted) {
    const BEFORE_VERB: &[&str] = &[
        "to",
        "i",
        "you",
        "we",
        "and",
        "best",
        "properly",
        "should",
        "safely",
        "or",
        "can",
        "only",
        "always",
        "just",
        "correctly",
        "people",
        "they",
        "one",
        "?",
        "then",
        "could",
        "not",
        "don't",
        "/",
        ",",
        "do",
        "anyone",
    ];
    for i in range.clone() {
        let before = i.checked_sub(1).filter(|i| range.contains(i)).map(|i| a.text.word(i));
        match a.text.word(i) {
            "store" if before.is_some_and(|word| !BEFORE_VERB.contains(&word)) => {
                seen.remove(i, Class::Store);
                seen.remove(i, Class::Keep);
            }
            // "the smoke detector goes off when baking"
            "go" | "goes" | "going" | "went" | "gone"
                if matches!(
                    before,
                    Some(
                        "detector"
                            | "detectors"
                            | "alarm"
                            | "alarms"
                            | "timer"
                            | "siren"
                            | "bell"
                            | "buzzer"
                            | "bomb"
                            | "fuse"
                    )
                ) =>
            {
                seen.remove(i, Class::Spoil);
                seen.remove(i + 1, Class::Spoil);
            }
            "preserve" if before.is_some_and(|word| !BEFORE_VERB.contains(&word)) => {
                seen.remove(i, Class::Preserve);
            }
            "last"
                if matches!(
                    before,
                    Some("the" | "my" | "your" | "our" | "their" | "his" | "her" | "at" | "this")
                ) =>
            {
                seen.remove(i, Class::Keep);
            }
            _ => {}
        }
    }
}

/// Whether the words are put as a question.
fn asks(a: &Analysis<'_>, range: Range<usize>, foods: &[Subject]) -> bool {
    const OPENERS: &[&str] = &[
        "is",
        "are",
        "was",
        "were",
        "am",
        "can",
        "could",
        "should",
        "do",
        "does",
        "did",
        "will",
        "would",
        "may",
        "must",
        "has",
        "have",
        "how",
        "what",
        "what's",
        "whats",
        "when",
        "where",
        "where's",
        "wheres",
        "which",
        "who",
        "who's",
        "why",
        "any",
        "anyone",
        "shall",
        "isn't",
        "aren't",
        "can't",
        "shouldn't",
        "don't",
        "doesn't",
        "won't",
        "hows",
        "how's",
        "cn",
        "whens",
    ];
    const INNER: &[&[&str]] = &[
        &["how", "long"],
        &["how", "many"],
        &["how", "much"],
        &["how", "soon"],
        &["can", "i"],
        &["can", "we"],
        &["can", "you"],
        &["is", "it"],
        &["are", "they"],
        &["is", "this"],
        &["is", "that"],
        &["are", "these"],
        &["are", "those"],
        &["do", "i"],
        &["should", "i"],
        &["should", "we"],
        &["want", "to", "know"],
        &["need", "to", "know"],
        &["got", "to", "know"],
        &["like", "to", "know"],
        &["wondering"],
        &["tell", "me"],
        &["let", "me", "know"],
        &["can", "is"],
        &["is", "till"],
        &["still", "ok"],
        &["still", "okay"],
        &["still", "good"],
        &["still", "safe"],
        &["still", "fine"],
        &["still", "edible"],
        &["still", "usable"],
    ];
    let text = &a.text;
    let mut first = range.start;
    while first + 1 < range.end
        && matches!(
            text.word(first),
            "so" | "hey"
                | "hi"
                | "hello"
                | "um"
                | "and"
                | "also"
                | "ok"
                | "but"
                | ","
                | "oh"
                | "now"
                | "well"
                | "okay"
        )
    {
        first += 1;
    }
    // "must eat the fish" is a resolution.
    let resolved = text.word(first) == "must"
        && !matches!(text.word(first + 1), "i" | "we" | "you" | "the" | "they");
    (OPENERS.contains(&text.word(first)) && !resolved)
        || range.end.checked_sub(1).is_some_and(|last| last > first && text.word(last) == "when")
        || range.clone().any(|i| text.word(i) == "?")
        || text.word(range.end) == "?"
        || foods.iter().any(|food| {
            let before = food.tokens.start.checked_sub(1).filter(|i| range.contains(i));
            before.is_some_and(|i| {
                matches!(text.word(i), "is" | "are" | "can" | "will" | "does" | "do" | "should")
            })
        })
        || INNER.iter().any(|words| text.find(range.clone(), words).is_some())
}
