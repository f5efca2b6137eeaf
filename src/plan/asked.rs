//! Answers about the household's own stock: what is first, what there is, the plan, the list, the
//! figures. Nothing here judges whether food is safe; `answers` does.

use std::collections::BTreeMap;

use super::outlook::Outlook;
use super::post::Press;
use super::until::{Until, WORTH_SAYING_GRAMS};
use super::view::{Held, Urgency};
use crate::conversation::{Button, Rich};
use crate::dates::KitchenDay;
use crate::kitchen::Spoken;
use crate::picture::Picture;
use crate::rules::Kind;
use crate::statement::{Item, Scope, Statement};
use crate::units::Quantity;
use crate::words::{Form, Intent, Place};

/// Lots in one answer about what is first.
const MOST_FIRST: usize = 6;

/// Lots listed in one place before the rest is only counted.
const MOST_IN_PLACE: usize = 12;

/// Days of a plan that are told one by one.
const DAYS_TOLD: i64 = 3;

/// Foods named for one day, and in one line of a plan.
const NAMES_A_DAY: usize = 4;
const NAMES_A_LINE: usize = 6;

/// Shops after which a food counts as one that is always in the house [D].
const USUAL_SHOPS: usize = 3;

/// An answer about the household's own stock.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Answer {
    pub text: Rich,
    pub buttons: Vec<(Button, Press)>,
    /// The long explanation behind "why?"; empty when there is none.
    pub why: Rich,
    pub picture: Option<Picture>,
}

impl Answer {
    fn of(text: Rich) -> Answer {
        Answer { text, ..Answer::default() }
    }
}

impl<'a> Outlook<'a> {
    /// The answer to a question about the household's own stock; `None` for any other statement.
    pub fn answer(&self, statement: &Statement) -> Option<Answer> {
        let about = |word: &str| statement.topic.as_deref() == Some(word);
        let answer = match statement.intent {
            Intent::AskTrimmings if about("bag") => Answer::of(self.ask_bag()),
            Intent::AskFirst if about("freezer") => Answer::of(self.ask_stored()),
            Intent::AskHave if about("label") => Answer::of(self.ask_labels(&statement.items)),
            Intent::AskPlan if about("trip") => Answer::of(self.ask_trip()),
            Intent::AskFirst => self.ask_first(),
            Intent::AskHave => Answer::of(self.ask_have(statement)),
            Intent::AskPlan => self.ask_plan(statement.until),
            Intent::AskBasket => Answer::of(self.ask_basket(&statement.items, statement.until)),
            Intent::AskNeed => Answer::of(self.ask_need(&statement.items)),
            Intent::AskLedger => Answer::of(self.ask_ledger(statement)),
            Intent::PriceAsked => Answer::of(self.price_asked(&statement.items)),
            Intent::Why if !statement.items.is_empty() => Answer::of(self.why_of(&statement.items)),
            _ => return None,
        };
        Some(self.with_why(self.with_picture(answer, statement)))
    }

    /// The same as a picture where one is wanted, else a button for it where one would help.
    fn with_picture(&self, answer: Answer, statement: &Statement) -> Answer {
        let Some(board) = self.board_of(statement) else { return answer };
        if statement.picture {
            let text = self.wording.board(&board);
            let picture = Some(board.picture(&text.to_plain()));
            return Answer { text, picture, ..answer };
        }
        let mut answer = answer;
        if !board.sections.is_empty() {
            let question = Box::new(Statement { picture: true, ..statement.clone() });
            answer.buttons.push((self.wording.button("picture"), Press::Picture(question)));
        }
        answer
    }

    fn with_why(&self, mut answer: Answer) -> Answer {
        if !answer.why.is_empty() {
            answer.buttons.push((self.wording.button("why"), Press::Why));
        }
        answer
    }

    /// "What's first?"
    pub fn ask_first(&self) -> Answer {
        let first: Vec<&Held<'_>> = self
            .held
            .iter()
            .filter(|held| held.is_fresh() && held.last_day_number().is_some())
            .take(MOST_FIRST)
            .collect();
        if first.is_empty() {
            return Answer::of(self.wording.nothing_first());
        }
        let mut text = self.wording.post_head();
        for held in &first {
            let (why, to_do) = (self.why_now(held), self.to_do(held));
            text.push_line(self.wording.post_line(&self.say(held), &why, &to_do));
        }
        Answer { text, why: self.explain_all(&first), ..Answer::default() }
    }

    /// "What do we have?", "any garlic?", "what's in the fridge?"
    pub fn ask_have(&self, statement: &Statement) -> Rich {
        let named: Vec<&Item> =
            statement.items.iter().filter(|item| !item.name.is_empty()).collect();
        let scope = asked_place(statement);
        if named.is_empty() {
            return self.have_by_place(scope);
        }
        let mut text = Rich::new();
        for item in named {
            text.push_line(self.have_of(item, scope));
        }
        text
    }

    /// Lots of the food an item names; a dish also by a part of its name ("any stew?").
    fn lots_of(&self, item: &Item) -> Vec<&Held<'a>> {
        let fits = |held: &&Held<'a>| match &item.food {
            Some(food) if held.lot.food.as_ref() == Some(food) => true,
            Some(_) | None => {
                let mut held = held.lot.name.split(' ').rev();
                let mut said = item.name.split(' ').rev();
                said.all(|word| held.next() == Some(word))
            }
        };
        let form = |held: &&Held<'a>| item.form.is_none_or(|form| held.lot.form == form);
        self.held.iter().filter(fits).filter(form).collect()
    }

    /// What an item's food is called when there is much of it, or none.
    fn name_when_none(&self, item: &Item) -> String {
        let food = item.food.as_ref().and_then(|id| self.foods.food(id));
        match food {
            // A dish goes by what its cooks call it.
            Some(food) if food.kind != Kind::Prepared => food.plural.clone(),
            Some(_) | None => item.name.clone(),
        }
    }

    /// "Label for the stew?": the label of what is frozen or dried of it.
    fn ask_labels(&self, items: &[Item]) -> Rich {
        let mut text = Rich::new();
        for item in items.iter().filter(|item| !item.name.is_empty()) {
            let lots = self.lots_of(item).into_iter();
            let stored: Vec<&Held<'a>> =
                lots.filter(|held| matches!(held.lot.form, Form::Frozen | Form::Dried)).collect();
            if stored.is_empty() {
                text.push_line(self.wording.label_none(&item.name));
            }
            for held in stored {
                text.push_line(self.label(held));
            }
        }
        text
    }

    /// "When is the next shop?"
    fn ask_trip(&self) -> Rich {
        match self.state.next_trip.filter(|day| *day >= self.today) {
            Some(day) => self.wording.trip_on(&self.say_day(day)),
            None if crate::ledger::money::mean_gap(self.state).is_some() => {
                self.wording.trip_likely(&self.say_day(self.next_shop()))
            }
            None => self.wording.trip_unknown(),
        }
    }

    fn have_of(&self, item: &Item, scope: Option<&Place>) -> Rich {
        let lots = self.lots_of(item);
        let lots: Vec<&Held<'_>> =
            lots.into_iter().filter(|h| scope.is_none_or(|place| in_place(h, place))).collect();
        if lots.is_empty() {
            return self.wording.have_none(&self.name_when_none(item));
        }
        let mut text = Rich::new();
        let mut alike: Vec<(&Place, String, Vec<&Held<'_>>)> = Vec::new();
        for held in lots {
            let note = self.note(held);
            match alike.iter_mut().find(|(at, said, _)| **at == held.lot.place && *said == note) {
                Some((_, _, lots)) => lots.push(held),
                None => alike.push((&held.lot.place, note, vec![held])),
            }
        }
        for (place, note, lots) in alike {
            for lot in self.added_up(&lots) {
                let line = self.wording.have_line(&lot, &self.wording.at_place(place), &note);
                text.push_line(Rich::plain(line));
            }
        }
        text
    }

    /// What is known of a lot's time, in few words.
    fn note(&self, held: &Held<'_>) -> String {
        match held.urgency {
            Urgency::Out => self.why_now(held),
            _ if held.lot.doubtful => self.wording.note_doubtful(),
            Urgency::PastLate => {
                self.wording.why_past_late(self.wording.number_of(held.lot, self.foods))
            }
            _ => match held.use_by(self.today).filter(|_| held.is_fresh()) {
                Some(day) => self.wording.note_use_by(&self.say_day(day)),
                None => String::new(),
            },
        }
    }

    /// Lots with their amounts, those of one food and form added up where they can be.
    fn added_up(&self, lots: &[&Held<'_>]) -> Vec<String> {
        let mut sums: Vec<(&Held<'_>, Option<Quantity>)> = Vec::new();
        for held in lots {
            let lot = held.lot;
            let added = sums.iter_mut().find_map(|(first, sum)| {
                let alike = first.lot.named() == lot.named() && first.lot.form == lot.form;
                let total = match (*sum, lot.quantity) {
                    (Some(sum), Some(more)) => Some(Some(sum.checked_add(more)?)),
                    (None, None) => Some(None),
                    _ => None,
                };
                total.filter(|_| alike).map(|total| *sum = total)
            });
            if added.is_none() {
                sums.push((held, lot.quantity));
            }
        }
        let say = |(held, quantity): &(&Held<'_>, Option<Quantity>)| {
            let amount = quantity.map_or(Spoken::Some, Spoken::Exact);
            self.wording.amount_of(&held.lot.named(), held.lot.form, amount, self.foods)
        };
        sums.iter().map(say).collect()
    }

    fn have_by_place(&self, scope: Option<&Place>) -> Rich {
        let mut by_place: BTreeMap<&Place, Vec<&Held<'_>>> = BTreeMap::new();
        for held in &self.held {
            if scope.is_none_or(|place| in_place(held, place)) {
                by_place.entry(&held.lot.place).or_default().push(held);
            }
        }
        if by_place.is_empty() {
            return match scope {
                Some(place) => self.wording.have_nothing_at(&self.wording.at_place(place)),
                None => self.wording.have_nothing(),
            };
        }
        let mut text = Rich::new();
        for (place, lots) in by_place {
            let mut names = self.added_up(&lots);
            let more = names.len().saturating_sub(MOST_IN_PLACE);
            names.truncate(MOST_IN_PLACE);
            let place = self.wording.at_place(place);
            text.push_line(self.wording.have_at(&place, &names.join(", "), more));
        }
        text
    }

    /// "Plan until the 14th", "what won't last till saturday?"
    pub fn ask_plan(&self, until: Option<KitchenDay>) -> Answer {
        let until = until.filter(|day| *day > self.today).unwrap_or_else(|| self.next_shop());
        let plan = self.plan_until(until);
        let mut text = self.wording.plan_head(&self.say_day(until));
        let urgent: Vec<&Held<'_>> = self
            .held
            .iter()
            .filter(|held| held.is_fresh() && held.urgency > Urgency::Out)
            .filter(|held| held.use_by(self.today).is_some_and(|day| day < until))
            .collect();
        if urgent.is_empty() {
            text.push_line(self.wording.plan_all_keeps());
        } else {
            let names: Vec<String> =
                urgent.iter().take(NAMES_A_LINE).map(|held| self.named_with_day(held)).collect();
            let more = urgent.len().saturating_sub(NAMES_A_LINE);
            text.push_line(self.wording.plan_wont_last(&names.join(", "), more));
        }
        for line in self.plan_days(&plan) {
            text.push_line(line);
        }
        let mut why = self.explain_all(&urgent);
        for line in self.freeze_lines(&plan.rescues.iter().collect::<Vec<_>>()) {
            text.push_line(line);
        }
        for rescue in &plan.rescues {
            if let Some(freeze) = rescue.held.food.and_then(|food| food.freeze.as_ref()) {
                let name = self.wording.lot_name(rescue.held.lot, self.foods);
                why.push_line(self.wording.freeze_how(&name, &freeze.how));
            }
        }
        text.push_line(self.too_much(&plan));
        text.push_line(self.runs_short(&plan));
        text.push_line(self.without_weight());
        Answer { text, why, ..Answer::default() }
    }

    fn named_with_day(&self, held: &Held<'_>) -> String {
        let day = self.say_day(held.use_by(self.today).unwrap_or(self.today));
        self.wording.lot_by_day(&self.say(held), &day)
    }

    /// What to cook on the first days of a plan.
    fn plan_days(&self, plan: &Until<'_, '_>) -> Vec<Rich> {
        let mut lines = Vec::new();
        for number in 1..=DAYS_TOLD {
            let eaten = plan.cover.eaten.iter().filter(|(day, _, _)| *day == number);
            let mut grams: Vec<(usize, i64)> =
                eaten.map(|(_, index, grams)| (*index, *grams)).collect();
            grams.sort_unstable();
            let names: Vec<String> = grams
                .iter()
                .take(NAMES_A_DAY)
                .map(|(index, _)| self.wording.lot_name(plan.lots[*index].lot, self.foods))
                .collect();
            if !names.is_empty() {
                let day = self.say_day(self.today.plus(number - 1));
                lines.push(self.wording.plan_day(&day, &self.wording.list(&names)));
            }
        }
        lines
    }

    /// What can neither be eaten in time nor frozen.
    pub(super) fn too_much(&self, plan: &Until<'_, '_>) -> Rich {
        let units = self.state.settings.units;
        let over =
            plan.cover.wasted.iter().enumerate().filter(|(_, grams)| **grams >= WORTH_SAYING_GRAMS);
        let names: Vec<String> = over
            .map(|(index, grams)| {
                let name = self.wording.lot_name(plan.lots[index].lot, self.foods);
                self.wording.some_of(&self.wording.weight(*grams, units), &name)
            })
            .take(NAMES_A_LINE)
            .collect();
        if names.is_empty() {
            Rich::new()
        } else {
            self.wording.plan_too_much(&self.wording.list(&names))
        }
    }

    /// The day from which vegetables and fruit run short, when a tenth of the plan's need is missing.
    pub(super) fn runs_short(&self, plan: &Until<'_, '_>) -> Rich {
        let missing = plan.cover.short_total();
        let eaten: i64 = plan.cover.eaten.iter().map(|(_, _, grams)| grams).sum();
        let first = plan.cover.short.iter().position(|grams| *grams > 0);
        match first {
            Some(day) if eaten > 0 && missing * 10 > missing + eaten => {
                let day = self.say_day(self.today.plus(day as i64));
                let amount = self.wording.weight(missing, self.state.settings.units);
                self.wording.plan_short(&day, &amount)
            }
            Some(_) | None => Rich::new(),
        }
    }

    pub(super) fn without_weight(&self) -> Rich {
        let unknown = self.held.iter().filter(|h| h.is_fresh() && h.lot.grams.is_none());
        let names: Vec<String> = unknown
            .map(|held| self.wording.lot_name(held.lot, self.foods))
            .take(NAMES_A_LINE)
            .collect();
        if names.is_empty() {
            Rich::new()
        } else {
            self.wording.plan_no_weight(&self.wording.list(&names))
        }
    }

    /// "What do we need?", "do we need milk?"
    pub fn ask_need(&self, items: &[Item]) -> Rich {
        let listed = |item: &Item| {
            let wanted = self.state.wanted.iter();
            wanted.into_iter().any(|wanted| match &item.food {
                Some(food) => wanted.of.food.as_ref() == Some(food),
                None => wanted.of.name == item.name,
            })
        };
        let mut text = Rich::new();
        for item in items.iter().filter(|item| !item.name.is_empty()) {
            let name = self.name_when_none(item);
            text.push_line(if listed(item) {
                self.wording.need_listed(&name)
            } else {
                self.wording.need_not_listed(&name)
            });
            text.push_line(self.have_of(item, None));
        }
        if !text.is_empty() {
            return text;
        }
        let wanted: Vec<String> = self
            .state
            .wanted
            .iter()
            .map(|wanted| {
                let amount = wanted.quantity.map_or(Spoken::Plain, Spoken::Exact);
                let form = self
                    .foods
                    .usual_form(wanted.of.food.as_ref().and_then(|id| self.foods.food(id)));
                self.wording.amount_of(&wanted.of, form, amount, self.foods)
            })
            .collect();
        text.push_line(if wanted.is_empty() {
            self.wording.need_nothing()
        } else {
            self.wording.need_list(&wanted.join(", "))
        });
        text.push_line(self.bring_up());
        let gone = self.usual_and_gone();
        if !gone.is_empty() {
            text.push_line(self.wording.need_usual(&self.wording.list(&gone)));
        }
        text
    }

    /// Foods bought again and again of which nothing is on record, and which are not on the list.
    fn usual_and_gone(&self) -> Vec<String> {
        let here = |key: &str| self.held.iter().any(|held| held.key() == key);
        let wanted = |key: &str| self.state.wanted.iter().any(|w| w.of.key() == key);
        let staples = self.staples();
        let usual = self.state.prices.iter().filter(|(_, seen)| {
            let mut days: Vec<KitchenDay> = seen.iter().map(|price| price.day).collect();
            days.dedup();
            days.len() >= USUAL_SHOPS
        });
        // A staple that is gone is said with its amount.
        let said = |key: &str| staples.iter().any(|staple| staple.key == key);
        let gone = usual.filter(|(key, _)| !here(key) && !wanted(key) && !said(key));
        gone.map(|(key, _)| {
            let food = self.keeper.rules().food(&crate::words::FoodId::new(key.clone()));
            food.map_or_else(|| key.clone(), |food| food.plural.clone())
        })
        .take(NAMES_A_LINE)
        .collect()
    }

    /// How the estimates of the named foods were made.
    pub fn why_of(&self, items: &[Item]) -> Rich {
        let lots: Vec<&Held<'_>> = items.iter().flat_map(|item| self.lots_of(item)).collect();
        if lots.is_empty() {
            let name = items.first().map_or("", |item| item.name.as_str());
            return self.wording.have_none(name);
        }
        self.explain_all(&lots)
    }
}

/// The place a question is about.
pub(super) fn asked_place(statement: &Statement) -> Option<&Place> {
    match &statement.scope {
        Some(Scope::Place(place)) => Some(place),
        Some(Scope::All) | None => statement.items.iter().find_map(|item| item.place.as_ref()),
    }
}

/// Whether a lot stands in `place`; the crisper is part of the fridge.
pub(super) fn in_place(held: &Held<'_>, place: &Place) -> bool {
    held.lot.place == *place || (*place == Place::Fridge && held.lot.place == Place::Crisper)
}
