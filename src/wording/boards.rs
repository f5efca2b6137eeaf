//! The words on pictures, the same content as text, and the words of what is exported.

use fluent_bundle::FluentValue;

use super::{Wording, capital};
use crate::chores::ChoreKind;
use crate::conversation::{Job, Rich};
use crate::dates::KitchenDay;
use crate::kitchen::{Foods, Lot, Spoken};
use crate::picture::{Board, Rows, Section};
use crate::words::{Form, Place};

/// From here on an age or a time left is said in weeks, and in months.
const WEEKS_FROM_DAYS: i64 = 14;
const MONTHS_FROM_DAYS: i64 = 60;

impl Wording {
    /// A board as text: everything its picture shows.
    pub fn board(&self, board: &Board) -> Rich {
        let mut text = Rich::new();
        text.push_strong(board.title.as_str());
        for section in &board.sections {
            for line in self.section_lines(section) {
                text.push_line(Rich::plain(line));
            }
        }
        for note in &board.notes {
            text.push_line(Rich::plain(note.as_str()));
        }
        text
    }

    fn section_lines(&self, section: &Section) -> Vec<String> {
        match &section.rows {
            Rows::Lots(rows) => {
                let items = rows.iter().map(|row| self.board_item(&row.label, &row.value));
                let items: Vec<String> = items.collect();
                vec![self.board_line(&section.heading, &items.join(", "))]
            }
            Rows::Days(rows) => rows
                .iter()
                .map(|row| {
                    let foods = match row.amount.as_str() {
                        "" => row.foods.clone(),
                        amount => self.board_item(&row.foods, amount),
                    };
                    self.board_line(&row.day, &foods)
                })
                .collect(),
            Rows::Gauges(rows) => rows
                .iter()
                .map(|row| {
                    let value = match row.line.as_str() {
                        "" => row.value.clone(),
                        line => self.board_item(&row.value, line),
                    };
                    self.board_line(&row.label, &value)
                })
                .collect(),
        }
    }

    /// "300 g spinach (2 days)".
    fn board_item(&self, label: &str, value: &str) -> String {
        self.say("board-item", &[("label", label.into()), ("value", value.into())])
    }

    /// "Today: 300 g spinach, 2 fennel."
    fn board_line(&self, heading: &str, items: &str) -> String {
        self.say("board-line", &[("heading", heading.into()), ("items", items.into())])
    }

    /// "Wednesday, 25 November".
    pub fn board_date(&self, day: KitchenDay) -> String {
        let weekday = self.say(&format!("weekday-{}", day.weekday().number_from_monday()), &[]);
        let month = self.say(&format!("month-{}", day.month()), &[]);
        let args = [
            ("weekday", weekday.into()),
            ("day", FluentValue::from(day.day_of_month().to_string())),
            ("month", month.into()),
        ];
        self.say("board-date", &args)
    }

    /// "Today", "Thu 26": a day in little room.
    pub fn day_short(&self, day: KitchenDay, today: KitchenDay) -> String {
        if day == today {
            return capital(&self.say("day-today", &[]));
        }
        let number = day.weekday().number_from_monday();
        let weekday = self.say(&format!("weekday-short-{number}"), &[]);
        let day = FluentValue::from(day.day_of_month().to_string());
        self.say("day-short", &[("weekday", weekday.into()), ("day", day)])
    }

    /// "Today on", "Thu 26 on": from a day to the end of a plan.
    pub fn day_from(&self, day: KitchenDay, today: KitchenDay) -> String {
        self.say("day-from", &[("day", self.day_short(day, today).into())])
    }

    // What is exported.

    /// A job's name in a calendar.
    pub fn calendar_job(&self, job: Job) -> String {
        self.say(&format!("calendar-{}", job.word().replace('_', "-")), &[])
    }

    pub fn calendar_shop(&self) -> String {
        self.say("calendar-shop", &[])
    }

    pub fn calendar_away(&self) -> String {
        self.say("calendar-away", &[])
    }

    pub fn calendar_chore(&self, kind: ChoreKind, food: &str) -> String {
        let id = format!("calendar-{}", kind.word().replace('_', "-"));
        self.say(&id, &[("food", capital(food).into())])
    }

    pub fn labels_title(&self) -> String {
        self.say("labels-title", &[])
    }

    pub fn labels_none(&self) -> String {
        self.say("labels-none", &[])
    }

    // Boards.

    pub fn board_house(&self) -> String {
        self.say("board-house", &[])
    }

    pub fn board_place(&self, place: &Place) -> String {
        capital(&self.at_place(place))
    }

    pub fn board_freezer(&self) -> String {
        self.say("board-freezer", &[])
    }

    pub fn board_plan(&self, day: &str) -> String {
        self.say("board-plan", &[("day", day.into())])
    }

    pub fn board_no_plan(&self) -> String {
        self.say("board-no-plan", &[])
    }

    /// "November".
    pub fn board_month(&self, day: KitchenDay) -> String {
        self.say(&format!("month-{}", day.month()), &[])
    }

    pub fn board_percent(&self, percent: i64) -> String {
        self.say("board-percent", &[("percent", percent.into())])
    }

    pub fn board_target(&self, percent: u32) -> String {
        self.say("board-target", &[("percent", percent.into())])
    }

    pub fn board_budget(&self, budget: &str) -> String {
        self.say("board-budget", &[("budget", budget.into())])
    }

    pub fn board_lost(&self, food: &str, reason: &str) -> String {
        self.say("board-lost", &[("food", food.into()), ("reason", reason.into())])
    }

    pub fn board_times(&self, times: u32) -> String {
        self.say("board-times", &[("count", times.into())])
    }

    pub fn board_rough(&self) -> String {
        self.say("board-rough", &[])
    }

    /// The heading of a group of lots; `group` ends its message's name.
    pub fn board_group(&self, group: &str) -> String {
        self.say(&format!("board-group-{group}"), &[])
    }

    /// A short word in the column of times; `value` ends its message's name.
    pub fn board_value(&self, value: &str) -> String {
        self.say(&format!("board-value-{value}"), &[])
    }

    pub fn board_legend(&self, scene: &str) -> String {
        self.say(&format!("board-legend-{scene}"), &[])
    }

    pub fn board_doubtful(&self, lot: &str) -> String {
        self.say("board-doubtful", &[("lot", lot.into())])
    }

    /// "today", "by Sat 28": the last day to do something.
    pub fn board_by(&self, day: KitchenDay, today: KitchenDay) -> String {
        if day == today {
            return self.say("day-today", &[]);
        }
        self.say("board-by", &[("day", self.day_short(day, today).into())])
    }

    /// A frozen lot where all are: "500 g chicken thighs".
    pub fn lot_unfrozen(&self, lot: &Lot, foods: &dyn Foods) -> String {
        let amount = lot.quantity.map_or(Spoken::Some, Spoken::Exact);
        self.amount_of(&lot.named(), Form::Whole, amount, foods)
    }

    pub fn board_more(&self, count: usize) -> String {
        self.say("board-more", &[("count", count.into())])
    }

    pub fn board_more_days(&self, days: i64) -> String {
        self.say("board-more-days", &[("days", days.into())])
    }

    pub fn board_kept(&self, frozen: usize, dried: usize) -> String {
        let args = [("frozen", FluentValue::from(frozen)), ("dried", dried.into())];
        match (frozen, dried) {
            (_, 0) => self.say("board-kept-frozen", &args[..1]),
            (0, _) => self.say("board-kept-dried", &args[1..]),
            _ => self.say("board-kept-both", &args),
        }
    }

    pub fn board_dried(&self, lots: &[String]) -> String {
        self.say("board-dried", &[("lots", self.list(lots).into())])
    }

    /// "5 days", "3 weeks", "2 months": a time left, or an age, in little room.
    pub fn board_days(&self, days: i64) -> String {
        let (id, count) = if days < WEEKS_FROM_DAYS {
            ("board-days", days)
        } else if days < MONTHS_FROM_DAYS {
            ("board-weeks", days / 7)
        } else {
            ("board-months", days * 10 / 304)
        };
        self.say(id, &[("count", count.into())])
    }
}
