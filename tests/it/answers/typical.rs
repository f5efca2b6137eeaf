//! Typical answers as people see them.

use super::{ask, plain};

const QUESTIONS: &[&str] = &[
    "can you eat rhubarb leaves?",
    "are beet greens edible?",
    "are carrot tops poisonous?",
    "can you eat sweet potato leaves?",
    "are potato skins ok?",
    "can you eat rhubarb flowers?",
    "can you eat apple seeds?",
    "raw kidney beans ok?",
    "this potato is green",
    "fennel is limp",
    "potatoes are sprouting",
    "mouldy carrot, ok if i cut it?",
    "mouldy bread ok?",
    "one moldy strawberry in the box",
    "bitter zucchini ok?",
    "soup from monday still ok?",
    "chicken cooked 2 weeks ago",
    "is the milk still good?",
    "left the stew out overnight, still ok?",
    "fridge was off 5 hours",
    "freezer was off for 30 hours",
    "can i refreeze thawed mince?",
    "can i thaw chicken on the counter?",
    "can i reheat rice twice?",
    "garlic in oil on the counter ok?",
    "how do i can green beans?",
    "wild mushrooms from the woods ok?",
    "can my dog eat grapes?",
    "can a baby have honey?",
    "i'm pregnant, can i eat raw sprouts?",
    "who should not eat starfruit?",
    "yogurt past its use by yesterday",
    "what does best before mean?",
    "how long does cut melon keep?",
    "how long do carrots keep in the fridge?",
    "where do tomatoes go?",
    "how do i freeze leeks?",
    "how do i freeze broccoli?",
    "can apples sit with carrots?",
    "should i wash berries before storing?",
    "how much is a bunch of kale?",
    "2 pounds in grams?",
    "what can i do with too many plums?",
    "can onion skins go in the stock bag?",
    "what can go in the bag?",
    "are carrot tops and rhubarb leaves ok?",
    "she ate one of the berries",
    "can you eat quibbleroot?",
];

#[test]
fn typical_answers_read_well() {
    let mut page = String::new();
    for question in QUESTIONS {
        let answer = ask(question);
        page.push_str(&format!("> {question}\n[{}] {}\n", answer.verdict, plain(&answer)));
        if let Some(caution) = &answer.caution {
            page.push_str(&format!("  ! {}\n", caution.to_plain()));
        }
        page.push('\n');
    }
    insta::assert_snapshot!(page);
}
