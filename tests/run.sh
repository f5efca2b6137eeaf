#!/usr/bin/env bash
# Sets up all that the tests need, runs every check and every test, and takes the set-up down.
# Arguments go to the test binaries: tests/run.sh kill runs the tests with "kill" in their name.
set -euo pipefail
cd "$(dirname "$0")/.."
trap 'tests/setup.sh stop' EXIT
tests/setup.sh
. "${CARGO_TARGET_DIR:-target}/tests.env"
# With this set a test that lacks its database or its referee fails instead of doing without.
export CI=true INSTA_UPDATE=no

cargo fmt --check
cargo clippy --locked --all-targets -- -D warnings
cargo test --locked -- "$@"
