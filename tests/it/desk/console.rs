//! The console as a process: what a fresh machine shows, the demo, and hostile input.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

/// `larderling` with its own data folder, given these bytes.
fn console(folder: &Path, arguments: &[&str], input: &[u8]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_larderling"))
        .args(arguments)
        .env_remove("LARDERLING_DATABASE")
        .env("XDG_DATA_HOME", folder)
        .env("TZ", "UTC")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("starts");
    let mut pipe = child.stdin.take().expect("its input");
    let input = input.to_vec();
    let writer = std::thread::spawn(move || {
        // A program that ended early does not read on.
        let _ = pipe.write_all(&input);
    });
    let output = child.wait_with_output().expect("ends");
    writer.join().expect("writes");
    output
}

fn text(output: &Output) -> String {
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout.clone()).expect("text")
}

#[test]
fn a_fresh_machine_is_told_in_six_lines_what_to_text() {
    let folder = tempfile::tempdir().unwrap();
    let opening = text(&console(folder.path(), &[], b""));
    assert!((1..=6).contains(&opening.lines().count()), "{opening}");
    assert!(opening.lines().all(|line| line.chars().count() <= 120), "{opening}");
    assert!(folder.path().join("larderling/larderling.db").exists());
}

#[test]
fn what_was_told_is_there_the_next_time() {
    let folder = tempfile::tempdir().unwrap();
    console(
        folder.path(),
        &["--as", "Ada"],
        b"got 3 leeks and 2 lemons\npress: undo\ngot 4 leeks\n",
    );
    let later = text(&console(folder.path(), &["chat"], b"what do we have?\n"));
    assert!(later.contains("4 leeks") && !later.contains("lemon"), "{later}");
}

#[test]
fn a_label_typed_presses_the_button_of_the_newest_message() {
    let folder = tempfile::tempdir().unwrap();
    let said = text(&console(folder.path(), &[], b"got 3 leeks\nall put away\nwhat do we have?\n"));
    assert!(said.contains("All put away"), "{said}");
    let said = text(&console(folder.path(), &[], b"press: nothing of the kind\n"));
    assert!(said.contains("None of my messages has a button \"nothing of the kind\""), "{said}");
}

#[test]
fn hostile_input_gets_a_message_and_loses_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut input = b"got 3 leeks\n".to_vec();
    input.extend(vec![b'x'; 10 << 20]);
    input.extend(b"\n\x1b[2J\x07\x00got \xff 2 lemons\xf0\n");
    input.extend("בצל 🥕🥕🥕 \u{202e}\n".as_bytes());
    input.extend(
        b"bought 1e9 kg rice\nbought 0 leeks\nbought -5 leeks\ngot 99999999999999999999 eggs\n",
    );
    input.extend(format!("got {}\n", "3 leeks and ".repeat(340)).as_bytes());
    input.extend(b"what do we have?\n");
    let said = text(&console(folder.path(), &[], &input));
    assert!(said.contains("10485760 bytes"), "{said}");
    assert!(!said.contains('\u{1b}') && !said.contains('\u{7}'), "{said:?}");
    for words in [
        "2 lemons",
        "more rice than a kitchen holds",
        "Leeks: that amount cannot be right",
        "more eggs than a kitchen holds",
        "and 316 more",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    let proof = console(folder.path(), &["rebuild"], b"");
    assert!(proof.status.success(), "{}", String::from_utf8_lossy(&proof.stderr));
    let check = text(&console(folder.path(), &["check"], b""));
    assert!(check.contains("0 faults"), "{check}");
}

#[test]
fn the_demo_is_a_household_of_its_own_that_ends_yesterday() {
    let folder = tempfile::tempdir().unwrap();
    console(folder.path(), &[], b"got 3 pomegranates\n");
    for _ in 0..2 {
        let said = text(&console(folder.path(), &["--demo"], b"what do we have?\n"));
        assert!(said.contains("fennel") && !said.contains("pomegranate"), "{said}");
    }
    let demo = folder.path().join("larderling/demo.db");
    let demo = demo.to_str().expect("a path");
    let proof = text(&console(folder.path(), &["rebuild", "--database", demo], b""));
    assert!(proof.contains("1 proved, 0 differing"), "{proof}");
    let own = text(&console(folder.path(), &[], b"what do we have?\n"));
    assert!(own.contains("pomegranate"), "{own}");
    let taken = console(folder.path(), &["--demo", "--database", demo], b"");
    assert_eq!(taken.status.code(), Some(1), "never over a file that was named");
}

#[test]
fn no_data_folder_names_the_variables() {
    let output = Command::new(env!("CARGO_BIN_EXE_larderling"))
        .env_clear()
        .stdin(Stdio::null())
        .output()
        .expect("starts");
    let error = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1), "{error}");
    for name in ["XDG_DATA_HOME", "HOME", "LARDERLING_DATABASE"] {
        assert!(error.contains(name), "{error}");
    }
}

#[test]
fn a_missing_token_is_named_with_the_way_to_get_one() {
    let folder = tempfile::tempdir().unwrap();
    let output = console(folder.path(), &["serve"], b"");
    let error = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(2), "{error}");
    assert!(error.contains("TELOXIDE_TOKEN") && error.contains("BotFather"), "{error}");
}
