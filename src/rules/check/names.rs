//! Names and references: every id is one food, every name means one food or is listed as ambiguous.

use std::collections::{BTreeMap, HashMap};

use super::Checker;
use crate::rules::Food;
use crate::rules::general::General;
use crate::rules::lookup::normalise;
use crate::words::FoodId;

impl Checker {
    pub(super) fn ids(&mut self, foods: &[(String, Food)]) -> HashMap<FoodId, usize> {
        let mut by_id = HashMap::with_capacity(foods.len());
        for (index, (file, food)) in foods.iter().enumerate() {
            if by_id.insert(food.id.clone(), index).is_some() {
                self.file.clone_from(file);
                self.fault(food.id.as_str(), "two foods have this id");
            }
        }
        by_id
    }

    /// Every name with the foods that answer to it. Two foods may share a name only where it is
    /// listed as ambiguous, with both.
    pub(super) fn names(
        &mut self,
        foods: &[(String, Food)],
        by_id: &HashMap<FoodId, usize>,
        ambiguous: &BTreeMap<String, Vec<String>>,
    ) -> BTreeMap<String, Vec<usize>> {
        let mut by_name: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        self.file = "general.toml".to_owned();
        for (name, ids) in ambiguous {
            let key = format_args!("ambiguous.{name}");
            let mut indices = Vec::with_capacity(ids.len());
            for id in ids {
                match by_id.get(&FoodId::new(id.as_str())) {
                    Some(&index) => indices.push(index),
                    None => self.fault(key, format!("no food is called {id:?}")),
                }
            }
            if ids.len() < 2 {
                self.fault(key, "an ambiguous name is shared by at least two foods");
            }
            by_name.insert(normalise(name), indices);
        }
        let listed: Vec<String> = by_name.keys().cloned().collect();
        for (index, (file, food)) in foods.iter().enumerate() {
            let id_words = food.id.as_str().replace('_', " ");
            let own = [food.name.as_str(), &food.plural, &id_words];
            for name in own.into_iter().chain(food.aliases.iter().map(String::as_str)) {
                let name = normalise(name);
                let claimed = by_name.entry(name.clone()).or_default();
                if claimed.contains(&index) {
                    continue;
                }
                if let Some(&other) = claimed.first() {
                    let other = foods[other].1.id.clone();
                    let what = if listed.binary_search(&name).is_ok() {
                        format!("{name:?} is ambiguous, and this food is not on its list")
                    } else {
                        format!("{name:?} also means {other}; list it as ambiguous or drop it")
                    };
                    self.file.clone_from(file);
                    self.fault(food.id.as_str(), what);
                    continue;
                }
                claimed.push(index);
            }
        }
        by_name
    }

    pub(super) fn references(&mut self, general: &General, by_id: &HashMap<FoodId, usize>) {
        self.file = "general.toml".to_owned();
        let at_risk = general.at_risk.iter().map(|row| ("at_risk", &row.foods));
        let animals = general.animals.iter().map(|row| ("animals", &row.foods));
        for (key, foods) in at_risk.chain(animals) {
            for id in foods {
                if !by_id.contains_key(id) {
                    self.fault(key, format!("no food is called {:?}", id.as_str()));
                }
            }
        }
    }
}
