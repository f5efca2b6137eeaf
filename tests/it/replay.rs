//! The replay format: its directives, its rows, its errors.

use std::io::Write;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

/// `larderling replay` with a log on its standard input.
fn replay(log: &str, options: &[&str]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_larderling"))
        .arg("replay")
        .args(options)
        .arg("-")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("starts");
    child.stdin.take().expect("its input").write_all(log.as_bytes()).expect("reads it");
    child.wait_with_output().expect("ends")
}

/// The rows of a log that plays.
fn rows(log: &str) -> Vec<Value> {
    let output = replay(log, &["--json"]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).expect("text");
    text.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect()
}

fn texts(rows: &[Value]) -> Vec<&str> {
    rows.iter().filter_map(|row| row["text"].as_str()).collect()
}

/// The rows that answer a line of the log.
fn answering(rows: &[Value], line: u64) -> Vec<&Value> {
    rows.iter().filter(|row| row["for"] == line).collect()
}

const HOUSEHOLD: &str =
    "@household tz=Europe/Berlin units=metric people=4 currency=EUR country=DE\n";

#[test]
fn a_row_has_every_field_of_the_format() {
    let rows = rows(&format!("{HOUSEHOLD}2026-03-02 10:00 | Ada | got 3 leeks\n"));
    let row = answering(&rows, 2)[0].as_object().expect("an object");
    let keys: Vec<&str> = row.keys().map(String::as_str).collect();
    let mut expected = ["at", "kind", "for", "to", "text", "buttons", "keys", "picture"];
    expected.sort_unstable();
    assert_eq!(keys, expected);
    assert_eq!(row["at"], "2026-03-02 10:00");
    assert_eq!(row["kind"], "reply");
    assert_eq!(row["to"], Value::Null);
    assert_eq!(row["picture"], false);
    assert!(row["keys"].as_array().expect("keys").iter().any(|key| key == "undo"));
    let (buttons, keys) = (row["buttons"].as_array(), row["keys"].as_array());
    assert_eq!(buttons.map(Vec::len), keys.map(Vec::len));
}

#[test]
fn a_malformed_or_earlier_line_ends_with_two_and_its_number() {
    let good = "2026-03-02 10:00 | Ada | got 3 leeks";
    let cases = [
        ("2026-03-02 09:59 | Ada | got 3 leeks", "earlier than the line above"),
        ("2026-03-01 10:00 | !tick", "earlier than the line above"),
        ("hello", "expected YYYY-MM-DD HH:MM | person | text"),
        ("2026-03-02 10:00", "expected"),
        ("2026-03-02 10:00 | Ada", "expected"),
        ("2026-13-02 10:00 | Ada | hi", "not a day"),
        ("2026-03-02 25:00 | Ada | hi", "not a time"),
        ("2026-03-02 10:00 |  | hi", "nobody is named"),
        ("2026-03-02 10:00 | !dance", "unknown directive !dance"),
        ("2026-03-02 10:00 | !join", "needs a name"),
        ("2026-03-02 10:00 | Ada | edit [nope]: hi", "no message above is named [nope]"),
        ("2026-03-02 10:00 | Ada | reply [nope]: hi", "no message above is named [nope]"),
        ("@household tz=Europe/Berlin", "above the first dated line"),
    ];
    for (line, why) in cases {
        let output = replay(&format!("# a log\n{good}\n{line}\n"), &["--json"]);
        let error = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{line}: {error}");
        assert!(error.contains("line 3: ") && error.contains(why), "{line}: {error}");
        assert!(output.stdout.is_empty(), "{line}: nothing is played");
    }
    for (line, why) in [
        ("@household tz=Nowhere/Land", "tz takes an IANA time zone"),
        ("@household post=late", "post takes a time"),
        ("@household colour=blue", "no setting \"colour\""),
        ("@household tz", "not key=value"),
    ] {
        let output = replay(line, &[]);
        let error = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{line}: {error}");
        assert!(error.contains("line 1: ") && error.contains(why), "{line}: {error}");
    }
}

#[test]
fn a_log_plays_the_same_every_time() {
    let log = format!(
        "{HOUSEHOLD}2026-03-02 10:00 | Ada | got 3 leeks, 1 kg carrots and 400 g mince 7.20\n\
         2026-03-02 18:00 | Wren | cut up the carrots, they're in water\n\
         2026-03-09 20:00 | !tick\n"
    );
    let play = || replay(&log, &["--json", "--state"]).stdout;
    let first = play();
    assert!(!first.is_empty());
    assert_eq!(first, play());
}

#[test]
fn posts_come_at_their_own_minute_and_the_clock_stops_at_the_last_line() {
    let rows = rows(&format!(
        "{HOUSEHOLD}2026-03-02 10:00 | Ada | got 3 leeks and 400 g mince\n2026-03-04 06:59 | !tick\n"
    ));
    let posts: Vec<&str> = rows
        .iter()
        .filter(|row| row["kind"] == "post")
        .filter_map(|row| row["at"].as_str())
        .collect();
    assert_eq!(posts, ["2026-03-03 07:00"]);
    assert!(rows.iter().filter(|row| row["kind"] == "post").all(|row| row["for"] == Value::Null));
}

#[test]
fn a_post_is_made_once_on_the_days_the_clocks_change() {
    let log = |zone: &str, first: &str, last: &str| {
        format!(
            "@household tz={zone} post=02:30\n{first} 12:00 | Ada | got 3 leeks and 1 kg carrots\n\
             {last} 12:00 | !tick\n"
        )
    };
    let cases = [
        // The gap: 02:30 does not happen, and is read with the offset before it.
        ("Europe/Berlin", "2026-03-28", "2026-03-29", "2026-03-29 03:30"),
        ("America/New_York", "2026-03-07", "2026-03-08", "2026-03-08 03:30"),
        // The overlap: 02:30 happens twice in Berlin, and means the first.
        ("Europe/Berlin", "2026-10-24", "2026-10-25", "2026-10-25 02:30"),
        ("America/New_York", "2026-10-31", "2026-11-01", "2026-11-01 02:30"),
    ];
    for (zone, first, last, at) in cases {
        let rows = rows(&log(zone, first, last));
        let posts: Vec<&str> = rows
            .iter()
            .filter(|row| row["kind"] == "post")
            .filter_map(|row| row["at"].as_str())
            .collect();
        assert_eq!(posts, [at], "{zone} {last}");
    }
}

#[test]
fn edits_and_replies_find_the_message_they_name() {
    let rows = rows(&format!(
        "{HOUSEHOLD}2026-03-02 10:00 | Ada | got 3 leeks [shop]\n\
         2026-03-02 10:05 | Ada | edit [shop]: got 5 leeks\n\
         2026-03-02 10:10 | Wren | reply: undo\n\
         2026-03-02 10:11 | Wren | larderling, what do we have?\n"
    ));
    assert!(!answering(&rows, 3).is_empty(), "{rows:#?}");
    assert!(!answering(&rows, 4).is_empty(), "a reply to the bot is spoken to it");
    let have = answering(&rows, 5);
    assert!(!have[0]["text"].as_str().expect("text").contains("leek"), "{have:?}");
}

#[test]
fn a_press_finds_its_button_by_key_or_label_and_misses_with_an_error() {
    for wanted in ["undo", "UNDO", "Undo"] {
        let rows = rows(&format!(
            "{HOUSEHOLD}2026-03-02 10:00 | Ada | got 3 leeks\n\
             2026-03-02 10:01 | Ada | press: {wanted}\n"
        ));
        let pressed = answering(&rows, 3);
        assert!(!pressed.is_empty() && pressed[0]["kind"] != "error", "{wanted}: {pressed:?}");
    }
    let rows = rows(&format!("{HOUSEHOLD}2026-03-02 10:00 | Ada | press: changed\n"));
    assert_eq!(rows.len(), 1);
    assert_eq!((&rows[0]["kind"], &rows[0]["for"]), (&"error".into(), &2.into()));
}

#[test]
fn a_private_line_is_spoken_to_the_bot_and_answered_to_its_writer() {
    let rows = rows(&format!(
        "{HOUSEHOLD}2026-03-02 10:00 | Ada | got 3 leeks\n\
         2026-03-02 10:05 | Wren (private) | what do we have?\n\
         2026-03-02 10:06 | Wren | what do we have planned tonight\n"
    ));
    let answer = answering(&rows, 3);
    assert_eq!(answer[0]["to"], "Wren");
    assert!(answer[0]["text"].as_str().expect("text").contains("leek"));
    assert!(answering(&rows, 2).iter().all(|row| row["to"] == Value::Null));
}

#[test]
fn what_cannot_be_read_is_silent_in_the_group_unless_it_asks() {
    let rows = rows(&format!(
        "{HOUSEHOLD}2026-03-02 10:00 | !photo Ada\n\
         2026-03-02 10:01 | !voice Ada\n\
         2026-03-02 10:02 | !sticker Ada\n\
         2026-03-02 10:03 | !photo Ada larderling, can we eat this?\n"
    ));
    assert_eq!(rows.len(), 1, "{rows:#?}");
    assert_eq!(rows[0]["for"], 5);
}

#[test]
fn coming_going_and_moving_lose_nothing() {
    let rows = rows(&format!(
        "{HOUSEHOLD}2026-03-02 10:00 | Ada | got 3 leeks\n\
         2026-03-02 11:00 | !join Moss\n\
         2026-03-02 12:00 | !move\n\
         2026-03-02 13:00 | !leave Moss\n\
         2026-03-02 14:00 | Ada | larderling, what do we have?\n\
         2026-03-02 14:01 | Ada | press: undo\n"
    ));
    assert!(answering(&rows, 6)[0]["text"].as_str().expect("text").contains("leek"));
    let pressed = answering(&rows, 7);
    assert_ne!(pressed[0]["kind"], "error", "the button of before the move still works");
    let asks = |line: u64| answering(&rows, line)[0]["text"].as_str().unwrap_or("").to_owned();
    assert!(asks(3).contains("Do 5 eat here now, instead of 4?"), "{}", asks(3));
    assert!(asks(5).contains("Do 3 eat here now, instead of 4?"), "{}", asks(5));
    assert!(answering(&rows, 4).is_empty(), "a move says nothing");
}

#[test]
fn a_stopped_bot_catches_up_in_one_line_and_posts_late_while_useful() {
    let rows = rows(&format!(
        "{HOUSEHOLD}2026-03-02 10:00 | Ada | got 3 leeks and 400 g mince\n\
         2026-03-02 20:00 | !down\n\
         2026-03-02 20:30 | Ada | used 1 leek\n\
         2026-03-03 08:00 | Wren | got 2 lemons\n\
         2026-03-03 10:00 | !up\n\
         2026-03-03 10:05 | Wren | larderling, what do we have?\n"
    ));
    assert!(answering(&rows, 4).is_empty() && answering(&rows, 5).is_empty(), "{rows:#?}");
    let back: Vec<&Value> = rows.iter().filter(|row| row["at"] == "2026-03-03 10:00").collect();
    let kinds: Vec<&str> = back.iter().filter_map(|row| row["kind"].as_str()).collect();
    assert_eq!(kinds.iter().filter(|kind| **kind == "post").count(), 1, "{back:#?}");
    assert_eq!(kinds.iter().filter(|kind| **kind == "reply").count(), 1, "{back:#?}");
    let have = answering(&rows, 7)[0]["text"].as_str().expect("text").to_owned();
    assert!(have.contains("2 leeks") && have.contains("lemon"), "{have}");
}

#[test]
fn the_state_is_the_last_line() {
    let log = format!("{HOUSEHOLD}2026-03-02 10:00 | Ada | got 3 leeks onto the porch 2.40\n");
    let output = replay(&log, &["--json", "--state"]);
    let text = String::from_utf8(output.stdout).expect("text");
    let state: Value = serde_json::from_str(text.lines().last().expect("a line")).expect("JSON");
    assert_eq!(state["lots"][0]["food"], "leek");
    assert_eq!(state["lots"][0]["quantity"], 3.0);
    assert_eq!(state["lots"][0]["unit"], Value::Null);
    assert_eq!(state["lots"][0]["since"], "2026-03-02");
    assert_eq!(state["ledger"]["spent_minor"], 240);
    for key in ["chores", "trimmings", "wanted"] {
        assert!(!state[key].is_null(), "{key}");
    }
}

#[test]
fn plain_text_is_for_people() {
    let log = format!("{HOUSEHOLD}2026-03-02 10:00 | Ada | got 3 leeks\n");
    let output = replay(&log, &["--both"]);
    let text = String::from_utf8(output.stdout).expect("text");
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[0], "2026-03-02 10:00  Ada: got 3 leeks");
    assert!(lines[1].starts_with("2026-03-02 10:00  larderling: Got 3 leeks"), "{text}");
    assert!(text.contains("[Undo]"), "{text}");
    assert!(texts(&rows(&log)).len() == 1);
}

#[test]
fn a_log_as_it_comes_from_other_systems_is_read() {
    let log = "\u{feff}# from elsewhere\r\n@household tz=UTC\r\n\r\n\
               2026-03-02 10:00 | Ada | got 3 leeks\\nand 2 lemons\r\n";
    let rows = rows(log);
    assert_eq!(rows.len(), 1, "{rows:#?}");
    let said = rows[0]["text"].as_str().expect("text");
    assert!(said.contains("leek") && said.contains("lemon"), "{said}");
}

/// One message of the household, spoken to the bot, and what it said to it.
fn told(text: &str) -> String {
    let rows = rows(&format!("{HOUSEHOLD}2026-03-02 10:00 | Ada (private) | {text}\n"));
    let said: Vec<&str> = answering(&rows, 2).iter().filter_map(|r| r["text"].as_str()).collect();
    assert_eq!(said.len(), 1, "{text}: one answer to a message: {said:?}");
    said[0].to_owned()
}

#[test]
fn what_cannot_be_right_is_said_so_and_not_recorded() {
    let cases = [
        ("bought 1e9 kg rice", "more rice than a kitchen holds"),
        ("got 99999999999999999999 eggs", "more eggs than a kitchen holds"),
        ("need 1e12 lemons", "more lemons than a kitchen holds"),
        ("used 1e9 kg rice", "more rice than a kitchen holds"),
        ("got 0 eggs", "Eggs: that amount cannot be right"),
        ("ate 0 plums", "Plums: that amount cannot be right"),
        ("got -3 leeks", "Leeks: that amount cannot be right"),
        ("used minus 2 eggs", "Eggs: that amount cannot be right"),
        ("froze -2 peaches", "Peaches: that amount cannot be right"),
        ("bought milk on 2031-01-01", "1 January 2031 is still to come"),
        ("bought milk on 1999-01-01", "1 January 1999 is too long ago"),
        ("bought rice for 99999999999", "That price is too high to be right"),
        ("budget 1e30", "takes an amount of money"),
        ("the porch is 900C", "takes a temperature"),
    ];
    for (text, words) in cases {
        let said = told(text);
        assert!(said.contains(words), "{text}: {said}");
        let log = format!("{HOUSEHOLD}2026-03-02 10:00 | Ada (private) | {text}\n");
        let output = replay(&log, &["--json", "--state"]);
        let state = String::from_utf8(output.stdout).expect("text");
        let state: Value = serde_json::from_str(state.lines().last().expect("it")).expect("JSON");
        assert_eq!(
            (&state["lots"], &state["wanted"]),
            (&Value::Array(vec![]), &Value::Array(vec![])),
            "{text}"
        );
    }
}

#[test]
fn a_list_of_minus_signs_is_a_list() {
    let said = told("got:\\n-3 leeks\\n-2 lemons");
    assert!(said.contains("3 leeks and 2 lemons"), "{said}");
}

#[test]
fn no_message_is_longer_than_the_platform_takes() {
    let foods = ["leeks", "plums", "carrots", "lemons", "zorbleberries", "beets", "pears"];
    let many: Vec<String> = (1..=340).map(|n| format!("{n} {}", foods[n % foods.len()])).collect();
    let many = many.join(", ");
    let long = "zorbl".repeat(800);
    let log = format!(
        "{HOUSEHOLD}2026-03-02 10:00 | Ada (private) | got {many}\n\
         2026-03-02 10:01 | Ada (private) | what do we have?\n\
         2026-03-02 10:02 | Ada (private) | what's first?\n\
         2026-03-02 10:03 | Ada (private) | press: why\n\
         2026-03-02 10:04 | Ada (private) | used {many}\n\
         2026-03-02 10:05 | Ada (private) | undo\n\
         2026-03-02 10:06 | Ada (private) | got 2 {long}\n\
         2026-03-02 10:07 | Ada (private) | {long}\n\
         2026-03-02 10:08 | Ada (private) | {many}\n\
         2026-03-02 10:09 | Ada (private) | need {many}\n\
         2026-03-02 10:10 | Ada (private) | what do we need?\n\
         2026-03-02 10:11 | Ada (private) | plan until the 14th\n\
         2026-03-02 10:12 | Ada (private) | where do {} go?\n\
         2026-03-02 10:13 | Ada (private) | left everything out overnight\n\
         2026-03-04 20:00 | !tick\n",
        many.replace(char::is_numeric, "")
    );
    let rows = rows(&log);
    assert!(rows.len() > 12, "{rows:#?}");
    for row in &rows {
        let text = row["text"].as_str().expect("text");
        assert!(text.encode_utf16().count() <= 4096, "{} units: {text}", text.len());
    }
    let first = answering(&rows, 2)[0]["text"].as_str().expect("text");
    assert!(first.starts_with("Got 1 plum, 2 carrots") && first.contains("316 more"), "{first}");
}

#[test]
fn a_burst_begins_anew_before_it_grows_too_long() {
    let lines: String = (0..60)
        .map(|n| format!("2026-03-02 10:00 | Ada | got {} leeks and {} lemons\n", n + 1, n + 2))
        .collect();
    let rows = rows(&format!("{HOUSEHOLD}{lines}"));
    assert!(rows.iter().filter(|row| row["kind"] == "reply").count() > 1);
    assert!(rows.iter().all(|row| row["text"].as_str().is_some_and(|text| text.len() < 1000)));
}

#[test]
fn a_picture_is_never_judged_whoever_it_is_shown_to() {
    let rows = rows(&format!(
        "{HOUSEHOLD}2026-03-02 10:00 | !photo Ada can we eat this?\n\
         2026-03-02 10:01 | !photo Ada what mushroom is this?\n\
         2026-03-02 10:02 | !photo Ada look at the cat\n\
         2026-03-02 10:03 | !photo Ada is this the right size?\n\
         2026-03-02 10:04 | !photo Ada got 3 leeks\n"
    ));
    for line in [2, 3] {
        let said = answering(&rows, line);
        assert!(said[0]["text"].as_str().is_some_and(|t| t.starts_with("Don't go by a picture")));
    }
    assert!(answering(&rows, 4).is_empty() && answering(&rows, 5).is_empty(), "{rows:#?}");
    assert!(answering(&rows, 6)[0]["text"].as_str().is_some_and(|t| t.contains("3 leeks")));
}
