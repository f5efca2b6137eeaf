//! Days people name, against a table of cases and against PyPI `dateparser` where it is right.

use larderling::dates::KitchenDay;
use larderling::reader::days::{self, Calendar, DateOrder, DaySpan, Facing, Reach, elapsed};
use larderling::reader::lexicon::Lexicon;
use larderling::reader::tokens::Text;
use larderling::reader::{Analysis, ReadContext};
use proptest::prelude::*;

use Facing::{Future, Past};

/// A Wednesday.
const TODAY: &str = "2026-03-11";

fn all_days(text: &str, facing: Facing, order: DateOrder) -> Vec<DaySpan> {
    let lexicon = Lexicon::default();
    let mut context = ReadContext::new(TODAY.parse().unwrap());
    context.date_order = order;
    let analysis = Analysis::new(text, &lexicon, &context);
    days::find_all(&analysis, 0..analysis.text.len(), facing)
}

/// The days and the text left once their words are taken out.
fn read(text: &str, facing: Facing, order: DateOrder) -> (Vec<String>, String) {
    let tokens = Text::new(text);
    let found = all_days(text, facing, order);
    let spoken = |i: usize| found.iter().any(|day| day.tokens.contains(&i));
    let rest: Vec<&str> =
        (0..tokens.len()).filter(|i| !spoken(*i)).map(|i| tokens.word(i)).collect();
    let days = found.iter().map(|d| d.day.map_or("vague".to_owned(), |day| day.to_string()));
    (days.collect(), rest.join(" "))
}

#[test]
fn days_are_read_as_people_mean_them_and_leave_the_rest_of_the_message_alone() {
    let cases: &[(&str, Facing, &str, &str)] = &[
        // Plain.
        ("bought leeks yesterday", Past, "2026-03-10", "bought leeks"),
        ("ate 2 plums last night", Past, "2026-03-10", "ate 2 plums"),
        ("used the peas this morning", Past, "2026-03-11", "used the peas"),
        ("earlier today i froze 5 peaches", Past, "2026-03-11", "i froze 5 peaches"),
        ("cooked it tonight", Past, "2026-03-11", "cooked it"),
        ("yesterday evening we ate the pie", Past, "2026-03-10", "we ate the pie"),
        ("the day before yesterday", Past, "2026-03-09", ""),
        ("night before last", Past, "2026-03-09", ""),
        ("the other day", Past, "vague", ""),
        ("a few days ago", Past, "vague", ""),
        // Weekdays, looking back; a weekday is never today.
        ("on sunday", Past, "2026-03-08", ""),
        ("soup from monday", Past, "2026-03-09", "soup"),
        ("in the fridge since monday", Past, "2026-03-09", "in the fridge"),
        ("last tuesday", Past, "2026-03-10", ""),
        ("last sunday", Past, "2026-03-08", ""),
        ("this past friday", Past, "2026-03-06", ""),
        ("friday just gone", Past, "2026-03-06", ""),
        ("wednesday", Past, "2026-03-04", ""),
        ("monday last week", Past, "2026-03-02", ""),
        ("monday of last week", Past, "2026-03-02", ""),
        ("last week's friday", Past, "2026-03-06", ""),
        ("last week on tuesday", Past, "2026-03-03", ""),
        ("the monday before last", Past, "2026-03-02", ""),
        ("two mondays ago", Past, "2026-03-02", ""),
        ("got this burger two mondays ago", Past, "2026-03-02", "got this burger"),
        ("3 fridays ago", Past, "2026-02-20", ""),
        ("a week ago monday", Past, "2026-03-02", ""),
        ("a week last friday", Past, "2026-02-27", ""),
        ("a week ago yesterday", Past, "2026-03-03", ""),
        ("sunday's roast", Past, "2026-03-08", "roast"),
        ("the stew from sunday night", Past, "2026-03-08", "the stew"),
        ("at the weekend", Past, "2026-03-07", ""),
        ("last weekend", Past, "2026-03-07", ""),
        ("wensday", Past, "2026-03-04", ""),
        ("got it sat", Past, "", "got it sat"),
        ("got it on sat", Past, "2026-03-07", "got it"),
        ("thurs", Past, "2026-03-05", ""),
        // Counted.
        ("3 days ago", Past, "2026-03-08", ""),
        ("2 days back", Past, "2026-03-09", ""),
        ("a couple of days ago", Past, "2026-03-09", ""),
        ("couple days ago", Past, "2026-03-09", ""),
        ("two or three days ago", Past, "2026-03-08", ""),
        ("2-3 days ago", Past, "2026-03-08", ""),
        ("about a week ago", Past, "2026-03-04", ""),
        ("a fortnight ago", Past, "2026-02-25", ""),
        ("two weeks ago", Past, "2026-02-25", ""),
        ("a month ago", Past, "2026-02-11", ""),
        ("4 years ago", Past, "2022-03-11", ""),
        ("5 hours ago", Past, "2026-03-11", ""),
        ("half an hour ago", Past, "2026-03-11", ""),
        ("last week", Past, "2026-03-04", ""),
        // Dates.
        ("the 9th", Past, "2026-03-09", ""),
        ("on the 14th", Past, "2026-02-14", ""),
        ("the 31st", Past, "2026-01-31", ""),
        ("9 march", Past, "2026-03-09", ""),
        ("march 9", Past, "2026-03-09", ""),
        ("9th of march", Past, "2026-03-09", ""),
        ("the ninth of march", Past, "2026-03-09", ""),
        ("March 9th, 2026", Past, "2026-03-09", ""),
        ("on 30 dec", Past, "2025-12-30", ""),
        ("2026-03-09", Past, "2026-03-09", ""),
        ("2026/03/09", Past, "2026-03-09", ""),
        ("9.3.2026", Past, "2026-03-09", ""),
        ("9/3/26", Past, "2026-03-09", ""),
        ("9-3-2026", Past, "2026-03-09", ""),
        ("bought on 9/3", Past, "2026-03-09", "bought"),
        ("since 28/2", Past, "2026-02-28", ""),
        // Forward.
        ("tomorrow", Future, "2026-03-12", ""),
        ("tmrw", Future, "2026-03-12", ""),
        ("2moro", Future, "2026-03-12", ""),
        ("the day after tomorrow", Future, "2026-03-13", ""),
        ("in 3 days", Future, "2026-03-14", ""),
        ("3 days from now", Future, "2026-03-14", ""),
        ("in a couple of weeks", Future, "2026-03-25", ""),
        ("next friday", Future, "2026-03-13", ""),
        ("friday next week", Future, "2026-03-20", ""),
        ("monday week", Future, "2026-03-23", ""),
        ("a week on friday", Future, "2026-03-20", ""),
        ("this friday", Future, "2026-03-13", ""),
        ("plan until the 14th", Future, "2026-03-14", "plan"),
        ("what won't last till saturday", Future, "2026-03-14", "what won't last"),
        ("shop is on the 12th", Future, "2026-03-12", "shop is"),
        ("away from the 12th to the 14th", Future, "2026-03-12 2026-03-14", "away"),
        ("away friday to sunday", Future, "2026-03-13 2026-03-15", "away"),
        ("this weekend", Future, "2026-03-14", ""),
        ("by the end of the month", Future, "2026-03-31", ""),
        ("until the end of the week", Future, "2026-03-15", ""),
        ("milk x2, use by the 9th", Future, "2026-04-09", "milk x 2 , use"),
        ("till christmas", Future, "2026-12-25", ""),
        ("until 1/4", Future, "2026-04-01", ""),
        // Prices, amounts and other words stay.
        ("yesterday 6.40", Past, "2026-03-10", "6.40"),
        ("sunday 3 leeks", Past, "2026-03-08", "3 leeks"),
        ("leeks 9.3 on monday", Past, "2026-03-09", "leeks 9.3"),
        ("1/2 cup cream", Past, "", "1/2 cup cream"),
        ("got 3/4 cup of sugar today", Past, "2026-03-11", "got 3/4 cup of sugar"),
        ("we may 3 of us eat", Past, "", "we may 3 of us eat"),
        ("on the 9th floor", Past, "", "on the 9th floor"),
        ("her 9th birthday", Past, "", "her 9th birthday"),
        ("the sun was out", Past, "", "the sun was out"),
        ("we sat down and wed", Past, "", "we sat down and wed"),
        ("chocolate sundae", Past, "", "chocolate sundae"),
        ("5 lb in the freezer", Past, "", "5 lb in the freezer"),
    ];
    let mut wrong = Vec::new();
    for (text, facing, days, rest) in cases {
        let (found, left) = read(text, *facing, DateOrder::DayFirst);
        let left = left.replace("9 th", "9th").replace("  ", " ");
        if (found.join(" ").as_str(), left.as_str()) != (*days, *rest) {
            wrong.push(format!("{text:?}: days {found:?}, rest {left:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_written_order_of_day_and_month_follows_the_household() {
    for (text, order, expected) in [
        ("on 9/3", DateOrder::DayFirst, "2026-03-09"),
        ("on 3/9", DateOrder::MonthFirst, "2026-03-09"),
        ("on 9/3", DateOrder::MonthFirst, "2025-09-03"),
        ("on 28/2", DateOrder::MonthFirst, "2026-02-28"),
        ("on 2/28", DateOrder::DayFirst, "2026-02-28"),
    ] {
        assert_eq!(read(text, Past, order).0, [expected], "{text}");
    }
}

#[test]
fn since_looks_back_and_until_looks_forward_whatever_the_talk() {
    for (text, facing, reach, expected) in [
        ("since friday", Future, Reach::Since, "2026-03-06"),
        ("until friday", Past, Reach::Until, "2026-03-13"),
        ("by the 9th", Past, Reach::Until, "2026-04-09"),
        ("on friday", Past, Reach::On, "2026-03-06"),
    ] {
        let found = all_days(text, facing, DateOrder::DayFirst);
        assert_eq!(found[0].reach, reach, "{text}");
        assert_eq!(found[0].day.unwrap().to_string(), expected, "{text}");
    }
}

/// The referee's answers, where it reads the wording as people mean it. It takes the Monday of
/// this week for "monday last week", and leaves three wordings unread.
#[test]
fn plain_wordings_agree_with_a_general_date_library() {
    let referee = include_str!("../data/dateparser_days.tsv");
    let misread = ["monday last week"];
    let mut compared = 0;
    for line in referee.lines().filter(|line| !line.starts_with('#')) {
        let [wording, facing, day] = line.split('\t').collect::<Vec<_>>()[..] else {
            panic!("three columns: {line:?}");
        };
        if day == "-" || misread.contains(&wording) {
            continue;
        }
        let facing = if facing == "past" { Past } else { Future };
        let (found, _) = read(wording, facing, DateOrder::DayFirst);
        assert_eq!(found, [day], "{wording}");
        compared += 1;
    }
    assert!(compared >= 50, "only {compared} wordings compared");
}

#[test]
fn spans_of_time_are_read_in_minutes() {
    let day = 24 * 60;
    let cases: &[(&str, Option<u32>, bool)] = &[
        ("left out 5 hours", Some(300), false),
        ("left out for 2.5 hours", Some(150), false),
        ("an hour and a half", Some(90), false),
        ("2 and a half hours", Some(150), false),
        ("1 1/2 hours", Some(90), false),
        ("half an hour", Some(30), false),
        ("out for 45min", Some(45), false),
        ("5h on the counter", Some(300), false),
        ("overnight", Some(480), false),
        ("all night", Some(480), false),
        ("for a couple of days", Some(2 * day), false),
        ("for four months", Some(120 * day), false),
        ("3-4 days in the fridge", Some(4 * day), false),
        ("a few hours", None, false),
        ("3 day old rice", Some(3 * day), true),
        ("3-day-old rice", Some(3 * day), true),
        ("4 years old", Some(4 * 365 * day), true),
    ];
    for (text, minutes, age) in cases {
        let tokens = Text::new(text);
        let found = elapsed::find(&tokens, 0..tokens.len());
        let found = found.unwrap_or_else(|| panic!("{text}: nothing found"));
        assert_eq!((found.minutes, found.age), (*minutes, *age), "{text}");
    }
    for text in ["3 leeks", "2 days ago", "5 lb carrots", "a bunch of mint"] {
        let tokens = Text::new(text);
        assert_eq!(elapsed::find(&tokens, 0..tokens.len()), None, "{text}");
    }
}

proptest! {
    #[test]
    fn prop_any_text_is_read_without_fault_and_within_its_bounds(text in "\\PC{0,60}") {
        for facing in [Past, Future] {
            let tokens = Text::new(&text);
            for day in all_days(&text, facing, DateOrder::DayFirst) {
                prop_assert!(day.tokens.end <= tokens.len() && !day.tokens.is_empty());
            }
        }
    }

    #[test]
    fn prop_days_said_by_name_never_point_the_wrong_way(
        offset in 0_i64..800,
        name in prop::sample::select(vec!["monday", "the 9th", "9 march", "friday", "31 jan"]),
    ) {
        let today = KitchenDay::new(2026, 1, 1).unwrap().plus(offset);
        let context = ReadContext::new(today);
        let lexicon = Lexicon::default();
        let analysis = Analysis::new(name, &lexicon, &context);
        let all = 0..analysis.text.len();
        let day = |facing| days::find(&analysis, all.clone(), facing).unwrap().day.unwrap();
        prop_assert!(day(Past) <= today && today <= day(Future));
        let Calendar { today: seen, .. } = context.calendar();
        prop_assert_eq!(seen, today);
    }
}
