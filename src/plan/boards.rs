//! What the pictures show: the house by days left, the plan, the month and the freezer, as boards
//! of plain data.

use super::asked::{asked_place, in_place};
use super::outlook::Outlook;
use super::until::Until;
use super::view::{Held, Urgency};
use crate::dates::{Instant, KitchenDay};
use crate::ledger::money;
use crate::ledger::period::{Period, Span};
use crate::ledger::waste::{self, Balance, Lost};
use crate::picture::{Bar, Board, DayRow, Gauge, LotRow, Mark, Rows, Scene, Section, Share, Tick};
use crate::statement::Statement;
use crate::words::{Form, Intent, Place};

/// Lots in one picture: more would be too small to read on a phone.
const MOST_LOTS: usize = 16;

/// Days of a plan that are drawn one by one.
const MOST_DAYS: i64 = 8;

/// Foods named on one day of a plan.
const NAMES_A_DAY: usize = 6;

/// Rescues drawn in a plan.
const MOST_RESCUES: usize = 5;

/// Foods drawn as lost most.
const MOST_LOST: usize = 5;

/// The scale of a waste share reaches at least this far, in per cent.
const LEAST_SCALE_PERCENT: f64 = 10.0;

/// The longest label, in characters; the rest of a longer one is cut.
const LABEL_CHARS: usize = 60;

/// The days at which the scale of days left is marked, and its end. The scale is logarithmic:
/// tomorrow matters more than the day after next month.
const DAY_TICKS: &[i64] = &[1, 3, 7, 14, 30];
const LONGEST_DAYS: f64 = 60.0;

/// The same for the age of what is frozen, in months, on an even scale.
const MONTH_TICKS: &[i64] = &[3, 6, 9];
const LONGEST_MONTHS: f64 = 12.0;
const DAYS_A_MONTH: f64 = 30.4;

/// The groups of lots in the picture of the house, in order.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Group {
    Out,
    Today,
    Soon,
    Week,
    Later,
    NoFigure,
}

impl Group {
    const ALL: &'static [Group] =
        &[Group::Out, Group::Today, Group::Soon, Group::Week, Group::Later, Group::NoFigure];

    fn of(held: &Held<'_>, today: KitchenDay) -> Group {
        if held.urgency == Urgency::Out {
            return Group::Out;
        }
        match held.use_by(today).map(|day| day.days_since(today)) {
            _ if held.urgency == Urgency::PastLate => Group::Today,
            Some(..=0) => Group::Today,
            Some(1..=3) => Group::Soon,
            Some(4..=7) => Group::Week,
            Some(_) => Group::Later,
            None => Group::NoFigure,
        }
    }

    fn word(self) -> &'static str {
        match self {
            Group::Out => "out",
            Group::Today => "today",
            Group::Soon => "soon",
            Group::Week => "week",
            Group::Later => "later",
            Group::NoFigure => "no-figure",
        }
    }

    fn mark(self) -> Mark {
        match self {
            Group::Out => Mark::Out,
            Group::Today => Mark::Now,
            Group::Soon => Mark::Soon,
            Group::Week | Group::Later => Mark::Keeps,
            Group::NoFigure => Mark::Unknown,
        }
    }
}

impl<'a> Outlook<'a> {
    /// The board that shows what `statement` asks, where a picture can; not for one food alone.
    pub fn board_of(&self, statement: &Statement) -> Option<Board> {
        if statement.items.iter().any(|item| !item.name.is_empty()) {
            return None;
        }
        match statement.intent {
            Intent::AskHave => Some(match asked_place(statement) {
                Some(Place::Freezer) => self.freezer_board(),
                place => self.house_board(place),
            }),
            Intent::AskFirst => Some(self.house_board(None)),
            Intent::AskPlan => Some(self.plan_board(statement.until)),
            Intent::AskLedger => Some(self.month_board()),
            _ => None,
        }
    }

    fn empty_board(&self, scene: Scene, title: String) -> Board {
        Board {
            scene,
            title,
            day: self.wording.board_date(self.today),
            sections: Vec::new(),
            notes: Vec::new(),
            legend: String::new(),
            ticks: Vec::new(),
        }
    }

    /// What is in the house, or in one place of it, by days left.
    pub fn house_board(&self, place: Option<&Place>) -> Board {
        let title = match place {
            Some(place) => self.wording.board_place(place),
            None => self.wording.board_house(),
        };
        let mut board = self.empty_board(Scene::House, title);
        let here = |held: &&Held<'_>| place.is_none_or(|place| in_place(held, place));
        let (eaten, kept): (Vec<&Held<'_>>, Vec<&Held<'_>>) = self
            .held
            .iter()
            .filter(here)
            .partition(|held| held.is_fresh() || held.urgency == Urgency::Out);
        let more = eaten.len().saturating_sub(MOST_LOTS);
        let mut shown: Vec<(Group, &Held<'_>)> =
            eaten.into_iter().map(|held| (Group::of(held, self.today), held)).collect();
        // Stable: within a group the use-first order stays.
        shown.sort_by_key(|(group, _)| *group);
        shown.truncate(MOST_LOTS);
        for group in Group::ALL {
            let of_group = shown.iter().filter(|(each, _)| each == group);
            let rows: Vec<LotRow> = of_group.map(|(_, held)| self.lot_row(*group, held)).collect();
            if !rows.is_empty() {
                let heading = self.wording.board_group(group.word());
                board.sections.push(Section { heading, rows: Rows::Lots(rows) });
            }
        }
        if more > 0 {
            board.notes.push(self.wording.board_more(more));
        }
        let count = |form: Form| kept.iter().filter(|held| held.lot.form == form).count();
        let (frozen, dried) = (count(Form::Frozen), count(Form::Dried));
        if frozen + dried > 0 {
            board.notes.push(self.wording.board_kept(frozen, dried));
        }
        if shown.is_empty() && kept.is_empty() {
            board.notes.push(match place {
                Some(place) => {
                    let place = self.wording.at_place(place);
                    self.wording.have_nothing_at(&place).to_plain()
                }
                None => self.wording.have_nothing().to_plain(),
            });
        }
        if board.sections.iter().any(has_bars) {
            board.legend = self.wording.board_legend("house");
            board.ticks = DAY_TICKS
                .iter()
                .map(|days| Tick { at: days_share(*days as f64), label: days.to_string() })
                .collect();
        }
        board
    }

    fn lot_row(&self, group: Group, held: &Held<'_>) -> LotRow {
        let label = match held.lot.doubtful {
            true => self.wording.board_doubtful(&self.say(held)),
            false => self.say(held),
        };
        let value = match group {
            Group::Out => self.wording.board_value("out"),
            Group::Today if held.urgency == Urgency::PastLate => self.wording.board_value("look"),
            Group::Today => self.wording.board_value("today"),
            Group::NoFigure => self.wording.board_value("unknown"),
            Group::Soon | Group::Week | Group::Later => {
                let days = held.use_by(self.today).map_or(0, |day| day.days_since(self.today));
                self.wording.board_days(days)
            }
        };
        let over = group == Group::Out || held.urgency == Urgency::PastLate;
        let bar = if over { None } else { self.time_bar(held) };
        LotRow { mark: group.mark(), label: short(&label), value, bar }
    }

    /// Solid while nine in ten of such lots are still good, striped until nine in ten are lost;
    /// a safety limit ends both.
    fn time_bar(&self, held: &Held<'_>) -> Option<Bar> {
        let limit = held.estimate.safety_days_left(self.now, self.zone());
        let (early, late) = match (held.estimate.clock(), limit) {
            (Some(clock), _) => {
                (days_between(self.now, clock.early), days_between(self.now, clock.late))
            }
            (None, Some(limit)) => (limit, limit),
            (None, None) => return None,
        };
        let within = |days: f64| days_share(limit.map_or(days, |limit| days.min(limit)));
        Some(Bar::range(within(early), within(late)))
    }

    /// What is frozen, the oldest first, and what is dried.
    pub fn freezer_board(&self) -> Board {
        let mut board = self.empty_board(Scene::Freezer, self.wording.board_freezer());
        let mut frozen: Vec<(KitchenDay, &Held<'_>)> =
            self.put_by(Form::Frozen).map(|held| (self.stored_since(held), held)).collect();
        frozen.sort_by_key(|(since, held)| (*since, held.lot.id));
        let more = frozen.len().saturating_sub(MOST_LOTS);
        let past = |held: &Held<'_>| held.urgency == Urgency::PastBest;
        for (word, past_best) in [("past-best", true), ("frozen", false)] {
            let rows: Vec<LotRow> = frozen
                .iter()
                .take(MOST_LOTS)
                .filter(|(_, held)| past(held) == past_best)
                .map(|(since, held)| self.frozen_row(*since, held))
                .collect();
            if !rows.is_empty() {
                let heading = self.wording.board_group(word);
                board.sections.push(Section { heading, rows: Rows::Lots(rows) });
            }
        }
        if more > 0 {
            board.notes.push(self.wording.board_more(more));
        }
        let dried: Vec<String> =
            self.put_by(Form::Dried).map(|held| short(&self.say(held))).take(NAMES_A_DAY).collect();
        if !dried.is_empty() {
            board.notes.push(self.wording.board_dried(&dried));
        }
        if frozen.is_empty() {
            let place = self.wording.at_place(&Place::Freezer);
            board.notes.push(self.wording.have_nothing_at(&place).to_plain());
        } else {
            board.legend = self.wording.board_legend("freezer");
            board.ticks = MONTH_TICKS
                .iter()
                .map(|months| Tick {
                    at: Share::of(*months as f64, LONGEST_MONTHS),
                    label: months.to_string(),
                })
                .collect();
        }
        board
    }

    fn put_by(&self, form: Form) -> impl Iterator<Item = &Held<'a>> {
        self.held.iter().filter(move |held| {
            let frozen = held.lot.form == Form::Frozen || held.lot.place == Place::Freezer;
            match form {
                Form::Frozen => frozen,
                form => held.lot.form == form && !frozen,
            }
        })
    }

    fn frozen_row(&self, since: KitchenDay, held: &Held<'_>) -> LotRow {
        let months = |days: f64| Share::of(days / DAYS_A_MONTH, LONGEST_MONTHS);
        let age = self.today.days_since(since).max(0);
        let mut bar = Bar::solid(months(age as f64));
        if let Some(clock) = held.estimate.clock() {
            let best = age as f64 + days_between(self.now, clock.early);
            bar = bar.with_line(months(best));
        }
        LotRow {
            mark: if held.urgency == Urgency::PastBest { Mark::Now } else { Mark::Frozen },
            label: short(&self.wording.lot_unfrozen(held.lot, self.foods)),
            value: self.wording.board_days(age),
            bar: Some(bar),
        }
    }

    /// The plan until `until`, or until the next shop.
    pub fn plan_board(&self, until: Option<KitchenDay>) -> Board {
        let until = until.filter(|day| *day > self.today).unwrap_or_else(|| self.next_shop());
        let title = self.wording.board_plan(&self.say_day(until));
        let mut board = self.empty_board(Scene::Plan, title);
        let plan = self.plan_until(until);
        if plan.lots.is_empty() {
            board.notes.push(self.wording.board_no_plan());
        } else {
            let rows = Rows::Days(self.plan_rows(&plan));
            board.sections.push(Section { heading: String::new(), rows });
            let more = until.days_since(self.today) - MOST_DAYS;
            if more > 0 {
                board.notes.push(self.wording.board_more_days(more));
            }
            board.legend = self.wording.board_legend("plan");
        }
        let rescues: Vec<LotRow> = plan
            .rescues
            .iter()
            .take(MOST_RESCUES)
            .map(|rescue| LotRow {
                mark: Mark::Frozen,
                label: short(&self.say_rescue(rescue)),
                value: self.wording.board_by(rescue.by, self.today),
                bar: None,
            })
            .collect();
        if !rescues.is_empty() {
            let heading = self.wording.board_group("freeze");
            board.sections.push(Section { heading, rows: Rows::Lots(rescues) });
        }
        let notes = [self.too_much(&plan), self.runs_short(&plan), self.without_weight()];
        let notes = notes.iter().filter(|note| !note.is_empty()).map(|note| note.to_plain());
        board.notes.extend(notes);
        board
    }

    fn plan_rows(&self, plan: &Until<'_, '_>) -> Vec<DayRow> {
        let appetite = self.appetite();
        let days = plan.until.days_since(self.today).clamp(1, MOST_DAYS);
        let row = |number: i64| {
            let day = self.today.plus(number - 1);
            let eaten = plan.cover.eaten.iter().filter(|(eaten, _, _)| *eaten == number);
            let mut grams: Vec<(usize, i64)> =
                eaten.map(|(_, index, grams)| (*index, *grams)).collect();
            grams.sort_unstable();
            let total: i64 = grams.iter().map(|(_, grams)| grams).sum();
            let mut names: Vec<String> = Vec::new();
            for (index, _) in &grams {
                let name = self.wording.lot_name(plan.lots[*index].lot, self.foods);
                if !names.contains(&name) && names.len() < NAMES_A_DAY {
                    names.push(short(&name));
                }
            }
            let away = self.is_away(day);
            let foods = match names.as_slice() {
                [] if away => self.wording.board_value("away"),
                [] => self.wording.board_value("nothing"),
                names => names.join(", "),
            };
            let units = self.state.settings.units;
            DayRow {
                day: self.wording.day_short(day, self.today),
                foods,
                amount: if total > 0 { self.wording.weight(total, units) } else { String::new() },
                met: if away {
                    Share::WHOLE
                } else {
                    Share::of(total as f64, appetite.on(self.state, day) as f64)
                },
            }
        };
        let mut rows: Vec<DayRow> = (1..=days).map(row).collect();
        // Days with nothing left at the end of the plan are one row.
        let last = rows.iter().rposition(|row| !row.amount.is_empty()).map_or(0, |last| last + 1);
        if rows.len() > last + 1
            && !(last..days as usize).any(|n| self.is_away(self.today.plus(n as i64)))
        {
            rows.truncate(last + 1);
            rows[last].day = self.wording.day_from(self.today.plus(last as i64), self.today);
        }
        rows
    }
}

impl Outlook<'_> {
    /// The month: food wasted against the target, money against the budget, what was lost most.
    pub fn month_board(&self) -> Board {
        let period = Period::of(Span::Month, false, self.today);
        let mut board = self.empty_board(Scene::Month, self.wording.board_month(self.today));
        if self.state.ledger.is_empty() && self.state.trips.is_empty() {
            board.notes.push(self.wording.ledger_empty().to_plain());
            return board;
        }
        let balance = Balance::over(&period, self.log, self.state);
        let gauges = vec![self.waste_gauge(&balance), self.money_gauge()];
        board.sections.push(Section { heading: String::new(), rows: Rows::Gauges(gauges) });
        let lost = waste::lost_most(&self.state.losses, &period);
        let most = lost.iter().map(|lost| lost.grams).max().unwrap_or(0);
        let rows: Vec<LotRow> =
            lost.iter().take(MOST_LOST).map(|lost| self.lost_row(lost, most)).collect();
        if !rows.is_empty() {
            let heading = self.wording.board_group("lost");
            board.sections.push(Section { heading, rows: Rows::Lots(rows) });
        }
        if balance.waste_share().is_some() && balance.is_rough() {
            board.notes.push(self.wording.board_rough());
        }
        if let Some(forecast) = money::month(self.state, self.today).forecast {
            let [likely, low, high] =
                [forecast.likely, forecast.low, forecast.high].map(|minor| self.money(minor));
            board.notes.push(self.wording.ledger_forecast(&likely, &low, &high));
        }
        board.legend = self.wording.board_legend("month");
        board
    }

    fn waste_gauge(&self, balance: &Balance) -> Gauge {
        let label = self.wording.board_value("waste");
        let target = self.state.settings.target_percent;
        let Some(share) = balance.waste_share() else {
            let value = self.wording.board_value("no-share");
            return Gauge { mark: Mark::Unknown, label, value, bar: None, line: String::new() };
        };
        let percent = share * 100.0;
        // Room for twice the target: half the bar is well done.
        let scale = target.map_or(0.0, |target| 2.0 * f64::from(target));
        let scale = scale.max(percent * 1.1).max(LEAST_SCALE_PERCENT);
        let mut bar = Bar::solid(Share::of(percent, scale));
        if let Some(target) = target {
            bar = bar.with_line(Share::of(f64::from(target), scale));
        }
        let over = target.is_some_and(|target| percent > f64::from(target));
        Gauge {
            mark: if over { Mark::Now } else { Mark::Keeps },
            label,
            value: self.wording.board_percent(percent.round() as i64),
            bar: Some(bar),
            line: target.map_or_else(
                || self.wording.board_value("no-target"),
                |target| self.wording.board_target(target),
            ),
        }
    }

    fn money_gauge(&self) -> Gauge {
        let month = money::month(self.state, self.today);
        let (spent, likely) = (month.spent.0 as f64, month.forecast.map(|f| f.likely.0 as f64));
        let limit = month.budget.map(|budget| budget.0 as f64);
        let scale = limit.unwrap_or(0.0).max(spent).max(likely.unwrap_or(0.0)) * 1.1;
        let mut bar =
            Bar::range(Share::of(spent, scale), Share::of(likely.unwrap_or(spent), scale));
        if let Some(limit) = limit {
            bar = bar.with_line(Share::of(limit, scale));
        }
        let over = limit.is_some_and(|limit| spent > limit);
        Gauge {
            mark: if over { Mark::Now } else { Mark::Keeps },
            label: self.wording.board_value("spent"),
            value: self.money(month.spent),
            bar: (scale > 0.0).then_some(bar),
            line: month.budget.map_or_else(
                || self.wording.board_value("no-budget"),
                |budget| self.wording.board_budget(&self.money(budget)),
            ),
        }
    }

    /// A food that was lost, with people's own word for why.
    fn lost_row(&self, lost: &Lost, most: i64) -> LotRow {
        let name = self.wording.food(&lost.of, self.foods, true);
        let label = match lost.reasons.first() {
            Some(reason) => self.wording.board_lost(&name, reason),
            None => name,
        };
        let value = match lost.grams {
            0 => self.wording.board_times(lost.times),
            grams => self.wording.weight(grams, self.state.settings.units),
        };
        let bar = (lost.grams > 0).then(|| Bar::solid(Share::of(lost.grams as f64, most as f64)));
        LotRow { mark: Mark::Unknown, label: short(&label), value, bar }
    }
}

fn has_bars(section: &Section) -> bool {
    match &section.rows {
        Rows::Lots(rows) => rows.iter().any(|row| row.bar.is_some()),
        Rows::Days(_) | Rows::Gauges(_) => true,
    }
}

/// Where a number of days stands on the scale of days left.
fn days_share(days: f64) -> Share {
    Share::of((1.0 + days.max(0.0)).ln(), (1.0 + LONGEST_DAYS).ln())
}

fn days_between(from: Instant, to: Instant) -> f64 {
    to.minutes_since(from) as f64 / (24.0 * 60.0)
}

fn short(label: &str) -> String {
    if label.chars().count() <= LABEL_CHARS {
        return label.to_owned();
    }
    let kept: String = label.chars().take(LABEL_CHARS - 1).collect();
    format!("{}…", kept.trim_end())
}
