#!/usr/bin/env bash
# Builds the image without an engine and starts the program in it as the image would: as nobody in
# particular, with no other file about, on a root it cannot write to.
set -euo pipefail
cd "$(dirname "$0")/.."
image=larderling:check
if ! command -v buildah >/dev/null; then
    apt-get update -qq
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends buildah >/dev/null
fi
store="$(mktemp -d)"
trap 'buildah umount --all >/dev/null 2>&1 || true; rm -rf "$store"' EXIT
# Pictures of other programs stay as they are: storage of its own, gone afterwards.
export STORAGE_DRIVER=vfs
buildah() { command buildah --root "$store/root" --runroot "$store/run" "$@"; }
export -f buildah
export store
LARDERLING_ENGINE=buildah docker/build.sh dev "$image" >"$store/log" 2>&1 || { tail -n 30 "$store/log"; exit 1; }
root="$(buildah mount "$(buildah from "$image")")"

files="$(cd "$root" && find . -type f | sort | tr '\n' ' ')"
[ "$files" = "./LICENSE-APACHE ./LICENSE-MIT ./larderling " ] || { echo "the image holds: $files"; exit 1; }
[ "$(stat -c %u:%g "$root/data")" = 65532:65532 ] || { echo "/data is not the program's"; exit 1; }
# Every engine gives a container these.
mkdir "$root/dev"
mknod -m 666 "$root/dev/random" c 1 8
mknod -m 666 "$root/dev/urandom" c 1 9
as_image() { chroot --userspec=65532:65532 "$root" "$@"; }
as_image /larderling --version
printf 'got 3 leeks\nwhat do we have?\n' |
    as_image /larderling --database /data/larderling.db | grep -q '3 leeks' ||
    { echo "no answer from the image"; exit 1; }
as_image /larderling check --database /data/larderling.db
if as_image /larderling --database /elsewhere.db </dev/null 2>/dev/null; then
    echo "it wrote to its own root"
    exit 1
fi
inspected="$(buildah inspect --type image --format '{{.OCIv1.Config.User}} {{.OCIv1.Config.Entrypoint}}' "$image")"
[ "$inspected" = "65532:65532 [/larderling]" ] || { echo "the image starts as: $inspected"; exit 1; }
echo "image: $(stat -c %s "$root/larderling") bytes of program, unstripped"
