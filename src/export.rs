//! Data out: the state of a household as one JSON object, and everything of it as JSON lines.

use serde_json::{Value, json};

use crate::chores::{self, Chore};
use crate::conversation::House;
use crate::dates::Instant;
use crate::keeping::{Keeper, Learned};
use crate::kitchen::{Lot, State};
use crate::ledger;
use crate::rules::Rules;
use crate::store::{HouseholdId, Store, StoreError};

/// What `replay --state` prints: lots, chores, trimmings, shopping list and ledger at `now`.
pub fn state(house: &House, rules: &Rules, now: Instant) -> Value {
    let state = &house.state;
    let learned = Learned::default();
    let keeper = Keeper::new(state, rules, &learned);
    json!({
        "lots": state.lots.iter().map(|lot| lot_json(lot, &keeper, now)).collect::<Vec<_>>(),
        "chores": chores::pending(state, now).iter().map(|c| chore_json(c, state)).collect::<Vec<_>>(),
        "trimmings": {
            "items": state.trimmings.iter().map(|scrap| &scrap.of.name).collect::<Vec<_>>(),
            "filled": null,
        },
        "wanted": state.wanted.iter().map(|wanted| wanted.of.key()).collect::<Vec<_>>(),
        "ledger": ledger_json(state),
    })
}

fn lot_json(lot: &Lot, keeper: &Keeper<'_>, now: Instant) -> Value {
    let zone = keeper.zone();
    let estimate = keeper.estimate(lot, now);
    let quality = estimate
        .clock()
        .map(|clock| json!({ "early": clock.early.day(zone), "late": clock.late.day(zone) }));
    json!({
        "food": lot.food,
        "name": lot.name,
        "form": lot.form,
        "place": lot.place,
        "quantity": lot.quantity.map(|quantity| quantity.value.to_f64()),
        "unit": lot.quantity.and_then(|quantity| quantity.unit),
        "since": lot.since,
        "put_away": lot.put_away,
        "quality": quality,
        "safety": lot.safety_day(zone),
        "safety_at": lot.safety_moment().map(|at| at.wall(zone)),
        "doubtful": lot.doubtful,
    })
}

fn chore_json(chore: &Chore, state: &State) -> Value {
    json!({
        "kind": chore.kind.word(),
        "food": chore.food.as_ref().map_or(chore.name.as_str(), |food| food.as_str()),
        "due": chore.due.wall(state.settings.zone),
    })
}

fn ledger_json(state: &State) -> Value {
    let totals = ledger::house_totals(state);
    json!({
        "came_in_g": totals.came_in,
        "eaten_g": totals.eaten,
        "given_g": totals.given,
        "preserved_g": totals.preserved,
        "scraps_g": totals.scraps,
        "composted_g": totals.composted(),
        "animal_feed_g": totals.animal_feed(),
        "thrown_out_g": totals.thrown_out(),
        "moisture_g": totals.moisture,
        "on_hand_g": ledger::on_hand_all(state),
        "uncounted_g": totals.uncounted,
        "waste_share": null,
        "spent_minor": ledger::spent(state),
    })
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
