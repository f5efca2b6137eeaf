#!/usr/bin/env bash
# Builds the program as one static file and an image that holds nothing else.
#
#   docker/build.sh [PROFILE] [IMAGE]     defaults: release, larderling:latest
#
# The image is built with docker, or where there is no engine, or LARDERLING_ENGINE=buildah says so,
# with buildah (as root).
set -euo pipefail
cd "$(dirname "$0")/.."
profile="${1:-release}"
image="${2:-larderling:latest}"
triple="$(uname -m)-unknown-linux-gnu"
target="${CARGO_TARGET_DIR:-target}"

# With --target the flag is kept from the crates that run during the build.
RUSTFLAGS="-C target-feature=+crt-static" \
    cargo build --locked --profile "$profile" --target "$triple" --target-dir "$target/static"
folder="$profile"
[ "$profile" != dev ] || folder=debug
context="$(mktemp -d)"
trap 'rm -rf "$context"' EXIT
cp "$target/static/$triple/$folder/larderling" "$context/"
cp docker/Dockerfile LICENSE-MIT LICENSE-APACHE "$context/"
# A folder that belongs to the program's user: an image from nothing cannot make one.
mkdir "$context/data"

if [ "${LARDERLING_ENGINE:-docker}" = docker ] && docker info >/dev/null 2>&1; then
    docker build --tag "$image" "$context"
else
    buildah bud --isolation chroot --tag "$image" "$context"
fi
