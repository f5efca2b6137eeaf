//! Starts the one program; everything else is in the library.

use std::process::ExitCode;

fn main() -> ExitCode {
    larderling::cli::run()
}
