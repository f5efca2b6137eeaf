//! Prices: "6.40", "for 4.99", "$2 a kilo", "99c/lb", "2 for 3", "3,49 EUR".

use super::Analysis;
use super::amounts;
use super::tokens::Kind;
use crate::statement::Price;
use crate::units::{Minor, Ratio, Unit};

/// Prices are read up to this, in minor units; the kitchen then says what it does not believe.
const PRICE_MAX: i64 = 1_000_000_000_000;

/// A price found in the text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    pub price: Price,
    /// Said as a price: with a currency, "for", "at" or "each"; a bare decimal is not.
    pub explicit: bool,
    /// Said to be for everything ("6.40 total", "all in").
    pub whole: bool,
    /// The token after it.
    pub end: usize,
}

/// The price that begins at token `i`, before `end`.
pub fn at(a: &Analysis<'_>, i: usize, end: usize) -> Option<Found> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    // "2 for 3": the number in front belongs to the price.
    if let Some(count) = a.text.number(i)
        && w(i + 1) == "for"
        && let Some((minor, next, _)) = money(a, i + 2, end, true)
        && count.denom() == 1
        && !blocks(a, next, end)
    {
        let price = Price { minor, per: None, quantity: Some(count) };
        return Some(Found { price, explicit: true, whole: false, end: next });
    }
    let lead = match w(i) {
        "for" | "at" | "@" | "paid" | "cost" | "costs" | "costing" | "was" | "were" | "only" => 1,
        _ => 0,
    };
    let lead = if lead == 1 && matches!(w(i + 1), "only" | "just" | "about") { 2 } else { lead };
    let (minor, mut next, marked) = money(a, i + lead, end, lead > 0)?;
    let mut price = Price { minor, per: None, quantity: None };
    let mut explicit = marked || (lead > 0 && w(i) != "was" && w(i) != "were" && w(i) != "only");
    let per = per_unit(a, next, end);
    if let Some((unit, count, after)) = per {
        price.per = Some(unit);
        price.quantity = count;
        explicit = true;
        next = after;
    }
    if !explicit {
        // A bare decimal is a price only where nothing it could count follows.
        let decimal = written_as_money(a, i + lead);
        let count = w(next) == "for" && lead == 0;
        if !decimal || count || blocks(a, next, end) {
            return None;
        }
    } else if !marked && per.is_none() && blocks(a, next, end) {
        return None;
    }
    // "4,20 total", "12.50 all in": the word belongs to the price.
    let another = |k: usize| a.text.number(k).is_some() || is_symbol(w(k));
    let everything = match (w(next), w(next + 1)) {
        ("total" | "altogether", _) if !another(next + 1) => 1,
        ("all", "in" | "up") | ("in", "total" | "all") | ("all", "together") => 2,
        _ => 0,
    };
    Some(Found { price, explicit, whole: everything > 0, end: next + everything })
}

/// Something follows that the number would count ("for 3 hours", "for 2 days").
fn blocks(a: &Analysis<'_>, i: usize, end: usize) -> bool {
    if i >= end {
        return false;
    }
    match a.text.kind(i) {
        Some(Kind::Word) => {
            !matches!(
                a.text.word(i),
                "and"
                    | "at"
                    | "from"
                    | "in"
                    | "onto"
                    | "into"
                    | "on"
                    | "yesterday"
                    | "today"
                    | "this"
                    | "the"
                    | "each"
                    | "per"
                    | "a"
                    | "an"
                    | "use"
                    | "best"
                    | "for"
                    | "to"
                    | "so"
                    | "but"
                    | "plus"
                    | "then"
                    | "bargain"
                    | "lovely"
                    | "they"
                    | "which"
                    | "now"
                    | "we"
                    | "i"
                    | "last"
                    | "going"
                    | "off"
                    | "reduced"
                    | "total"
                    | "altogether"
                    | "all"
                    | "with"
                    | "comma"
                    | "also"
                    | "thanks"
                    | "expires"
                    | "bb"
                    | "put"
            ) && a.tag(i).unit.is_some() | !a.tag(i).is_filler()
        }
        Some(Kind::Number) => a.text.is_glued(i),
        Some(Kind::Mark) => matches!(a.text.word(i), "%" | ":" | "/") && a.text.is_glued(i),
        _ => false,
    }
}

/// "6.40" or "6,40": digits with exactly the decimals money has.
fn written_as_money(a: &Analysis<'_>, i: usize) -> bool {
    let decimals = a.context.currency.decimals().max(2) as usize;
    let text = a.text.word(i);
    text.rfind(['.', ',']).is_some_and(|at| text.len() - at - 1 == decimals)
}

/// An amount of money; the flag says whether a currency was named.
fn money(a: &Analysis<'_>, i: usize, end: usize, lead: bool) -> Option<(Minor, usize, bool)> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    if is_symbol(w(i)) || (is_currency(a, w(i)) && a.text.number(i + 1).is_some()) {
        let value = a.text.number(i + 1).filter(|_| i + 1 < end && !w(i + 1).contains('/'))?;
        return Some((major(a, value)?, i + 2, true));
    }
    let value = a.text.number(i).filter(|_| i < end && !w(i).contains('/'))?;
    let glued = a.text.is_glued(i + 1);
    match w(i + 1) {
        "¢" | "cents" | "cent" | "pence" => return Some((Minor(value.rounded()), i + 2, true)),
        "c" | "p" | "ct" if glued && value >= Ratio::whole(5) && value.denom() == 1 => {
            let per = per_unit(a, i + 2, end).is_some();
            let alone = per || lead || ends_here(a, i + 2, end);
            return alone.then_some((Minor(value.rounded()), i + 2, true));
        }
        "pounds" | "pound" if !lead => return None,
        word if is_symbol(word) || is_currency(a, word) || is_money_word(word) => {
            return Some((major(a, value)?, i + 2, true));
        }
        _ => {}
    }
    Some((major(a, value)?, i + 1, false))
}

fn ends_here(a: &Analysis<'_>, i: usize, end: usize) -> bool {
    i >= end
        || matches!(a.text.kind(i), Some(Kind::Newline | Kind::Emoji))
        || matches!(a.text.word(i), "," | "." | ";" | "and" | ")" | "!" | "&" | "+")
}

fn major(a: &Analysis<'_>, value: Ratio) -> Option<Minor> {
    let scale = Ratio::whole(10_i64.pow(a.context.currency.decimals()));
    // More than anybody pays stays more than anybody pays.
    let most = Ratio::whole(PRICE_MAX);
    Some(Minor(value.checked_mul(scale).unwrap_or(most).min(most).rounded()))
}

pub fn is_symbol(word: &str) -> bool {
    matches!(word, "$" | "£" | "€" | "¥" | "₹" | "₩" | "₽" | "₺" | "₫" | "₱" | "฿" | "₴" | "zł")
}

/// The code of a currency: the household's own, or a common one.
fn is_currency(a: &Analysis<'_>, word: &str) -> bool {
    is_code(word) || word.eq_ignore_ascii_case(a.context.currency.code())
}

fn is_code(word: &str) -> bool {
    matches!(
        word,
        "usd"
            | "eur"
            | "gbp"
            | "aud"
            | "cad"
            | "nzd"
            | "chf"
            | "sek"
            | "nok"
            | "dkk"
            | "pln"
            | "czk"
            | "huf"
            | "inr"
            | "jpy"
            | "cny"
            | "krw"
            | "try"
            | "zar"
            | "brl"
            | "mxn"
            | "ils"
            | "sgd"
            | "hkd"
            | "ron"
            | "kr"
            | "fr"
            | "rs"
    )
}

pub fn is_money_word(word: &str) -> bool {
    matches!(
        word,
        "dollar"
            | "dollars"
            | "euro"
            | "euros"
            | "bucks"
            | "buck"
            | "quid"
            | "pounds"
            | "pound"
            | "yen"
            | "francs"
            | "crowns"
            | "kronor"
            | "kroner"
            | "zloty"
            | "rupees"
    )
}

/// "/kg", "per lb", "a kilo", "each", "per 100 g": what the price is for.
fn per_unit(a: &Analysis<'_>, i: usize, end: usize) -> Option<(Unit, Option<Ratio>, usize)> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    match w(i) {
        "each" | "apiece" | "ea" => Some((Unit::Piece, None, i + 1)),
        "a" if w(i + 1) == "piece" || w(i + 1) == "pop" => Some((Unit::Piece, None, i + 2)),
        "the" if matches!(w(i + 1), "kilo" | "kg" | "lb" | "pound") => {
            amounts::unit_at(a, i + 1, end, true).map(|(unit, next)| (unit, None, next))
        }
        "/" | "per" | "a" | "an" => {
            if matches!(w(i + 1), "piece" | "each" | "item" | "ea") {
                return Some((Unit::Piece, None, i + 2));
            }
            let (count, k) = match a.text.number(i + 1).filter(|_| i + 1 < end) {
                Some(count) => (Some(count), i + 2),
                None => (None, i + 1),
            };
            let (unit, next) = amounts::unit_at(a, k, end, true)?;
            Some((unit, count, next))
        }
        _ => None,
    }
}
