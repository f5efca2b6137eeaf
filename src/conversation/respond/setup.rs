//! Setting up: one friendly message, three taps, edited in place; the notice about what the bot
//! cannot hear; joining by invite; help.
//!
//! Every step has a default that is in force already, so nobody has to answer. A step is also
//! answered in words: a city, "post at 7:30", "currency SEK".

use super::matters::Right;
use super::*;
use crate::conversation::memory::{SetUp, Step, Tap};
use crate::dates::{REGIONS, Zone};
use crate::kitchen::Style;

/// Cities offered at a time.
const CITIES_MOST: usize = 12;
/// Hours offered for the morning post.
const HOURS: [&str; 6] = ["06:00", "06:30", "07:00", "07:30", "08:00", "09:00"];
/// How long a city may be typed without naming the bot, in minutes.
const TYPED_MINUTES: i64 = 30;
/// Lots the examples of the help are taken from.
const EXAMPLES: usize = 3;

/// Units and currency offered in a region; the first is for regions of no row.
///
/// # Source
/// ISO 4217 codes; which are offered where: common practice, no source.
const MONEY: &[(&str, &[(UnitSystem, &str)])] = &[
    ("", &[(UnitSystem::Metric, "EUR"), (UnitSystem::Metric, "USD"), (UnitSystem::Us, "USD")]),
    (
        "America",
        &[
            (UnitSystem::Us, "USD"),
            (UnitSystem::Metric, "CAD"),
            (UnitSystem::Metric, "MXN"),
            (UnitSystem::Metric, "BRL"),
            (UnitSystem::Metric, "ARS"),
            (UnitSystem::Metric, "COP"),
        ],
    ),
    (
        "Europe",
        &[
            (UnitSystem::Metric, "EUR"),
            (UnitSystem::Metric, "GBP"),
            (UnitSystem::Metric, "CHF"),
            (UnitSystem::Metric, "PLN"),
            (UnitSystem::Metric, "SEK"),
            (UnitSystem::Metric, "NOK"),
        ],
    ),
    (
        "Asia",
        &[
            (UnitSystem::Metric, "INR"),
            (UnitSystem::Metric, "JPY"),
            (UnitSystem::Metric, "CNY"),
            (UnitSystem::Metric, "PHP"),
            (UnitSystem::Metric, "IDR"),
            (UnitSystem::Metric, "USD"),
        ],
    ),
    ("Australia", &[(UnitSystem::Metric, "AUD"), (UnitSystem::Metric, "NZD")]),
    (
        "Pacific",
        &[(UnitSystem::Metric, "NZD"), (UnitSystem::Metric, "AUD"), (UnitSystem::Us, "USD")],
    ),
    (
        "Africa",
        &[
            (UnitSystem::Metric, "ZAR"),
            (UnitSystem::Metric, "NGN"),
            (UnitSystem::Metric, "KES"),
            (UnitSystem::Metric, "EGP"),
            (UnitSystem::Metric, "MAD"),
        ],
    ),
];

impl Turn<'_> {
    /// Let into a chat: a greeting and the first step; again in it: one line.
    pub(super) fn welcomed(
        &mut self,
        by: Option<PersonId>,
        hears: bool,
        language: Option<&str>,
        private: bool,
    ) {
        let known = self.house.state.settings.host.is_some() || !self.house.state.lots.is_empty();
        if let Some(host) = by.filter(|_| self.house.state.settings.host.is_none()) {
            self.set("host", &host.0.to_string(), None);
        }
        // A tag may name a script or a country too ("en-GB"); only the language counts here.
        let tag = language.and_then(|tag| tag.split(['-', '_']).next()).map(str::to_lowercase);
        if let Some(tag) = tag.filter(|tag| !known && self.kit.speaks(tag))
            && self.house.state.settings.lang != tag
        {
            self.set("lang", &tag, None);
            self.speak(&tag);
        }
        let mut draft = Draft { answers: true, ..Draft::default() };
        if known {
            draft.line(self.kit.wording.welcome_back());
        } else {
            draft.line(self.kit.wording.welcome());
        }
        if !hears && !self.house.memory.deaf_told {
            self.house.memory.deaf_told = true;
            draft.line(self.kit.wording.cannot_hear());
        }
        let message = self.house.memory.next_message();
        if !known {
            self.house.memory.set_up =
                Some(SetUp { message, at: self.now, step: Step::Zone, private });
            self.step_of_set_up(&mut draft);
        }
        self.put(message, draft, Kind::Reply, None, by.filter(|_| private));
    }

    /// The set-up once more, at somebody's wish.
    pub(super) fn set_up_again(&mut self, said: &Said) {
        let mut draft = Draft { answers: true, ..Draft::default() };
        let message = MessageId(self.house.memory.last_message + 1);
        let private = said.private;
        self.house.memory.set_up = Some(SetUp { message, at: self.now, step: Step::Zone, private });
        self.step_of_set_up(&mut draft);
        self.reply(said, draft);
    }

    /// Joined by an invite.
    pub(super) fn admitted(&mut self, person: PersonId) {
        let mut draft = Draft { answers: true, ..Draft::default() };
        draft.line(self.kit.wording.admitted());
        draft.line(self.help());
        let message = self.house.memory.next_message();
        self.put(message, draft, Kind::Reply, None, Some(person));
    }

    pub(super) fn invite_made(
        &mut self,
        person: PersonId,
        link: Option<&str>,
        answers: Option<MessageId>,
        private: bool,
    ) {
        let mut draft = Draft { answers: true, ..Draft::default() };
        draft.line(self.kit.wording.invite(link));
        let message = self.house.memory.next_message();
        self.put(message, draft, Kind::Reply, answers, private.then_some(person));
    }

    /// A city, typed while it is asked for.
    pub(super) fn typed_city(&mut self, said: &Said) -> bool {
        let Some(set_up) = self.house.memory.set_up.clone() else { return false };
        let asks = matches!(set_up.step, Step::Zone | Step::Region(_) | Step::Cities(..));
        let spoken_to = said.addressed || said.private || said.reply_to == Some(set_up.message);
        let fresh = self.now.minutes_since(set_up.at) <= TYPED_MINUTES;
        if !asks || !(spoken_to || fresh) {
            return false;
        }
        let words = crate::reader::after_name(&said.text).unwrap_or(&said.text);
        let Some(zone) = Zone::named(words.trim().trim_end_matches(['.', '!'])) else {
            return false;
        };
        self.decision.heard = true;
        match self.may_decide(said.person) {
            Right::Granted => self.tapped(&Tap::Zone(zone.name().to_owned()), set_up.message),
            Right::Refused if spoken_to => self.refuse(said),
            Right::Refused | Right::Unknown => {}
        }
        true
    }

    /// A button of the set-up, or a city instead of one.
    pub(super) fn tapped(&mut self, tap: &Tap, on: MessageId) {
        let Some(mut set_up) = self.house.memory.set_up.clone() else { return };
        set_up.at = self.now;
        let settings = &self.house.state.settings;
        let zone = settings.zone;
        set_up.step = match tap {
            Tap::Back => Step::Zone,
            Tap::Region(region) => Step::Region(region.clone()),
            Tap::Cities(region, group) => Step::Cities(region.clone(), *group),
            Tap::Zone(name) => {
                if *name != zone.name() {
                    self.set("tz", name, Some(on));
                }
                Step::Hour
            }
            Tap::Hour(hour) => {
                if *hour != settings.post {
                    self.set("post", hour, Some(on));
                }
                Step::Money
            }
            Tap::Money(units, currency) => {
                let word = match units {
                    UnitSystem::Us => "us",
                    UnitSystem::Metric => "metric",
                };
                self.set("units", word, Some(on));
                self.set("currency", currency, Some(on));
                Step::Done
            }
            Tap::Keep => match set_up.step {
                Step::Zone | Step::Region(_) | Step::Cities(..) => Step::Hour,
                Step::Hour => Step::Money,
                Step::Money | Step::Done => Step::Done,
            },
        };
        let done = set_up.step == Step::Done;
        let message = set_up.message;
        self.house.memory.set_up = Some(set_up);
        let mut draft = Draft { answers: true, ..Draft::default() };
        self.step_of_set_up(&mut draft);
        if done {
            self.house.memory.set_up = None;
        }
        self.edit(message, None, draft);
    }

    /// What the step at hand asks, with its buttons.
    fn step_of_set_up(&mut self, draft: &mut Draft) {
        let Some(set_up) = &self.house.memory.set_up else { return };
        let step = set_up.step.clone();
        let wording = std::sync::Arc::clone(&self.kit.wording);
        let settings = self.house.state.settings.clone();
        let zone = settings.zone;
        let mut tap = |key: String, label: String, tap: Tap| {
            draft.button(Button { key, label }, Action::SetUp(tap));
        };
        let line = match &step {
            Step::Zone => {
                for region in REGIONS {
                    let key = format!("region:{region}");
                    tap(key, wording.region(region), Tap::Region((*region).to_owned()));
                }
                let label = wording.keep_zone(&zone.city());
                tap("keep".to_owned(), label, Tap::Keep);
                wording.set_up_zone()
            }
            Step::Region(region) => {
                let groups = Zone::groups(region, CITIES_MOST);
                if let [only] = groups.as_slice() {
                    cities(only, &mut tap);
                } else {
                    for (number, group) in groups.iter().enumerate() {
                        let ends = (group.first(), group.last());
                        if let (Some(first), Some(last)) = ends {
                            let label = wording.from_to(&first.city(), &last.city());
                            let key = format!("cities:{region}:{number}");
                            tap(key, label, Tap::Cities(region.clone(), number));
                        }
                    }
                }
                tap("back".to_owned(), wording.back(), Tap::Back);
                wording.set_up_city(&wording.region(region))
            }
            Step::Cities(region, number) => {
                if let Some(group) = Zone::groups(region, CITIES_MOST).get(*number) {
                    cities(group, &mut tap);
                }
                tap("back".to_owned(), wording.back(), Tap::Back);
                wording.set_up_city(&wording.region(region))
            }
            Step::Hour => {
                for hour in HOURS {
                    tap(format!("hour:{hour}"), hour.to_owned(), Tap::Hour(hour.to_owned()));
                }
                wording.set_up_hour(&zone.city(), &self.now.wall(zone)[11..])
            }
            Step::Money => {
                let row = MONEY.iter().find(|(region, _)| *region == zone.region());
                for (units, currency) in row.unwrap_or(&MONEY[0]).1 {
                    let label = wording.money_choice(*units, currency);
                    let key = format!("money:{}:{currency}", units_word(*units));
                    tap(key, label, Tap::Money(*units, (*currency).to_owned()));
                }
                tap("keep".to_owned(), wording.keep_money(), Tap::Keep);
                wording.set_up_money(&settings.post)
            }
            Step::Done => {
                let money = wording.money_choice(settings.units, settings.currency.code());
                wording.set_up_done(&zone.city(), &settings.post, &money)
            }
        };
        draft.line(line);
    }

    /// Help with examples from the household's own foods, and the next step.
    pub(super) fn help(&self) -> Rich {
        let wording = &self.kit.wording;
        let mut lots: Vec<&Lot> = self.house.state.lots.iter().filter(|l| !l.doubtful).collect();
        lots.sort_by_key(|lot| (lot.since, lot.id));
        let mut foods: Vec<String> = Vec::new();
        for lot in lots {
            let food = wording.food(&lot.named(), &*self.kit.rules, true);
            if foods.len() < EXAMPLES && !foods.contains(&food) {
                foods.push(food);
            }
        }
        match foods.as_slice() {
            [] => wording.help(),
            [first, rest @ ..] => {
                let second = rest.first().unwrap_or(first);
                let third = rest.get(1).unwrap_or(second);
                wording.help_with(first, second, third)
            }
        }
    }

    /// Records one setting as the program's own doing, or as what `message` led to.
    pub(super) fn set(&mut self, key: &str, value: &str, message: Option<MessageId>) {
        let person = self.writer.filter(|_| message.is_some());
        let record = kitchen::set(&self.house.state, key, value, self.now, person, message);
        if let Some(record) = record {
            self.house.state = record.state;
            self.decision.events.extend(record.events);
        }
    }

    fn speak(&mut self, language: &str) {
        let plain = self.kit.wording.is_plain();
        self.kit = self.kit.speaking(language, plain);
    }

    /// Whether the writer has chosen this style.
    pub(super) fn is_in_style(&self, style: Style) -> bool {
        self.writer.is_some_and(|person| self.house.state.settings.ways_of(person).style == style)
    }
}

fn units_word(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Us => "us",
        UnitSystem::Metric => "metric",
    }
}

fn cities(group: &[Zone], tap: &mut impl FnMut(String, String, Tap)) {
    for zone in group {
        let name = zone.name().to_owned();
        tap(format!("zone:{name}"), zone.city(), Tap::Zone(name));
    }
}
