//! How late a chore is, in the words of the escalation.

use chrono::NaiveTime;

use crate::dates::{Instant, KitchenDay, Zone};

/// Hours after which a chore is late, overdue, and no longer to be trusted without a look.
///
/// # Source
/// [D]; no publication sets hours for changing water.
const LATE_HOURS: i64 = 12;
const OVERDUE_HOURS: i64 = 24;
const INSPECT_HOURS: i64 = 48;

/// How pressing a chore is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lateness {
    NotDue,
    Due,
    /// Repeated in the evening round.
    Late,
    /// Change it or finish it today.
    Overdue,
    /// Look and smell before any use.
    InspectOrDiscard,
    /// Past its last day; wins over everything else.
    EndOfLife,
}

impl Lateness {
    pub fn word(self) -> &'static str {
        match self {
            Lateness::NotDue => "not_due",
            Lateness::Due => "due",
            Lateness::Late => "late",
            Lateness::Overdue => "overdue",
            Lateness::InspectOrDiscard => "inspect_or_discard",
            Lateness::EndOfLife => "end_of_life",
        }
    }

    /// How pressing something due at `due`, whose last day is `last_day`, is at `now`.
    pub fn at(now: Instant, due: Instant, last_day: KitchenDay, zone: Zone) -> Lateness {
        if now.day(zone) > last_day {
            return Lateness::EndOfLife;
        }
        if now < due {
            return Lateness::NotDue;
        }
        let minutes = now.minutes_since(due);
        match minutes {
            _ if minutes < LATE_HOURS * 60 => Lateness::Due,
            _ if minutes < OVERDUE_HOURS * 60 => Lateness::Late,
            _ if minutes < INSPECT_HOURS * 60 => Lateness::Overdue,
            _ => Lateness::InspectOrDiscard,
        }
    }
}

/// When water changed on the local day `changed` is due again: at the post hour, `every_days`
/// calendar days later.
pub fn water_due(changed: KitchenDay, every_days: u32, post: NaiveTime, zone: Zone) -> Instant {
    changed.plus(every_days.into()).at(post, zone)
}
