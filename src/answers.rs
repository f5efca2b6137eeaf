//! Answers to questions about food: verdict, why, how, caution, sources.
//!
//! A question arrives twice: as the statements the reader made of it and as raw text. The
//! statements say what is asked; the scan of the raw text sees to it that no part, state, sign or
//! practice is overlooked. Both lead to findings, and the strictest finding is the answer. What
//! the rule set does not know is `unknown`, never a milder word. Pure: the moment and the
//! household come in as arguments; facts come from `rules`, sentences from `wording`.
//!
//! # Entry points
//! - `answer` answers one message for a household.
//! - `ask_text` reads one line as spoken to the bot and answers it.
//! - `json` is the line of `ask --json`.
//! - `strictness` is the order of verdicts; `is_question` tells which statements come here.

mod age;
mod bag;
mod compose;
mod eaten;
mod intent;
mod keeps;
mod neighbours;
mod out;
mod parts;
mod people;
mod preserve;
mod scan;
mod signs;
mod words;
mod yours;

use serde::Serialize;

use crate::conversation::Rich;
use crate::dates::{Instant, KitchenDay};
use crate::kitchen::{Settings, State};
use crate::reader::{ReadContext, Reader};
use crate::rules::{Food, Found, Rules};
use crate::statement::{Item, Statement};
use crate::wording::{Sentences, Wording};
use crate::words::{Form, Intent, Place, Verdict};
use compose::Finding;
use scan::Scan;
use words::Danger;
pub use words::word_faults;

/// What an answer is made from.
#[derive(Clone, Copy)]
pub struct Context<'a> {
    pub rules: &'a Rules,
    pub wording: &'a Wording,
    pub settings: &'a Settings,
    /// The household's stock; `None` where there is none (the command line).
    pub state: Option<&'a State>,
    pub now: Instant,
    /// The message as it was written.
    pub text: &'a str,
    /// What the reader made of it.
    pub statements: &'a [Statement],
}

/// One answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    pub verdict: Verdict,
    /// Action first, then why, then how; about 500 characters.
    pub text: Rich,
    /// Whom to call, who is at risk.
    pub caution: Option<Rich>,
    /// Full titles of the sources, best first.
    pub sources: Vec<String>,
    /// What "why?" shows: sources, disagreement between them, the arithmetic.
    pub why: Rich,
    /// Somebody has already eaten it: no buttons under this one.
    pub urgent: bool,
}

impl Answer {
    /// Whether this answer is about safety, so that the first one in a chat carries the general
    /// caution.
    pub fn about_safety(&self) -> bool {
        !matches!(self.verdict, Verdict::Place | Verdict::Keeps | Verdict::HowTo)
    }
}

/// The order of verdicts, higher is stricter: of several findings the highest is the answer.
///
/// Poison comes before what must be thrown out, that before an unsafe practice, that before what
/// is no food, and all of them before "I don't know". "I don't know" comes before every verdict
/// that lets somebody eat; of those, the ones with a condition attached come first. Answers that
/// are no verdict on eating come last.
pub fn strictness(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Toxic => 11,
        Verdict::Discard => 10,
        Verdict::DoNot => 9,
        Verdict::NotFood => 8,
        Verdict::Unknown => 7,
        Verdict::Limited => 6,
        Verdict::EdibleWhenCooked => 5,
        Verdict::Use => 4,
        Verdict::Edible => 3,
        Verdict::HowTo => 2,
        Verdict::Place => 1,
        Verdict::Keeps => 0,
    }
}

/// Whether a verdict keeps people from eating.
pub fn forbids(verdict: Verdict) -> bool {
    strictness(verdict) >= strictness(Verdict::Unknown)
}

/// Whether `answer` is the one to reply to a statement of this intent.
pub fn is_question(intent: Intent) -> bool {
    use Intent::{
        AskAmount, AskCondition, AskDateLabel, AskKeeps, AskLeftOut, AskNeighbours, AskPart,
        AskPreserve, AskReheat, AskThaw, AskTrimmings, AskUseUp, AskWash, AskWhere, AskWhoMay,
        EatenAlready,
    };
    matches!(
        intent,
        AskAmount
            | AskCondition
            | AskDateLabel
            | AskKeeps
            | AskLeftOut
            | AskNeighbours
            | AskPart
            | AskPreserve
            | AskReheat
            | AskThaw
            | AskTrimmings
            | AskUseUp
            | AskWash
            | AskWhere
            | AskWhoMay
            | EatenAlready
    )
}

/// Answers one message.
pub fn answer(cx: &Context<'_>) -> Answer {
    let scan = Scan::new(cx.text, cx.rules);
    let asked = Asked::new(cx, &scan);
    let mut findings = Vec::new();
    if eaten::is_urgent(&asked, &mut || asked.findings()) {
        return eaten::answer(&asked);
    }
    findings.extend(asked.findings());
    compose::compose(&asked, findings)
}

/// Answers a question the reader could make nothing of, where it names a food or a danger; `None`
/// where there is nothing to go by.
pub fn overheard(cx: &Context<'_>) -> Option<Answer> {
    let scan = Scan::new(cx.text, cx.rules);
    let named = !scan.foods.is_empty() || scan.asks_for_care();
    let asks = cx.text.contains('?') || scan.asks_for_care();
    (named && asks).then(|| answer(cx))
}

/// Reads one line as spoken to the bot and answers it.
pub fn ask_text(
    text: &str,
    reader: &Reader,
    read_context: &ReadContext,
    base: &Context<'_>,
) -> Answer {
    let reading = reader.read(text, &ReadContext { addressed: true, ..read_context.clone() });
    let cx = Context { text, statements: &reading.statements, ..*base };
    let mut answer = answer(&cx);
    if answer.caution.is_none() && answer.about_safety() {
        answer.caution = Some(cx.wording.general_caution());
    }
    answer
}

/// The line of `ask --json` for one question: keys in this order, without a line break.
pub fn json(question: &str, answer: &Answer) -> String {
    #[derive(Serialize)]
    struct Line<'a> {
        text: &'a str,
        verdict: Verdict,
        answer: String,
        caution: Option<String>,
        sources: &'a [String],
    }
    let line = Line {
        text: question,
        verdict: answer.verdict,
        answer: answer.text.to_plain(),
        caution: answer.caution.as_ref().map(Rich::to_plain),
        sources: &answer.sources,
    };
    serde_json::to_string(&line).expect("strings and a unit enum always serialise")
}

/// One message as the answer rooms see it.
struct Asked<'a> {
    cx: &'a Context<'a>,
    scan: &'a Scan<'a>,
    say: Sentences<'a>,
    today: KitchenDay,
    /// The statements that ask, with what they are about.
    questions: Vec<Question<'a>>,
}

/// One thing asked.
struct Question<'a> {
    intent: Intent,
    statement: Option<&'a Statement>,
    subjects: Vec<Subject<'a>>,
}

/// One food a question is about, with what was said of it.
#[derive(Clone)]
struct Subject<'a> {
    food: Option<&'a Food>,
    /// The words for it when it is in no table.
    name: String,
    part: Option<String>,
    form: Option<Form>,
    place: Option<Place>,
    /// The condition asked about, in the person's own words.
    seen: Option<String>,
}

impl<'a> Asked<'a> {
    fn new(cx: &'a Context<'a>, scan: &'a Scan<'a>) -> Asked<'a> {
        let questions = cx.statements.iter().filter(|s| {
            is_question(s.intent) || matches!(s.intent, Intent::LeftOut | Intent::Outage)
        });
        let mut questions: Vec<Question<'a>> = questions
            .map(|statement| Question {
                intent: intent::heard(scan, statement.intent),
                statement: Some(statement),
                subjects: statement
                    .items
                    .iter()
                    .flat_map(|item| subjects(cx, scan, item))
                    .collect(),
            })
            .collect();
        let named = |q: &Question<'_>, food: &Food| {
            q.subjects.iter().any(|s| s.food.is_some_and(|known| known.id == food.id))
        };
        // Foods the reader missed join the first question, so that nothing named goes unanswered.
        let missed: Vec<Subject<'a>> = scan
            .foods
            .iter()
            .flat_map(|hit| &hit.foods)
            .filter(|food| !questions.iter().any(|q| named(q, food)))
            .map(|food| Subject::of(food))
            .collect();
        match questions.first_mut() {
            Some(first) => {
                let unnamed = first.subjects.iter().all(|s| s.food.is_none());
                if unnamed && !missed.is_empty() {
                    first.subjects.clear();
                }
                if unnamed {
                    first.subjects.extend(missed);
                } else {
                    first.subjects.extend(missed.into_iter().filter(|s| s.is_hazard()));
                }
            }
            // Not read as a question, and yet about food: whether it may still be eaten is what
            // must not go unanswered.
            None if !missed.is_empty() && (!tells(cx.statements) || scan.word(ASKS))
                || scan.asks_for_care()
                || intent::heard(scan, Intent::AskPart) != Intent::AskPart =>
            {
                let statement = cx.statements.first();
                let intent = intent::heard(scan, Intent::AskCondition);
                questions.push(Question { intent, statement, subjects: missed });
            }
            None => {}
        }
        // A known food beside it: a name the text does not hold is a slip misread.
        let informing = |q: &Question<'_>| {
            !matches!(q.intent, Intent::AskPart | Intent::AskCondition | Intent::AskLeftOut)
        };
        for question in questions.iter_mut().filter(|q| informing(q)) {
            if question.subjects.iter().any(|s| s.food.is_some()) {
                question.subjects.retain(|s| s.food.is_some() || scan.holds(&s.name));
            }
        }
        Asked {
            cx,
            scan,
            say: cx.wording.answers(),
            today: cx.now.day(cx.settings.zone),
            questions,
        }
    }

    /// Every finding on every question.
    fn findings(&self) -> Vec<Finding> {
        if self.questions.is_empty() {
            return Vec::new();
        }
        // Of findings as strict, those on what must not be overlooked come first.
        let mut findings = self.dangers();
        findings.extend(self.questions.iter().flat_map(|q| self.on(q)));
        if findings.is_empty() {
            // Nothing said that changes the food as such.
            findings.extend(self.foods().map(|food| self.whole(food)));
        }
        findings
    }

    /// What is asked, answered from the rule set and the household's stock.
    fn on(&self, question: &Question<'a>) -> Vec<Finding> {
        if self.labelled() && matches!(question.intent, Intent::AskKeeps | Intent::AskCondition) {
            return self.label_asked(question);
        }
        match question.intent {
            Intent::AskPart => self.each(question, |s| {
                let mut findings = self.part_asked(s);
                findings.extend(self.age_asked(question, s));
                findings
            }),
            Intent::AskCondition => self.each(question, |s| self.condition_asked(question, s)),
            Intent::AskKeeps => self.each(question, |s| self.keeps_asked(question, s)),
            Intent::AskWhere => self.each(question, |s| {
                let mut findings = self.where_asked(s);
                // Too old is too old, wherever it goes.
                let aged = self.age_asked(question, s).into_iter();
                findings.extend(aged.filter(|finding| forbids(finding.verdict)));
                findings
            }),
            Intent::AskLeftOut | Intent::LeftOut => self.left_out_asked(question),
            Intent::Outage => vec![self.outage(question)],
            Intent::AskNeighbours => self.neighbours_asked(question),
            Intent::AskWash => self.each(question, |s| self.wash_asked(s)),
            Intent::AskPreserve => self.preserve_asked(question),
            Intent::AskThaw => self.thaw_asked(question),
            Intent::AskReheat => self.reheat_asked(question),
            Intent::AskAmount => self.amount_asked(question),
            Intent::AskUseUp => self.each(question, |s| self.uses_asked(s)),
            Intent::AskWhoMay => self.who_asked(question),
            Intent::AskDateLabel => self.label_asked(question),
            Intent::AskTrimmings => self.bag_asked(question),
            _ => Vec::new(),
        }
    }

    /// A printed date is spoken of.
    fn labelled(&self) -> bool {
        let pairs = [("use", "by"), ("best", "before"), ("best", "by"), ("sell", "by")];
        let said = |pair: &(&str, &str)| {
            self.scan.tokens.windows(2).any(|w| (w[0].as_str(), w[1].as_str()) == *pair)
        };
        pairs.iter().any(said)
            || self.scan.word(&["expired", "expiry", "expiration", "useby", "bbe"])
    }

    fn each(
        &self,
        question: &Question<'a>,
        mut find: impl FnMut(&Subject<'a>) -> Vec<Finding>,
    ) -> Vec<Finding> {
        if question.subjects.is_empty() {
            return vec![self.unknown_this()];
        }
        question.subjects.iter().flat_map(&mut find).collect()
    }

    /// What the raw text holds besides: parts, states, signs, practices, people.
    fn dangers(&self) -> Vec<Finding> {
        let mut findings = self.named_parts();
        findings.extend(self.named_states());
        findings.extend(self.named_signs());
        findings.extend(self.named_practices());
        let informing = self.informs();
        // A question about storing is not a question about eating: only what forbids counts.
        findings.retain(|finding| !informing || forbids(finding.verdict));
        findings
    }

    /// Whether every question asks for information, none whether something may be eaten.
    fn informs(&self) -> bool {
        self.questions.iter().all(|q| {
            !matches!(
                q.intent,
                Intent::AskPart | Intent::AskCondition | Intent::AskLeftOut | Intent::LeftOut
            )
        })
    }

    fn foods(&self) -> impl Iterator<Item = &'a Food> + '_ {
        let mut seen: Vec<&str> = Vec::new();
        let asked = self.questions.iter().flat_map(|q| &q.subjects).filter_map(|s| s.food);
        let scanned = self.scan.foods.iter().flat_map(|hit| hit.foods.iter().copied());
        asked.chain(scanned).filter(move |food| {
            let fresh = !seen.contains(&food.id.as_str());
            if fresh {
                seen.push(food.id.as_str());
            }
            fresh
        })
    }

    fn unknown_this(&self) -> Finding {
        let topic = self.scan.dangers.iter().find_map(|(_, danger)| match danger {
            Danger::Guided(topic) => self.cx.rules.guidance(*topic),
            _ => None,
        });
        match topic {
            Some(guidance) => self.guided(guidance.topic, Verdict::Unknown),
            None => Finding::new(Verdict::Unknown, self.say.this(), self.say.unknown_this()),
        }
    }

    /// "I don't know this food": what to do instead.
    fn unknown_food(&self, name: &str) -> Finding {
        let name = if name.trim().is_empty() { self.say.this() } else { name.to_owned() };
        let mut finding =
            Finding::new(Verdict::Unknown, name.clone(), self.say.unknown_food(name.as_str()));
        finding.push(self.say.help_unknown());
        finding
    }
}

/// Words that ask, in a message read as telling.
const ASKS: &[&str] = &["ok", "okay", "safe", "edible", "still", "fine", "toss", "bin"];

/// Whether the message only tells what happened, with nothing in it that grows old.
fn tells(statements: &[Statement]) -> bool {
    let ages = |s: &Statement| {
        matches!(s.intent, Intent::Opened | Intent::Prepared | Intent::Thawed | Intent::None)
    };
    !statements.is_empty() && !statements.iter().any(ages)
}

impl Food {
    /// The food as said in a sentence: pieces in the plural, a mass in the singular.
    fn noun(&self) -> &str {
        use crate::rules::Kind::{Allium, Egg, Fruit, Legume, Mushroom, NutSeed, Root, Vegetable};
        let pieces = matches!(
            self.kind,
            Allium | Egg | Fruit | Legume | Mushroom | NutSeed | Root | Vegetable
        );
        if pieces || self.hazard { &self.plural } else { &self.name }
    }
}

impl<'a> Subject<'a> {
    fn of(food: &'a Food) -> Subject<'a> {
        Subject {
            food: Some(food),
            name: food.name.clone(),
            part: None,
            form: None,
            place: None,
            seen: None,
        }
    }

    fn is_hazard(&self) -> bool {
        self.food.is_some_and(|food| food.hazard)
    }

    /// "carrots", or the person's own word.
    fn what(&self) -> &str {
        self.food.map_or(self.name.as_str(), Food::noun)
    }
}

/// The foods an item may mean: one, several that share the name, or none.
fn subjects<'a>(cx: &Context<'a>, scan: &Scan<'a>, item: &Item) -> Vec<Subject<'a>> {
    // "Can you ...": the helping verb is no tin.
    // The part of another food ("squash flowers") is no food of its own.
    let known = item.food.as_ref().and_then(|id| cx.rules.food(id));
    let apart = |food: &Food| scan.is_part_of_other(food) || scan.is_mere_dish(food);
    // "The leaves on my radishes": the part comes with the food.
    let bare = known.is_none() && !scan.foods.is_empty() && scan.is_bare_part(&item.name);
    let water = known.is_none() && item.name == "water" && !scan.foods.is_empty();
    if item.name == "can" || bare || water || known.is_some_and(apart) {
        return Vec::new();
    }
    let foods: Vec<Option<&'a Food>> = match known {
        Some(food) => vec![Some(food)],
        None => match cx.rules.find(&item.name) {
            Found::One(food) => vec![Some(food)],
            Found::Ambiguous(foods) => foods.into_iter().map(Some).collect(),
            // A food inside the words taken for a name ("potato leaves").
            Found::None => match scan.foods_within(&item.name) {
                foods if foods.is_empty() => vec![None],
                foods => foods.into_iter().map(Some).collect(),
            },
        },
    };
    let subject = |food: Option<&'a Food>| Subject {
        food,
        name: item.name.clone(),
        // "Mustard seed": the word belongs to the name.
        part: item.part.clone().filter(|word| {
            let listed = |food: &Food| food.part(word).is_some_and(|part| !part.main);
            food.is_none_or(|food| listed(food) || !scan.in_name(food, word))
        }),
        form: item.form,
        place: item.place.clone(),
        seen: item.reason.clone(),
    };
    foods.into_iter().map(subject).collect()
}
