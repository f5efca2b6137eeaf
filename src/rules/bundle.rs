//! The embedded data files. A new file is added to this list and nowhere else.

use super::check::Faults;
use super::lookup::Rules;

/// Names each file once and embeds its text.
macro_rules! bundle {
    ($($file:literal),+ $(,)?) => {
        /// Every data file, as `(file name, text)`.
        const FILES: &[(&str, &str)] = &[$(($file, include_str!(concat!("data/", $file)))),+];
    };
}

bundle! {
    "sources.toml",
    "general.toml",
    "poison.toml",
    "kinds.toml",
    "leafy.toml",
    "brassicas.toml",
    "roots.toml",
    "alliums.toml",
    "vegetables.toml",
    "mushrooms.toml",
    "fruit.toml",
    "berries.toml",
    "herbs.toml",
    "legumes.toml",
    "grains.toml",
    "nuts.toml",
    "dairy.toml",
    "meat.toml",
    "prepared.toml",
    "hazards.toml",
}

impl Rules {
    /// The rule set the program ships with.
    ///
    /// # Errors
    /// Every fault of the bundle; a test keeps it free of any.
    pub fn embedded() -> Result<Rules, Faults> {
        Rules::parse(FILES)
    }
}
