//! What is exported, read back by libraries of others.

use std::path::Path;
use std::process::{Command, Output};

use larderling::chores;
use larderling::conversation::{House, Job};
use larderling::dates::{Instant, KitchenDay, Zone};
use larderling::export::calendar::Calendar;
use larderling::export::tables::Table;
use larderling::kitchen::State;
use larderling::rules::Rules;
use larderling::store::HouseholdId;
use larderling::wording::Wording;
use serde_json::{Value, json};

use crate::support::referee;

/// What the referee script makes of a file; `None` where this run does without referees.
fn judged(arguments: &[&str]) -> Option<Value> {
    let python = referee::installed("aiogram/bin/python")?;
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/referees/export_check.py");
    let output = Command::new(python).arg(script).args(arguments).output().expect("starts");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    Some(serde_json::from_slice(&output.stdout).expect("JSON"))
}

fn judged_text(kind: &str, text: &str, more: &[&str]) -> Option<Value> {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("exported");
    std::fs::write(&path, text).expect("written");
    let path = path.to_string_lossy().into_owned();
    judged(&[&[kind, path.as_str()], more].concat())
}

fn larderling(database: &Path, arguments: &[&str], lines: &str) -> Output {
    use std::io::Write;
    use std::process::Stdio;
    let mut child = Command::new(env!("CARGO_BIN_EXE_larderling"))
        .arg("--database")
        .arg(database)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("starts");
    let mut input = child.stdin.take().expect("its input");
    // A command that reads nothing may have ended already.
    let _ = input.write_all(lines.as_bytes());
    drop(input);
    child.wait_with_output().expect("ends")
}

fn exported(database: &Path, arguments: &[&str]) -> String {
    let output = larderling(database, &[&["export"], arguments].concat(), "");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text")
}

/// The calendar of a household with these settings, as at `now`.
fn calendar(settings: &[(&str, &str)], now: Instant) -> (State, String) {
    let mut house = House::default();
    for (key, value) in settings {
        let day = now.day(Zone::UTC);
        house.state.settings.set(key, value, day).unwrap_or_else(|error| panic!("{error}"));
    }
    let rules = Rules::embedded().unwrap_or_else(|faults| panic!("{faults}"));
    let wording = Wording::english().expect("a wording file without faults");
    let mut calendar = Calendar::new(now);
    calendar
        .household(&HouseholdId::new(now), &house, &wording, &rules)
        .expect("schedules that can be read");
    (house.state, calendar.finish())
}

#[test]
fn schedules_fall_on_the_same_moments_in_other_peoples_calendars() {
    // A year and a half of days, over every kind of clock change: weekdays of a week of the month
    // (New York, Berlin), half an hour (Lord Howe), south of the equator (Santiago), dates that
    // follow no yearly rule (Jerusalem, Casablanca), none at all (Kolkata).
    const DAYS: usize = 550;
    let zones = [
        "America/New_York",
        "Europe/Berlin",
        "Australia/Lord_Howe",
        "America/Santiago",
        "Asia/Jerusalem",
        "Africa/Casablanca",
        "Asia/Kolkata",
        "UTC",
    ];
    let now = KitchenDay::new(2026, 1, 10).expect("a day").at(Default::default(), Zone::UTC);
    for zone in zones {
        let (state, text) = calendar(&[("tz", zone), ("post", "02:30"), ("evening", "19:15")], now);
        let Some(found) = judged_text("calendar", &text, &[&DAYS.to_string()]) else { return };
        assert_eq!(found["faults"], json!([]), "{zone}\n{text}");
        for (job, cron) in chores::schedules(&state.settings) {
            let mut after = now;
            let ours: Vec<String> = (0..DAYS)
                .map(|_| {
                    let next = chores::next_run(&cron, state.settings.zone, after);
                    let (_, at) = next.expect("a schedule").expect("a next run");
                    after = at;
                    at.rfc3339()
                })
                .collect();
            let event =
                found["events"].as_array().into_iter().flatten().find(|event| {
                    event["uid"].as_str().is_some_and(|uid| uid.contains(job.word()))
                });
            let event = event.unwrap_or_else(|| panic!("{zone}: {} is missing", job.word()));
            let theirs: Vec<&str> = event["starts"]
                .as_array()
                .into_iter()
                .flatten()
                .filter_map(Value::as_str)
                .collect();
            for (number, (ours, theirs)) in ours.iter().zip(&theirs).enumerate() {
                assert_eq!(ours, theirs, "{zone}, {} number {number}", job.word());
            }
            assert_eq!(ours.len(), theirs.len());
        }
        assert_eq!(Job::ALL.len(), found["events"].as_array().map_or(0, Vec::len));
    }
}

#[test]
fn the_next_shop_absences_and_chores_stand_in_the_calendar() {
    let folder = tempfile::tempdir().expect("a folder");
    let database = folder.path().join("larder.db");
    let lines = "got 2 fennel and 500 g peas\nall put away\ncut up the fennel, it's in water\n\
                 shop is on friday\nwe're away tomorrow\n";
    assert!(larderling(&database, &[], lines).status.success());
    let text = exported(&database, &["schedules"]);
    let Some(found) = judged_text("calendar", &text, &["3"]) else { return };
    assert_eq!(found["faults"], json!([]), "{text}");
    let todo = &found["todos"][0];
    assert!(todo["summary"].as_str().is_some_and(|words| words.contains("Fennel")), "{found}");
    let all_day: Vec<&Value> = found["events"]
        .as_array()
        .into_iter()
        .flatten()
        .filter(|event| event["end"].is_string())
        .collect();
    assert_eq!(all_day.len(), 2, "the shop and the absence: {found}");
    for event in all_day {
        let day = |value: &Value| value.as_str().and_then(|day| day.parse::<KitchenDay>().ok());
        let (start, end) = (day(&event["starts"][0]), day(&event["end"]));
        let (start, end) = start.zip(end).expect("days");
        assert_eq!(end.days_since(start), 1, "a day ends where the next begins: {event}");
    }
}

#[test]
fn rows_say_the_same_as_json_and_as_csv_and_hold_no_formulas() {
    let folder = tempfile::tempdir().expect("a folder");
    let database = folder.path().join("larder.db");
    let lines = "got 1.5 kg carrots 2.40, 3 leeks and 500 g spinach\n\
                 12.30 all in\nused 500 g carrots\ntossed 100 g spinach, slimy\n";
    assert!(larderling(&database, &[], lines).status.success());
    for what in ["events", "lots", "ledger", "shops", "losses"] {
        let text = exported(&database, &[what, "--format", "csv"]);
        let json: Vec<Value> =
            serde_json::from_str(&exported(&database, &[what, "--format", "json"]))
                .unwrap_or_else(|error| panic!("{what}: {error}"));
        assert!(!json.is_empty(), "{what}");
        let Some(rows) = judged_text("csv", &text, &[]) else { return };
        let rows = rows.as_array().expect("rows").clone();
        let header: Vec<&str> =
            rows[0].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
        assert_eq!(rows.len(), json.len() + 1, "{what}");
        for (row, object) in rows[1..].iter().zip(&json) {
            for (number, name) in header.iter().enumerate() {
                let cell = row[number].as_str().expect("a cell");
                let expected = match &object[name] {
                    Value::Null => String::new(),
                    Value::String(text) => text.clone(),
                    other => other.to_string(),
                };
                assert_eq!(cell, expected, "{what}: {name}");
            }
        }
    }
    let ledger: Vec<Value> =
        serde_json::from_str(&exported(&database, &["ledger", "--format", "json"])).expect("JSON");
    let carrots = ledger.iter().find(|row| row["food"] == "carrot").expect("carrots");
    assert_eq!((&carrots["came_in_g"], &carrots["eaten_g"]), (&json!(1500), &json!(500)));
    assert_eq!(carrots["on_hand_g"], 1000);
}

#[test]
fn a_name_that_is_a_formula_is_text_to_a_spreadsheet() {
    let table = Table {
        columns: &["name", "grams"],
        rows: vec![
            vec![json!("=HYPERLINK(\"http://example.org\",\"soup\")"), json!(-3)],
            vec![json!("two\nlines, and a \"quote\""), json!(null)],
        ],
    };
    let text = table.csv().expect("written");
    let Some(rows) = judged_text("csv", &text, &[]) else { return };
    let expected = json!([
        ["name", "grams"],
        ["'=HYPERLINK(\"http://example.org\",\"soup\")", "-3"],
        ["two\nlines, and a \"quote\"", ""],
    ]);
    assert_eq!(rows, expected);
    assert!(text.ends_with("\r\n"), "RFC 4180, section 2.1");
}

#[test]
fn the_label_sheet_is_a_page_that_prints_one_label_for_each_frozen_or_dried_lot() {
    let folder = tempfile::tempdir().expect("a folder");
    let database = folder.path().join("larder.db");
    let lines = "got 2 kg peas, 500 g mushrooms and 3 leeks\nfroze the peas\ndried the mushrooms\n";
    assert!(larderling(&database, &[], lines).status.success());
    let page = exported(&database, &["labels"]);
    assert_eq!(page.matches("<li>").count(), 2, "{page}");
    assert!(page.contains("2 kg") && page.contains("ushrooms") && !page.contains("eeks"), "{page}");
    // Well-formed enough to be read as XML once the doctype is off.
    let body = page.replacen("<!DOCTYPE html>\n", "", 1).replace("<meta charset=\"utf-8\">", "");
    let body = body.replace("<br>", "<br/>");
    assert!(resvg::usvg::roxmltree::Document::parse(&body).is_ok(), "{page}");
}

#[test]
fn what_cannot_be_exported_that_way_is_said_so() {
    let folder = tempfile::tempdir().expect("a folder");
    let database = folder.path().join("larder.db");
    assert!(larderling(&database, &[], "got 3 leeks\n").status.success());
    for arguments in [["export", "schedules", "--format=csv"], ["export", "lots", "--household=x"]]
    {
        let output = larderling(&database, &arguments, "");
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(output.stdout.is_empty());
    }
}
