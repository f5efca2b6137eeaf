//! One lot's estimate: its life added up over places and forms, and how it was found.

use chrono::NaiveTime;

use super::air::{self, Pack};
use super::chilling;
use super::climate::{Climate, Known, Told};
use super::learning::Learned;
use super::lives::{self, Basis};
use super::spread::{Spread, TAIL};
use crate::dates::{Instant, KitchenDay, Zone};
use crate::kitchen::{Lot, State, Stay};
use crate::rules::{Food, Rules};
use crate::words::{DateLabel, FoodId, Form, Place};

const MINUTES_A_DAY: f64 = 24.0 * 60.0;

/// What freezes when nothing is published for a food, in °C.
///
/// # Source
/// USDA-type storage tables (reprint): -0.5 to -1.5 °C for most vegetables [S]; the strict end [D].
const FREEZES_BELOW_C: f64 = -0.5;

/// A date printed on a package bounds a life from the day it came in to that day, and this many
/// times as long at the most: the single-figure reading of `spread` [D].
const PAST_PRINTED: f64 = 1.6;

/// When a lot goes, as far as anybody can say.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate {
    pub quality: Quality,
    /// The last day it may be eaten.
    pub safety_day: Option<KitchenDay>,
    /// The moment after which it may not be eaten, where a limit is one of hours.
    pub safety_at: Option<Instant>,
    /// How it was found, in order.
    pub steps: Vec<Step>,
}

/// The quality clock.
#[derive(Clone, Debug, PartialEq)]
pub enum Quality {
    /// Nothing is known of this food or form.
    Unknown,
    /// Still growing: no clock runs.
    Growing,
    /// It stands at this many °C, where it may freeze: no life is computed.
    MayFreeze {
        at_c: f64,
    },
    Known(Clock),
}

/// A running quality clock.
#[derive(Clone, Debug, PartialEq)]
pub struct Clock {
    /// The share of life spent by now; above 1 is past the characteristic life.
    pub spent: f64,
    /// The distribution where it stands now, multipliers included.
    pub spread: Spread,
    /// One in ten is lost by then; fixed while nothing happens to the lot.
    pub early: Instant,
    pub median: Instant,
    /// Nine in ten are lost by then.
    pub late: Instant,
    /// Limp by then, which is no loss.
    pub limp: Option<Instant>,
    /// Frozen: past best, never spoiled.
    pub frozen: bool,
}

impl Clock {
    /// Days from now until one in ten of the lots still sound is expected lost.
    ///
    /// Never grows while the lot stands: waiting gains no days.
    pub fn days_left(&self) -> f64 {
        self.spread.days_until(self.spent, TAIL)
    }

    /// The chance that it is lost within `days` from now, given that it is sound.
    pub fn chance_within(&self, days: f64) -> f64 {
        if self.frozen {
            return 0.0;
        }
        self.spread.chance_within(self.spent, days)
    }
}

/// One step of an estimate, in the order it was made.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// The life it starts from in the place where it stands.
    Row { basis: Basis, place: Place, climate: Climate },
    /// A time spent somewhere: days, and the share of life it took.
    Stay { place: Place, form: Form, celsius: f64, days: f64, share: f64 },
    /// Something that gives off ethylene shares its closed air.
    Neighbour { maker: FoodId, factor: f64 },
    /// It stands colder than it bears.
    Chilling { safe_c: f64, injury: Instant },
    /// The household's own outcomes: so many, where they are of this food in this place.
    Learned { factor: f64, cases: u32 },
    /// The date on the package.
    Printed { label: DateLabel, day: KitchenDay },
    /// Frozen: the fresh clock waits.
    Frozen,
    /// A hard limit.
    Limit { day: Option<KitchenDay>, at: Option<Instant>, why: String, source: String },
}

impl Estimate {
    /// Days from `now` by which it should be eaten: one in ten lost, or the last safe day,
    /// whichever is first. `None` when neither is known.
    pub fn days_left(&self, now: Instant, zone: Zone) -> Option<f64> {
        let quality = match &self.quality {
            Quality::Known(clock) if !clock.frozen => Some(clock.days_left()),
            Quality::MayFreeze { .. } => Some(0.0),
            Quality::Known(_) | Quality::Unknown | Quality::Growing => None,
        };
        let safety = self.safety_days_left(now, zone);
        quality.into_iter().chain(safety).min_by(f64::total_cmp)
    }

    /// Days from `now` to the end of the last safe day or to the last safe moment; negative once
    /// it has passed.
    pub fn safety_days_left(&self, now: Instant, zone: Zone) -> Option<f64> {
        let end = self.safety_day.map(|day| day.plus(1).at(NaiveTime::MIN, zone));
        let end = end.into_iter().chain(self.safety_at).min()?;
        Some(days_between(now, end))
    }

    /// Whether a hard limit has passed.
    pub fn is_out(&self, now: Instant, zone: Zone) -> bool {
        self.safety_days_left(now, zone).is_some_and(|left| left <= 0.0)
    }

    pub fn clock(&self) -> Option<&Clock> {
        match &self.quality {
            Quality::Known(clock) => Some(clock),
            Quality::Unknown | Quality::Growing | Quality::MayFreeze { .. } => None,
        }
    }
}

/// How much of its published life a lot has lived, and where most of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Lived {
    pub place: Place,
    /// The Weibull shape there.
    pub shape: f64,
    pub spent: f64,
}

/// What estimates of one household need besides the lot.
pub struct Keeper<'a> {
    rules: &'a Rules,
    told: &'a Told,
    zone: Zone,
    learned: &'a Learned,
    /// Lots that give off ethylene.
    makers: Vec<&'a Lot>,
}

impl<'a> Keeper<'a> {
    pub fn new(state: &'a State, rules: &'a Rules, learned: &'a Learned) -> Keeper<'a> {
        let gives_off = |lot: &&Lot| {
            let food = lot.food.as_ref().and_then(|id| rules.food(id));
            food.is_some_and(air::makes_ethylene)
        };
        Keeper {
            rules,
            told: &state.settings.places,
            zone: state.settings.zone,
            learned,
            makers: state.lots.iter().filter(gives_off).collect(),
        }
    }

    pub fn rules(&self) -> &'a Rules {
        self.rules
    }

    pub fn learned(&self) -> &'a Learned {
        self.learned
    }

    pub fn zone(&self) -> Zone {
        self.zone
    }

    pub fn food(&self, lot: &Lot) -> Option<&'a Food> {
        lot.food.as_ref().and_then(|id| self.rules.food(id))
    }

    /// The air of `place` at `now`.
    pub fn climate(&self, place: &Place, now: Instant) -> Option<Climate> {
        Climate::of(place, self.told, now.day(self.zone))
    }

    /// The estimate for `lot` at `now`.
    pub fn estimate(&self, lot: &Lot, now: Instant) -> Estimate {
        let mut steps = Vec::new();
        let quality = self.quality(lot, now, &mut steps);
        let (safety_day, safety_at) = self.safety(lot, &mut steps);
        Estimate { quality, safety_day, safety_at, steps }
    }

    /// What of its published life a lot had lived by `at`, nothing learned applied; `None` unless it
    /// has been whole all the time, without a printed date, and its lives are known.
    pub fn lived(&self, lot: &Lot, at: Instant) -> Option<Lived> {
        let food = self.food(lot)?;
        let whole = lot.form == Form::Whole && lot.stays.iter().all(|s| s.form == Form::Whole);
        if !whole || lot.printed.is_some() || lot.stays.is_empty() {
            return None;
        }
        let mut by_place: Vec<(Place, f64, f64)> = Vec::new();
        for piece in self.pieces(food, lot, at) {
            let spread = piece.spread?;
            let share = spread.spent(piece.days) * piece.learned;
            match by_place.iter_mut().find(|(place, _, _)| *place == piece.place) {
                Some((_, sum, _)) => *sum += share,
                None => by_place.push((piece.place, share, spread.shape)),
            }
        }
        let spent = by_place.iter().map(|(_, share, _)| share).sum();
        let (place, _, shape) = by_place.into_iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
        Some(Lived { place, shape, spent })
    }

    /// The earliest hard limits. While frozen no safety clock runs.
    fn safety(&self, lot: &Lot, steps: &mut Vec<Step>) -> (Option<KitchenDay>, Option<Instant>) {
        if lot.form == Form::Frozen {
            return (None, None);
        }
        for limit in &lot.limits {
            steps.push(Step::Limit {
                day: limit.day,
                at: limit.at,
                why: limit.why.clone(),
                source: limit.source.clone(),
            });
        }
        let moment = lot.limits.iter().filter_map(|limit| limit.at).min();
        let days = lot.limits.iter().filter_map(|limit| limit.day);
        let printed = lot.printed.and_then(|(label, day)| match label {
            DateLabel::UseBy => Some(day),
            DateLabel::BestBefore => None,
        });
        let day = days.chain(printed).chain(moment.map(|at| at.day(self.zone))).min();
        (day, moment)
    }

    fn quality(&self, lot: &Lot, now: Instant, steps: &mut Vec<Step>) -> Quality {
        let Some(food) = self.food(lot) else { return Quality::Unknown };
        let (form, place) = (lot.form, &lot.place);
        let Some(climate) = self.climate(place, now) else { return Quality::Growing };
        let freezes =
            food.conditions.as_ref().and_then(|c| c.freezing_point_c).unwrap_or(FREEZES_BELOW_C);
        let bears_frost = matches!(form, Form::Frozen | Form::Dried);
        if !bears_frost && climate.celsius <= freezes {
            return Quality::MayFreeze { at_c: climate.celsius };
        }
        let Some(basis) = lives::base(food, form, place, climate) else {
            return Quality::Unknown;
        };
        steps.push(Step::Row { basis: basis.clone(), place: place.clone(), climate });

        let mut walk = Walk::default();
        for piece in self.pieces(food, lot, now) {
            walk.take(food, &piece);
            if piece.form != Form::Frozen && form != Form::Frozen {
                steps.push(Step::Stay {
                    place: piece.place.clone(),
                    form: piece.form,
                    celsius: piece.climate.celsius,
                    days: piece.days,
                    share: piece.spread.map_or(0.0, |spread| spread.spent(piece.days)),
                });
            }
        }
        merge_stays(steps);
        let Some(last) = &walk.last else { return Quality::Unknown };
        if form == Form::Frozen {
            steps.push(Step::Frozen);
        }
        if let Some((maker, factor)) = &last.neighbour {
            steps.push(Step::Neighbour { maker: maker.clone(), factor: *factor });
        }
        if last.learned != 1.0 {
            let lesson = self.learned.lesson(&food.id, place);
            let cases = lesson.map_or(0, |lesson| lesson.cases);
            steps.push(Step::Learned { factor: last.learned, cases });
        }

        let (spread, before) = (last.spread, walk.spent_before_last);
        let from = last.from;
        let at = |chance: f64| {
            plus_days(from, spread.scale_days * (spread.spent_at(chance) - before).max(0.0))
        };
        let mut clock = Clock {
            spent: walk.spent,
            spread,
            early: at(TAIL),
            median: at(0.5),
            late: at(1.0 - TAIL),
            limp: None,
            frozen: form == Form::Frozen,
        };
        if let Some(cap) = walk.unopened {
            clock.cap(cap.0, cap.1);
        }
        self.cap_by_printed(lot, &mut clock, steps);
        // A row for this very place already holds what its cold does.
        if !basis.own_place
            && let Some((safe_c, injury)) =
                self.injury(food, form, climate, walk.chilled_before_last, from)
        {
            if injury < clock.late {
                steps.push(Step::Chilling { safe_c, injury });
            }
            clock.cap(injury, injury);
        }
        clock.limp = limp(food, lot, climate).filter(|limp| *limp < clock.late);
        Quality::Known(clock)
    }

    /// The lot's past, cut where form, place, temperature or air changes.
    fn pieces(&self, food: &Food, lot: &Lot, now: Instant) -> Vec<Piece> {
        let whole_stay = [Stay { from: now, form: lot.form, place: lot.place.clone() }];
        let stays = if lot.stays.is_empty() { &whole_stay[..] } else { &lot.stays };
        let mut pieces = Vec::with_capacity(stays.len());
        for (index, stay) in stays.iter().enumerate() {
            let until = stays.get(index + 1).map_or(now, |next| next.from).max(stay.from);
            for (from, to) in self.cuts(food, stay, until) {
                pieces.extend(self.piece(food, lot, stay, from, to));
            }
        }
        pieces
    }

    /// Where a stay is cut: at told temperature changes and when ethylene comes or goes. What
    /// changes this very moment makes a stretch without length, so that the newest air counts.
    fn cuts(&self, food: &Food, stay: &Stay, until: Instant) -> Vec<(Instant, Instant)> {
        let mut marks = vec![stay.from];
        let (first, last) = (stay.from.day(self.zone), until.day(self.zone));
        let changes = Climate::changes(&stay.place, self.told, first, last);
        marks.extend(changes.map(|day| day.at(NaiveTime::MIN, self.zone)));
        for (_, from, to) in self.shared_air(food, stay) {
            marks.extend([from, to]);
        }
        marks.retain(|mark| *mark >= stay.from && *mark <= until);
        marks.sort_unstable();
        marks.dedup();
        let ends = marks.iter().skip(1).copied().chain([until]);
        marks.iter().copied().zip(ends).collect()
    }

    /// Times at which a neighbour that gives off ethylene shares the closed air of a stay.
    fn shared_air<'s>(
        &'s self,
        food: &'s Food,
        stay: &'s Stay,
    ) -> impl Iterator<Item = (&'s FoodId, Instant, Instant)> {
        let feels = stay.form == Form::Whole && air::fears_ethylene(food);
        let makers = self.makers.iter().filter(move |_| feels);
        let others = makers.filter(|maker| maker.food.as_ref() != Some(&food.id));
        others.flat_map(move |maker| {
            let theirs = maker.stays.iter().enumerate().filter(|(_, theirs)| {
                theirs.form == Form::Whole && air::same_closed_air(&stay.place, &theirs.place)
            });
            theirs.filter_map(move |(index, theirs)| {
                let until =
                    maker.stays.get(index + 1).map_or(Instant::from_micros(i64::MAX), |n| n.from);
                Some((maker.food.as_ref()?, theirs.from, until))
            })
        })
    }

    fn piece(
        &self,
        food: &Food,
        lot: &Lot,
        stay: &Stay,
        from: Instant,
        to: Instant,
    ) -> Option<Piece> {
        let climate = Climate::of(&stay.place, self.told, from.day(self.zone))?;
        let basis = lives::base(food, stay.form, &stay.place, climate);
        let learned = match stay.form {
            Form::Whole => self.learned.factor(&food.id, &stay.place),
            Form::Cut
            | Form::InWater
            | Form::Cooked
            | Form::Frozen
            | Form::Thawed
            | Form::Dried
            | Form::Opened => 1.0,
        };
        let neighbour = self
            .shared_air(food, stay)
            .find(|(_, begin, end)| *begin <= from && from < *end)
            .map(|(maker, _, _)| (maker.clone(), air::ethylene_fridge()));
        let factor = learned * neighbour.as_ref().map_or(1.0, |(_, factor)| *factor);
        let chills = basis.as_ref().is_none_or(|basis| !basis.own_place);
        let spread = basis.map(|basis| self.printed_spread(food, lot, stay, basis).times(factor));
        let days = days_between(from, to);
        Some(Piece {
            from,
            days,
            form: stay.form,
            place: stay.place.clone(),
            climate,
            spread,
            chills,
            neighbour,
            learned,
        })
    }

    /// A best-before date replaces the published range of the sealed package, scaled to the place
    /// by the food's own rows.
    fn printed_spread(&self, food: &Food, lot: &Lot, stay: &Stay, basis: Basis) -> Spread {
        let Some((DateLabel::BestBefore, day)) = lot.printed else { return basis.spread };
        if stay.form != Form::Whole {
            return basis.spread;
        }
        let days = day.days_since(lot.since).max(1) as f64;
        let longest = food.lives.iter().filter(|life| life.form == stay.form && !life.alternative);
        let longest = longest.map(|life| f64::from(life.days.max)).fold(basis.days.1, f64::max);
        Spread::of_range(days, PAST_PRINTED * days).times(basis.days.1 / longest)
    }

    /// After a use-by date nothing is good, whatever the row says.
    fn cap_by_printed(&self, lot: &Lot, clock: &mut Clock, steps: &mut Vec<Step>) {
        let Some((label, day)) = lot.printed else { return };
        if clock.frozen {
            return;
        }
        steps.push(Step::Printed { label, day });
        if label == DateLabel::UseBy {
            let end = day.at(NaiveTime::MIN, self.zone);
            clock.cap(end, end);
        }
    }

    /// Cold that harms ends the clock when the food has borne all it can.
    fn injury(
        &self,
        food: &Food,
        form: Form,
        climate: Climate,
        chilled: f64,
        from: Instant,
    ) -> Option<(f64, Instant)> {
        let safe_c = food.conditions.as_ref().and_then(|c| c.chilling_below_c)?;
        let raw = matches!(form, Form::Whole | Form::Cut | Form::InWater);
        let tolerance = chilling::tolerance(food.id.as_str());
        let days = chilling::days_to_injury(safe_c, climate.celsius, chilled, tolerance)?;
        raw.then(|| (safe_c, plus_days(from, days)))
    }
}

impl Clock {
    fn cap(&mut self, early: Instant, late: Instant) {
        self.early = self.early.min(early);
        self.median = self.median.min(late).max(self.early);
        self.late = self.late.min(late).max(self.early);
        self.limp = self.limp.filter(|limp| *limp < self.late);
    }
}

/// A stretch of a lot's past under one set of conditions.
struct Piece {
    from: Instant,
    days: f64,
    form: Form,
    place: Place,
    climate: Climate,
    /// `None` where nothing is known of this form and place: the stretch takes no life.
    spread: Option<Spread>,
    /// Whether cold harms here beyond what the row already holds.
    chills: bool,
    neighbour: Option<(FoodId, f64)>,
    learned: f64,
}

/// The walk over the pieces: what is spent, and what waits.
#[derive(Default)]
struct Walk {
    spent: f64,
    spent_before_last: f64,
    /// The fresh clock while the lot is frozen.
    waiting: Option<f64>,
    form: Option<Form>,
    /// Chilling damage so far, and before the last stretch.
    chilled: f64,
    chilled_before_last: f64,
    /// Early and late dates of the sealed package, which hold after opening too.
    unopened: Option<(Instant, Instant)>,
    last: Option<Last>,
}

struct Last {
    from: Instant,
    spread: Spread,
    neighbour: Option<(FoodId, f64)>,
    learned: f64,
}

impl Walk {
    fn take(&mut self, food: &Food, piece: &Piece) {
        if self.form != Some(piece.form) {
            self.change_form(piece.form);
        }
        self.chilled_before_last = self.chilled;
        if let (Some(safe_c), true) =
            (food.conditions.as_ref().and_then(|c| c.chilling_below_c), piece.chills)
        {
            let raw = matches!(piece.form, Form::Whole | Form::Cut | Form::InWater);
            let tolerance = chilling::tolerance(food.id.as_str());
            if raw {
                self.chilled +=
                    chilling::damage(safe_c, piece.climate.celsius, piece.days, tolerance);
            }
        }
        let Some(spread) = piece.spread else {
            self.last = None;
            return;
        };
        self.spent_before_last = self.spent;
        self.spent += spread.spent(piece.days);
        self.last = Some(Last {
            from: piece.from,
            spread,
            neighbour: piece.neighbour.clone(),
            learned: piece.learned,
        });
    }

    /// What a change of form does to the share of life spent.
    fn change_form(&mut self, to: Form) {
        let from = self.form.replace(to);
        match to {
            Form::Frozen => self.waiting = Some(std::mem::take(&mut self.spent)),
            Form::Cooked | Form::Dried => self.spent = 0.0,
            Form::Opened => {
                self.unopened = self.last.as_ref().map(|last| self.dates(last));
                self.spent = 0.0;
            }
            Form::Thawed if from == Some(Form::Frozen) => {
                self.spent = self.waiting.take().unwrap_or(0.0);
            }
            Form::Thawed | Form::Whole | Form::Cut | Form::InWater => {}
        }
    }

    fn dates(&self, last: &Last) -> (Instant, Instant) {
        let at = |chance: f64| {
            let left = last.spread.spent_at(chance) - self.spent_before_last;
            plus_days(last.from, last.spread.scale_days * left.max(0.0))
        };
        (at(TAIL), at(1.0 - TAIL))
    }
}

/// Joins neighbouring stays in one place and form, for reading.
fn merge_stays(steps: &mut Vec<Step>) {
    let mut merged: Vec<Step> = Vec::with_capacity(steps.len());
    for step in steps.drain(..) {
        match (merged.last_mut(), step) {
            (
                Some(Step::Stay { place, form, celsius, days, share }),
                Step::Stay {
                    place: place2,
                    form: form2,
                    celsius: celsius2,
                    days: days2,
                    share: share2,
                },
            ) if *place == place2 && *form == form2 && *celsius == celsius2 => {
                *days += days2;
                *share += share2;
            }
            (_, step) => merged.push(step),
        }
    }
    *steps = merged;
}

/// When a whole lot goes limp where it stands, from the day it came there.
fn limp(food: &Food, lot: &Lot, climate: Climate) -> Option<Instant> {
    if lot.form != Form::Whole {
        return None;
    }
    let wilting = air::wilting(food)?;
    let deficit = air::deficit_kpa(climate.celsius, climate.humidity_percent);
    let pack = match lot.place {
        Place::Counter | Place::Crisper => Pack::Bare,
        Place::CoolDark | Place::Fridge | Place::Freezer | Place::InGround | Place::Own(_) => {
            Pack::OpenBag
        }
    };
    let days =
        air::days_to_limp(wilting.limit_percent, wilting.coefficient, deficit, pack.factor());
    Some(plus_days(lot.stays.last()?.from, days))
}

/// Whether the temperature of a place is a guess the household can mend by telling it.
pub fn is_guess(climate: Climate) -> bool {
    climate.known == Known::Assumed
}

fn days_between(from: Instant, to: Instant) -> f64 {
    (to.micros() - from.micros()) as f64 / (MINUTES_A_DAY * 60e6)
}

fn plus_days(from: Instant, days: f64) -> Instant {
    // At most a few hundred years even for absurd rows; saturates beyond.
    from.plus_minutes((days * MINUTES_A_DAY).round() as i64)
}
