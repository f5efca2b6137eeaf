//! Time zones as people name them: by region and city.
//!
//! # Source
//! IANA Time Zone Database, as bundled by `chrono-tz`: names of the form `Region/City`.

use super::Zone;

/// The regions people live in, as the database names them.
pub const REGIONS: &[&str] =
    &["Africa", "America", "Asia", "Atlantic", "Australia", "Europe", "Indian", "Pacific"];

impl Zone {
    /// Every zone the database names by a region and a city, in its order.
    fn cities() -> impl Iterator<Item = Zone> {
        let all = chrono_tz::TZ_VARIANTS.iter().map(|tz| Zone(*tz));
        all.filter(|zone| REGIONS.contains(&zone.region()))
    }

    /// `Europe` of `Europe/Lisbon`; the whole name of a zone without a region.
    pub fn region(self) -> &'static str {
        self.name().split('/').next().unwrap_or_default()
    }

    /// `Buenos Aires` of `America/Argentina/Buenos_Aires`.
    pub fn city(self) -> String {
        self.name().rsplit('/').next().unwrap_or_default().replace('_', " ")
    }

    /// The zones of a region by city, in groups of at most `most` that are about equally long.
    pub fn groups(region: &str, most: usize) -> Vec<Vec<Zone>> {
        let mut cities: Vec<Zone> = Zone::cities().filter(|zone| zone.region() == region).collect();
        cities.sort_by_key(|zone| zone.city());
        let groups = cities.len().div_ceil(most.max(1)).max(1);
        let size = cities.len().div_ceil(groups).max(1);
        cities.chunks(size).map(<[Zone]>::to_vec).collect()
    }

    /// The zone somebody means by a name: the database's own, or a city of it, in any case.
    pub fn named(text: &str) -> Option<Zone> {
        let wanted = text.trim().to_lowercase().replace('_', " ");
        let city = Zone::cities().find(|zone| zone.city().to_lowercase() == wanted);
        let whole = || {
            let all = chrono_tz::TZ_VARIANTS.iter().map(|tz| Zone(*tz));
            all.into_iter().find(|zone| zone.name().to_lowercase().replace('_', " ") == wanted)
        };
        city.or_else(whole)
    }
}

#[cfg(test)]
mod tests {
    use super::{REGIONS, Zone};

    #[test]
    fn a_zone_is_found_by_its_city_or_its_whole_name() {
        let table = [
            ("Vienna", Some("Europe/Vienna")),
            ("new york", Some("America/New_York")),
            ("BUENOS AIRES", Some("America/Argentina/Buenos_Aires")),
            ("europe/lisbon", Some("Europe/Lisbon")),
            ("utc", Some("UTC")),
            ("Mittelerde", None),
            ("", None),
        ];
        for (text, expected) in table {
            assert_eq!(Zone::named(text).map(Zone::name), expected, "{text:?}");
        }
    }

    #[test]
    fn every_city_stands_in_one_short_group_of_its_region() {
        for region in REGIONS {
            let groups = Zone::groups(region, 12);
            assert!(groups.iter().all(|group| (1..=12).contains(&group.len())), "{region}");
            assert!(groups.len() <= 16, "{region}: {}", groups.len());
            let count: usize = groups.iter().map(Vec::len).sum();
            let expected = chrono_tz::TZ_VARIANTS
                .iter()
                .filter(|tz| tz.name().split('/').next() == Some(region));
            assert_eq!(count, expected.count(), "{region}");
        }
    }
}
