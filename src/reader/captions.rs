//! What a caption asks about its picture: whether the thing shown may be eaten. Nobody can tell
//! from a picture, so the question is met with a refusal, also where it names no food.

use super::tokens::Text;

/// Words that ask about eating wherever they stand in a question.
const EATING: &[&str] = &[
    "eat",
    "eats",
    "eaten",
    "eating",
    "edible",
    "eatable",
    "inedible",
    "cook",
    "cooked",
    "poison",
    "poisonous",
    "toxic",
    "mould",
    "mouldy",
    "mold",
    "moldy",
    "rotten",
    "spoiled",
    "spoilt",
    "mushroom",
    "mushrooms",
    "fungus",
    "fungi",
    "toadstool",
    "toadstools",
    "berry",
    "berries",
];

/// Pairs that do.
const PAIRS: &[(&str, &str)] = &[
    ("still", "good"),
    ("still", "ok"),
    ("still", "okay"),
    ("still", "fine"),
    ("still", "safe"),
    ("gone", "off"),
    ("gone", "bad"),
    ("went", "off"),
    ("went", "bad"),
    ("safe", "to"),
    ("ok", "to"),
    ("still", "use"),
];

/// Words a question opens with, where its mark was left out.
const OPENERS: &[&str] = &[
    "can", "could", "may", "should", "is", "are", "do", "does", "would", "will", "was", "were",
    "what", "which", "anyone", "anybody", "ok", "okay", "safe",
];

/// Whether a picture's caption asks if what it shows may be eaten.
pub fn asks_to_eat(caption: &str) -> bool {
    let text = Text::new(caption);
    let words: Vec<&str> =
        (0..text.len()).filter(|i| text.is_word(*i)).map(|i| text.word(i)).collect();
    let question =
        caption.contains('?') || words.first().is_some_and(|word| OPENERS.contains(word));
    question
        && (words.iter().any(|word| EATING.contains(word))
            || words.windows(2).any(|pair| PAIRS.contains(&(pair[0], pair[1]))))
}

#[cfg(test)]
mod tests {
    use super::asks_to_eat;

    #[test]
    fn a_question_about_eating_is_told_from_other_captions() {
        for caption in [
            "can we eat this?",
            "Can we eat this",
            "is this safe to eat?",
            "edible?",
            "OK to cook?",
            "what mushroom is this?",
            "are these berries ripe",
            "is this still good?",
            "has it gone off?",
            "is that mould?",
        ] {
            assert!(asks_to_eat(caption), "{caption}");
        }
        for caption in [
            "how does this dress look?",
            "is this the right size?",
            "is this fine?",
            "look at the cat",
            "we ate out, it was lovely",
            "",
        ] {
            assert!(!asks_to_eat(caption), "{caption}");
        }
    }
}
