//! What is asked, where the text says it more plainly than its reading.
//!
//! The reader knows sentences; a question about the bag, the water, a label or a weight is known
//! by single words, whatever the sentence around them. Nothing here makes an answer milder about
//! what is on the plate: signs, ages, parts and practices are looked for all the same.

use super::scan::Scan;
use crate::words::Intent;

/// The intent an answer goes by.
pub(super) fn heard(scan: &Scan<'_>, read: Intent) -> Intent {
    // "My nan always ate them": a habit is no meal just eaten.
    if read == Intent::EatenAlready && scan.habit() {
        return Intent::AskPart;
    }
    let open = matches!(
        read,
        Intent::AskPart
            | Intent::AskCondition
            | Intent::AskKeeps
            | Intent::AskWhere
            | Intent::AskWhoMay
            | Intent::AskAmount
            | Intent::AskPreserve
            | Intent::AskUseUp
    );
    if !open {
        return read;
    }
    let pair = |first: &[&str], second: &[&str]| {
        scan.tokens
            .windows(2)
            .any(|pair| first.contains(&pair[0].as_str()) && second.contains(&pair[1].as_str()))
    };
    let foods = scan.foods.len();
    let does = pair(&["i", "you", "we", "to"], &["dry", "freeze", "blanch", "dehydrate"]);
    if does && matches!(read, Intent::AskPart | Intent::AskCondition) {
        return Intent::AskPreserve;
    }
    let stored = ["keep", "store", "put", "go", "live", "belong"];
    if scan.word(&["where"])
        && scan.word(&stored)
        && matches!(read, Intent::AskKeeps | Intent::AskCondition)
    {
        return Intent::AskWhere;
    }
    let bag = pair(&["trimmings", "trimming", "scrap", "scraps", "stock"], &["bag", "bags"])
        || foods > 0
            && scan.tokens.windows(3).any(|w| {
                ["in", "into", "for"].contains(&w[0].as_str()) && w[1] == "the" && w[2] == "bag"
            })
            && !scan.word(&["keep", "store", "salad", "freezer", "fridge", "shop"]);
    if bag {
        return Intent::AskTrimmings;
    }
    if pair(&["use", "best", "sell"], &["by", "before"]) && scan.word(&["difference", "between"]) {
        return Intent::AskDateLabel;
    }
    if scan.asks_amount() {
        return Intent::AskAmount;
    }
    if pair(&["who"], &["should", "shouldnt", "cant", "cannot", "can", "must", "may"])
        && read != Intent::AskKeeps
    {
        return Intent::AskWhoMay;
    }
    let beside = pair(&["next"], &["to"])
        || scan.word(&["beside", "near", "alongside", "together"])
            && !scan.word(&["cook", "eat", "cooked", "eaten", "recipe"]);
    if beside && foods > 0 && scan.signs.is_empty() && scan.parts.is_empty() {
        return Intent::AskNeighbours;
    }
    let stands = ["change", "changed", "changing", "often", "stand", "standing", "put", "keep"];
    if scan.in_water() && (scan.word(&stands) || read == Intent::AskKeeps) {
        return Intent::AskWhere;
    }
    let cooks = pair(&["to", "be"], &["cook", "cooked", "boil", "boiled"]);
    if cooks && scan.word(&["need", "needs", "have", "must", "has"]) && scan.minutes.is_none() {
        return Intent::AskPart;
    }
    if pair(&["best", "right", "good"], &["place", "spot", "way", "temperature"])
        && scan.word(&["for", "keep", "store", "storing"])
        && matches!(read, Intent::AskCondition | Intent::AskKeeps)
    {
        return Intent::AskWhere;
    }
    let kept = scan.minutes.is_some() || scan.word(&["since"]);
    if read == Intent::AskWhere && kept && scan.word(&["eat", "drink", "use", "consume"]) {
        return Intent::AskCondition;
    }
    read
}
