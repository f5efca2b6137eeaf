//! What stays in the house in another form or place.

use super::choose::Purpose;
use super::*;
use crate::words::Role;

/// What a change makes of the food: its form, place and what to call it.
struct Into {
    form: Option<Form>,
    place: Option<Place>,
    limits: Vec<Limit>,
    water: Option<Standing>,
}

impl Deciding<'_> {
    fn change(&mut self, draw: Draw, into: Into) -> Change {
        let pieces = (0..=draw.lots.len()).map(|_| self.lot_id()).collect();
        Change {
            draw,
            pieces,
            from: self.from,
            form: into.form,
            place: into.place,
            limits: into.limits,
            water: into.water,
            counted: None,
        }
    }

    /// Runs every item of the statement through one kind of change.
    fn each_change(
        &mut self,
        purpose: Purpose,
        deed: Deed,
        into: impl Fn(&Self, &Item, &Draw, Form) -> Into,
        what: impl Fn(Change) -> What,
    ) {
        let mut lines = Vec::new();
        for item in &self.statement.items {
            if item.role == Some(Role::Made) && self.statement.items.len() > 1 {
                continue;
            }
            match self.drawn(item, Amount::ALL, purpose) {
                Ok((draw, mut line)) => {
                    let held = draw.lots.first().and_then(|id| self.state.lot(*id));
                    let held = held.map_or(line.form, |lot| lot.form);
                    let into = into(self, item, &draw, held);
                    line.form = into.form.unwrap_or(held);
                    line.place.clone_from(&into.place);
                    line.eat_by = eat_by(&into.limits, self.state);
                    if into.form == Some(Form::Thawed) {
                        line.eat_by = line.eat_by.into_iter().chain(self.resumes(&draw)).min();
                    }
                    line.water_due = into.water.as_ref().map(|water| water.next(water.changed));
                    let change = self.change(draw, into);
                    self.happened(what(change));
                    lines.push(line);
                }
                Err(trouble) => self.trouble(trouble),
            }
        }
        match lines.is_empty() {
            false => self.told(deed, lines),
            true if self.statement.items.is_empty() => self.trouble(Trouble::NoFood),
            true => {}
        }
    }

    pub(super) fn preserved(&mut self) {
        let dried = self.statement.items.iter().any(|item| item.form == Some(Form::Dried));
        let (form, home, deed) = if dried {
            (Form::Dried, Place::CoolDark, Deed::Dried)
        } else {
            (Form::Frozen, Place::Freezer, Deed::Frozen)
        };
        let weighed = self.weighed_after();
        self.each_change(
            Purpose::Change,
            deed,
            |this, item, _, _| Into {
                form: Some(form),
                place: Some(this.place(item).unwrap_or_else(|| home.clone())),
                limits: Vec::new(),
                water: None,
            },
            |mut change| {
                change.counted = weighed.map(|quantity| quantity.0);
                What::Preserved { change, weighed: weighed.map(|quantity| quantity.1) }
            },
        );
    }

    /// "Dried the mushrooms, 40 g": what one food weighs after, said beside what went in.
    fn weighed_after(&self) -> Option<(Quantity, i64)> {
        let items = &self.statement.items;
        let made = items.iter().find(|item| item.role == Some(Role::Made))?;
        let quantity = Quantity::new(made.quantity?, made.unit);
        let grams = quantity.grams()?.rounded();
        (items.len() == 2 && (1..=GRAMS_MAX).contains(&grams)).then_some((quantity, grams))
    }

    pub(super) fn thawed(&mut self) {
        self.each_change(
            Purpose::Thaw,
            Deed::Thawed,
            |this, item, draw, _| {
                let food = this.food_of(&draw.of);
                let place = item.place.clone().filter(|place| *place != Place::Freezer);
                let place = place.unwrap_or(Place::Fridge);
                Into {
                    form: Some(Form::Thawed),
                    limits: this.thawed_limits(draw, food, &place),
                    place: Some(place),
                    water: None,
                }
            },
            |change| What::Thawed { change },
        );
    }

    /// The last day of frozen food that thaws now, by its own clock.
    fn resumes(&self, draw: &Draw) -> Option<KitchenDay> {
        let lots = draw.lots.iter().filter_map(|id| self.state.lot(*id));
        let paused = lots.flat_map(|lot| &lot.paused);
        paused.map(|paused| self.day.plus(paused.days_left)).min()
    }

    /// The limits of thawed food: its own clock runs on; where that is not known, the rule set's.
    fn thawed_limits(&self, draw: &Draw, food: Option<&Food>, place: &Place) -> Vec<Limit> {
        let lots = draw.lots.iter().filter_map(|id| self.state.lot(*id));
        let known = !draw.lots.is_empty() && lots.clone().all(|lot| !lot.paused.is_empty());
        if known { Vec::new() } else { self.limits(food, Form::Thawed, place) }
    }

    pub(super) fn prepared(&mut self) {
        let items = &self.statement.items;
        let roles = items.iter().any(|item| item.role == Some(Role::Made));
        if roles {
            return self.made();
        }
        let cooked = items.iter().any(|item| item.form == Some(Form::Cooked));
        let deed = if cooked { Deed::Cooked } else { Deed::Cut };
        self.each_change(
            Purpose::Change,
            deed,
            |this, item, draw, held| {
                let form = match (item.form, held) {
                    // A pie that is cut stays a cooked dish.
                    (Some(Form::Cooked), _) | (_, Form::Cooked) => Form::Cooked,
                    _ => Form::Cut,
                };
                let place = this.place(item).unwrap_or(Place::Fridge);
                let limits = this.limits(this.food_of(&draw.of), form, &place);
                Into { form: Some(form), place: Some(place), limits, water: None }
            },
            |change| What::Prepared { change },
        );
    }

    /// A dish out of several foods.
    fn made(&mut self) {
        let mut from = Vec::new();
        let mut lines = Vec::new();
        let parts = self.statement.items.iter().filter(|item| item.role != Some(Role::Made));
        for item in parts {
            match self.drawn(item, Amount::Vague, Purpose::Out) {
                Ok((draw, line)) => {
                    from.push(draw);
                    lines.push(line);
                }
                Err(trouble) => self.trouble(trouble),
            }
        }
        let dishes: Vec<&Item> =
            self.statement.items.iter().filter(|item| item.role == Some(Role::Made)).collect();
        for dish in dishes {
            let food = self.food(dish);
            let of = self.named(dish);
            let read = match read_amount(dish, food, Amount::Vague) {
                Ok(read) => read,
                Err(trouble) => {
                    self.trouble(trouble);
                    continue;
                }
            };
            let quantity = match read.amount {
                Amount::Exact(quantity) => Some(quantity),
                Amount::Share(_) | Amount::Vague => None,
            };
            let place = self.place(dish).unwrap_or(Place::Fridge);
            let freeze = place == Place::Freezer || dish.form == Some(Form::Frozen);
            let stands = if freeze { Place::Fridge } else { place.clone() };
            let limits = self.limits(food, Form::Cooked, &stands);
            let mut line = Line::new(of.clone(), Form::Cooked, read.spoken);
            line.place = Some(place);
            line.eat_by = eat_by(&limits, self.state).filter(|_| !freeze);
            let into = NewLot {
                lot: self.lot_id(),
                of: of.clone(),
                from: self.from,
                form: Form::Cooked,
                place: stands,
                put_away: true,
                quantity,
                grams: None,
                cost: None,
                limits,
                printed: None,
            };
            let lot = into.lot;
            line.lots = vec![lot];
            self.happened(What::Made { from: std::mem::take(&mut from), into });
            if freeze {
                line.form = Form::Frozen;
                let draw = Draw { of, lots: vec![lot], amount: Amount::ALL, grams: None };
                let into = Into {
                    form: Some(Form::Frozen),
                    place: Some(Place::Freezer),
                    limits: Vec::new(),
                    water: None,
                };
                let change = self.change(draw, into);
                self.happened(What::Preserved { change, weighed: None });
            }
            lines.push(line);
        }
        self.told(Deed::Made, lines);
    }

    pub(super) fn moved(&mut self) {
        let mut lines = Vec::new();
        for item in &self.statement.items {
            let Some(place) = self.place(item) else {
                self.trouble(Trouble::NoFood);
                continue;
            };
            let (mut draw, mut line) = match self.drawn(item, Amount::ALL, Purpose::Move) {
                Ok(drawn) => drawn,
                Err(trouble) => {
                    self.trouble(trouble);
                    continue;
                }
            };
            // What is there already is not what moved.
            let elsewhere = |id: &LotId| {
                self.state.lot(*id).is_some_and(|lot| lot.place != place || !lot.put_away)
            };
            if draw.lots.iter().any(elsewhere) {
                draw.lots.retain(|id| elsewhere(id));
            }
            line.not_on_record = shortfall(self.state, &draw);
            line.place = Some(place.clone());
            let food = self.food_of(&draw.of);
            let to_freezer = place == Place::Freezer && line.form != Form::Frozen;
            let from_freezer =
                place != Place::Freezer && line.form == Form::Frozen && !draw.lots.is_empty();
            let form = if to_freezer {
                Form::Frozen
            } else if from_freezer {
                Form::Thawed
            } else {
                line.form
            };
            let limits = if to_freezer { Vec::new() } else { self.limits(food, form, &place) };
            let resumed = self.resumes(&draw).filter(|_| from_freezer);
            let limited = eat_by(&limits, self.state).filter(|_| from_freezer);
            line.eat_by = limited.into_iter().chain(resumed).min();
            let into = Into {
                form: (form != line.form || draw.lots.is_empty()).then_some(form),
                place: Some(place),
                limits,
                water: None,
            };
            line.form = form;
            let change = self.change(draw, into);
            self.happened(if to_freezer {
                What::Preserved { change, weighed: None }
            } else if from_freezer {
                What::Thawed { change }
            } else {
                What::Moved { change }
            });
            lines.push(line);
        }
        if !lines.is_empty() {
            self.told(Deed::Moved, lines);
        }
    }

    pub(super) fn opened(&mut self) {
        let mut lines = Vec::new();
        for item in &self.statement.items {
            let (mut draw, mut line) = match self.drawn(item, Amount::ALL, Purpose::Change) {
                Ok(drawn) => drawn,
                Err(trouble) => {
                    self.trouble(trouble);
                    continue;
                }
            };
            // A closed package is what opens; of what is open, cut or cooked it is no news.
            let closed = |id: &LotId| {
                self.state
                    .lot(*id)
                    .is_some_and(|lot| matches!(lot.form, Form::Whole | Form::Dried | Form::Thawed))
            };
            if !draw.lots.is_empty() && !draw.lots.iter().any(closed) {
                let lots = std::mem::take(&mut draw.lots);
                self.happened(What::Seen { lots });
                lines.push(line);
                continue;
            }
            draw.lots.retain(closed);
            // One package is opened at a time.
            if item.quantity.is_none() && item.fraction.is_none() {
                draw.lots.truncate(1);
                if let Some(one) = self.several(&draw.lots) {
                    draw.amount = Amount::Exact(one);
                    draw.grams = facts::grams(self.food_of(&draw.of), one, None);
                    line.amount = Spoken::Exact(one);
                }
            }
            let food = self.food_of(&draw.of);
            let cold = |place: &Place| {
                self.cx.foods.clock(food, Form::Opened, place).is_some()
                    || food.is_some_and(|food| {
                        food.lives
                            .iter()
                            .any(|life| life.form == Form::Opened && life.place == *place)
                    })
            };
            let place = self.place(item).or_else(|| cold(&Place::Fridge).then_some(Place::Fridge));
            let stands = place.clone().or_else(|| {
                draw.lots.first().and_then(|id| self.state.lot(*id)).map(|lot| lot.place.clone())
            });
            let stands = stands.or_else(|| facts::home(food, Form::Opened));
            let limits = stands.map(|place| self.limits(food, Form::Opened, &place));
            let limits = limits.unwrap_or_default();
            line.form = Form::Opened;
            line.place.clone_from(&place);
            line.eat_by = eat_by(&limits, self.state);
            line.not_on_record = shortfall(self.state, &draw);
            let into = Into { form: Some(Form::Opened), place, limits, water: None };
            let change = self.change(draw, into);
            self.happened(What::Opened { change });
            lines.push(line);
        }
        match lines.is_empty() {
            false => self.told(Deed::Opened, lines),
            true => self.trouble(Trouble::NoFood),
        }
    }

    pub(super) fn put_in_water(&mut self) {
        self.each_change(
            Purpose::Water,
            Deed::InWater,
            |this, item, draw, held| {
                let food = this.food_of(&draw.of);
                // "In water" is where it goes; how it goes there depends on what it was.
                let form = item.form.filter(|form| *form != Form::InWater).unwrap_or(held);
                let water = facts::in_water(this.cx.foods, food, form, this.day);
                let place = this.place(item).unwrap_or(water.place);
                let after = water.form.unwrap_or(form);
                let mut limits = this.limits(food, after, &place);
                limits.extend(water.limit.map(|clock| clock.limit(this.day, this.from)));
                Into { form: water.form, place: Some(place), limits, water: Some(water.standing) }
            },
            |change| What::PutInWater { change },
        );
    }

    /// "Changed the water": of the named foods, or of everything that stands in water.
    pub(super) fn water_changed(&mut self) {
        let items = &self.statement.items;
        let standing = |lot: &&Lot| {
            lot.water.is_some()
                && (items.is_empty()
                    || items.iter().any(|item| super::choose::same_food(lot, &self.named(item))))
        };
        let lots: Vec<&Lot> = self.state.lots.iter().filter(standing).collect();
        if lots.is_empty() {
            let name = items.first().map(|item| self.named(item).name);
            return self.trouble(Trouble::NothingInWater { name });
        }
        let lines = lots
            .iter()
            .map(|lot| {
                let amount = lot.quantity.map_or(Spoken::Plain, Spoken::Exact);
                let mut line = Line::new(lot.named(), lot.form, amount);
                line.lots = vec![lot.id];
                line.place = Some(lot.place.clone());
                line.water_due = lot.water.as_ref().map(|water| water.next(self.day));
                line
            })
            .collect();
        let numbers = lots.iter().map(|lot| lot.id).collect();
        self.happened(What::WaterChanged { lots: numbers });
        self.told(Deed::WaterChanged, lines);
    }
}
