//! A pasted receipt: its lines that are no food (totals, deposits, fees, discounts, household
//! goods) are taken out before the rest is read as a list, and handed back beside it.

use crate::reader::ReadContext;
use crate::reader::tokens::Text;
use crate::statement::{Charge, ChargeKind};
use crate::units::{Minor, Ratio};

/// Lines that end in money before a text is taken for a receipt.
const PRICED_LINES: usize = 3;

/// A receipt, apart.
#[derive(Debug, PartialEq)]
pub struct Receipt {
    /// The lines left to be read as food.
    pub rest: String,
    pub charges: Vec<Charge>,
    pub total: Option<Minor>,
}

/// What one line is.
enum Line {
    Food,
    Charge(ChargeKind),
    Total,
    /// Says nothing that counts: a subtotal, the way of paying, points.
    Skip,
}

/// The words of each kind; the first kind that has one of its words in the line is the line's.
const KINDS: &[(&str, &[&str])] = &[
    (
        "skip",
        &[
            "subtotal",
            "sub total",
            "sub-total",
            "points",
            "items",
            "number of",
            "change",
            "tendered",
            "card",
            "cash",
            "visa",
            "mastercard",
            "debit",
            "credit",
            "contactless",
            "balance",
            "rounding",
            "till",
            "cashier",
            "thank you",
            "you saved",
            "total savings",
        ],
    ),
    ("deposit", &["deposit", "pfand", "crv", "bottle return", "returnable"]),
    (
        "discount",
        &[
            "discount",
            "coupon",
            "promo",
            "promotion",
            "multibuy",
            "markdown",
            "voucher",
            "rebate",
            "loyalty",
            "saved",
            "savings",
            "money off",
            "price cut",
            "member price",
        ],
    ),
    ("tax", &["tax", "vat", "gst", "hst", "mwst", "ust"]),
    ("total", &["total", "grand total", "amount due", "to pay", "sum"]),
    (
        "fee",
        &[
            "fee",
            "delivery",
            "service charge",
            "carrier bag",
            "bag charge",
            "paper bag",
            "plastic bag",
            "shopping bag",
            "tip",
        ],
    ),
    (
        "goods",
        &[
            "dish soap",
            "hand soap",
            "soap",
            "sponge",
            "sponges",
            "toilet paper",
            "toilet roll",
            "toilet rolls",
            "kitchen roll",
            "kitchen rolls",
            "paper towel",
            "paper towels",
            "tissues",
            "napkins",
            "detergent",
            "washing powder",
            "washing up liquid",
            "dishwasher",
            "bleach",
            "cleaner",
            "bin bags",
            "bin liners",
            "freezer bags",
            "foil",
            "cling film",
            "baking paper",
            "batteries",
            "bulb led",
            "light bulb",
            "shampoo",
            "conditioner",
            "shower gel",
            "toothpaste",
            "toothbrush",
            "deodorant",
            "razors",
            "nappies",
            "diapers",
            "wipes",
            "cat food",
            "dog food",
            "cat litter",
            "candles",
            "flowers",
            "magazine",
            "newspaper",
            "matches",
            "lighter",
            "plasters",
            "socks",
            "gift card",
            "greeting card",
        ],
    ),
];

/// The receipt a text is; `None` for any other text.
pub fn read(text: &str, context: &ReadContext) -> Option<Receipt> {
    let lines: Vec<&str> = text.lines().collect();
    let priced = lines.iter().filter(|line| money_at_end(line, context).is_some()).count();
    if priced < PRICED_LINES {
        return None;
    }
    let mut receipt = Receipt { rest: String::new(), charges: Vec::new(), total: None };
    let mut told = false;
    for line in lines {
        let amount = money_at_end(line, context);
        let kind = match amount {
            Some((_, minor)) if minor.0 < 0 => match kind_of(line) {
                Line::Charge(ChargeKind::Deposit) => Line::Charge(ChargeKind::Deposit),
                _ => Line::Charge(ChargeKind::Discount),
            },
            _ => kind_of(line),
        };
        match (kind, amount) {
            (Line::Food, _) => {
                if !receipt.rest.is_empty() {
                    receipt.rest.push('\n');
                }
                receipt.rest.push_str(&without_unit_price(line, context));
                continue;
            }
            (Line::Skip, _) | (_, None) => {}
            (Line::Total, Some((_, minor))) => receipt.total = Some(minor),
            (Line::Charge(kind), Some((name, minor))) => {
                let minor = match kind {
                    ChargeKind::Discount => Minor(-minor.0.abs()),
                    _ => minor,
                };
                receipt.charges.push(Charge { kind, name, minor });
            }
        }
        told = true;
    }
    told.then_some(receipt)
}

fn kind_of(line: &str) -> Line {
    let words = words_of(line);
    let says = |phrase: &&str| words.contains(&format!(" {phrase} "));
    // "GREETING CARD 2.50" is goods, "CARD 7.56" the way of paying.
    let goods = KINDS.iter().find(|(kind, _)| *kind == "goods");
    if goods.is_some_and(|(_, phrases)| phrases.iter().any(says)) {
        return Line::Charge(ChargeKind::Goods);
    }
    let found = KINDS.iter().find(|(_, phrases)| phrases.iter().any(says));
    match found.map(|(kind, _)| *kind) {
        Some("total") => Line::Total,
        Some("deposit") => Line::Charge(ChargeKind::Deposit),
        Some("discount") => Line::Charge(ChargeKind::Discount),
        Some("tax") => Line::Charge(ChargeKind::Tax),
        Some("fee") => Line::Charge(ChargeKind::Fee),
        Some("skip") => Line::Skip,
        _ => Line::Food,
    }
}

/// "Leeks 3 x 0.80 2.40" as people say it: "3 Leeks 2.40". The last amount is what was paid.
fn without_unit_price(line: &str, context: &ReadContext) -> String {
    let mut words: Vec<&str> = line.split_whitespace().collect();
    let is_money = |word: &str| money_at_end(&format!("x {word}"), context).is_some();
    let times = |word: &str| matches!(word, "x" | "X" | "@" | "\u{d7}" | "a" | "at");
    let glued = |word: &str| {
        let count = word.strip_suffix(['x', 'X', '\u{d7}']);
        count.is_some_and(|count| !count.is_empty() && count.bytes().all(|b| b.is_ascii_digit()))
    };
    let Some(last) = words.iter().rposition(|word| is_money(word)) else { return line.to_owned() };
    let each = (1..last).rev().find(|&i| {
        is_money(words[i].split('/').next().unwrap_or(words[i]))
            && (times(words[i - 1]) || glued(words[i - 1]))
    });
    let Some(each) = each else { return line.to_owned() };
    words.drain(each..last);
    let mut count = each - 1;
    if times(words[count]) && count > 0 {
        words.remove(count);
        count -= 1;
    }
    let number = words[count].trim_end_matches(['x', 'X', '\u{d7}']);
    let whole = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit());
    if whole && count > 0 {
        words.remove(count);
        words.insert(0, number);
    }
    words.join(" ")
}

/// The end of the household goods named at token `i`, if any are.
pub fn goods_at(text: &Text<'_>, i: usize, end: usize) -> Option<usize> {
    let (_, phrases) = KINDS.iter().find(|(kind, _)| *kind == "goods")?;
    let said = |phrase: &str| {
        let words: Vec<&str> = phrase.split(' ').collect();
        (i + words.len() <= end && text.has(i, &words)).then_some(words.len())
    };
    let longest = phrases.iter().filter_map(|phrase| said(phrase)).max()?;
    Some(i + longest)
}

/// Whether a name is that of household goods, not of food.
pub fn is_goods(name: &str) -> bool {
    matches!(kind_of(name), Line::Charge(ChargeKind::Goods))
}

/// The words of a line in lower case, each between spaces.
fn words_of(line: &str) -> String {
    let plain: String = line
        .chars()
        .map(|c| if c.is_alphabetic() { c.to_ascii_lowercase() } else { ' ' })
        .collect();
    format!(" {} ", plain.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// The money a line ends in, with the name before it. A minus may stand on either side.
fn money_at_end(line: &str, context: &ReadContext) -> Option<(String, Minor)> {
    let line = line
        .trim_end_matches(|c: char| c.is_whitespace() || c.is_alphabetic() || "$£€*".contains(c));
    let (line, behind) = match line.strip_suffix('-') {
        Some(line) => (line, true),
        None => (line, false),
    };
    let number = line.rsplit(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).next()?;
    let decimals = context.currency.decimals() as usize;
    let number = number.trim_matches([',', '.']);
    let plain = number.replace(',', ".");
    let cents = plain.rsplit_once('.').map_or(0, |(_, cents)| cents.len());
    if plain.is_empty() || (decimals > 0 && cents != decimals) || plain.matches('.').count() > 1 {
        return None;
    }
    let before = line[..line.len() - number.len()].trim_end_matches(|c: char| "$£€ ".contains(c));
    let negative = behind || before.ends_with(['-', '\u{2212}']);
    let name = before.trim_end_matches(['-', '\u{2212}', ' ', ':', '.']).trim();
    if name.is_empty() {
        return None;
    }
    let scale = Ratio::whole(10_i64.pow(context.currency.decimals()));
    let minor = Ratio::from_decimal(&plain)?.checked_mul(scale)?.rounded();
    Some((name.to_lowercase(), Minor(if negative { -minor } else { minor })))
}
