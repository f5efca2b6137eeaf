//! From what people type to statements: the bot's front door.
//!
//! Pure and deterministic: text and context in, a [`Reading`] out. The way of a message: tokens ->
//! foods -> clauses -> for each clause the quiet gate, the question reader, the action reader ->
//! stance. What is not clearly ours is silence. Nothing here knows the stock, the clock or the
//! sentences the bot says.

pub mod tokens;
pub mod lexicon;
pub mod phrases;
pub mod vocabulary;
pub mod dictation;
pub mod amounts;
pub mod prices;
pub mod receipt;
pub mod days;
pub mod details;
pub mod items;
pub mod frames;
pub mod verbs;
pub mod clauses;
pub mod quiet;
pub mod captions;
pub mod questions;
pub mod patterns;
pub mod counts;
pub mod corrections;
pub mod marks;
pub mod actions;
pub mod batch;
pub mod json;

use std::ops::Range;
use std::sync::LazyLock;

use crate::dates::KitchenDay;
use crate::rules::Rules;
use crate::statement::{Mention, Reading, Statement};
use crate::units::Currency;
use crate::words::{BOT_NAME, Intent, Stance};
use actions::Memory;
use clauses::Sentence;
use days::{Calendar, DateOrder};
use lexicon::{FoodSpan, Lexicon};
use phrases::Phrases;
use tokens::Text;
use vocabulary::Tag;

/// What the reader knows besides the text.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadContext {
    /// The household's local day.
    pub today: KitchenDay,
    pub currency: Currency,
    /// Spoken to the bot: by name, in private, as an answer, on the console.
    pub addressed: bool,
    /// Which number of "9/3" is the day: the month first with US units.
    pub date_order: DateOrder,
    /// Places of the household's own, lower case ("porch").
    pub places: Vec<String>,
    /// What was named a moment ago in this talk, oldest first.
    pub talk: Vec<Mention>,
}

impl ReadContext {
    /// Group talk on `today`, no currency, no own places, no talk before.
    pub fn new(today: KitchenDay) -> ReadContext {
        ReadContext {
            today,
            currency: Currency::unnamed(),
            addressed: false,
            date_order: DateOrder::default(),
            places: Vec::new(),
            talk: Vec::new(),
        }
    }

    /// What day words are read against.
    pub fn calendar(&self) -> Calendar {
        Calendar { today: self.today, order: self.date_order }
    }
}

/// A message with everything the sub-readers look at.
pub struct Analysis<'a> {
    pub text: Text<'a>,
    pub lexicon: &'a Lexicon,
    /// Foods named, left to right.
    pub foods: Vec<FoodSpan>,
    pub context: &'a ReadContext,
    /// What each token can be; same length as the text.
    tags: Vec<Tag>,
    /// For each token the first one from there on that a wording of a day needs.
    day_words: Vec<usize>,
}

impl<'a> Analysis<'a> {
    pub fn new(text: &'a str, lexicon: &'a Lexicon, context: &'a ReadContext) -> Analysis<'a> {
        let mut text = Text::new(text);
        dictation::punctuate(&mut text, lexicon);
        let mut foods = lexicon.foods(&text);
        dictation::hear(&text, lexicon, &mut foods);
        let tags: Vec<Tag> =
            (0..text.len()).map(|i| lexicon.vocabulary().get(text.word(i))).collect();
        let day_words = days::words(&text, &tags);
        Analysis { text, lexicon, foods, context, tags, day_words }
    }

    /// The first token from `i` on that a wording of a day needs.
    pub fn next_day_word(&self, i: usize) -> usize {
        self.day_words.get(i).copied().unwrap_or(usize::MAX)
    }

    /// What token `i` can be by its word alone.
    pub fn tag(&self, i: usize) -> Tag {
        self.tags.get(i).copied().unwrap_or_default()
    }

    /// The foods named within `range` of tokens.
    pub fn foods_in(&self, range: Range<usize>) -> impl Iterator<Item = &FoodSpan> {
        let first = self.foods.partition_point(|f| f.tokens.start < range.start);
        self.foods[first..].iter().take_while(move |f| f.tokens.end <= range.end)
    }

    /// The food that covers token `i`.
    pub fn food_at(&self, i: usize) -> Option<&FoodSpan> {
        let next = self.foods.partition_point(|f| f.tokens.end <= i);
        self.foods.get(next).filter(|f| f.tokens.contains(&i))
    }
}

/// Reads messages; built once, shared by all.
pub struct Reader {
    lexicon: Lexicon,
}

impl Reader {
    pub fn new(lexicon: Lexicon) -> Reader {
        Reader { lexicon }
    }

    /// A reader that knows the foods of the rule set.
    pub fn of_rules(rules: &Rules) -> Reader {
        Reader::new(Lexicon::of_rules(rules))
    }

    pub fn lexicon(&self) -> &Lexicon {
        &self.lexicon
    }

    /// Reads one message.
    pub fn read(&self, text: &str, context: &ReadContext) -> Reading {
        self.read_in_talk(text, context).0
    }

    /// Reads one message and tells which mention of `context.talk` it went back to, if any.
    pub fn read_in_talk(&self, text: &str, context: &ReadContext) -> (Reading, Option<usize>) {
        self.pass(text, context, false)
    }

    fn pass(&self, text: &str, context: &ReadContext, explain: bool) -> (Reading, Option<usize>) {
        let opened;
        let (text, context) = match after_name(text) {
            Some(rest) if context.addressed => (rest, context),
            Some(rest) => {
                opened = ReadContext { addressed: true, ..context.clone() };
                (rest, &opened)
            }
            None => (text, context),
        };
        let receipt = receipt::read(text, context);
        let text = receipt.as_ref().map_or(text, |receipt| receipt.rest.as_str());
        let analysis = Analysis::new(text, &self.lexicon, context);
        let mut pass = Pass::new(&analysis);
        pass.explanation = explain.then(Vec::new);
        let (mut reading, referred) = pass.run();
        if let Some(receipt) = receipt {
            settle(&mut reading, receipt);
        }
        (reading, referred)
    }

    /// As [`Reader::read`], with the number of words looked at on the way: the cost of a message,
    /// measured without a clock.
    pub fn read_counting(&self, text: &str, context: &ReadContext) -> (Reading, u64) {
        let analysis = Analysis::new(text, &self.lexicon, context);
        let reading = Pass::new(&analysis).run().0;
        (reading, analysis.text.steps())
    }

    /// As [`Reader::read`], with the steps that led there in `explanation`.
    pub fn explain(&self, text: &str, context: &ReadContext) -> Reading {
        self.pass(text, context, true).0
    }
}

/// Gives what a receipt cost to the purchase read from its other lines.
fn settle(reading: &mut Reading, receipt: receipt::Receipt) {
    let bought = |statement: &&mut Statement| statement.intent == Intent::Acquired;
    if let Some(statement) = reading.statements.iter_mut().find(bought) {
        statement.total = receipt.total.or(statement.total);
        statement.charges = receipt.charges;
    }
}

/// What follows the bot's name, where the text starts with it: whatever it says is spoken to the
/// bot.
pub fn after_name(text: &str) -> Option<&str> {
    let text = text.trim_start();
    let text = text.strip_prefix('@').unwrap_or(text);
    let head = text.get(..BOT_NAME.len())?;
    let rest = &text[BOT_NAME.len()..];
    let ends = rest.chars().next().is_none_or(|c| !c.is_alphanumeric() && c != '_');
    let named = head.eq_ignore_ascii_case(BOT_NAME) && ends;
    named.then(|| rest.trim_start_matches(|c: char| !c.is_alphanumeric()))
}

/// Words that stand for a food and never name one.
const PRONOUNS: &[&str] = &["it", "them", "this", "that", "these", "those"];

/// One way through a message.
struct Pass<'a, 'b> {
    analysis: &'a Analysis<'b>,
    memory: Memory,
    statements: Vec<Statement>,
    /// How many statements were read, merged ones counted.
    pushed: usize,
    not_understood: Vec<String>,
    explanation: Option<Vec<String>>,
}

impl<'a, 'b> Pass<'a, 'b> {
    fn new(analysis: &'a Analysis<'b>) -> Pass<'a, 'b> {
        let talk = &analysis.context.talk;
        let last = talk.iter().rposition(|mention| !mention.items.is_empty());
        let memory = Memory {
            items: last.map(|i| talk[i].items.clone()).unwrap_or_default(),
            intent: last.and_then(|i| talk[i].intent),
            talk: last,
            referred: None,
            came_home: false,
        };
        Pass {
            analysis,
            memory,
            statements: Vec::new(),
            pushed: 0,
            not_understood: Vec::new(),
            explanation: None,
        }
    }

    fn run(mut self) -> (Reading, Option<usize>) {
        self.explain_foods();
        match quiet::silent_message(self.analysis) {
            Some(why) => self.explain(|| format!("silent: {why}")),
            None => {
                let sentences = clauses::sentences(self.analysis);
                if let Some(statement) = questions::read_across(self.analysis, &sentences) {
                    self.push(statement, "question over several sentences");
                } else {
                    for sentence in &sentences {
                        self.sentence(sentence);
                    }
                    if self.statements.is_empty()
                        && let Some(statement) = questions::read_whole(self.analysis, &sentences)
                    {
                        self.push(statement, "question over several sentences");
                    }
                }
            }
        }
        let stance = self.stance();
        let reading = Reading {
            stance,
            statements: self.statements,
            not_understood: self.not_understood,
            explanation: self.explanation.unwrap_or_default(),
        };
        (reading, self.memory.referred)
    }

    fn sentence(&mut self, sentence: &Sentence) {
        let a = self.analysis;
        let clauses = clauses::clauses(a, sentence.tokens.clone());
        let asked = sentence.asked
            || clauses.iter().any(|clause| asks(a, clause.clone()))
            || wonders(a, sentence.tokens.clone());
        // "Back from the shop!" makes a purchase of the list behind it.
        let head = verbs::head(a, sentence.tokens.start, sentence.tokens.end);
        let listed = self.memory.came_home && self.told(sentence.tokens.clone(), &clauses);
        self.memory.came_home = head.is_some_and(|head| {
            head.args >= sentence.tokens.end
                && frames::came_home(a, head.verb, sentence.tokens.end).is_some()
        });
        if listed {
            return;
        }
        // "got 3 leeks ..." asks nothing, whatever else it says.
        if !asked
            && told_with_amount(a, sentence.tokens.clone())
            && self.told(sentence.tokens.clone(), &clauses)
        {
            return;
        }
        let question = questions::read_question(a, sentence.tokens.clone());
        if self.explanation.is_some()
            && let Some(why) = questions::why(a, sentence.tokens.clone())
        {
            self.explain(|| why);
        }
        // What is told goes before what it might also ask ("the spinach went in the bin, slimy").
        let told = !asked && question.as_ref().is_none_or(|q| is_ask(q.intent));
        if told && self.told(sentence.tokens.clone(), &clauses) {
            return;
        }
        if let Some(statement) = question {
            self.not_understood.clear();
            return self.push(statement, "question");
        }
        if clauses.len() < 2 || told {
            return self.explain(|| {
                format!("nothing read in {:?}", a.text.slice(sentence.tokens.clone()))
            });
        }
        for clause in clauses {
            if let Some(statement) = questions::read_question(a, clause.clone()) {
                self.push(statement, "question");
            } else if asked_here(a, sentence, &clause) {
                self.explain(|| "asked, so nothing happened".to_owned());
            } else {
                self.told(clause.clone(), std::slice::from_ref(&clause));
            }
        }
    }

    /// Reads a sentence as told; whether anything was.
    fn told(&mut self, sentence: Range<usize>, clauses: &[Range<usize>]) -> bool {
        let a = self.analysis;
        let before = self.pushed;
        if let Some(statement) = corrections::read(a, sentence.clone(), &mut self.memory) {
            self.push(statement, "correction");
            return true;
        }
        if let Some(statement) = counts::read(a, sentence.clone(), &mut self.memory)
            && self.happened(&statement, sentence)
        {
            self.push(statement, "a list under a header");
            return true;
        }
        for clause in clauses {
            if let Some(why) = quiet::silent_clause(a, clause.clone()) {
                self.explain(|| format!("silent: {:?}: {why}", a.text.slice(clause.clone())));
                continue;
            }
            self.clause(clause.clone());
        }
        self.pushed > before
    }

    fn clause(&mut self, clause: Range<usize>) {
        let a = self.analysis;
        if let Some(statement) = actions::read(a, clause.clone(), &mut self.memory) {
            if self.happened(&statement, clause.clone()) {
                self.push(statement, a.text.slice(clause));
            }
            return;
        }
        // "..., it was slimy": the reason of what was thrown out before.
        if let Some(last) = self.statements.last_mut()
            && last.intent == Intent::Discarded
            && last.items.iter().all(|item| item.reason.is_none())
            && let Some(reason) = patterns::reason(a, clause.clone())
        {
            last.items.iter_mut().for_each(|item| item.reason = Some(reason.clone()));
            return;
        }
        // "that was yesterday" and a day of its own: the day of the message.
        let details = details::Details::read(a, clause.clone());
        let named = actions::accept(a, items::read(a, clause.clone(), &details));
        if let Some(list) = named {
            // "the cilantro is dead, tossed it": named, whatever was said of it.
            self.memory.items = list.items();
            self.memory.talk = None;
            self.not_understood.push(a.text.slice(clause.clone()).to_owned());
        }
        self.explain(|| format!("nothing read in {:?}", a.text.slice(clause)));
    }

    /// Whether what was read in `range` was told as having happened in this house.
    fn happened(&mut self, statement: &Statement, range: Range<usize>) -> bool {
        let a = self.analysis;
        // "got 2 cups rice (any rice will do)": remarks behind a purchase told with its amount
        // are no doubt about it.
        let head = verbs::head(a, range.start, range.end).filter(|head| {
            head.act == verbs::Act::Got
                && amounts::read(a, head.args, range.end).is_some_and(|m| m.counted)
        });
        let told = range.clone();
        let range = range.start..head.map_or(range.end, |head| head.args);
        // What did not come and what a shop came to are told in words of not doing and of others.
        let story = quiet::story(a, range.clone(), told.end, statement);
        let doubt =
            quiet::silent_clause(a, range.clone()).or(story).or_else(|| match statement.intent {
                Intent::NotReceived | Intent::TripTotal => None,
                // "forgot to put the milk back" was no plan: it stood out.
                Intent::LeftOut if a.text.find(told.clone(), &["forgot", "to"]).is_some() => None,
                Intent::Acquired if quiet::for_others(a, &told).is_some() => {
                    Some("for other people")
                }
                intent => quiet::nothing_happened(a, range.clone(), intent),
            });
        if let Some(why) = doubt {
            self.explain(|| format!("silent: {:?}: {why}", a.text.slice(range)));
        }
        doubt.is_none()
    }

    fn push(&mut self, mut statement: Statement, from: &str) {
        self.pushed += 1;
        // "…, half of it is in the fridge": beside what it stands for, a pronoun is no food.
        if statement.items.iter().any(|item| !PRONOUNS.contains(&item.name.as_str())) {
            statement.items.retain(|item| !PRONOUNS.contains(&item.name.as_str()));
        }
        if !statement.items.is_empty() {
            self.memory.items.clone_from(&statement.items);
            self.memory.talk = None;
        }
        self.memory.intent = Some(statement.intent);
        let (intent, count) = (statement.intent, statement.items.len());
        self.explain(|| format!("{intent} with {count} item(s), from {from:?}"));
        match self.statements.last_mut() {
            // "boiled up the scraps, got 3 litres of stock"
            Some(last)
                if last.intent == Intent::StockMade
                    && last.items.is_empty()
                    && statement.intent == Intent::Acquired =>
            {
                last.items = statement.items;
            }
            Some(last) if questions::picture::goes_with(last, &statement) => last.picture = true,
            // "3 leeks left, nothing else": that was all.
            Some(last)
                if last.intent == Intent::Counted
                    && statement.complete
                    && statement.items == last.items =>
            {
                (last.complete, last.scope) = (true, statement.scope);
            }
            Some(last) if merges(last, &statement) => last.items.extend(statement.items),
            _ => self.statements.push(statement),
        }
        // A day said once holds for what came before it in the same message ("..., all yesterday").
        self.spread_day();
    }

    fn spread_day(&mut self) {
        if let [.., before, last] = self.statements.as_mut_slice()
            && last.day.is_none()
            && event_like(last.intent)
            && event_like(before.intent)
        {
            last.day = before.day;
        }
    }

    fn stance(&self) -> Stance {
        let spoken = self.analysis.context.addressed;
        match (self.statements.is_empty(), spoken) {
            (false, _) => Stance::Act,
            (true, true) if !self.analysis.text.is_empty() => Stance::Ask,
            (true, _) => Stance::Silent,
        }
    }

    fn explain(&mut self, line: impl FnOnce() -> String) {
        if let Some(lines) = &mut self.explanation {
            lines.push(line());
        }
    }

    fn explain_foods(&mut self) {
        let a = self.analysis;
        for food in &a.foods {
            self.explain(|| {
                let entry = a.lexicon.entry(food.entry);
                let slip = if food.fuzzy { ", through a slip" } else { "" };
                format!("food: {:?} is {}{slip}", a.text.slice(food.tokens.clone()), entry.name)
            });
        }
    }
}

/// "want to know how long it'll last", "wondering if it's safe": asked without a question's shape.
fn wonders(a: &Analysis<'_>, sentence: Range<usize>) -> bool {
    WONDERING.find(&a.text, sentence).is_some()
}

static WONDERING: LazyLock<Phrases> = LazyLock::new(|| {
    Phrases::new([
        "how long",
        "to know",
        "wondering",
        "wonder",
        "ok to",
        "okay to",
        "is it",
        "are they",
        "can i",
        "can we",
        "should i",
        "should we",
    ])
});

/// Whether a question intent may give way to what the sentence tells.
fn is_ask(intent: Intent) -> bool {
    intent.word().starts_with("ask_") || intent == Intent::PriceAsked
}

/// Whether this clause of an asked sentence is the one asked: it asks, or it is the last one.
fn asked_here(a: &Analysis<'_>, sentence: &Sentence, clause: &Range<usize>) -> bool {
    asks(a, clause.clone()) || sentence.asked && clause.end >= sentence.tokens.end
}

/// An event with its amount right behind the verb, in words that ask nothing.
fn told_with_amount(a: &Analysis<'_>, sentence: Range<usize>) -> bool {
    use verbs::Act;
    let head = verbs::head(a, sentence.start, sentence.end).filter(|head| {
        matches!(head.act, Act::Got | Act::Froze | Act::Gave | Act::Put | Act::Moved | Act::Threw)
            || head.act == Act::Used && a.text.word(head.verb) == "used"
    });
    head.is_some_and(|head| {
        amounts::read(a, head.args, sentence.end).is_some_and(|amount| amount.counted)
    })
}

/// Two neighbouring statements that say one thing.
fn merges(last: &Statement, next: &Statement) -> bool {
    last.intent == next.intent
        && last.day == next.day
        && last.total.is_none()
        && next.total.is_none()
        && last.scope == next.scope
        && matches!(last.intent, Intent::Acquired)
        && !last.items.is_empty()
}

fn event_like(intent: Intent) -> bool {
    matches!(
        intent,
        Intent::Acquired
            | Intent::NotReceived
            | Intent::Used
            | Intent::Given
            | Intent::Discarded
            | Intent::Preserved
            | Intent::Prepared
            | Intent::TripTotal
    )
}

/// A clause that begins like a question records nothing.
fn asks(a: &Analysis<'_>, clause: Range<usize>) -> bool {
    let first = clause
        .clone()
        .find(|&i| a.text.is_word(i) && !a.tag(i).is_filler())
        .unwrap_or(clause.start);
    match a.text.word(first) {
        "did" | "do" => matches!(
            a.text.word(first + 1),
            "you" | "we" | "i" | "they" | "u" | "any" | "anyone" | "somebody" | "he" | "she"
        ),
        "have" | "has" => matches!(
            a.text.word(first + 1),
            "you"
                | "we"
                | "i"
                | "they"
                | "u"
                | "any"
                | "anyone"
                | "anybody"
                | "somebody"
                | "he"
                | "she"
        ),
        "what" | "where" | "when" | "who" | "why" | "how" | "which" | "whose" | "whats"
        | "wheres" | "hows" | "what's" | "where's" | "how's" | "who's" | "does" | "can"
        | "could" | "should" | "shall" | "will" | "would" | "may" | "am" | "is" | "are" | "was"
        | "were" => !matches!(a.text.word(first + 1), "out" | "low" | "down" | "running"),
        _ => false,
    }
}
