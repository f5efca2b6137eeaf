//! Sentences of the answers: where, how long, which part, still good, how to.
//!
//! One function a sentence, its arguments named as in the language file. `answers` decides what is
//! said and in which order; nothing here decides anything.

use std::borrow::Cow;

use chrono::Weekday;
use fluent_bundle::FluentValue;

use super::Wording;
use crate::dates::KitchenDay;
use crate::rules::DayRange;
use crate::words::{Form, Place};

/// The sentences of the answers in one language.
#[derive(Clone, Copy)]
pub(crate) struct Sentences<'w>(&'w Wording);

impl Wording {
    pub(crate) fn answers(&self) -> Sentences<'_> {
        Sentences(self)
    }
}

/// Declares one function for each message that has plain arguments.
macro_rules! sentences {
    ($($name:ident($($arg:ident),*) = $id:literal;)+) => {
        #[expect(clippy::extra_unused_lifetimes, reason = "some sentences take no arguments")]
        impl Sentences<'_> {
            $(pub(crate) fn $name<'a>(self $(, $arg: impl Into<FluentValue<'a>>)*) -> String {
                self.0.say($id, &[$((stringify!($arg), $arg.into())),*])
            })+
        }
    };
}

sentences! {
    toxic(what, why) = "answer-toxic";
    not_food(what, why) = "answer-not-food";
    edible(what, why) = "answer-edible";
    edible_plain(what) = "answer-edible-plain";
    cook_first(what, why) = "answer-cook-first";
    limited(what, why) = "answer-limited";
    unknown_part(what) = "answer-unknown-part";
    unknown_plant(what, why) = "answer-unknown-plant";
    unknown_state(what) = "answer-unknown-state";
    unknown_food(what) = "answer-unknown-food";
    unknown_this() = "answer-unknown-this";
    unknown_word(what, word) = "answer-unknown-word";
    unknown_sign(what, word) = "answer-unknown-sign";
    unknown_age(what, limit) = "answer-unknown-age";
    no_figure(what, site) = "answer-no-figure";
    no_rule(what) = "answer-no-rule";
    not_a_question() = "answer-not-a-question";
    help_unknown() = "answer-help-unknown";
    other_apart(what) = "answer-other-apart";
    any_amount() = "answer-any-amount";
    poison_if_eaten(lines) = "answer-poison-if-eaten";
    source(sources) = "answer-source";
    sign_use(what, action) = "answer-sign-use";
    sign_limited(what, action) = "answer-sign-limited";
    not_for_children(what, action) = "answer-not-for-children";
    sign_discard(what, action) = "answer-sign-discard";
    floor_discard(what, word) = "answer-floor-discard";
    mould_through() = "answer-mould-through";
    slime_check() = "answer-slime-check";
    age_past_limit(what, limit, elapsed) = "answer-age-past-limit";
    age_within_limit(what, day, limit, elapsed) = "answer-age-within-limit";
    age_last_day(what, limit, elapsed) = "answer-age-last-day";
    age_past_life(what, range, site, elapsed) = "answer-age-past-life";
    age_over_life(what, range, site, elapsed) = "answer-age-over-life";
    age_within_life(what, range, site, elapsed) = "answer-age-within-life";
    age_frozen(what, range, elapsed) = "answer-age-frozen";
    age_unknown(what, site, elapsed) = "answer-age-unknown";
    elapsed_days(days) = "answer-elapsed-days";
    elapsed_hours(hours) = "answer-elapsed-hours";
    limit_days(days, site, why) = "answer-limit-days";
    limit_hours(hours, site, why) = "answer-limit-hours";
    limit_short(days) = "answer-limit-short";
    range_days(max, min, same) = "answer-range-days";
    range_weeks(same, max, min) = "answer-range-weeks";
    range_months(same, max, min) = "answer-range-months";
    sum_age(what, start, count, last) = "answer-sum-age";
    sum_alternative(range, site, source) = "answer-sum-alternative";
    yours_past(what, site, day, why) = "answer-yours-past";
    yours_use(what, site, day, why) = "answer-yours-use";
    keeps(what, site, range) = "answer-keeps";
    keeps_also(site, range) = "answer-keeps-also";
    keeps_limit(what, site, limit, why) = "answer-keeps-limit";
    keeps_frozen(range) = "answer-keeps-frozen";
    place_best(what, site, why) = "answer-place-best";
    place_next(site) = "answer-place-next";
    water_stems(what, site, every, longest) = "answer-water-stems";
    water_submerged(what, site, every, longest) = "answer-water-submerged";
    water_hours(what, site, hours) = "answer-water-hours";
    water_not(what) = "answer-water-not";
    every(days) = "answer-every";
    out_discard(what, limit, elapsed) = "answer-out-discard";
    out_never(what) = "answer-out-never";
    out_never_discard(what) = "answer-out-never-discard";
    out_use(what, limit, elapsed) = "answer-out-use";
    out_do_not(what, limit) = "answer-out-do-not";
    out_fine(what) = "answer-out-fine";
    out_whole_only(what, limit) = "answer-out-whole-only";
    out_unknown_discard(what, limit, elapsed) = "answer-out-unknown-discard";
    out_unknown(what, limit) = "answer-out-unknown";
    hours(hours) = "answer-hours";
    minutes(minutes) = "answer-minutes";
    heat(degrees, limit) = "answer-heat";
    outage_fridge_keep(limit, elapsed) = "answer-outage-fridge-keep";
    outage_fridge_out(limit, elapsed) = "answer-outage-fridge-out";
    outage_freezer_keep(full, half, elapsed) = "answer-outage-freezer-keep";
    outage_freezer_look(half, full, elapsed) = "answer-outage-freezer-look";
    outage_freezer_out(full, elapsed) = "answer-outage-freezer-out";
    outage_how(fridge, full, half) = "answer-outage-how";
    freeze(what, how) = "answer-freeze";
    freeze_not(what, how) = "answer-freeze-not";
    freeze_months(range) = "answer-freeze-months";
    dry(what, how) = "answer-dry";
    dry_not(what, how) = "answer-dry-not";
    preserve_unknown(what) = "answer-preserve-unknown";
    blanch(time) = "answer-blanch";
    blanch_none() = "answer-blanch-none";
    time_seconds(seconds) = "answer-time-seconds";
    time_minutes(minutes) = "answer-time-minutes";
    time_minutes_half(minutes) = "answer-time-minutes-half";
    wash_unknown(what) = "answer-wash-unknown";
    apart(maker, other, plural) = "answer-apart";
    apart_listed(maker, other, why) = "answer-apart-listed";
    apart_raw(maker, other) = "answer-apart-raw";
    together(first, second) = "answer-together";
    alone_maker(what) = "answer-alone-maker";
    alone_fears(what) = "answer-alone-fears";
    alone_neutral(what) = "answer-alone-neutral";
    weight(unit, what, grams, ounces) = "answer-weight";
    weight_piece(what, grams, ounces) = "answer-weight-piece";
    weight_sized(size, what, grams, ounces) = "answer-weight-sized";
    weight_edible(percent) = "answer-weight-edible";
    weight_unknown(what) = "answer-weight-unknown";
    convert(from, unit, grams) = "answer-convert";
    convert_volume(from, unit, millilitres) = "answer-convert-volume";
    uses(what, uses) = "answer-uses";
    uses_freeze() = "answer-uses-freeze";
    uses_unknown(what) = "answer-uses-unknown";
    bag_good(what, why) = "answer-bag-good";
    bag_some(what, why) = "answer-bag-some";
    bag_not(what, why) = "answer-bag-not";
    bag_refused(what) = "answer-bag-refused";
    bag_unknown(what) = "answer-bag-unknown";
    bag_what(good, some, out) = "answer-bag-what";
    who(what, text) = "answer-who";
    who_none(what) = "answer-who-none";
    who_refuse() = "answer-who-refuse";
    who_listed(text) = "answer-who-listed";
    pets() = "answer-pets";
    pets_never(what, text) = "answer-pets-never";
    animals_unknown(what) = "answer-animals-unknown";
    thaw_warm(text) = "answer-thaw-warm";
    reheat_again(text) = "answer-reheat-again";
    label_past_use_by(day) = "answer-label-past-use-by";
    label_before_use_by(what, day) = "answer-label-before-use-by";
    label_past_best(what) = "answer-label-past-best";
    eaten(lines) = "answer-eaten";
    eaten_animal(line) = "answer-eaten-animal";
    eaten_poison(name, number) = "answer-eaten-poison";
    eaten_poison_unknown() = "answer-eaten-poison-unknown";
    eaten_closed(name, number) = "answer-eaten-closed";
    eaten_emergency(number) = "answer-eaten-emergency";
    eaten_emergency_unknown() = "answer-eaten-emergency-unknown";
    call_short(number, name) = "answer-call-short";
    call_unknown() = "answer-call-unknown";
    where_counter() = "answer-where-counter";
    where_cool_dark() = "answer-where-cool-dark";
    where_fridge() = "answer-where-fridge";
    where_crisper() = "answer-where-crisper";
    where_freezer() = "answer-where-freezer";
    where_in_ground() = "answer-where-in-ground";
    where_own(name) = "answer-where-own";
    form_whole(what) = "answer-form-whole";
    form_cut(what) = "answer-form-cut";
    form_in_water(what) = "answer-form-in-water";
    form_cooked(what) = "answer-form-cooked";
    form_frozen(what) = "answer-form-frozen";
    form_thawed(what) = "answer-form-thawed";
    form_dried(what) = "answer-form-dried";
    form_opened(what) = "answer-form-opened";
    state(state, what) = "answer-state";
    part_of(food, part) = "answer-part-of";
    it() = "answer-it";
    this() = "answer-this";
    and(first, second) = "answer-and";
    day(weekday, date) = "answer-day";
    today() = "answer-today";
    tomorrow() = "answer-tomorrow";
    yesterday() = "answer-yesterday";
    why_head() = "answer-why-head";
    why_source(short, full, grade) = "answer-why-source";
    why_disagree(short, verdict) = "answer-why-disagree";
    why_none() = "answer-why-none";
}

impl Sentences<'_> {
    /// "on the counter", "in the cellar".
    pub(crate) fn place(self, place: &Place) -> String {
        match place {
            Place::Counter => self.where_counter(),
            Place::CoolDark => self.where_cool_dark(),
            Place::Fridge => self.where_fridge(),
            Place::Crisper => self.where_crisper(),
            Place::Freezer => self.where_freezer(),
            Place::InGround => self.where_in_ground(),
            Place::Own(name) => self.where_own(name.as_str()),
        }
    }

    /// "cooked rice", "cut melon".
    pub(crate) fn formed(self, what: &str, form: Form) -> String {
        match form {
            Form::Whole => self.form_whole(what),
            Form::Cut => self.form_cut(what),
            Form::InWater => self.form_in_water(what),
            Form::Cooked => self.form_cooked(what),
            Form::Frozen => self.form_frozen(what),
            Form::Thawed => self.form_thawed(what),
            Form::Dried => self.form_dried(what),
            Form::Opened => self.form_opened(what),
        }
    }

    /// A span of days in the largest unit that fits: days, weeks from two of them, months.
    pub(crate) fn range(self, days: DayRange) -> String {
        let same = |same: bool| if same { "yes" } else { "no" };
        let (min, max) = (days.min, days.max);
        if min >= 60 {
            let (min, max) = (min.div_ceil(30).min(max / 30), max / 30);
            return self.range_months(same(min == max), max, min);
        }
        if min >= 14 && min.is_multiple_of(7) && max.is_multiple_of(7) {
            return self.range_weeks(same(min == max), max / 7, min / 7);
        }
        self.range_days(max, min, same(min == max))
    }

    /// A day as people say it, seen from `today`.
    pub(crate) fn day_seen(self, day: KitchenDay, today: KitchenDay) -> String {
        match day.days_since(today) {
            -1 => self.yesterday(),
            0 => self.today(),
            1 => self.tomorrow(),
            _ => {
                let name = match day.weekday() {
                    Weekday::Mon => "Mon",
                    Weekday::Tue => "Tue",
                    Weekday::Wed => "Wed",
                    Weekday::Thu => "Thu",
                    Weekday::Fri => "Fri",
                    Weekday::Sat => "Sat",
                    Weekday::Sun => "Sun",
                };
                self.day(name, day.to_string())
            }
        }
    }

    /// "2 hours", "90 minutes".
    pub(crate) fn span(self, minutes: u32) -> String {
        if minutes.is_multiple_of(60) { self.hours(minutes / 60) } else { self.minutes(minutes) }
    }

    /// Blanching time: "3 minutes", "1 1/2 minutes", "50 seconds".
    pub(crate) fn kitchen_time(self, seconds: u32) -> String {
        match (seconds / 60, seconds % 60) {
            (minutes, 0) => self.time_minutes(minutes),
            (minutes @ 1.., 30) => self.time_minutes_half(minutes),
            _ => self.time_seconds(seconds),
        }
    }
}

/// A phrase of the rule set as a sentence: a capital at the start where `begin` asks for it, one
/// full stop at the end.
pub(crate) fn sentence(text: &str) -> Cow<'_, str> {
    let text = text.trim();
    match text.chars().last() {
        None | Some('.' | '!' | '?') => Cow::Borrowed(text),
        Some(_) => Cow::Owned(format!("{text}.")),
    }
}

/// The same with a capital letter at the start.
pub(crate) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => String::new(),
    }
}
