//! Data out: the state of a household as one JSON object, everything of it as JSON lines, rows,
//! its calendar and its labels.

pub mod calendar;
pub mod labels;
pub mod tables;

use serde_json::{Value, json};

use crate::chores;
use crate::conversation::House;
use crate::dates::Instant;
use crate::keeping::{Keeper, Learned};
use crate::kitchen::report::{ChoreRow, QualityRow, Report, report};
use crate::kitchen::{Lot, State};
use crate::rules::Rules;
use crate::store::{HouseholdId, Store, StoreError};

/// What `replay --state` prints: lots, chores, trimmings, shopping list and ledger at `now`.
pub fn state(house: &House, rules: &Rules, now: Instant) -> Report {
    let state = &house.state;
    let zone = state.settings.zone;
    let learned = Learned::by(state);
    let quality = qualities(state, rules, &learned, now);
    let chores = chores::pending(state, now).into_iter().map(|chore| ChoreRow {
        kind: chore.kind.word().to_owned(),
        food: chore.food.map_or(chore.name, |food| food.as_str().to_owned()),
        due: chore.due.wall(zone),
    });
    report(state, &quality, chores.collect())
}

/// What is known of the quality of each lot at `now`.
pub fn qualities<'a>(
    state: &'a State,
    rules: &'a Rules,
    learned: &'a Learned,
    now: Instant,
) -> impl Fn(&Lot) -> Option<QualityRow> + 'a {
    let keeper = Keeper::new(state, rules, learned);
    let zone = state.settings.zone;
    move |lot| {
        let estimate = keeper.estimate(lot, now);
        let clock = estimate.clock()?;
        Some(QualityRow { early: clock.early.day(zone), late: clock.late.day(zone) })
    }
}

/// Everything of one household, one JSON object a line: itself, its people, its messages, its
/// events.
pub async fn lines(store: &Store, household: &HouseholdId) -> Result<Vec<Value>, StoreError> {
    let loaded = {
        let mut tx = store.begin().await?;
        tx.load(household).await?
    };
    let mut lines = vec![json!({
        "type": "household",
        "id": household.as_str(),
        "events": loaded.log.len(),
        "state": loaded.state,
    })];
    for person in store.people(household).await? {
        lines.push(json!({
            "type": "person",
            "id": person.id,
            "name": person.name,
            "joined_at": person.joined_at,
            "left_at": person.left_at,
        }));
    }
    for message in store.messages(household).await? {
        lines.push(json!({
            "type": "message",
            "number": message.number,
            "person": message.person,
            "at": message.at,
            "words": message.words,
        }));
    }
    for event in &loaded.log {
        let mut line = serde_json::to_value(event)?;
        if let Value::Object(fields) = &mut line {
            fields.insert("type".to_owned(), json!("event"));
        }
        lines.push(line);
    }
    Ok(lines)
}
