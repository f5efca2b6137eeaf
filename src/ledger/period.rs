//! The stretches of time people ask figures for: a day, a week, a month, a year, everything.

use crate::dates::KitchenDay;

/// Which stretch; a week begins on Monday, a month and a year are those of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Span {
    Today,
    Week,
    Month,
    Year,
    /// Since the log began.
    All,
}

/// A stretch of days, both ends counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Period {
    pub span: Span,
    /// The one before the present one.
    pub last: bool,
    /// `None`: since the log began.
    pub from: Option<KitchenDay>,
    pub until: KitchenDay,
}

impl Period {
    /// The stretch of `span` that `today` is in, up to today; or the whole one `last` before it.
    pub fn of(span: Span, last: bool, today: KitchenDay) -> Period {
        let first = first_of(span, today);
        let Some(first) = first.filter(|_| last) else {
            return Period { span, last: false, from: first, until: today };
        };
        let until = first.plus(-1);
        Period { span, last, from: first_of(span, until), until }
    }

    /// The period a question names by its words ("last month"); the present month when it names
    /// none.
    pub fn named(topic: &str, today: KitchenDay) -> Period {
        let says = |word: &str| topic.split(' ').any(|each| each == word);
        let spans = [
            ("today", Span::Today),
            ("week", Span::Week),
            ("month", Span::Month),
            ("year", Span::Year),
            ("ever", Span::All),
        ];
        let span = spans.iter().find(|(word, _)| says(word)).map_or(Span::Month, |(_, span)| *span);
        Period::of(span, says("last"), today)
    }

    pub fn contains(&self, day: KitchenDay) -> bool {
        self.from.is_none_or(|from| from <= day) && day <= self.until
    }
}

fn first_of(span: Span, day: KitchenDay) -> Option<KitchenDay> {
    let back = match span {
        Span::Today => 0,
        Span::Week => i64::from(day.weekday().num_days_from_monday()),
        Span::Month => i64::from(day.day_of_month()) - 1,
        Span::Year => KitchenDay::new(day.year(), 1, 1).map_or(0, |first| day.days_since(first)),
        Span::All => return None,
    };
    Some(day.plus(-back))
}
