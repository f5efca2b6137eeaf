//! The verbs of the kitchen and where a clause opens.
//!
//! A head is a verb phrase after its lead (fillers, days, who did it): "yesterday mum bought ...".
//! Only past and present forms of things that happened are heads; futures and wishes are left to
//! the quiet gate.

use super::Analysis;
use super::days::{self, Facing};
use super::details;
use super::frames;
use super::tokens::Kind;

/// What a verb does with the food after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Act {
    /// Came in.
    Got,
    /// Came in, said with a weaker verb ("found", "took in"): needs an amount.
    Found,
    NotGot,
    /// On hand: "have", "there is".
    Have,
    /// None on hand: "out of".
    OutOf,
    Counted,
    Used,
    /// Used to the last bit.
    Finished,
    /// "had": eaten only with a meal.
    Had,
    Took,
    /// "took X out", "got X out of".
    Threw,
    Composted,
    Binned,
    Poured,
    Fed,
    Gave,
    Froze,
    Dried,
    /// Pickled, canned, fermented: kept without a form of its own.
    Kept,
    Thawed,
    Made,
    /// Boiled, roasted: the same food, cooked.
    Cooked,
    /// Cut, peeled.
    Cut,
    /// Wilted, blanched: a step before the freezer.
    Blanched,
    Put,
    Moved,
    PutAway,
    Opened,
    Left,
    Stood,
    Changed,
    Did,
    Saved,
    Need,
    /// "running low on".
    Low,
    NoNeed,
    Add,
    Remove,
    Spent,
}

impl Act {
    /// Verbs whose past form also describes a food ("roasted peppers", "canned tomatoes").
    pub fn describes(self) -> bool {
        matches!(
            self,
            Act::Cooked
                | Act::Kept
                | Act::Cut
                | Act::Blanched
                | Act::Dried
                | Act::Froze
                | Act::Thawed
                | Act::Opened
        )
    }
}

/// A verb phrase in its clause.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Head {
    pub act: Act,
    /// The verb's first token.
    pub verb: usize,
    /// The first token after the verb phrase.
    pub args: usize,
    /// A person of the household was named or spoke ("i", "mum"); no subject is none.
    pub subject: bool,
}

/// The head of the clause that begins at `start`, after its lead.
pub fn head(a: &Analysis<'_>, start: usize, end: usize) -> Option<Head> {
    let lead = skip_lead(a, start, end);
    verb(a, lead.end, end, lead.has).map(|(act, args)| Head {
        act,
        verb: lead.end,
        args,
        subject: lead.subject,
    })
}

/// Whether a clause of its own opens at `start`.
pub fn opens_clause(a: &Analysis<'_>, start: usize, end: usize) -> bool {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    if start >= end || a.food_at(start).is_some_and(|f| f.tokens.len() > 1) {
        return false;
    }
    if head(a, start, end)
        .is_some_and(|h| !matches!(h.act, Act::Cut | Act::Had) || cut_opens(a, &h, end))
    {
        return true;
    }
    let contracted = matches!(
        w(start),
        "it's"
            | "its"
            | "they're"
            | "it"
            | "i'm"
            | "i'll"
            | "we'll"
            | "we're"
            | "that's"
            | "there's"
            | "i'd"
            | "we'd"
            | "he's"
            | "she's"
            | "who"
            | "what"
            | "where"
            | "when"
            | "how"
            | "why"
            | "can"
            | "could"
            | "should"
            | "will"
            | "would"
            | "do"
            | "does"
            | "did"
            | "is"
            | "are"
            | "don't"
            | "didn't"
            | "haven't"
    );
    if contracted
        || (a.tag(start).is_subject() && w(start) != "us" && w(start) != "me")
        || w(start) == "they"
    {
        return true;
    }
    predicate_ahead(a, start, end)
}

/// "cut" and other words that are preparations as well open a clause only before a definite food.
fn cut_opens(a: &Analysis<'_>, head: &Head, end: usize) -> bool {
    let at = head.args;
    at < end
        && (a.tag(at).is_determiner()
            || a.tag(at).is_pronoun()
            || head.args > head.verb + 1 && a.food_at(at).is_some())
}

/// "the dill was slimy", "stalks went in the bin": a food, then a verb of being or going.
fn predicate_ahead(a: &Analysis<'_>, start: usize, end: usize) -> bool {
    let mut seen_food = false;
    for i in start..end.min(start + 8) {
        match a.text.kind(i) {
            Some(Kind::Word | Kind::Number) => {}
            _ => return false,
        }
        if let Some(food) = a.food_at(i) {
            if food.tokens.start == i {
                seen_food = true;
            }
            continue;
        }
        match a.text.word(i) {
            "is" | "are" | "was" | "were" | "went" | "got" | "has" | "have" | "took" | "never"
            | "didn't" | "came" | "goes" | "go" => return seen_food,
            "and" | "or" | "but" => return false,
            _ => {}
        }
    }
    false
}

/// What stands before the verb.
struct Lead {
    end: usize,
    subject: bool,
    /// A form of "have" just before the verb.
    has: bool,
}

fn skip_lead(a: &Analysis<'_>, start: usize, end: usize) -> Lead {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let mut lead = Lead { end: start, subject: false, has: false };
    let mut i = start;
    let mut words = 0;
    while i < end && words < 10 {
        if verb(a, i, end, lead.has).is_some() && !matches!(w(i), "have" | "has" | "had") {
            break;
        }
        if matches!(w(i), "have" | "has" | "had" | "'ve")
            && verb(a, i + 1, end, true).is_some()
            && !matches!(w(i + 1), "a" | "the")
        {
            lead.has = true;
            i += 1;
            words += 1;
            continue;
        }
        if matches!(w(i), "have" | "has" | "had") {
            break;
        }
        if let Some(span) = days::at(a, i..end, Facing::Past).filter(|_| a.text.number(i).is_none())
        {
            i = span.tokens.end.max(i + 1);
            continue;
        }
        // "in the fridge we have ...", "in the freezer there's ..."
        if let Some((_, _, next)) = details::place_at(a, i, end)
            && (a.tag(next).is_subject() || matches!(w(next), "there's" | "theres" | "there"))
        {
            i = next;
            words += 1;
            continue;
        }
        let tag = a.tag(i);
        match w(i) {
            "i've" | "we've" | "ive" | "weve" | "he's" | "she's" => {
                lead.has = true;
                lead.subject = true;
            }
            "," | "-" | ":" | "!" | "." | "\n" | "*" | "•" | "·" | "@" | "#" | ">" => {}
            "and" | "so" | "then" | "but" | "&" | "+" if i == start || words < 2 => {}
            "no" | "oops" | "argh" | "ugh" | "damn" | "crap" | "whoops" | "shoot"
                if words < 3 && (a.tag(i + 1).is_subject() || !a.text.is_word(i + 1)) => {}
            "did" | "do" if matches!(w(i + 1), "not") => {}
            "my" | "the" if a.tag(i + 1).is_subject() => {}
            _ if tag.is_subject() => lead.subject = true,
            _ if tag.is_filler() => {}
            _ if a.text.kind(i) == Some(Kind::Emoji) => {}
            _ if is_name(a, i) => lead.subject = true,
            _ => break,
        }
        i += 1;
        words += 1;
    }
    lead.end = i;
    lead
}

/// A person's first name: one capitalised word that is no word we know, before a verb.
fn is_name(a: &Analysis<'_>, i: usize) -> bool {
    let capital = a.text.slice(i..i + 1).starts_with(|c: char| c.is_uppercase());
    let shouting =
        a.text.word(i).len() > 1 && a.text.slice(i..i + 1).chars().all(|c| c.is_uppercase());
    let next = a.text.word(i + 1);
    // "Steel Cut Oats" is a title.
    let title = a.text.slice(i + 1..i + 2).starts_with(|c: char| c.is_uppercase());
    let verb_next = !title
        && matches!(
            next,
            "got"
                | "bought"
                | "brought"
                | "used"
                | "ate"
                | "finished"
                | "tossed"
                | "froze"
                | "picked"
                | "made"
                | "gave"
                | "threw"
                | "opened"
                | "took"
                | "and"
                | "changed"
                | "left"
                | "has"
                | "had"
                | "put"
                | "drank"
                | "binned"
                | "composted"
                | "moved"
                | "grabbed"
                | "didn't"
                | "cut"
                | "cooked"
        );
    capital
        && !shouting
        && verb_next
        && a.food_at(i).is_none()
        && a.text.is_word(i)
        && !a.lexicon.is_common(a.text.word(i))
}

/// The act of the verb phrase at `i` and the token after it.
fn verb(a: &Analysis<'_>, i: usize, end: usize, has: bool) -> Option<(Act, usize)> {
    use Act::*;
    let w = |k: usize| if k < end { a.text.word(k) } else { "" };
    if i >= end
        || a.text.kind(i) != Some(Kind::Word)
        || a.food_at(i).is_some_and(|f| f.tokens.len() > 1)
    {
        return None;
    }
    let next = w(i + 1);
    if let Some(args) = frames::came_home(a, i, end) {
        return Some((Got, args));
    }
    let found = match w(i) {
        "got" => match next {
            "rid" if w(i + 2) == "of" => (Threw, 3),
            "in" | "home" | "back" if w(i + 2) == "with" => (Got, 3),
            "through" => (Used, 2),
            "given" => (Got, 2),
            "in" | "us" | "home" | "back" | "me" => (Got, 2),
            // "got up to 1 cup milk"
            "up" if w(i + 2) == "to" && a.text.number(i + 3).is_some() => (Got, 1),
            "to" | "it" | "you" | "so" | "into" | "up" | "off" | "out" | "over" | "on"
            | "there" | "here" => return None,
            _ if has => (Have, 1),
            _ => (Got, 1),
        },
        "bought" | "purchased" | "grabbed" | "snagged" | "scored" | "nabbed" | "acquired"
        | "restocked" => (Got, particle(next, &["in", "us", "some", "up"])),
        "harvested" | "gathered" | "foraged" | "dug" | "unpacked" | "received" | "collected"
        | "fetched" | "stocked" => match (next, w(i + 2)) {
            ("up", "on") => (Got, 3),
            ("up", _) => (Got, 2),
            _ => (Got, 1),
        },
        "picked" => (Got, particle(next, &["up", "out"])),
        "brought" => match next {
            "home" | "back" | "in" | "us" | "over" => (Got, 2),
            "up" => return None,
            _ => (Got, 1),
        },
        "came" if next == "home" && w(i + 2) == "with" => (Got, 3),
        "came" if next == "back" && w(i + 2) == "with" => (Got, 3),
        "been" if next == "shopping" => (Got, 2),
        "shopping" | "groceries" | "haul" | "bought:" if matches!(next, ":" | "-") => (Got, 2),
        "shop" | "market" | "delivery" | "shopped" if matches!(next, ":" | "-") => (Got, 2),
        "just" if next == "in" => (Got, 2),
        "new" if next == "in" => (Got, 2),
        "didn't" | "couldn't" | "didnt" | "couldnt" | "did" | "don't" | "dont" | "doesn't"
        | "needn't" | "won't" | "do" => {
            return negated(a, i, end);
        }
        // "forgot to buy leeks" is a plan that failed, no news of what came.
        "forgot" | "missed" if next != "to" => (NotGot, 1),
        "have" | "has" => match next {
            "to" | "been" | "you" | "we" | "a" if next != "a" => return None,
            "got" => (Have, 2),
            "no" if w(i + 2) == "more" => (OutOf, 3),
            "run" if w(i + 2) == "out" && w(i + 3) == "of" => (OutOf, 4),
            _ => (Have, 1),
        },
        "still" if matches!(next, "have" | "got") => (Have, 2),
        "there's" | "theres" => (Have, 1),
        "there" if matches!(next, "is" | "are" | "s") => (Have, 2),
        "counted" => (Counted, 1),
        "down" if next == "to" => (Counted, if matches!(w(i + 2), "the") { 3 } else { 2 }),
        "out" if next == "of" => (OutOf, 2),
        "outta" => (OutOf, 1),
        "we're" | "im" | "i'm" | "were" | "are" | "am" | "is"
            if next == "out" && w(i + 2) == "of" =>
        {
            (OutOf, 3)
        }
        "we're" | "i'm" | "are" | "am"
            if matches!(next, "all" | "clean" | "completely" | "totally" | "now")
                && w(i + 2) == "out"
                && w(i + 3) == "of" =>
        {
            (OutOf, 4)
        }
        "we're" | "i'm" | "are" | "am" if next == "down" && w(i + 2) == "to" => (Counted, 3),
        "we're" | "i'm" | "are" | "am" | "is"
            if matches!(next, "running" | "getting") && w(i + 2) == "low" =>
        {
            (Low, 4)
        }
        "we're" | "i'm" | "are" | "am" if next == "low" && w(i + 2) == "on" => (Low, 3),
        "we're" | "i'm" | "are" | "am"
            if matches!(next, "almost" | "nearly") && w(i + 2) == "out" =>
        {
            (Low, 4)
        }
        "running" if matches!(next, "low" | "short" | "out") => (Low, 3),
        "low" if next == "on" => (Low, 2),
        "ran" if next == "out" && w(i + 2) == "of" => (OutOf, 3),

        "run" if has && next == "out" => (OutOf, 3),
        "used" => match next {
            "to" => return None,
            "up" => (if w(i + 2) == "all" { Finished } else { Used }, 2),
            _ => (Used, 1),
        },
        "ate" | "eaten" | "scoffed" | "munched" | "snacked" | "devoured" | "demolished"
        | "guzzled" | "nibbled" | "drank" | "polished" | "consumed" | "scarfed" | "gobbled"
        | "inhaled" => {
            let finished = matches!(w(i), "polished" | "demolished" | "devoured" | "scoffed");
            let n =
                if next == "up" || next == "on" || next == "off" || next == "down" { 2 } else { 1 };
            (if finished { Finished } else { Used }, n)
        }
        "finished" => match next {
            "off" | "up" => (Finished, 2),
            "with" => return None,
            _ => (Finished, 1),
        },
        "emptied" | "killed" if matches!(next, "the" | "off") => {
            (Finished, if next == "off" { 2 } else { 1 })
        }
        "went" if next == "through" => (Used, 2),
        "had" if next == "to" => (Threw, 2),
        "had" => (Had, 1),
        "took" => (Took, 1),
        "took:" => (Took, 1),
        "tossed" | "chucked" | "threw" | "thrown" | "ditched" | "dumped" | "scrapped"
        | "discarded" | "trashed" | "jettisoned" | "lobbed" => {
            (Threw, particle(next, &["out", "away", "in"]).min(if next == "in" { 1 } else { 2 }))
        }
        "binned" => (Binned, 1),
        "lost"
            if a.tag(i + 1).is_determiner()
                || a.text.number(i + 1).is_some()
                || a.food_at(i + 1).is_some() =>
        {
            (Threw, 1)
        }
        "composted" => (Composted, 1),
        "poured" | "tipped" => (Poured, particle(next, &["out", "away"])),
        "fed" => (Fed, 1),
        "gave" | "gifted" | "handed" | "donated" | "given" | "shared" | "passed" | "lent"
        | "dropped" | "sent" | "swapped" | "traded" => {
            (Gave, particle(next, &["away", "out", "over", "on", "off", "round"]))
        }
        "froze" | "frozen" | "bagged" => (Froze, particle(next, &["down", "up"])),
        "freezing" => (Froze, 1),
        "dried" | "dehydrated" => {
            if a.food_at(i).is_some() {
                return None;
            }
            (Dried, particle(next, &["out"]))
        }
        "pickled" | "canned" | "jarred" | "fermented" | "bottled" | "preserved" | "salted"
        | "jammed" | "cured" | "smoked" | "krauted" | "brined" => (Kept, particle(next, &["up"])),
        "thawed" | "defrosted" => (Thawed, particle(next, &["out"])),
        "thawing" | "defrosting" => (Thawed, 1),
        "made" | "baked" | "brewed" | "batch" | "batch-cooked" | "prepped" | "whipped"
        | "knocked" | "rustled" | "threwtogether" => match next {
            "sure" | "it" | "up" if next != "up" => return None,
            "cooked" => (Made, 2),
            "up" => (Made, 2),
            _ => (Made, 1),
        },
        "cooked" => cooked(a, i, end),
        "boiled" | "roasted" | "steamed" | "fried" | "grilled" | "parboiled" | "microwaved"
        | "poached" | "hardboiled" => match (w(i), next) {
            (_, "up") => (Cooked, 2),
            _ => (Cooked, 1),
        },
        "simmered" if matches!(next, "the" | "a" | "up") => (Cooked, 1),
        "cut" | "chopped" | "sliced" | "diced" | "peeled" | "shredded" | "halved" | "quartered"
        | "cubed" | "grated" | "trimmed" | "julienned" | "carved" => {
            (Cut, particle(next, &["up", "open", "into"]).min(if next == "into" { 1 } else { 2 }))
        }
        "wilted" | "blanched" | "sauteed" | "braised" | "pureed" | "mashed" | "stewed"
        | "washed" | "podded" | "shelled" => (Blanched, particle(next, &["down"])),
        "put" | "popped" | "stuck" | "stashed" | "shoved" | "stored" | "placed" | "added"
        | "stowed" | "parked" | "laid" | "tucked" | "hung" | "stacked" => match (next, w(i + 2)) {
            ("away", _) => (PutAway, 2),
            ("everything" | "all" | "them" | "it", "away") => (PutAway, 3),
            _ => (Put, 1),
        },
        "moved" | "shifted" | "transferred" | "relocated" | "carried" | "switched" => {
            (Moved, particle(next, &["over"]))
        }
        "opened" | "uncorked" | "unsealed" => (Opened, particle(next, &["up"])),
        "cracked" if next == "open" => (Opened, 2),
        "broke" if next == "into" || next == "open" => (Opened, 2),
        "started" if matches!(next, "the" | "a" | "another") => (Opened, 1),
        "left" => match next {
            "for" | "at" | "home" | "work" | "early" | "over" => return None,
            "out" => (Left, 2),
            _ => (Left, 1),
        },
        "forgotten" => (Left, 1),
        "stood" => (Stood, 1),
        "changed" | "swapped-out" | "refreshed" | "renewed" | "replaced" | "freshened" => {
            (Changed, 1)
        }
        "topped" if next == "up" => (Changed, 2),
        "saved" | "kept" | "bagged-up" => (Saved, 1),
        "need" => match next {
            "to" => match w(i + 2) {
                "buy" | "get" | "grab" | "order" | "restock" => (Need, 3),
                "pick" if w(i + 3) == "up" => (Need, 4),
                _ => return None,
            },
            "more" | "some" => (Need, 1),
            _ => (Need, 1),
        },
        "want" | "wants" => return None,
        "add" | "put-on" => (Add, 1),
        "remove" | "delete" | "scratch" | "cross" => (Remove, particle(next, &["off", "out"])),
        "take"
            if a.text.find(i..end.min(i + 12), &["off"]).is_some()
                && a.text.find(i..end.min(i + 14), &["list"]).is_some() =>
        {
            (Remove, 1)
        }
        "no" if next == "need" && w(i + 2) == "for" => (NoNeed, 3),
        "no" if next == "more" && a.food_at(i + 2).is_some() => (OutOf, 2),
        "spent" => (Spent, 1),
        "enough" => (NoNeed, 1),
        "won" => return None,
        "found" => (Found, 1),
        _ => return None,
    };
    Some((found.0, i + found.1))
}

fn particle(next: &str, particles: &[&str]) -> usize {
    if particles.contains(&next) { 2 } else { 1 }
}

/// "cooked 500 g rice" makes cooked rice, "cooked a pot of lentils" a dish; "cooked the carrots"
/// has used them.
fn cooked(a: &Analysis<'_>, i: usize, end: usize) -> (Act, usize) {
    let w = |k: usize| if k < end { a.text.word(k) } else { "" };
    let near = i + 1..end.min(i + 7);
    let pot = near
        .clone()
        .any(|k| matches!(w(k), "pot" | "pan" | "batch" | "tray" | "portions") && w(k + 1) == "of");
    let mut foods = a.foods_in(i + 1..end);
    let (first, alone) = (foods.next(), foods.next().is_none());
    let staple = alone
        && first.is_some_and(|food| STAPLES.contains(&a.lexicon.entry(food.entry).name.as_str()));
    // "cooked a stew with ...", "cooked soup from ..."
    let dish = first.is_some_and(|food| {
        let last = food.tokens.end - 1;
        let from = matches!(w(last + 1), "with" | "from" | "using" | "out");
        from && details::is_dish(w(last))
            && (i + 1..food.tokens.start).all(|k| a.text.number(k).is_none())
    });
    match (pot || dish, staple) {
        (true, _) => (Act::Made, 1),
        (_, true) => (Act::Cooked, 1),
        _ => (Act::Used, particle(w(i + 1), &["up", "with"])),
    }
}

/// Foods that are cooked to be kept as well as eaten.
const STAPLES: &[&str] = &[
    "rice",
    "white rice",
    "brown rice",
    "pasta",
    "spaghetti",
    "macaroni",
    "penne",
    "noodles",
    "noodle",
    "lentils",
    "lentil",
    "beans",
    "bean",
    "chickpeas",
    "chickpea",
    "quinoa",
    "couscous",
    "bulgur",
    "barley",
    "millet",
    "oats",
    "polenta",
    "potatoes",
    "potato",
];

/// "didn't get", "don't need", "couldn't find".
fn negated(a: &Analysis<'_>, i: usize, end: usize) -> Option<(Act, usize)> {
    let w = |k: usize| if k < end { a.text.word(k) } else { "" };
    let negative = |k: usize| {
        matches!(
            w(k),
            "didn't" | "couldn't" | "didnt" | "couldnt" | "don't" | "dont" | "doesn't" | "needn't"
        )
    };
    let mut k = i;
    if matches!(w(i), "did" | "do") {
        if w(i + 1) != "not" {
            return if w(i) == "did" { Some((Act::Did, i + 1)) } else { None };
        }
        k += 1;
    } else if !negative(i) {
        return None;
    }
    k += 1;
    while matches!(
        w(k),
        "actually" | "really" | "even" | "manage" | "end" | "up" | "to" | "think" | "we" | "i"
    ) {
        k += 1;
    }
    match (w(k), w(k + 1)) {
        ("get" | "buy" | "find" | "bring" | "grab" | "receive" | "getting" | "buying", _) => {
            let past = !matches!(w(i), "don't" | "dont" | "do" | "needn't" | "doesn't");
            let mut args = k + 1;
            if matches!(w(args), "any" | "more") && matches!(w(args + 1), "more") {
                args += 1;
            }
            Some((if past { Act::NotGot } else { Act::NoNeed }, args))
        }
        ("pick", "up") => {
            let past = !matches!(w(i), "don't" | "dont" | "do" | "needn't");
            Some((if past { Act::NotGot } else { Act::NoNeed }, k + 2))
        }
        ("need", "to") => match w(k + 2) {
            "buy" | "get" | "grab" | "order" => Some((Act::NoNeed, k + 3)),
            "pick" => Some((Act::NoNeed, k + 4)),
            _ => None,
        },
        ("need" | "order", _) => Some((Act::NoNeed, k + 1)),
        ("have", "any") => Some((Act::OutOf, k + 2)),
        _ => None,
    }
}
