#!/usr/bin/env bash
# Installs the two programs that judge the messaging protocol from outside: typed models of every
# method (Python) and a foreign test server (Node). Does nothing where they are already in place.
set -euo pipefail
cd "$(dirname "$0")"
target="${CARGO_TARGET_DIR:-../../target}/referees"
mkdir -p "$target"
target="$(cd "$target" && pwd)"

stamp="$target/aiogram/installed.txt"
if ! cmp -s requirements.txt "$stamp"; then
    rm -rf "$target/aiogram"
    python3 -m venv "$target/aiogram"
    "$target/aiogram/bin/pip" install --quiet --disable-pip-version-check -r requirements.txt
    cp requirements.txt "$stamp"
fi

stamp="$target/foreign_peer/installed.json"
if ! cmp -s foreign_peer/package-lock.json "$stamp"; then
    rm -rf "$target/foreign_peer"
    mkdir -p "$target/foreign_peer"
    cp foreign_peer/package.json foreign_peer/package-lock.json "$target/foreign_peer/"
    npm ci --silent --no-audit --no-fund --ignore-scripts --prefix "$target/foreign_peer"
    cp foreign_peer/package-lock.json "$stamp"
fi
