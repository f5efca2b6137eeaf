//! The details of a clause that are no food: days, places, prices, printed dates.
//!
//! Found first and taken out of the way, so that the item reader sees only foods and amounts.

use std::ops::Range;

use super::days::{self, Facing};
use super::prices;
use super::tokens::Kind;
use super::{Analysis, vocabulary};
use crate::dates::KitchenDay;
use crate::statement::Price;
use crate::words::{DateLabel, Destination, Place};

/// Which way a place is spoken of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// "in the fridge", "onto the porch".
    To,
    /// "from the freezer", "out of the cellar".
    From,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Detail {
    /// `None` for a wording that names no one day ("the other day").
    Day(Option<KitchenDay>),
    /// How long something lasted, or an age ("4 year old").
    Lasting,
    Place(Place, Way),
    Price {
        price: Price,
        whole: bool,
    },
    Printed(DateLabel, KitchenDay),
    Goal(Goal),
}

/// Where food goes that is no place of storage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// Standing in water.
    Water,
    Waste(Destination),
    /// The trimmings bag.
    Bag,
    /// A dish being made ("in the soup").
    Dish,
    /// A meal or an outing ("for dinner", "for the trip").
    Meal,
    /// The shopping list.
    List,
}

/// The details of one clause, in order, with the tokens they cover.
#[derive(Debug, Default)]
pub struct Details {
    found: Vec<(Range<usize>, Detail)>,
}

impl Details {
    pub fn read(a: &Analysis<'_>, range: Range<usize>) -> Details {
        let mut details = Details::default();
        let mut i = range.start;
        while i < range.end {
            match detail_at(a, i, range.end) {
                Some((end, detail)) if end > i => {
                    details.found.push((i..end, detail));
                    i = end;
                }
                // A food's own words are never a detail ("7 up", "sunday roast").
                _ => i = a.food_at(i).map_or(i + 1, |food| food.tokens.end.max(i + 1)),
            }
        }
        details
    }

    /// The detail that covers token `i`.
    pub fn at(&self, i: usize) -> Option<&(Range<usize>, Detail)> {
        let next = self.found.partition_point(|(range, _)| range.end <= i);
        self.found.get(next).filter(|(range, _)| range.contains(&i))
    }

    pub fn day(&self) -> Option<KitchenDay> {
        self.found.iter().find_map(|(_, d)| match d {
            Detail::Day(day) => *day,
            _ => None,
        })
    }

    pub fn place(&self, wanted: Way) -> Option<&Place> {
        self.found.iter().find_map(|(_, d)| match d {
            Detail::Place(place, way) if *way == wanted => Some(place),
            _ => None,
        })
    }

    pub fn goal(&self) -> Option<Goal> {
        self.found.iter().find_map(|(_, d)| match d {
            Detail::Goal(goal) => Some(*goal),
            _ => None,
        })
    }

    pub fn iter(&self) -> impl Iterator<Item = &(Range<usize>, Detail)> {
        self.found.iter()
    }
}

fn detail_at(a: &Analysis<'_>, i: usize, end: usize) -> Option<(usize, Detail)> {
    if let Some(found) = printed_at(a, i, end) {
        return Some(found);
    }
    if a.food_at(i).is_none_or(|f| f.tokens.start == i && f.tokens.len() == 1)
        && let Some(span) = days::at(a, i..end, Facing::Past)
    {
        return Some((span.tokens.end, Detail::Day(span.day)));
    }
    if let Some(lasting) = days::elapsed::at(&a.text, i).filter(|e| e.tokens.end <= end) {
        return Some((lasting.tokens.end, Detail::Lasting));
    }
    if let Some((goal, next)) = goal_at(a, i, end) {
        return Some((next, Detail::Goal(goal)));
    }
    if let Some(found) = prices::at(a, i, end) {
        let detail = Detail::Price { price: found.price, whole: found.whole };
        return Some((found.end, detail));
    }
    place_at(a, i, end).map(|(place, way, next)| (next, Detail::Place(place, way)))
}

/// "use by the 9th", "best before 12/3", "expires friday".
fn printed_at(a: &Analysis<'_>, i: usize, end: usize) -> Option<(usize, Detail)> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let (label, k) = match (w(i), w(i + 1)) {
        ("use", "by") | ("eat", "by") | ("used", "by") => (DateLabel::UseBy, i + 2),
        ("useby", _) | ("ub", _) => (DateLabel::UseBy, i + 1),
        ("expires" | "expiring" | "exp" | "expiry" | "expire", _) => (DateLabel::UseBy, i + 1),
        ("best", "before" | "by") | ("good", "until" | "till") | ("sell", "by") => {
            (DateLabel::BestBefore, i + 2)
        }
        ("bb" | "bbe" | "bbd", _) => (DateLabel::BestBefore, i + 1),
        _ => return None,
    };
    let k = (k..end.min(k + 3))
        .find(|&k| !matches!(a.text.word(k), "is" | ":" | "date" | "on" | "end" | "of" | "."))?;
    // The day may carry its own preposition.
    let from = if matches!(w(k.saturating_sub(1)), "on") { k - 1 } else { k };
    let span =
        days::at(a, from..end, Facing::Future).or_else(|| days::at(a, k..end, Facing::Future))?;
    Some((span.tokens.end, Detail::Printed(label, span.day?)))
}

/// A place with its preposition: "in the fridge", "onto the porch", "out of the freezer".
pub fn place_at(a: &Analysis<'_>, i: usize, end: usize) -> Option<(Place, Way, usize)> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let (way, mut k) = match (w(i), w(i + 1)) {
        ("out", "of") => (Way::From, i + 2),
        ("from" | "off", _) => (Way::From, i + 1),
        ("in" | "into" | "on" | "onto" | "to" | "at" | "inside" | "under" | "over", "to") => {
            (Way::To, i + 2)
        }
        ("in" | "into" | "on" | "onto" | "to" | "at" | "inside" | "under", _) => (Way::To, i + 1),
        ("down" | "up" | "back" | "out", "in" | "to" | "into" | "onto" | "on") => (Way::To, i + 2),
        _ => return None,
    };
    while matches!(w(k), "the" | "my" | "our" | "a" | "that" | "your") {
        k += 1;
    }
    let (place, length) = named_place(a, k, end)?;
    Some((place, way, k + length))
}

/// A place's bare name at `i`, the household's own names first.
pub fn named_place(a: &Analysis<'_>, i: usize, end: usize) -> Option<(Place, usize)> {
    if i >= end || a.text.kind(i) != Some(Kind::Word) {
        return None;
    }
    for name in &a.context.places {
        let mut words = name.split([' ', '-', '_']).peekable();
        let mut k = i;
        while k < end && words.next_if(|word| *word == a.text.word(k)).is_some() {
            k += 1;
        }
        if words.peek().is_none() && k > i {
            return Some((Place::Own(name.clone()), k - i));
        }
    }
    let next = if i + 1 < end { a.text.word(i + 1) } else { "" };
    vocabulary::place(a.text.word(i), next)
}

/// "in water", "in the bin", "down the sink", "to the hens", "in the soup", "for dinner", "on the list".
pub fn goal_at(a: &Analysis<'_>, i: usize, end: usize) -> Option<(Goal, usize)> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let preposition = match w(i) {
        "down" if matches!(w(i + 1), "to") => return None,
        "in" | "into" | "on" | "onto" | "to" | "down" | "for" | "from" | "off" | "with" => w(i),
        _ => return None,
    };
    let mut k = i + 1;
    while matches!(w(k), "the" | "a" | "an" | "my" | "our" | "some" | "its" | "their" | "to")
        && k < end.min(i + 5)
    {
        k += 1;
    }
    let adjective = |k: usize| {
        matches!(
            w(k),
            "fresh"
                | "cold"
                | "green"
                | "big"
                | "cool"
                | "ice"
                | "iced"
                | "clean"
                | "new"
                | "tall"
                | "little"
                | "small"
                | "brown"
                | "black"
                | "food"
                | "kitchen"
                | "garden"
        )
    };
    let bare = k;
    while adjective(k) && k + 1 < end {
        k += 1;
    }
    let into = matches!(preposition, "in" | "into" | "to" | "on" | "onto");
    let next = w(k + 1);
    let goal = match w(k) {
        "water" if into => (Goal::Water, 1),
        "jar" | "glass" | "vase" | "bowl" | "jug" | "cup" | "mug" | "tub" | "container"
        | "bucket" | "pot" | "bottle" | "tumbler"
            if into && matches!(next, "of" | "with") =>
        {
            let at = (k + 2..end.min(k + 5)).find(|&m| w(m) == "water")?;
            (Goal::Water, at + 1 - k)
        }
        "vase" if into => (Goal::Water, 1),
        "bin" | "trash" | "garbage" | "rubbish" | "dustbin" | "landfill" | "dumpster"
        | "wheelie"
            if into =>
        {
            let brown_or_green = w(bare) == "food" || (w(bare) == "green" && k > bare);
            let to = if brown_or_green { Destination::Compost } else { Destination::Trash };
            let more = usize::from(matches!(next, "bin" | "can" | "bag" | "heap") && w(k) != "bin");
            (Goal::Waste(to), 1 + more)
        }
        "compost" | "bokashi" | "composter" | "worms" | "wormery" | "worm"
            if into || preposition == "for" =>
        {
            (
                Goal::Waste(Destination::Compost),
                1 + usize::from(matches!(
                    next,
                    "bin" | "heap" | "pile" | "bucket" | "caddy" | "bag"
                )),
            )
        }
        "drain" | "sink" | "toilet" | "loo" | "plughole" if preposition != "for" => {
            (Goal::Waste(Destination::Drain), 1)
        }
        "caddy" if into => (Goal::Waste(Destination::Compost), 1),
        word if is_animal(word) && preposition != "in" && preposition != "on" => {
            (Goal::Waste(Destination::AnimalFeed), 1)
        }
        "guinea" if next == "pigs" => (Goal::Waste(Destination::AnimalFeed), 2),
        "trimmings" | "trimming" | "stock" | "scrap" | "scraps" | "broth" | "veg" | "soup"
        | "freezer"
            if into && matches!(next, "bag" | "box" | "tub") =>
        {
            (Goal::Bag, 2)
        }
        "bag" if into && k == i + 2 && w(i + 1) == "the" && next != "of" => {
            (Goal::Bag, if next == "for" && w(k + 2) == "stock" { 3 } else { 1 })
        }
        "stock" if preposition == "for" && !matches!(w(i + 1), "the") => (Goal::Bag, 1),
        "list" => (Goal::List, 1),
        "shopping" | "grocery" | "groceries" | "shop" | "buy" if next == "list" => (Goal::List, 2),
        word if into && is_dish(word) => (Goal::Dish, 1),
        "dinner" | "lunch" | "breakfast" | "supper" | "tea" | "brunch" | "pudding" | "dessert"
        | "snack" | "snacks" | "picnic" | "trip" | "packed" | "lunchboxes" | "lunchbox"
        | "hike" | "camping" | "road" | "school" | "party"
            if preposition == "for" =>
        {
            let more = usize::from(matches!(next, "trip" | "lunch" | "lunches"));
            (Goal::Meal, 1 + more)
        }
        // "in the carrot soup": a food and then a dish.
        _ if into => {
            let food = a.food_at(k).filter(|f| f.tokens.start == k && f.tokens.end <= end)?;
            let last = food.tokens.end - 1;
            match (is_dish(w(last)), is_dish(w(last + 1))) {
                (true, _) => (Goal::Dish, last + 1 - k),
                (_, true) => (Goal::Dish, last + 2 - k),
                _ => return None,
            }
        }
        _ => return None,
    };
    Some((goal.0, k + goal.1))
}

pub fn is_animal(word: &str) -> bool {
    matches!(
        word,
        "hens"
            | "hen"
            | "chickens"
            | "chooks"
            | "pig"
            | "pigs"
            | "goat"
            | "goats"
            | "rabbit"
            | "rabbits"
            | "bunny"
            | "bunnies"
            | "dog"
            | "dogs"
            | "ducks"
            | "duck"
            | "sheep"
            | "horse"
            | "horses"
            | "pony"
            | "tortoise"
            | "birds"
            | "cow"
            | "cows"
            | "geese"
            | "donkey"
            | "alpacas"
            | "hamster"
            | "turkeys"
            | "cat"
            | "cats"
            | "piglets"
    )
}

pub fn is_dish(word: &str) -> bool {
    matches!(
        word,
        "soup"
            | "stew"
            | "pie"
            | "curry"
            | "salad"
            | "sauce"
            | "omelette"
            | "omelet"
            | "casserole"
            | "smoothie"
            | "smoothies"
            | "cake"
            | "bake"
            | "risotto"
            | "pasta"
            | "lasagne"
            | "lasagna"
            | "stirfry"
            | "fry"
            | "chili"
            | "chilli"
            | "quiche"
            | "crumble"
            | "tart"
            | "frittata"
            | "gratin"
            | "hash"
            | "ragu"
            | "bolognese"
            | "gumbo"
            | "tagine"
            | "dal"
            | "dhal"
            | "daal"
            | "pot"
            | "roast"
            | "wok"
            | "pan"
            | "muffins"
            | "pancakes"
            | "tacos"
            | "sandwiches"
            | "sandwich"
            | "chutney"
            | "jam"
            | "slaw"
            | "coleslaw"
            | "stock"
            | "broth"
            | "chowder"
            | "paella"
            | "porridge"
            | "burgers"
            | "pizza"
            | "tray"
            | "traybake"
            | "dinner"
            | "lunch"
            | "breakfast"
            | "supper"
            | "tea"
            | "marinade"
            | "dressing"
            | "pesto"
            | "salsa"
            | "hotpot"
            | "moussaka"
            | "noodles"
            | "ramen"
            | "wraps"
            | "goulash"
            | "fritters"
            | "puree"
            | "mash"
            | "puttanesca"
    )
}
