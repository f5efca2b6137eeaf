//! How much is said: a busy family day, and edits that change nothing.

use std::process::{Command, Stdio};

use proptest::prelude::*;
use serde_json::Value;

/// Plays a log and gives what the bot said.
fn played(log: &str) -> Vec<Value> {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("log.txt");
    std::fs::write(&path, log).expect("a file");
    let output = Command::new(env!("CARGO_BIN_EXE_larderling"))
        .args(["replay", "--json"])
        .arg(&path)
        .stdin(Stdio::null())
        .output()
        .expect("the program runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).expect("UTF-8");
    text.lines().map(|line| serde_json::from_str(line).expect("a row")).collect()
}

/// One day of five people: shop, meals, chores, children, and a great deal of chatter.
const BUSY_DAY: &str = "\
@household tz=Europe/London units=metric people=5 currency=GBP
2026-03-01 18:00 | Ada | got 3 leeks, 2 kg potatoes, a bunch of chard, 400 g mince and 6 plums 21.40
2026-03-01 18:01 | Ada | and a punnet of strawberries
2026-03-01 18:05 | Ada | all put away
2026-03-01 18:40 | Ada | cut up the celery, it's in water
2026-03-02 07:05 | Wren | morning all
2026-03-02 07:06 | Moss | who has the car today?
2026-03-02 07:10 | Ada | me, back by five
2026-03-02 07:31 | Pip | where are my gym shoes
2026-03-02 07:32 | Ada | under the stairs
2026-03-02 07:50 | Moss | running late, sorry
2026-03-02 08:15 | Wren | used 2 plums
2026-03-02 08:15 | Wren | and the last of the strawberries
2026-03-02 08:20 | Wren | changed the water
2026-03-02 09:02 | Ada | can you pick up the parcel? the neighbour has it
2026-03-02 09:03 | Moss | ok
2026-03-02 10:30 | Ada | dentist moved to thursday
2026-03-02 12:10 | Moss | larderling, what's first?
2026-03-02 12:15 | Moss | used 1 leek and 500 g potatoes
2026-03-02 12:40 | Pip | school was SO boring
2026-03-02 12:41 | Pip | can I have ten euros
2026-03-02 13:00 | Ada | ask your father
2026-03-02 15:30 | Wren | larderling, can you eat chard stalks?
2026-03-02 15:31 | Wren | thanks
2026-03-02 16:00 | Ada | got milk and bread 3.20
2026-03-02 16:10 | Moss | film night on friday?
2026-03-02 16:11 | Wren | yes please
2026-03-02 16:12 | Pip | not another documentary
2026-03-02 16:13 | Moss | no promises
2026-03-02 17:00 | Ada | home in ten
2026-03-02 18:20 | Moss | made mince pie, 5 portions, with 400 g mince and 2 leeks
2026-03-02 18:21 | Moss | dinner!
2026-03-02 19:30 | Wren | tossed the chard leaves, slimy
2026-03-02 20:00 | Ada | we need rice and a lemon
2026-03-02 20:30 | Pip | night
2026-03-02 20:31 | Ada | sleep well
2026-03-02 21:00 | Moss | match was awful
2026-03-02 21:01 | Wren | told you
2026-03-02 21:30 | Ada | lights off please
2026-03-02 23:00 | Ada | !tick
";

#[test]
fn a_busy_family_day_is_answered_sparingly() {
    let log = BUSY_DAY.replace("| Ada | !tick", "| !tick");
    let rows = played(&log);
    let day: Vec<&Value> =
        rows.iter().filter(|row| row["at"].as_str().unwrap().starts_with("2026-03-02")).collect();
    let kind = |kind: &str| day.iter().filter(|row| row["kind"] == kind).count();
    assert_eq!(kind("post"), 1, "one post a day");
    assert!(kind("reminder") <= 1, "one round");
    assert_eq!(kind("error"), 0);
    let lines: Vec<&str> = log.lines().collect();
    for row in &day {
        let Some(line) = row["for"].as_u64() else { continue };
        let answered = day.iter().filter(|other| other["for"] == row["for"]).count();
        assert_eq!(answered, 1, "at most one answer to {:?}", lines[line as usize - 1]);
    }
    // Thirteen messages were for it; the other two dozen get nothing.
    let new = kind("reply") + kind("post") + kind("reminder");
    assert!(new <= 13, "{new} messages: {day:#?}");
    // Unprompted: never more than the post and the round, and none by night.
    let unprompted = day.iter().filter(|row| row["for"].is_null());
    for row in unprompted {
        let at = &row["at"].as_str().unwrap()[11..];
        assert!(("06:00".."22:00").contains(&at), "{row}");
    }
}

/// The same words with other spaces, capitals and stops: no new meaning.
fn cosmetic(words: &str, how: u8) -> String {
    match how % 4 {
        0 => words.to_uppercase(),
        1 => format!("{words}."),
        2 => words.replace(' ', "  "),
        _ => format!(" {words}!"),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 5, ..ProptestConfig::default() })]

    /// Each case is a hundred messages and their edits, half of them cosmetic.
    #[test]
    fn prop_an_edit_counts_exactly_when_its_meaning_changed(seed in proptest::collection::vec((1_u32..9, 1_u32..9, any::<u8>()), 100)) {
        const FOODS: [&str; 10] = ["leeks", "melons", "plums", "lemons", "onions", "pears",
            "peaches", "limes", "turnips", "cabbages"];
        let mut log = "@household tz=Europe/London units=metric people=5\n".to_owned();
        let mut expected = std::collections::BTreeMap::new();
        let mut meant = std::collections::BTreeSet::new();
        for (number, (first, second, how)) in seed.iter().enumerate() {
            let food = FOODS[number % FOODS.len()];
            let at = |minute: usize| {
                let minute = number * 4 + minute;
                format!("2026-03-01 {:02}:{:02}", 8 + minute / 60, minute % 60)
            };
            let said = format!("got {first} {food}");
            log.push_str(&format!("{} | Ada | {said} [m{number}]\n", at(0)));
            let line = log.lines().count() + 1;
            let count = if number % 2 == 0 {
                log.push_str(&format!("{} | Ada | edit [m{number}]: {}\n", at(2), cosmetic(&said, *how)));
                first
            } else {
                log.push_str(&format!("{} | Ada | edit [m{number}]: got {second} {food}\n", at(2)));
                if first != second {
                    meant.insert(line);
                }
                second
            };
            *expected.entry(food).or_insert(0) += count;
        }
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("log.txt");
        std::fs::write(&path, &log).expect("a file");
        let output = Command::new(env!("CARGO_BIN_EXE_larderling"))
            .args(["replay", "--json", "--state"])
            .arg(&path)
            .output()
            .expect("the program runs");
        let text = String::from_utf8(output.stdout).expect("UTF-8");
        let rows: Vec<Value> = text.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
        let (state, rows) = rows.split_last().expect("a state");
        let edits = log.lines().enumerate().filter(|(_, line)| line.contains("| edit ["));
        for (index, line) in edits {
            let changed = rows.iter().any(|row| row["for"] == index + 1);
            prop_assert_eq!(changed, meant.contains(&(index + 1)), "{}", line);
        }
        for (food, count) in expected {
            let singular = if food == "peaches" { "peach" } else { food.trim_end_matches('s') };
            let lots = state["lots"].as_array().unwrap();
            let sum: f64 = lots
                .iter()
                .filter(|lot| lot["food"] == singular || lot["name"] == food)
                .filter_map(|lot| lot["quantity"].as_f64())
                .sum();
            prop_assert_eq!(sum, f64::from(count), "{}", food);
        }
    }
}
