#!/usr/bin/env bash
# Sets up everything the tests need beside Rust: a throw-away PostgreSQL and the outside referees.
#
#   tests/setup.sh         sets up, and writes target/tests.env with what the tests are to know
#   tests/setup.sh stop    stops the PostgreSQL and removes its data
#
# Packages are installed with apt-get where they are missing, which needs root; on other systems
# install PostgreSQL, Python 3 with venv, and npm yourself.
set -euo pipefail
cd "$(dirname "$0")/.."
target="${CARGO_TARGET_DIR:-target}"
mkdir -p "$target"
env_file="$target/tests.env"
place_file="$target/tests.postgres"

newest_postgres() {
    find /usr/lib/postgresql -mindepth 3 -maxdepth 3 -path '*/bin/initdb' 2>/dev/null | sort -V | tail -n 1
}

# PostgreSQL refuses to run as root.
unprivileged() {
    if [ "$(id -u)" = 0 ]; then
        setpriv --reuid=nobody --regid=nogroup --clear-groups env "HOME=$place" "$@"
    else
        "$@"
    fi
}

stop() {
    [ -f "$place_file" ] || return 0
    place="$(cat "$place_file")"
    if [ -d "$place/data" ]; then
        unprivileged "$(dirname "$(newest_postgres)")/pg_ctl" -D "$place/data" -m immediate stop >/dev/null || true
    fi
    rm -rf "$place" "$place_file"
}

install_missing() {
    local missing=()
    [ -n "$(newest_postgres)" ] || missing+=(postgresql)
    command -v npm >/dev/null || missing+=(npm)
    python3 -c 'import ensurepip, venv' 2>/dev/null || missing+=(python3 python3-venv)
    [ "${#missing[@]}" -gt 0 ] || return 0
    echo "installing: ${missing[*]}" >&2
    apt-get update -qq
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
}

free_port() {
    python3 -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])'
}

start() {
    local bin port
    bin="$(dirname "$(newest_postgres)")"
    place="$(mktemp -d "${TMPDIR:-/tmp}/larderling-tests.XXXXXX")"
    [ "$(id -u)" != 0 ] || chown nobody:nogroup "$place"
    echo "$place" >"$place_file"
    unprivileged "$bin/initdb" -D "$place/data" -U larder -A trust -E UTF8 --locale=C.UTF-8 --no-sync >/dev/null
    port="$(free_port)"
    # Safe against a crash of the tests, not of the machine: nobody needs this data tomorrow.
    unprivileged "$bin/pg_ctl" -D "$place/data" -l "$place/log" -w start \
        -o "-c listen_addresses=127.0.0.1 -p $port -k $place -c fsync=off -c max_connections=200" >/dev/null
    echo "export LARDERLING_TEST_POSTGRES=postgres://larder@127.0.0.1:$port/postgres" >"$env_file"
}

if [ "${1:-}" = stop ]; then
    stop
    exit 0
fi
install_missing
stop
start
tests/referees/setup.sh
echo "ready: $(cat "$env_file")" >&2
