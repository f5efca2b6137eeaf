//! The bot as a member of the group: set-up, rights, privacy, invites, each person's own way.

use fluent_bundle::FluentValue;

use super::kitchen::Voice;
use super::{Wording, sentence};
use crate::conversation::Rich;
use crate::kitchen::{Acknowledge, Settings, Style, Told, UnitSystem, Ways};
use crate::units::Currency;

impl Wording {
    fn just(&self, id: &str) -> Rich {
        Rich::plain(self.say(id, &[]))
    }

    fn line_with(&self, id: &str, name: &str, value: &str) -> Rich {
        Rich::plain(self.say(id, &[(name, value.into())]))
    }

    pub fn welcome(&self) -> Rich {
        self.just("welcome")
    }

    pub fn welcome_back(&self) -> Rich {
        self.just("welcome-back")
    }

    /// Plain messages of the group do not reach the bot, and what to do about it.
    pub fn cannot_hear(&self) -> Rich {
        self.just("cannot-hear")
    }

    pub fn admitted(&self) -> Rich {
        self.just("admitted")
    }

    /// `None` where the channel knows no invites.
    pub fn invite(&self, link: Option<&str>) -> Rich {
        match link {
            Some(link) => self.line_with("invite", "link", link),
            None => self.just("invite-nowhere"),
        }
    }

    pub fn invite_used(&self) -> Rich {
        self.just("invite-used")
    }

    /// A region of the world, by its name in the time zone database.
    pub fn region(&self, region: &str) -> String {
        self.say(&format!("region-{}", region.to_lowercase()), &[])
    }

    pub fn set_up_zone(&self) -> Rich {
        self.just("set-up-zone")
    }

    pub fn set_up_city(&self, region: &str) -> Rich {
        self.line_with("set-up-city", "region", region)
    }

    /// `time` is the wall clock there.
    pub fn set_up_hour(&self, city: &str, time: &str) -> Rich {
        Rich::plain(self.say("set-up-hour", &[("city", city.into()), ("time", time.into())]))
    }

    pub fn set_up_money(&self, post: &str) -> Rich {
        self.line_with("set-up-money", "post", post)
    }

    pub fn set_up_done(&self, city: &str, post: &str, money: &str) -> Rich {
        let args =
            [("city", FluentValue::from(city)), ("post", post.into()), ("money", money.into())];
        Rich::plain(self.say("set-up-done", &args))
    }

    /// "Amsterdam to Berlin".
    pub fn from_to(&self, first: &str, last: &str) -> String {
        self.say("from-to", &[("first", first.into()), ("last", last.into())])
    }

    pub fn back(&self) -> String {
        self.say("button-back", &[])
    }

    pub fn keep_zone(&self, city: &str) -> String {
        self.say("button-keep-zone", &[("city", city.into())])
    }

    pub fn keep_money(&self) -> String {
        self.say("button-keep-money", &[])
    }

    /// "Kilos and litres, EUR".
    pub fn money_choice(&self, units: UnitSystem, currency: &str) -> String {
        let units = self.units(units);
        if currency == Currency::NONE {
            return units;
        }
        self.say("money-choice", &[("units", units.into()), ("currency", currency.into())])
    }

    fn units(&self, units: UnitSystem) -> String {
        let id = match units {
            UnitSystem::Us => "units-us",
            UnitSystem::Metric => "units-metric",
        };
        self.say(id, &[])
    }

    /// Every setting, and what one person has chosen.
    pub fn settings(&self, settings: &Settings, own: &Ways) -> Rich {
        let none = || self.say("value-none", &[]);
        let yes_no = |yes: bool| self.say(if yes { "value-yes" } else { "value-no" }, &[]);
        let quiet = settings.quiet.as_ref();
        let ack = match settings.ack {
            Acknowledge::Line => "value-ack-line",
            Acknowledge::Reaction => "value-ack-reaction",
        };
        let budget = settings.budget.map(|minor| self.money(minor, &settings.currency));
        let currency = Some(settings.currency.code()).filter(|code| *code != Currency::NONE);
        let rows = [
            ("tz", settings.zone.name().to_owned()),
            ("post", settings.post.clone()),
            ("evening", settings.evening.clone()),
            ("quiet", quiet.map_or_else(none, |(from, to)| self.from_to(from, to))),
            ("units", self.units(settings.units)),
            ("currency", currency.map_or_else(none, str::to_owned)),
            ("country", settings.country.clone().unwrap_or_else(none)),
            ("people", settings.people.to_string()),
            ("lang", self.say("language", &[])),
            ("ack", self.say(ack, &[])),
            ("names", yes_no(settings.names)),
            ("target", settings.target_percent.map_or_else(none, |p| p.to_string())),
            ("budget", budget.unwrap_or_else(none)),
            ("quiet-days", yes_no(settings.quiet_days)),
        ];
        let mut text = self.just("settings-head");
        for (key, value) in rows {
            let name = self.say(&format!("name-{key}"), &[]);
            let args = [("key", FluentValue::from(name)), ("value", value.into())];
            text.push_line(Rich::plain(sentence(&self.say("settings-row", &args))));
        }
        let style = self.say(&format!("style-{}", own.style.word()), &[]);
        text.push_line(self.line_with("settings-own", "style", &style));
        text.push_line(self.just("settings-how"));
        text
    }

    pub fn not_yours_to_decide(&self) -> Rich {
        self.just("not-yours-to-decide")
    }

    /// What is stored, for how long, and how to have it or be rid of it; one screen.
    pub fn privacy(&self) -> Rich {
        self.just("privacy")
    }

    pub fn ask_export(&self) -> Rich {
        self.just("ask-export")
    }

    pub fn export_sent(&self) -> Rich {
        self.just("export-sent")
    }

    /// Goes with the file.
    pub fn export_here(&self) -> Rich {
        self.just("export-here")
    }

    pub fn export_not_sent(&self) -> Rich {
        self.just("export-not-sent")
    }

    pub fn ask_delete(&self) -> Rich {
        self.just("ask-delete")
    }

    pub fn deleted(&self) -> Rich {
        self.just("deleted")
    }

    pub fn deleted_and_gone(&self) -> Rich {
        self.just("deleted-and-gone")
    }

    pub fn ask_forget_you(&self) -> Rich {
        self.just("ask-forget-you")
    }

    pub fn ask_forget(&self, name: &str) -> Rich {
        self.line_with("ask-forget", "name", name)
    }

    pub fn nobody_called(&self, name: &str) -> Rich {
        self.line_with("nobody-called", "name", name)
    }

    pub fn forgotten(&self) -> Rich {
        self.just("forgotten")
    }

    pub fn kitchen_in_private(&self) -> Rich {
        self.just("kitchen-in-private")
    }

    pub fn which_kitchen(&self) -> Rich {
        self.just("which-kitchen")
    }

    pub fn no_longer_here(&self) -> Rich {
        self.just("no-longer-here")
    }

    pub fn only_kitchen(&self) -> Rich {
        self.just("only-kitchen")
    }

    /// The name of a household without one.
    pub fn kitchen_without_name(&self, number: usize) -> String {
        self.say("kitchen-without-name", &[("number", number.into())])
    }

    pub fn kitchen_chosen(&self, name: &str) -> Rich {
        self.line_with("kitchen-chosen", "name", name)
    }

    pub fn by_invitation(&self) -> Rich {
        self.just("by-invitation")
    }

    pub fn by_list(&self) -> Rich {
        self.just("by-list")
    }

    pub fn posts_here(&self) -> Rich {
        self.just("posts-here")
    }

    pub fn style_chosen(&self, style: Style) -> Rich {
        self.just(&format!("style-chosen-{}", style.word()))
    }

    pub fn language_chosen(&self) -> Rich {
        self.just("language-chosen")
    }

    pub fn language_unknown(&self) -> Rich {
        self.just("language-unknown")
    }

    /// The buttons, for whoever cannot press them.
    pub fn you_can_say(&self, labels: &[String]) -> Rich {
        let quoted: Vec<String> = labels
            .iter()
            .map(|label| self.say("quoted", &[("words", label.to_lowercase().into())]))
            .collect();
        self.line_with("you-can-say", "words", &self.list_or(&quoted))
    }

    pub fn child_do_not(&self) -> Rich {
        self.just("child-do-not")
    }

    pub fn child_grown_up(&self) -> String {
        self.say("child-grown-up", &[])
    }

    pub fn child_grown_up_now(&self) -> Rich {
        self.just("child-grown-up-now")
    }

    /// What was told, in at most so many characters.
    pub fn deeds_in_short(&self, told: &[Told], voice: Voice<'_>, most: usize) -> String {
        let deeds = self.deeds_said(told, voice);
        if deeds.chars().count() <= most {
            return deeds;
        }
        let cut: String = deeds.chars().take(most.saturating_sub(1)).collect();
        format!("{}…", cut.trim_end())
    }

    pub fn undo_too(&self, deeds: &str) -> String {
        self.say("button-undo-too", &[("deeds", deeds.into())])
    }

    pub fn who_did(&self, day: &str, deeds: &str, who: &str) -> Rich {
        let args = [("day", FluentValue::from(day)), ("deeds", deeds.into()), ("who", who.into())];
        Rich::plain(sentence(&self.say("log-who", &args)))
    }

    pub fn was_done(&self, day: &str, deeds: &str) -> Rich {
        let args = [("day", FluentValue::from(day)), ("deeds", deeds.into())];
        Rich::plain(sentence(&self.say("log-what", &args)))
    }

    pub fn nothing_on_record(&self) -> Rich {
        self.just("log-nothing")
    }

    pub fn names_in_private(&self) -> Rich {
        self.just("names-in-private")
    }

    /// What a command of the menu does, in a few words.
    pub fn command(&self, name: &str) -> String {
        self.say(&format!("command-{name}"), &[])
    }
}
