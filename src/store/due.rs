//! What is due: one row per household, job and local day.

use sqlx::Row;
use sqlx::any::AnyRow;

use super::{HouseholdId, Store, StoreError, Tx};
use crate::conversation::Job;
use crate::dates::{Instant, KitchenDay, Zone};

/// A scheduled job of one local day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DueRow {
    pub household: HouseholdId,
    pub job: Job,
    pub day: KitchenDay,
    pub due_at: Instant,
}

fn due_row(row: &AnyRow) -> Result<DueRow, StoreError> {
    let unreadable = |what: &str| StoreError::Unreadable(what.to_owned());
    let job: String = row.try_get("job")?;
    let day: String = row.try_get("day")?;
    Ok(DueRow {
        household: HouseholdId(row.try_get("household")?),
        job: Job::from_word(&job).ok_or_else(|| unreadable("an unknown job"))?,
        day: day.parse().map_err(|_| unreadable("a day that is none"))?,
        due_at: Instant::from_micros(row.try_get("due_at")?),
    })
}

impl Store {
    /// What is due at `now` and not done, nor being worked by another process, oldest first. Scan
    /// over all households by design.
    pub async fn due(&self, now: Instant, limit: u32) -> Result<Vec<DueRow>, StoreError> {
        let rows = sqlx::query(self.dialect.due())
            .bind(now.micros())
            .bind(i64::from(limit))
            .fetch_all(&self.pool)
            .await?;
        rows.iter().map(due_row).collect()
    }

    /// When the next job of any household is due. Scan by design.
    pub async fn next_due(&self) -> Result<Option<Instant>, StoreError> {
        let row = sqlx::query("SELECT min(due_at) AS due_at FROM due WHERE state = 'waiting'")
            .fetch_one(&self.pool)
            .await?;
        let micros: Option<i64> = row.try_get("due_at")?;
        Ok(micros.map(Instant::from_micros))
    }
}

impl Tx {
    /// Plans a job of one local day, with the five-field schedule and the zone it follows from, so
    /// that a row says why it is there; a waiting row moves to the new time. `false` when that day's
    /// job was already worked, whatever became of it.
    pub async fn plan_due(
        &mut self,
        due: &DueRow,
        cron: &str,
        zone: Zone,
    ) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "INSERT INTO due (household, job, day, cron, zone, due_at, state) \
             VALUES ($1, $2, $3, $4, $5, $6, 'waiting') ON CONFLICT (household, job, day) \
             DO UPDATE SET cron = excluded.cron, zone = excluded.zone, due_at = excluded.due_at \
             WHERE due.state = 'waiting'",
        )
        .bind(due.household.as_str())
        .bind(due.job.word())
        .bind(due.day.to_string())
        .bind(cron)
        .bind(zone.name())
        .bind(due.due_at.micros())
        .execute(&mut *self.inner)
        .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Drops what is planned of a job after `now` on other days than `day`. What has come due
    /// stays: it is still to be worked or missed.
    pub async fn drop_plans_except(
        &mut self,
        household: &HouseholdId,
        job: Job,
        day: KitchenDay,
        now: Instant,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "DELETE FROM due WHERE household = $1 AND job = $2 AND state = 'waiting' \
             AND day <> $3 AND due_at > $4",
        )
        .bind(household.as_str())
        .bind(job.word())
        .bind(day.to_string())
        .bind(now.micros())
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    /// Drops everything that waits for a household.
    pub async fn drop_due(&mut self, household: &HouseholdId) -> Result<(), StoreError> {
        sqlx::query("DELETE FROM due WHERE household = $1 AND state = 'waiting'")
            .bind(household.as_str())
            .execute(&mut *self.inner)
            .await?;
        Ok(())
    }

    /// Claims a waiting row for this transaction; `false` when another process has it or it was
    /// worked. The claim ends with the transaction, however it ends.
    pub async fn claim_due(&mut self, row: &DueRow) -> Result<bool, StoreError> {
        let Some(lock) = self.dialect.lock_due() else { return Ok(true) };
        let found = sqlx::query(lock)
            .bind(row.household.as_str())
            .bind(row.job.word())
            .bind(row.day.to_string())
            .fetch_optional(&mut *self.inner)
            .await?;
        Ok(found.is_some())
    }

    /// Marks a waiting row as done; `false` when it was not waiting: somebody else worked it.
    pub async fn finish_due(
        &mut self,
        household: &HouseholdId,
        job: Job,
        day: KitchenDay,
    ) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "UPDATE due SET state = 'done' \
             WHERE household = $1 AND job = $2 AND day = $3 AND state = 'waiting'",
        )
        .bind(household.as_str())
        .bind(job.word())
        .bind(day.to_string())
        .execute(&mut *self.inner)
        .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Marks a waiting row as missed: its time of use is over.
    pub async fn miss_due(
        &mut self,
        household: &HouseholdId,
        job: Job,
        day: KitchenDay,
    ) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "UPDATE due SET state = 'missed' \
             WHERE household = $1 AND job = $2 AND day = $3 AND state = 'waiting'",
        )
        .bind(household.as_str())
        .bind(job.word())
        .bind(day.to_string())
        .execute(&mut *self.inner)
        .await?;
        Ok(done.rows_affected() == 1)
    }
}
