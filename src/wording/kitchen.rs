//! Acknowledging what was told: one line a deed, with what matters for safety.

use std::collections::BTreeMap;

use fluent_bundle::FluentValue;

use super::Wording;
use super::amounts::quoted;
use super::posts::Number;
use crate::conversation::Rich;
use crate::dates::KitchenDay;
use crate::kitchen::{
    Asks, BagNote, Deed, Foods, Left, Line, Named, Question, SettingError, Settings, Spoken, Told,
    Trouble, Verdict,
};
use crate::statement::{Charge, Price};
use crate::units::{Currency, Minor, Unit};
use crate::words::{Destination, FoodId, Form, Place};

/// So many deeds of one message are named when it is taken back or corrected.
const DEEDS_LISTED: usize = 8;

/// After a deed on many foods, notes follow about so many of them.
const NOTED: usize = 12;

/// What the sentences about a household need to know.
#[derive(Clone, Copy)]
pub struct Voice<'a> {
    pub foods: &'a dyn Foods,
    pub settings: &'a Settings,
    pub today: KitchenDay,
}

impl Wording {
    /// What was understood of one message, one line a deed.
    pub fn told(&self, told: &[Told], voice: Voice<'_>) -> Rich {
        let mut text = Rich::new();
        for each in told {
            text.push_line(self.one_told(each, voice));
        }
        text
    }

    /// A question back.
    pub fn asks(&self, question: &Question, voice: Voice<'_>) -> Rich {
        let foods = |items: &[crate::kitchen::Named]| {
            let names: Vec<String> =
                items.iter().map(|of| self.food(of, voice.foods, true)).collect();
            FluentValue::from(self.list(&names))
        };
        Rich::plain(match &question.asks {
            Asks::SameShop { items } => self.say("asks-same-shop", &[("foods", foods(items))]),
            Asks::SameUse { items } => self.say("asks-same-use", &[("foods", foods(items))]),
            Asks::HowLongOut { minutes, .. } => {
                self.say("asks-how-long", &[("span", self.span(*minutes).into())])
            }
            Asks::WhichOne { of } => {
                self.say("asks-which-one", &[("food", self.food(of, voice.foods, true).into())])
            }
            Asks::LongAgo { of, day } => {
                let food = self.food(of, voice.foods, true);
                let args = [("food", food.into()), ("day", self.day(*day, voice.today).into())];
                self.say("asks-long-ago", &args)
            }
        })
    }

    /// What a setting is called.
    fn setting_name(&self, key: &str, voice: Voice<'_>) -> String {
        match key.split_once(':') {
            Some(("place", name)) => self.the_place(&Place::from(name.to_owned())),
            // One person's own, by what it is about.
            Some(("person", own)) => {
                let about = own.rsplit(':').next().unwrap_or(own);
                self.say(&format!("name-{about}"), &[])
            }
            Some((kind, of)) => {
                let id = FoodId::new(of.to_owned());
                let food = voice.foods.food(&id).map_or(of, |food| &food.plural);
                self.say(&format!("name-{kind}"), &[("food", food.into())])
            }
            None => self.say(&format!("name-{}", key.replace('_', "-")), &[]),
        }
    }

    /// "2.40 / kg", "1.20 each".
    fn price(&self, price: Price, currency: &Currency) -> String {
        let money = self.money(price.minor, currency);
        match price.per.filter(|unit| *unit != Unit::Piece) {
            Some(unit) => {
                let unit = self.say(
                    &format!("unit-{}", unit.word().replace(' ', "-")),
                    &[("count", 1.into())],
                );
                self.say("price-per", &[("money", money.into()), ("unit", unit.into())])
            }
            None => self.price_each(&money),
        }
    }

    fn one_told(&self, told: &Told, voice: Voice<'_>) -> Rich {
        match &told.deed {
            Deed::Trouble(trouble) => Rich::plain(self.trouble(trouble, voice)),
            Deed::KeptOutOfBag => self.kept_out_of_bag(&told.lines, voice),
            Deed::LeftOut => self.left_out(&told.lines, voice),
            Deed::Outage { place, minutes } => self.outage(place, *minutes, &told.lines, voice),
            Deed::PlaceFailed { place, keeps_minutes, source } => {
                let mut text = Rich::plain(sentence(&self.deed(told, voice)));
                let place = self.the_place(place);
                let span = self.span(*keeps_minutes);
                let args = [("place", place.into()), ("span", FluentValue::from(span))];
                text.push(" ").push(self.say("place-failed-fridge", &args));
                self.push_source(&mut text, source);
                text
            }
            _ => self.plain_told(told, voice),
        }
    }

    /// Scraps that stay out of the trimmings bag, each with why.
    fn kept_out_of_bag(&self, lines: &[Line], voice: Voice<'_>) -> Rich {
        let mut text = Rich::new();
        for line in lines {
            let food = self.food(&line.of, voice.foods, true);
            let food = ("food", FluentValue::from(food));
            let mut each = match &line.why {
                None => self.line("bag-no-rule", &[food]),
                Some((why, _)) if why.is_empty() => self.line("bag-spoiled", &[food]),
                Some((why, _)) => self.line("bag-leave-out", &[food, ("why", why.as_str().into())]),
            };
            if let Some((_, source)) = &line.why {
                self.push_source(&mut each, source);
            }
            text.push_line(each);
        }
        text
    }

    fn plain_told(&self, told: &Told, voice: Voice<'_>) -> Rich {
        let deed = self.deed(told, voice);
        let mut text = Rich::new();
        text.push(sentence(&deed));
        if let Deed::CameIn { paid: Some(paid) } = told.deed {
            let money = self.money(paid, &voice.settings.currency);
            text.push(" ").push(sentence(&money));
        }
        if told.deed == Deed::Gone && !told.lines.is_empty() {
            text.push(" ").push(self.say("gone-note", &[]));
        }
        for line in told.lines.iter().take(NOTED) {
            self.push_found(&mut text, &told.deed, line, voice);
        }
        self.push_last_days(&mut text, told, voice);
        self.push_water(&mut text, told, voice);
        if told.deed == Deed::WaterChanged
            && let Some(next) = self.water_next(&told.lines, voice)
        {
            text.push(" ").push(next);
        }
        let unknown: Vec<String> = told
            .lines
            .iter()
            .filter(|line| line.unknown && told.deed_stores())
            .map(|line| self.food(&line.of, voice.foods, true))
            .collect();
        if !unknown.is_empty() {
            text.push(" ").push(self.say("no-rule", &[("foods", self.list(&unknown).into())]));
        }
        text
    }

    /// What of a food was not on record.
    fn push_found(&self, text: &mut Rich, deed: &Deed, line: &Line, voice: Voice<'_>) {
        let corrects = matches!(
            deed,
            Deed::Used | Deed::Given | Deed::Frozen | Deed::Dried | Deed::Thawed | Deed::Made
        );
        match &line.not_on_record {
            Some(_) if corrects && line.gone.is_some() => {
                if let Some((how, day, _)) = &line.gone {
                    text.push(" ").push(self.gone_words(&line.of, how, *day, voice));
                }
            }
            Some(Some(missing)) if corrects && line.lots.iter().len() > 0 => {
                let amount = self.quantity(*missing);
                text.push(" ").push(self.say("found-more", &[("amount", amount.into())]));
            }
            Some(_) if corrects && line.of.part.is_none() => {
                let food = self.food(&line.of, voice.foods, !line.one);
                text.push(" ").push(self.say("found-none", &[("food", food.into())]));
            }
            Some(_) | None => {}
        }
        if let (Deed::ScrapsSaved, Some((why, _))) = (deed, &line.why) {
            let food = self.food(&line.of, voice.foods, !line.one);
            let args = [("food", food.into()), ("why", why.as_str().into())];
            text.push(" ").push(self.say("bag-a-little", &args));
        }
    }

    /// The last safe days of the foods of a deed, one sentence for each day.
    fn push_last_days(&self, text: &mut Rich, told: &Told, voice: Voice<'_>) {
        let mut by_day: BTreeMap<KitchenDay, Vec<String>> = BTreeMap::new();
        for line in &told.lines {
            if let Some(day) = line.eat_by {
                // What is past is past.
                let day = day.max(voice.today.plus(-1));
                let food = self.food(&line.of, voice.foods, !line.one);
                by_day.entry(day).or_default().push(food);
            }
        }
        let went = matches!(told.deed, Deed::Used | Deed::Given);
        for (day, foods) in by_day {
            let id = match day.days_since(voice.today) {
                ..0 if went => "eat-no-more",
                ..0 => "eat-never",
                0 => "eat-today",
                _ => "eat-by",
            };
            let day = ("day", FluentValue::from(self.day(day, voice.today)));
            let words = match foods.as_slice() {
                [food] => self.say(id, &[("food", food.as_str().into()), day]),
                foods => {
                    self.say(&format!("{id}-several"), &[("foods", self.list(foods).into()), day])
                }
            };
            text.push(" ").push_strong(words);
        }
    }

    /// How what went into water stands there, and when its water is changed.
    fn push_water(&self, text: &mut Rich, told: &Told, voice: Voice<'_>) {
        if told.deed != Deed::InWater {
            return;
        }
        let standing: Vec<(&Line, KitchenDay)> =
            told.lines.iter().filter_map(|line| Some((line, line.water_due?))).collect();
        let (under, stems): (Vec<_>, Vec<_>) =
            standing.into_iter().partition(|(line, _)| line.form == Form::InWater);
        let next = |lines: &[(&Line, KitchenDay)]| {
            let day = lines.iter().map(|(_, day)| *day).min().unwrap_or(voice.today);
            ("day", FluentValue::from(self.day(day, voice.today)))
        };
        if let [(first, _), rest @ ..] = under.as_slice() {
            let many = !rest.is_empty() || (!first.one && self.has_plural(&first.of, voice.foods));
            let number = if many { Number::Many } else { Number::One };
            let words = self.say("water-covered", &[number.arg(), next(&under)]);
            text.push(" ").push(words);
        }
        let place = |line: &Line| {
            let place = line.place.as_ref().map(|place| self.at_place(place));
            place.unwrap_or_default()
        };
        let words = match stems.as_slice() {
            [] => return,
            [(first, _), rest @ ..] if rest.iter().all(|(line, _)| line.place == first.place) => {
                self.say("water-stems", &[("place", place(first).into()), next(&stems)])
            }
            several => {
                let each: Vec<String> = several
                    .iter()
                    .map(|(line, _)| {
                        let food = self.food(&line.of, voice.foods, !line.one);
                        let args = [("food", food.into()), ("place", place(line).into())];
                        self.say("water-stems-each", &args)
                    })
                    .collect();
                let foods = ("foods", FluentValue::from(self.list(&each)));
                self.say("water-stems-several", &[foods, next(&stems)])
            }
        };
        text.push(" ").push(words);
    }

    /// What the record says became of a food, for a question about it.
    pub fn gone_since(&self, of: &Named, how: &Deed, day: KitchenDay, voice: Voice<'_>) -> Rich {
        Rich::plain(self.gone_words(of, how, day, voice))
    }

    fn gone_words(&self, of: &Named, how: &Deed, day: KitchenDay, voice: Voice<'_>) -> String {
        let how = match how {
            Deed::Used => "used",
            Deed::Given => "given",
            Deed::Discarded { .. } => "discarded",
            _ => "gone",
        };
        let args = [
            ("food", FluentValue::from(self.food(of, voice.foods, true))),
            ("how", how.into()),
            ("day", self.day(day, voice.today).into()),
        ];
        self.say("gone-since", &args)
    }

    /// When the water is due again: once for all, or food by food.
    fn water_next(&self, lines: &[Line], voice: Voice<'_>) -> Option<String> {
        let due = |line: &Line| line.water_due.map(|day| self.day(day, voice.today));
        let first = lines.first().and_then(due)?;
        if lines.iter().all(|line| due(line).as_ref() == Some(&first)) {
            return Some(self.say("water-next", &[("day", first.into())]));
        }
        let each: Vec<String> = lines
            .iter()
            .filter_map(|line| {
                let food = self.food(&line.of, voice.foods, true);
                let args = [("food", food.into()), ("day", due(line)?.into())];
                Some(self.say("water-next-food", &args))
            })
            .collect();
        Some(self.say("water-next", &[("day", self.list(&each).into())]))
    }

    /// One deed in lower case, without its full stop.
    fn deed(&self, told: &Told, voice: Voice<'_>) -> String {
        let words = self.bare_deed(told, voice);
        let words = match told.day {
            Some(day) => {
                let day = self.day(day, voice.today);
                self.say("told-on", &[("deed", words.into()), ("day", day.into())])
            }
            None => words,
        };
        match told.lines.as_slice() {
            [line] if line.left.is_some() && told.deed != Deed::Now => match line.left.as_ref() {
                Some(left) => {
                    let left = self.left(left);
                    self.say("told-left", &[("deed", words.into()), ("left", left.into())])
                }
                None => words,
            },
            _ => words,
        }
    }

    fn bare_deed(&self, told: &Told, voice: Voice<'_>) -> String {
        let lines = &told.lines;
        let one = lines.len() == 1;
        // A single food's rest is said after the deed; among several it stands in brackets.
        let each = |form_of: &dyn Fn(&Line) -> Form| {
            let foods: Vec<String> = lines
                .iter()
                .map(|line| {
                    let food = self.amount_of_one(
                        &line.of,
                        form_of(line),
                        line.amount,
                        line.one,
                        voice.foods,
                    );
                    match &line.left {
                        Some(left) if !one => {
                            let left = self.left(left);
                            let args = [("food", food.into()), ("left", left.into())];
                            self.say("told-with-left", &args)
                        }
                        Some(_) | None => food,
                    }
                })
                .collect();
            self.list(&foods)
        };
        let foods = || ("foods", FluentValue::from(each(&|line| line.form)));
        // The deed itself says the form.
        let plain = || ("foods", FluentValue::from(each(&|_| Form::Whole)));
        let first_place = || lines.first().and_then(|line| line.place.clone());
        match &told.deed {
            Deed::CameIn { .. } => self.say("deed-came-in", &[foods()]),
            Deed::NotReceived => self.say("deed-not-received", &[plain()]),
            Deed::Used => self.say("deed-used", &[foods()]),
            Deed::Given => self.say("deed-given", &[foods()]),
            Deed::Discarded { to } => {
                let id = match to {
                    Destination::Compost => "deed-composted",
                    Destination::AnimalFeed => "deed-fed",
                    Destination::Drain => "deed-poured",
                    Destination::Trash => "deed-discarded",
                    Destination::People => "deed-given",
                };
                self.say(id, &[foods()])
            }
            Deed::Frozen => self.say("deed-frozen", &[plain()]),
            Deed::Dried => self.say("deed-dried", &[plain()]),
            Deed::Thawed => self.say("deed-thawed", &[plain()]),
            Deed::Moved => {
                let place = first_place().unwrap_or(Place::Counter);
                let place = ("place", FluentValue::from(self.to_place(&place)));
                self.say("deed-moved", &[plain(), place])
            }
            Deed::PutAway => self.say("deed-put-away", &[]),
            Deed::Cut => match first_place() {
                Some(place) => {
                    let place = ("place", FluentValue::from(self.at_place(&place)));
                    self.say("deed-cut", &[plain(), place])
                }
                None => self.say("deed-cut-plain", &[plain()]),
            },
            Deed::Cooked => self.say("deed-cooked", &[plain()]),
            Deed::Opened => self.say("deed-opened", &[plain()]),
            Deed::Made => self.made(lines, voice),
            Deed::InWater => self.say("deed-in-water", &[plain()]),
            Deed::WaterChanged if lines.is_empty() => self.say("deed-water-changed-plain", &[]),
            Deed::WaterChanged => self.say("deed-water-changed", &[plain()]),
            Deed::Counted => self.say("deed-counted", &[foods()]),
            Deed::Gone if lines.is_empty() => self.say("deed-gone-plain", &[]),
            Deed::Gone => {
                let names: Vec<String> = lines
                    .iter()
                    .map(|line| self.food_in_form(&line.of, line.form, voice.foods, true))
                    .collect();
                self.say("deed-gone", &[("foods", self.list(&names).into())])
            }
            Deed::ScrapsSaved => self.say("deed-scraps", &[plain()]),
            Deed::BagEmptied { to: Destination::Compost } => self.say("deed-bag-composted", &[]),
            Deed::BagEmptied { .. } => self.say("deed-bag-emptied", &[]),
            Deed::BagNote(BagNote::TooStrong) => self.say("bag-too-strong", &[]),
            Deed::BagNote(BagNote::Ready) => self.say("bag-ready", &[]),
            Deed::KeptOutOfBag => self.say("deed-kept-out", &[plain()]),
            Deed::StockMade => self.say("deed-stock", &[plain()]),
            Deed::Wanted => self.say("deed-wanted", &[plain()]),
            Deed::Unwanted => self.say("deed-unwanted", &[plain()]),
            Deed::TripTotal { total, itemised, charges } => {
                self.trip_total(*total, *itemised, charges, voice)
            }
            Deed::TripPlanned { on } => {
                let day = self.day(*on, voice.today);
                self.say("deed-trip-planned", &[("day", day.into())])
            }
            Deed::Away { from, until } => {
                let day = self.day(*until, voice.today);
                match from {
                    Some(from) if from == until => self.say("deed-away-on", &[("day", day.into())]),
                    Some(from) => {
                        let from = self.day(*from, voice.today);
                        self.say("deed-away-from", &[("from", from.into()), ("day", day.into())])
                    }
                    None => self.say("deed-away", &[("day", day.into())]),
                }
            }
            Deed::Eaters { on, people } => {
                let day = self.day(*on, voice.today);
                self.say("deed-eaters", &[("people", (*people).into()), ("day", day.into())])
            }
            Deed::Setting { key, value } => {
                if key == Settings::LEARNING && value == Settings::FORGET {
                    return self.say("deed-forgot-learned", &[]);
                }
                let name = self.setting_name(key, voice);
                let limit = key
                    .strip_prefix("ceiling:")
                    .and_then(|food| voice.settings.ceilings.get(food))
                    .map(|price| self.price(*price, &voice.settings.currency));
                let value = limit.unwrap_or_else(|| value.clone());
                self.say("deed-setting", &[("key", name.into()), ("value", value.into())])
            }
            Deed::StillHere if lines.is_empty() => self.say("deed-still-here-plain", &[]),
            Deed::StillHere => self.say("deed-still-here", &[foods()]),
            Deed::SpokenFor { on } => {
                let day = self.day(*on, voice.today);
                self.say("deed-spoken-for", &[plain(), ("day", day.into())])
            }
            Deed::Now => {
                let each: Vec<String> = lines
                    .iter()
                    .map(|line| {
                        let food = self.food(&line.of, voice.foods, true);
                        match &line.left {
                            Some(Left::Exact(sums, place)) => {
                                let sums: Vec<String> =
                                    sums.iter().map(|sum| self.quantity(*sum)).collect();
                                let args = [
                                    ("food", FluentValue::from(food)),
                                    ("amount", self.list(&sums).into()),
                                    ("place", self.at_place(place).into()),
                                ];
                                self.say("now-exact", &args)
                            }
                            Some(Left::Some(place)) => {
                                let place = self.at_place(place);
                                self.say(
                                    "now-some",
                                    &[("food", food.into()), ("place", place.into())],
                                )
                            }
                            Some(Left::Nothing) | None => {
                                self.say("now-none", &[("food", food.into())])
                            }
                        }
                    })
                    .collect();
                self.say("deed-now", &[("foods", self.list(&each).into())])
            }
            Deed::LeftOut => self.say("deed-left-out", &[]),
            Deed::Outage { .. } => self.say("deed-outage", &[]),
            Deed::PlaceFailed { place, .. } => {
                self.say("deed-place-failed", &[("place", self.the_place(place).into())])
            }
            Deed::Undone(told) => self.say("undone", &[("deeds", self.deeds(told, voice))]),
            Deed::Restored(told) => self.say("restored", &[("deeds", self.deeds(told, voice))]),
            Deed::Mended(told) => self.say("mended", &[("deeds", self.deeds(told, voice))]),
            Deed::Redated { to, deeds } => {
                let day = self.day(*to, voice.today);
                let args = [("day", day.into()), ("deeds", self.deeds(deeds, voice))];
                self.say("redated", &args)
            }
            Deed::Trouble(trouble) => self.trouble(trouble, voice),
        }
    }

    fn deeds(&self, told: &[Told], voice: Voice<'_>) -> FluentValue<'static> {
        FluentValue::from(self.deeds_said(told, voice))
    }

    /// What was told, one deed after the other.
    pub(super) fn deeds_said(&self, told: &[Told], voice: Voice<'_>) -> String {
        let mut deeds: Vec<String> = told.iter().map(|each| self.deed(each, voice)).collect();
        let more = deeds.len().saturating_sub(DEEDS_LISTED);
        deeds.truncate(DEEDS_LISTED);
        let deeds = deeds.join("; ");
        if more == 0 {
            deeds
        } else {
            self.say("list-more", &[("first", deeds.into()), ("count", more.into())])
        }
    }

    fn made(&self, lines: &[Line], voice: Voice<'_>) -> String {
        let Some((dish, parts)) = lines.split_last() else { return String::new() };
        let dish = self.amount_of(&dish.of, Form::Whole, dish.amount, voice.foods);
        let dish = ("dish", FluentValue::from(dish));
        if parts.is_empty() {
            return self.say("deed-made", &[dish]);
        }
        let foods: Vec<String> = parts
            .iter()
            .map(|line| self.amount_of(&line.of, line.form, line.amount, voice.foods))
            .collect();
        self.say("deed-made-with", &[dish, ("foods", self.list(&foods).into())])
    }

    fn trip_total(
        &self,
        total: Minor,
        itemised: Minor,
        charges: &[Charge],
        voice: Voice<'_>,
    ) -> String {
        let currency = &voice.settings.currency;
        let money = |minor| FluentValue::from(self.money(minor, currency));
        let rest = Minor(total.0.saturating_sub(itemised.0));
        if itemised.0 == 0 || (rest.0 <= 0 && charges.is_empty()) {
            return self.say("deed-trip-total", &[("total", money(total))]);
        }
        let terms = self.bill(total, itemised, charges, currency);
        self.say("deed-trip-total-split", &[("total", money(total)), ("terms", terms.into())])
    }

    fn left(&self, left: &Left) -> String {
        match left {
            Left::Nothing => self.say("left-nothing", &[]),
            Left::Some(place) => self.say("left-some", &[("place", self.at_place(place).into())]),
            Left::Exact(amounts, place) => {
                let amounts: Vec<String> =
                    amounts.iter().map(|amount| self.quantity(*amount)).collect();
                let place = self.at_place(place);
                let args = [("amount", self.list(&amounts).into()), ("place", place.into())];
                self.say("left-exact", &args)
            }
        }
    }

    fn named_lines(&self, lines: &[&Line], voice: Voice<'_>) -> String {
        let names: Vec<String> = lines
            .iter()
            .map(|line| {
                let amount = match line.amount {
                    Spoken::Exact(quantity) => Spoken::Exact(quantity),
                    _ => Spoken::Plain,
                };
                self.amount_of(&line.of, line.form, amount, voice.foods)
            })
            .collect();
        self.long_list(&names)
    }

    fn left_out(&self, lines: &[Line], voice: Voice<'_>) -> Rich {
        let mut text = Rich::new();
        let with = |verdict| -> Vec<&Line> {
            lines.iter().filter(|line| line.verdict == Some(verdict)).collect()
        };
        let out = with(Verdict::Out);
        if !out.is_empty() {
            let foods = self.named_lines(&out, voice);
            let mut line = Rich::new();
            line.push_strong(self.say("left-out-throw", &[("foods", foods.into())]));
            if let Some((_, source)) = out.first().and_then(|line| line.why.as_ref()) {
                self.push_source(&mut line, source);
            }
            text.push_line(line);
        }
        let unsure = with(Verdict::LookAt);
        if !unsure.is_empty() {
            let names = self.named_lines(&unsure, voice);
            text.push_line(Rich::plain(self.say("left-out-unsure", &[("foods", names.into())])));
        }
        let keep = with(Verdict::Keep);
        let (within, whole): (Vec<&Line>, Vec<&Line>) =
            keep.into_iter().partition(|line| line.why.is_some());
        for (group, id) in [(within, "left-out-keep"), (whole, "left-out-keep-whole")] {
            if !group.is_empty() {
                let foods = self.named_lines(&group, voice);
                text.push_line(Rich::plain(self.say(id, &[("foods", foods.into())])));
            }
        }
        text
    }

    fn outage(&self, place: &Place, minutes: u32, lines: &[Line], voice: Voice<'_>) -> Rich {
        let head = [
            ("place", FluentValue::from(self.the_place(place))),
            ("span", FluentValue::from(self.span(minutes))),
        ];
        let mut text = Rich::plain(sentence_start(&self.say("outage-head", &head)));
        if lines.is_empty() {
            text.push(" ").push(self.say("outage-nothing", &[]));
            return text;
        }
        let groups = [
            (Verdict::Out, "outage-throw"),
            (Verdict::LookAt, "outage-look"),
            (Verdict::Keep, "outage-keep"),
        ];
        for (verdict, id) in groups {
            let group: Vec<&Line> =
                lines.iter().filter(|line| line.verdict == Some(verdict)).collect();
            if group.is_empty() {
                continue;
            }
            let foods = self.named_lines(&group, voice);
            let words = self.say(id, &[("foods", foods.into())]);
            let mut line = Rich::new();
            if verdict == Verdict::Out {
                line.push_strong(words);
                if let Some((_, source)) = group.first().and_then(|line| line.why.as_ref()) {
                    self.push_source(&mut line, source);
                }
            } else {
                line.push(words);
            }
            text.push_line(line);
        }
        text
    }

    fn push_source(&self, text: &mut Rich, source: &str) {
        if !source.is_empty() {
            text.push(" ").push(self.say("source-short", &[("source", source.into())]));
        }
    }

    fn trouble(&self, trouble: &Trouble, voice: Voice<'_>) -> String {
        let name = |name: &str| ("name", FluentValue::from(quoted(name)));
        let day = |day: KitchenDay| {
            ("day", FluentValue::from(sentence_start(&self.day(day, voice.today))))
        };
        match trouble {
            Trouble::TooMuch { name: food } => self.say("trouble-too-much", &[name(food)]),
            Trouble::NoAmount { name: food } => {
                self.say("trouble-no-amount", &[name(&sentence_start(food))])
            }
            Trouble::PriceTooHigh => self.say("trouble-price", &[]),
            Trouble::InTheFuture { day: on } => self.say("trouble-future", &[day(*on)]),
            Trouble::TooLongAgo { day: on } => self.say("trouble-long-ago", &[day(*on)]),
            Trouble::NothingToUndo => self.say("trouble-undo", &[]),
            Trouble::NothingToMend { name: Some(food) } => {
                self.say("trouble-mend-name", &[name(food)])
            }
            Trouble::NothingToMend { name: None } => self.say("trouble-mend", &[]),
            Trouble::NothingToPutAway => self.say("trouble-put-away", &[]),
            Trouble::NothingInWater { name: Some(food) } => {
                self.say("trouble-water-name", &[name(food)])
            }
            Trouble::NothingInWater { name: None } => self.say("trouble-water", &[]),
            Trouble::NotOnRecord { name: food } => self.say("trouble-not-on-record", &[name(food)]),
            Trouble::NotFood { name: food } => {
                self.say("trouble-not-food", &[name(&sentence_start(food))])
            }
            Trouble::Setting(SettingError::Unknown(key)) => {
                self.say("trouble-setting-unknown", &[("key", key.as_str().into())])
            }
            Trouble::Setting(SettingError::Value { key, .. }) => {
                let kind = match key.split_once(':') {
                    Some(("person", own)) => own.rsplit(':').next().unwrap_or(own),
                    Some((kind, _)) => kind,
                    None => key.as_str(),
                };
                let said = self.setting_name(key, voice);
                let wanted = self.say(&format!("wants-{}", kind.replace('_', "-")), &[]);
                let said = sentence_start(&said);
                let args = [("key", said.into()), ("wanted", FluentValue::from(wanted))];
                self.say("trouble-setting-value", &args)
            }
            Trouble::ListEmpty => self.say("trouble-list-empty", &[]),
            Trouble::BagEmpty => self.say("trouble-bag-empty", &[]),
            Trouble::NoFood => self.say("trouble-no-food", &[]),
        }
    }
}

impl Told {
    /// Whether the deed puts food into the store, so that a missing storage rule matters.
    fn deed_stores(&self) -> bool {
        matches!(self.deed, Deed::CameIn { .. } | Deed::Counted)
    }
}

/// With a capital and a full stop.
fn sentence(words: &str) -> String {
    let mut text = sentence_start(words);
    if !text.ends_with(['.', '!', '?']) {
        text.push('.');
    }
    text
}

pub(super) fn sentence_start(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
