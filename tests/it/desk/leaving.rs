//! What makes a sound, who gets a copy, and what becomes of a household whose chat is closed.

use larderling::channel::Arrived;
use larderling::conversation::Kind;
use larderling::rounds::work_due;

use super::road::arrive;
use super::{Office, later, run};

#[test]
fn a_household_is_kept_thirty_days_after_the_bot_was_removed_and_then_deleted() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "got 3 leeks").await;
        office.said("other", "got 2 melons").await;
        office.sent().await;
        arrive(&office, "home", Arrived::Dismissed).await;
        // Seven days on: not one attempt to send.
        for _ in 0..7 {
            later(&office.clock, 24 * 60);
            work_due(&office.desk).await.unwrap();
        }
        let household = office.household("home").await;
        let told = office.sent().await;
        assert!(told.iter().all(|said| !said.text.to_plain().contains("leek")), "{told:?}");
        let keep = |days: i64| office.clock.now().plus_minutes((days - 7) * 24 * 60);
        office.store.delete_long_gone(keep(29)).await.unwrap();
        assert_eq!(office.store.households().await.unwrap().len(), 2, "still kept");
        assert_eq!(office.store.delete_long_gone(keep(31)).await.unwrap(), 1);
        let left = office.store.households().await.unwrap();
        assert!(left.len() == 1 && left[0].id != household, "the other one stays");
        assert!(office.store.messages(&household).await.unwrap().is_empty());
        assert!(office.store.people(&household).await.unwrap().is_empty());
    });
}

#[test]
fn only_the_post_and_what_was_missed_make_a_sound_and_nothing_in_the_quiet_hours() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "cut up the celery, it's in water").await;
        let mut heard = Vec::new();
        for _ in 0..60 {
            later(&office.clock, 60);
            work_due(&office.desk).await.unwrap();
            heard.extend(office.sent().await.into_iter().map(|said| (said.kind, said.loud)));
        }
        let expected = [
            (Kind::Reply, false),
            (Kind::Post, true),
            // Late, but no matter of safety yet.
            (Kind::Reminder, false),
            (Kind::Post, true),
            (Kind::Reminder, true),
        ];
        assert_eq!(heard, expected, "the same day's round is silent, the missed one is not");
        office.said("home", "larderling, quiet hours from 6:00 to 20:00").await;
        office.sent().await;
        for _ in 0..24 {
            later(&office.clock, 60);
            work_due(&office.desk).await.unwrap();
            let said = office.sent().await;
            assert!(said.iter().all(|said| !said.loud), "{said:?}");
        }
    });
}

#[test]
fn whoever_chose_plain_style_gets_each_post_in_private_too_and_can_say_its_buttons() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "larderling, plain style").await;
        office.said("home", "cut up the celery, it's in water").await;
        office.sent().await;
        let mut posts = Vec::new();
        for _ in 0..20 {
            later(&office.clock, 60);
            work_due(&office.desk).await.unwrap();
            posts.extend(office.sent().await);
        }
        let (copies, originals): (Vec<_>, Vec<_>) =
            posts.into_iter().partition(|said| said.to.is_some());
        assert_eq!((originals.len(), copies.len()), (1, 1));
        let copy = copies[0].text.to_plain();
        assert!(copy.contains("You can say: \"changed\""), "{copy}");
        assert_ne!(originals[0].message, copies[0].message);
        // The words of a button are the button.
        office.said("home", "celery in water: used up").await;
        let household = office.household("home").await;
        let house = office.desk.house(&household).await.unwrap();
        assert!(house.state.lots.is_empty(), "{:?}", house.state.lots);
    });
}
