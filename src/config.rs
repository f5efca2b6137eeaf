//! Where settings of the program itself come from: options, then environment, then defaults.
//!
//! Settings of a household are no business of this file; they change in its chat. Errors name the
//! option and the variable to set.

use std::fmt;
use std::path::PathBuf;

use anyhow::{Context, anyhow};

use crate::clock::machine_zone;
use crate::store::Location;

/// The variable that names the database.
pub const DATABASE_VARIABLE: &str = "LARDERLING_DATABASE";

/// The database to use: `given`, or the file in the user's data folder.
pub fn database(given: Option<&str>) -> anyhow::Result<Location> {
    match given {
        Some(given) => {
            Location::parse(given).with_context(|| format!("--database / {DATABASE_VARIABLE}"))
        }
        None => Ok(Location::File(data_folder()?.join("larderling.db"))),
    }
}

/// The demo household's own file, beside the real one.
pub fn demo_file() -> anyhow::Result<PathBuf> {
    Ok(data_folder()?.join("demo.db"))
}

/// `$XDG_DATA_HOME/larderling`, else `~/.local/share/larderling`.
///
/// # Source
/// XDG Base Directory Specification 0.8: a relative path in the variable counts as not set.
fn data_folder() -> anyhow::Result<PathBuf> {
    let folder = |name: &str| std::env::var_os(name).map(PathBuf::from);
    let base = folder("XDG_DATA_HOME").filter(|path| path.is_absolute());
    let base = base.or_else(|| {
        folder("HOME").filter(|path| path.is_absolute()).map(|home| home.join(".local/share"))
    });
    let base = base.ok_or_else(|| {
        anyhow!(
            "neither XDG_DATA_HOME nor HOME is set, so there is no data folder; name a file with \
             --database or {DATABASE_VARIABLE}"
        )
    })?;
    Ok(base.join("larderling"))
}

/// What a new household starts with on this machine: its time zone, and what the territory of its
/// locale says about units and emergency numbers.
pub fn founding() -> Vec<(String, String)> {
    let locale = ["LC_ALL", "LC_MEASUREMENT", "LANG"]
        .into_iter()
        .find_map(|name| std::env::var(name).ok().filter(|value| !value.is_empty()));
    founding_for(machine_zone().name(), locale.as_deref().and_then(territory))
}

fn founding_for(zone: &str, territory: Option<&str>) -> Vec<(String, String)> {
    let mut settings = vec![("tz".to_owned(), zone.to_owned())];
    if let Some(code) = territory {
        // Countries that have not adopted the SI: NIST, "Metrication FAQ"; memory.
        let units = if matches!(code, "US" | "LR" | "MM") { "us" } else { "metric" };
        settings.push(("units".to_owned(), units.to_owned()));
        settings.push(("country".to_owned(), code.to_owned()));
    }
    settings
}

/// `IE` of `en_IE.UTF-8`.
fn territory(locale: &str) -> Option<&str> {
    let code = locale.split_once('_')?.1.get(..2)?;
    code.bytes().all(|b| b.is_ascii_uppercase()).then_some(code)
}

/// Text that must not be printed.
#[derive(Clone, PartialEq, Eq)]
pub struct Secret(String);

impl Secret {
    /// The text itself, for the one place that needs it.
    pub fn reveal(&self) -> &str {
        &self.0
    }
}

impl From<String> for Secret {
    fn from(text: String) -> Secret {
        Secret(text)
    }
}

impl fmt::Debug for Secret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("[secret]")
    }
}

#[cfg(test)]
mod tests {
    use super::{Secret, founding_for, territory};

    #[test]
    fn a_locale_gives_units_and_country() {
        assert_eq!(territory("en_IE.UTF-8"), Some("IE"));
        assert_eq!(territory("C.UTF-8"), None);
        let keys = |territory| -> Vec<String> {
            founding_for("Europe/Dublin", territory).into_iter().map(|(_, value)| value).collect()
        };
        assert_eq!(keys(Some("IE")), ["Europe/Dublin", "metric", "IE"]);
        assert_eq!(keys(Some("US")), ["Europe/Dublin", "us", "US"]);
        assert_eq!(keys(None), ["Europe/Dublin"]);
    }

    #[test]
    fn a_secret_does_not_print() {
        assert_eq!(format!("{:?}", Secret::from("hush".to_owned())), "[secret]");
    }
}
