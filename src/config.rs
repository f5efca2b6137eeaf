//! Where settings of the program itself come from: options, then environment, then defaults.
//!
//! Settings of a household are no business of this file; they change in its chat. Errors name the
//! option and the variable to set.

use std::collections::BTreeSet;
use std::path::PathBuf;

use anyhow::{Context, anyhow};

use crate::clock::machine_zone;
use crate::desk::Admission;
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

/// Where the console writes the pictures of the database at `location`: a folder beside the file.
pub fn pictures_folder(location: &Location) -> PathBuf {
    match location {
        Location::File(path) => path.with_extension("pictures"),
        Location::Memory | Location::Postgres(_) => {
            let data = data_folder().unwrap_or_else(|_| std::env::temp_dir().join("larderling"));
            data.join("pictures")
        }
    }
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

/// What a new household starts with on this machine: its time zone. Nothing is guessed from the
/// language of the machine: a wrong country would name the wrong poison centre.
pub fn founding() -> Vec<(String, String)> {
    vec![("tz".to_owned(), machine_zone().name().to_owned())]
}

/// The variable with the code that lets somebody found a household.
const CODE_VARIABLE: &str = "LARDERLING_ADMIT_CODE";
/// How long such a code is, in characters; a link into the chat carries no more.
const CODE_CHARS: std::ops::RangeInclusive<usize> = 8..=64;

/// Whom the operator lets found a household: `open`, `code`, or ids with commas between.
pub fn admission(given: &str) -> anyhow::Result<Admission> {
    match given.trim() {
        "open" => Ok(Admission::Open),
        "code" => {
            let code = std::env::var(CODE_VARIABLE).unwrap_or_default();
            let plain = |b: u8| b.is_ascii_alphanumeric() || b == b'_' || b == b'-';
            if !CODE_CHARS.contains(&code.len()) || !code.bytes().all(plain) {
                return Err(anyhow!(
                    "--admit code needs {CODE_VARIABLE}: 8 to 64 letters, digits, _ and -"
                ));
            }
            Ok(Admission::Code(code))
        }
        ids => {
            let listed: BTreeSet<String> = ids.split(',').map(|id| id.trim().to_owned()).collect();
            let is_id = |id: &String| {
                let digits = id.strip_prefix('-').unwrap_or(id);
                !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit())
            };
            if !listed.iter().all(is_id) {
                return Err(anyhow!(
                    "--admit / LARDERLING_ADMIT takes open, code, or ids such as 1234,-100567"
                ));
            }
            Ok(Admission::Listed(listed))
        }
    }
}
