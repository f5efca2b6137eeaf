//! From what people type to statements: the bot's front door.
//!
//! Pure and deterministic: text and context in, a [`Reading`] out. The way of a message: tokens ->
//! foods -> clauses -> for each clause the quiet gate, the question reader, the action reader ->
//! stance. What is not clearly ours is silence. Nothing here knows the stock, the clock or the
//! sentences the bot says.

pub mod days;
pub mod lexicon;
pub mod questions;
pub mod quiet;
pub mod tokens;

use std::ops::Range;

use crate::dates::KitchenDay;
use crate::statement::{Mention, Reading, Statement};
use crate::units::Currency;
use crate::words::Stance;
use days::{Calendar, DateOrder};
use lexicon::{FoodSpan, Lexicon};
use tokens::Text;

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
}

impl Analysis<'_> {
    /// The foods named within `range` of tokens.
    pub fn foods_in(&self, range: Range<usize>) -> impl Iterator<Item = &FoodSpan> {
        self.foods
            .iter()
            .filter(move |f| f.tokens.start >= range.start && f.tokens.end <= range.end)
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

    pub fn lexicon(&self) -> &Lexicon {
        &self.lexicon
    }

    /// Reads one message.
    pub fn read(&self, text: &str, context: &ReadContext) -> Reading {
        let text = Text::new(text);
        let foods = self.lexicon.foods(&text);
        let analysis = Analysis { text, lexicon: &self.lexicon, foods, context };
        let whole = 0..analysis.text.len();
        let mut statements: Vec<Statement> = Vec::new();
        if quiet::silent_message(&analysis).is_none() {
            statements.extend(questions::read_question(&analysis, whole));
        }
        let stance = if statements.is_empty() { Stance::Silent } else { Stance::Act };
        Reading { stance, statements, not_understood: Vec::new(), explanation: Vec::new() }
    }
}
