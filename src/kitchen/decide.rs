//! From what people said to what happened: [`record`] and [`decide`].
//!
//! Pure. `decide` handles one statement against one state; it reads the rule set, never the log's
//! words, and writes nothing. Where it is unsure it asks, and then records nothing until answered.

use super::event::{Amount, Change, Draw, Event, EventId, Named, NewLot, PersonId, What};
use super::facts::{self, Foods};
use super::outcome::{Deed, Happened, Line, Outcome, Question, Spoken, Told, Trouble};
use super::state::{Limit, Lot, LotId, Standing, State};
use super::taking;
use crate::conversation::{LotDeed, MessageId};
use crate::dates::{Instant, KitchenDay};
use crate::keeping::Lived;
use crate::rules::{Food, Kind};
use crate::statement::{Item, Scope, Statement};
use crate::units::{Dimension, Quantity, Ratio, Unit};
use crate::words::{Form, Intent, Place, Role};

mod came;
mod changed;
mod choose;
mod counted;
mod ended;
mod household;
mod left;
mod mended;
mod trimmings;
mod warm;
mod went;

pub(crate) use mended::retell;
pub use mended::{Undoing, discard_instead, edit, put_back, undo, what_became_of};
pub use went::deed_on;

/// The largest weight taken in one go, in grams: 10 tonnes.
const GRAMS_MAX: i64 = 10_000_000;
/// The largest count taken in one go.
const COUNT_MAX: i64 = 100_000;
/// The highest price taken, in minor units.
const MINOR_MAX: i64 = 1_000_000_000;
/// How far back a statement may reach, in days.
const DAYS_BACK_MAX: i64 = 400;

/// What `decide` needs besides the state and the statement.
#[derive(Clone, Copy)]
pub struct Cx<'a> {
    pub foods: &'a dyn Foods,
    pub now: Instant,
    /// The household's local day of `now`.
    pub today: KitchenDay,
    /// `None`: the house itself.
    pub person: Option<PersonId>,
    /// The message the statement came in.
    pub message: MessageId,
    /// The person's message that this one answers, if any: what "undo" then takes back.
    pub answers: Option<MessageId>,
    /// The household's whole log. Read only by statements for which [`needs_log`] holds; may be
    /// empty for others.
    pub log: &'a [Event],
    /// The day by which a lot should be eaten: what is drawn first. `None`: not pressing.
    pub use_by: &'a dyn Fn(&Lot) -> Option<KitchenDay>,
    /// What of its published life a lot had lived at a moment: what its end teaches.
    pub lived: &'a dyn Fn(&Lot, Instant) -> Option<Lived>,
    /// The person has already answered that this is no repetition.
    pub sure: bool,
}

/// Whether deciding this statement cannot do without the log. Others only look into it for what
/// became of a food that is not on record.
pub fn needs_log(statement: &Statement) -> bool {
    matches!(statement.intent, Intent::Undo | Intent::Correct)
}

/// What a whole message leads to.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Record {
    /// Numbered, ready to append, already folded into `state`.
    pub events: Vec<Event>,
    pub state: State,
    pub told: Vec<Told>,
    pub questions: Vec<Question>,
}

/// Records the statements of one message, in order, each on the state the one before left.
///
/// The conversation calls this once for a message with all its statements that tell something
/// (questions and small talk are skipped and yield nothing), appends `events`, keeps `state`, and
/// words `told` (`Wording::told`) and `questions` (`Wording::asks`). For a pressed choice of a
/// question it calls this again with the choice's statements and `sure` set. For an edited
/// message: [`edit`]. For an undo button: [`undo`]. For a button on lots: [`deed_on`].
pub fn record(state: &State, statements: &[Statement], cx: &Cx<'_>) -> Record {
    let mut record = Record { state: state.clone(), ..Record::default() };
    for statement in statements {
        let statement = &in_known_units(&record.state, statement);
        let outcome = decide(&record.state, statement, state.next_lot, cx);
        absorb(&mut record, outcome, cx);
    }
    record
}

/// A unit of the household's own is what it said it weighs; one nobody has explained yet is an
/// amount nobody knows.
fn in_known_units(state: &State, statement: &Statement) -> Statement {
    let mut statement = statement.clone();
    for item in &mut statement.items {
        let Some(odd) = item.odd_unit.as_deref() else { continue };
        let grams = state.settings.own_units.get(&super::settings::own_unit(odd));
        let total = grams
            .zip(item.quantity)
            .and_then(|(grams, quantity)| quantity.checked_mul(Ratio::whole(*grams)));
        item.unit = total.map(|_| Unit::Gram);
        item.quantity = total;
        item.quantity_high = None;
        item.vague = total.is_none();
        item.odd_unit = None;
    }
    statement
}

/// Records that the house is unsure of some lots, and that nobody knows where others went: neither
/// eaten nor waste.
pub fn lost_sight(state: &State, doubted: Vec<LotId>, gone: Vec<LotId>, cx: &Cx<'_>) -> Record {
    let mut record = Record { state: state.clone(), ..Record::default() };
    let whats = [
        (What::Doubted { lots: doubted.clone() }, doubted),
        (What::Uncounted { lots: gone.clone() }, gone),
    ];
    let whats = whats.into_iter().filter(|(_, lots)| !lots.is_empty());
    let events = whats.map(|(what, _)| Happened { day: cx.today, replaces: None, what }).collect();
    absorb(&mut record, Outcome { events, ..Outcome::default() }, cx);
    record
}

/// Numbers what an outcome says happened and folds it in.
fn absorb(record: &mut Record, outcome: Outcome, cx: &Cx<'_>) {
    let new = number(outcome.events, record.state.last_event, cx);
    let log = cx.log.iter().chain(&record.events).chain(&new).cloned();
    let log: Vec<Event> =
        if new.iter().any(super::log::reaches_back) { log.collect() } else { Vec::new() };
    record.state.advance(&new, &log);
    record.events.extend(new);
    record.told.extend(outcome.told);
    if !outcome.net.is_empty() {
        record.told.push(left::now(&record.state, &outcome.net));
    }
    record.questions.extend(outcome.question);
}

fn number(happened: Vec<Happened>, last: u64, cx: &Cx<'_>) -> Vec<Event> {
    let numbered = (last + 1..).zip(happened);
    let events = numbered.map(|(id, happened)| Event {
        id: EventId(id),
        person: cx.person,
        at: cx.now,
        day: happened.day,
        message: Some(cx.message),
        replaces: happened.replaces,
        what: happened.what,
    });
    events.collect()
}

/// What one statement of a message leads to; lots from `first_new` on are of this message's making.
fn decide(state: &State, statement: &Statement, first_new: u64, cx: &Cx<'_>) -> Outcome {
    let statement = &as_meant(state, statement, cx.foods);
    let mut deciding = match Deciding::begin(state, statement, first_new, cx) {
        Ok(deciding) => deciding,
        Err(trouble) => return Outcome::trouble(trouble),
    };
    match statement.intent {
        Intent::Acquired => deciding.acquired(),
        Intent::NotReceived => deciding.not_received(),
        Intent::Counted => deciding.counted(),
        Intent::Used => deciding.used(),
        Intent::Given => deciding.given(),
        Intent::Discarded => deciding.discarded(),
        Intent::Preserved => deciding.preserved(),
        Intent::Thawed => deciding.thawed(),
        Intent::Prepared => deciding.prepared(),
        Intent::Moved => deciding.moved(),
        Intent::PutAway => deciding.put_away(),
        Intent::Opened => deciding.opened(),
        Intent::LeftOut => deciding.left_out(),
        Intent::Outage => deciding.outage(),
        Intent::PutInWater => deciding.put_in_water(),
        Intent::WaterChanged => deciding.water_changed(),
        Intent::ScrapsSaved => deciding.scraps_saved(),
        Intent::StockMade => deciding.stock_made(),
        Intent::Wanted => deciding.wanted(),
        Intent::Unwanted => deciding.unwanted(),
        Intent::TripTotal => deciding.trip_total(),
        Intent::TripPlanned => deciding.trip_planned(),
        Intent::Away => deciding.away(),
        Intent::Eaters => deciding.eaters(),
        Intent::Setting => deciding.setting(),
        Intent::Undo => deciding.undo(),
        Intent::Correct => deciding.correct(),
        Intent::PriceAsked
        | Intent::AskFirst
        | Intent::AskHave
        | Intent::AskWhere
        | Intent::AskKeeps
        | Intent::AskPart
        | Intent::AskCondition
        | Intent::AskLeftOut
        | Intent::AskNeighbours
        | Intent::AskWash
        | Intent::AskPreserve
        | Intent::AskThaw
        | Intent::AskReheat
        | Intent::AskAmount
        | Intent::AskUseUp
        | Intent::AskWhoMay
        | Intent::AskDateLabel
        | Intent::AskTrimmings
        | Intent::AskPlan
        | Intent::AskBasket
        | Intent::AskNeed
        | Intent::AskLedger
        | Intent::AskLog
        | Intent::Why
        | Intent::EatenAlready
        | Intent::Thanks
        | Intent::Help
        | Intent::None => {}
    }
    deciding.finish()
}

/// The statement with the food each item can only mean: what was made, or stands in the fridge by
/// that name, is the dish; what comes in cans is the canned food.
fn as_meant(state: &State, statement: &Statement, foods: &dyn Foods) -> Statement {
    let mut meant = statement.clone();
    for item in &mut meant.items {
        let Some(food) = item.food.as_ref().and_then(|id| foods.food(id)) else { continue };
        let dish = foods.dish(&item.name).filter(|_| food.kind != Kind::Prepared);
        let held = |dish: &Food| {
            let lots = state.lots.iter().filter(|lot| lot.food.as_ref() == Some(&dish.id));
            lots.into_iter().any(|lot| lot.name == item.name)
        };
        let made = item.role == Some(Role::Made) || item.unit == Some(Unit::Portion);
        let other = if let Some(dish) = dish.filter(|dish| made || held(dish)) {
            Some(dish)
        } else if item.unit == Some(Unit::Can) && food.kind.is_produce() {
            foods.canned(&item.name)
        } else {
            None
        };
        if let Some(other) = other {
            item.food = Some(other.id.clone());
            item.part = None;
        }
    }
    meant
}

impl Outcome {
    fn trouble(trouble: Trouble) -> Outcome {
        let told = Told { deed: Deed::Trouble(trouble), lines: Vec::new(), day: None };
        Outcome { told: vec![told], ..Outcome::default() }
    }
}

/// One statement on its way to events.
struct Deciding<'a> {
    state: &'a State,
    statement: &'a Statement,
    cx: &'a Cx<'a>,
    /// The day the statement is about.
    day: KitchenDay,
    /// The moment it happened.
    from: Instant,
    /// Lots from this number on were made by earlier statements of the same message.
    first_new: u64,
    next_lot: u64,
    out: Outcome,
}

impl<'a> Deciding<'a> {
    fn begin(
        state: &'a State,
        statement: &'a Statement,
        first_new: u64,
        cx: &'a Cx<'a>,
    ) -> Result<Deciding<'a>, Trouble> {
        let plans = matches!(
            statement.intent,
            Intent::TripPlanned | Intent::Away | Intent::Eaters | Intent::Setting
        );
        let day = statement.day.filter(|_| !plans).unwrap_or(cx.today);
        if day > cx.today {
            return Err(Trouble::InTheFuture { day });
        }
        if cx.today.days_since(day) > DAYS_BACK_MAX {
            return Err(Trouble::TooLongAgo { day });
        }
        let zone = state.settings.zone;
        let from = if day == cx.today { cx.now } else { day.at(cx.now.local(zone).1, zone) };
        let next_lot = state.next_lot;
        let out = Outcome::default();
        Ok(Deciding { state, statement, cx, day, from, first_new, next_lot, out })
    }

    fn finish(self) -> Outcome {
        let Deciding { state, cx, mut out, .. } = self;
        left::fill(state, &mut out, cx);
        out
    }

    fn happened(&mut self, what: What) {
        self.out.events.push(Happened { day: self.day, replaces: None, what });
    }

    /// What the end of the lots of `draw` teaches the quality clock.
    fn ended(&mut self, draw: &Draw, way: ended::Way<'_>) {
        let cases = ended::cases(self.state, draw, way, self.from, self.cx);
        if !cases.is_empty() {
            self.happened(What::Ended { cases });
        }
    }

    fn told(&mut self, deed: Deed, lines: Vec<Line>) {
        let day = (self.day != self.cx.today).then_some(self.day);
        self.out.told.push(Told { deed, lines, day });
    }

    fn trouble(&mut self, trouble: Trouble) {
        self.told(Deed::Trouble(trouble), Vec::new());
    }

    fn lot_id(&mut self) -> LotId {
        let id = LotId(self.next_lot);
        self.next_lot += 1;
        id
    }

    fn food(&self, item: &Item) -> Option<&'a Food> {
        item.food.as_ref().and_then(|id| self.cx.foods.food(id))
    }

    fn food_of(&self, of: &Named) -> Option<&'a Food> {
        of.food.as_ref().and_then(|id| self.cx.foods.food(id))
    }

    /// The name a food goes by from now on: the rule set's where it has one.
    fn named(&self, item: &Item) -> Named {
        let food = self.food(item);
        let said = item.name.trim().to_lowercase();
        let name = match food {
            // A dish goes by what its cooks call it.
            Some(food) if food.kind == Kind::Prepared && !said.is_empty() => said.clone(),
            Some(food) => own_name(&said, food),
            None => said.clone(),
        };
        // The part sold as the food is the food.
        let main = |word: &str| food.is_some_and(|food| self.cx.foods.is_main_part(food, word));
        let part = item.part.clone().or_else(|| food.and_then(|food| part_of_food(&said, food)));
        Named { food: item.food.clone(), name, part: part.filter(|word| !main(word)) }
    }

    /// The place a statement or item names.
    fn place(&self, item: &Item) -> Option<Place> {
        let scope = match &self.statement.scope {
            Some(Scope::Place(place)) => Some(place.clone()),
            Some(Scope::All) | None => None,
        };
        item.place.clone().or(scope)
    }

    /// The limits the rule set puts on food that takes this form in this place now.
    fn limits(&self, food: Option<&Food>, form: Form, place: &Place) -> Vec<Limit> {
        let clock = self.cx.foods.clock(food, form, place);
        clock.map(|clock| clock.limit(self.day, self.from)).into_iter().collect()
    }
}

/// An amount as read from an item, checked.
struct Read {
    amount: Amount,
    grams: Option<i64>,
    spoken: Spoken,
}

/// Reads the amount of an item; `default` is what no amount means for this deed.
fn read_amount(item: &Item, food: Option<&Food>, default: Amount) -> Result<Read, Trouble> {
    let name = || item.name.clone();
    if let Some(share) = item.fraction {
        if !share.is_positive() {
            return Err(Trouble::NoAmount { name: name() });
        }
        let share = share.min(Ratio::ONE);
        let spoken = if share == Ratio::ONE { Spoken::All } else { Spoken::Share(share) };
        return Ok(Read { amount: Amount::Share(share), grams: None, spoken });
    }
    let Some(value) = item.quantity else {
        // "some" is some of it, whatever the deed.
        let default = if item.vague { Amount::Vague } else { default };
        let spoken = match default {
            Amount::Share(share) if share == Ratio::ONE => Spoken::All,
            Amount::Share(share) => Spoken::Share(share),
            Amount::Exact(quantity) => Spoken::Exact(quantity),
            Amount::Vague => Spoken::Plain,
        };
        return Ok(Read { amount: default, grams: None, spoken });
    };
    if value < Ratio::ZERO {
        return Err(Trouble::NoAmount { name: name() });
    }
    let quantity = Quantity::new(value, item.unit);
    let grams = facts::grams(food, quantity, item.size);
    if too_much(quantity, grams)
        || item.quantity_high.is_some_and(|high| too_much(Quantity::new(high, item.unit), None))
    {
        return Err(Trouble::TooMuch { name: name() });
    }
    let spoken = match item.quantity_high {
        Some(high) if high > value => Spoken::Range(quantity, high),
        Some(_) | None => Spoken::Exact(quantity),
    };
    Ok(Read { amount: Amount::Exact(quantity), grams, spoken })
}

/// Whether no kitchen holds this much.
fn too_much(quantity: Quantity, grams: Option<i64>) -> bool {
    let limit = match quantity.dimension() {
        Dimension::Mass | Dimension::Volume => Ratio::whole(GRAMS_MAX),
        Dimension::Count => Ratio::whole(COUNT_MAX),
    };
    let base = match quantity.dimension() {
        Dimension::Mass => quantity.grams(),
        Dimension::Volume => quantity.millilitres(),
        Dimension::Count => Some(quantity.value),
    };
    base.is_none_or(|base| base > limit) || grams.is_some_and(|grams| grams > GRAMS_MAX)
}

impl Line {
    fn new(of: Named, form: Form, amount: Spoken) -> Line {
        Line {
            of,
            form,
            amount,
            place: None,
            left: None,
            not_on_record: None,
            eat_by: None,
            water_due: None,
            unknown: false,
            verdict: None,
            why: None,
            lots: Vec::new(),
            gone: None,
            one: false,
        }
    }
}

/// What the household calls a food, in the singular: its own word where that is one of the food's
/// names ("swede"), else the rule set's.
fn own_name(said: &str, food: &Food) -> String {
    let known = |word: &str| food.aliases.iter().any(|alias| alias.eq_ignore_ascii_case(word));
    if said == food.name || said == food.plural || !known(said) {
        return food.name.clone();
    }
    let stems = [said.strip_suffix('s'), said.strip_suffix("es")];
    let singular = stems.into_iter().flatten().find(|stem| known(stem));
    singular.unwrap_or(said).to_owned()
}

/// The part in "outer leaves of the leeks".
fn part_of_food(said: &str, food: &Food) -> Option<String> {
    let (part, whole) = said.split_once(" of ")?;
    let whole = whole.strip_prefix("the ").unwrap_or(whole).trim();
    let is_food = whole == food.name || whole == food.plural;
    (is_food && !part.trim().is_empty()).then(|| part.trim().to_owned())
}

/// What of a draw is not on record.
fn shortfall(state: &State, draw: &Draw) -> Option<Option<Quantity>> {
    let nothing = draw.lots.iter().all(|id| state.lot(*id).is_none());
    let taken = taking::take(&mut state.clone(), draw);
    match taken.short.quantity {
        Some(quantity) => Some(Some(quantity)),
        None => nothing.then_some(None),
    }
}

/// The earliest day among limits, as people are told it.
fn eat_by(limits: &[Limit], state: &State) -> Option<KitchenDay> {
    let days = limits
        .iter()
        .filter_map(|limit| limit.day.or(limit.at.map(|at| at.day(state.settings.zone))));
    days.min()
}
