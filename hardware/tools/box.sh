#!/usr/bin/env bash
# Makes the files to print: body.stl, lid.stl, mask.stl and collar.stl, each checked by admesh, and proves that no part cuts into the walls.
# usage: box.sh OUTPUT_FOLDER [plain]        plain: without the window of the light sensor and its collar
# needs: apt-get install -y --no-install-recommends openscad admesh
set -euo pipefail
model=$(dirname "$(readlink -f "$0")")/../box/box.scad
out=$1
light=true
[ "${2:-}" = plain ] && light=false
mkdir -p "$out"
make() { openscad -D "part=\"$1\"" -D "light=$light" -o "$out/$1.stl" "$model" >"$out/$1.log" 2>&1; }
# Two at a time. What parts and walls have in common must be nothing, and OpenSCAD ends with an error on that.
clear_of() {
    make "$1" && { echo "a part of volumes.csv cuts into the box: see $out/$1.stl" >&2; return 1; }
    grep -q "top level object is empty" "$out/$1.log" || { cat "$out/$1.log" >&2; return 1; }
}
parts="body lid mask"
$light && parts="$parts collar"
(make body && make mask && { ! $light || make collar; }) & body=$!
make lid
clear_of clash_lid
clear_of clash
wait "$body"
for part in $parts; do
    admesh -n "$out/$part.stl" >"$out/$part.txt"
done
echo "$out: ${parts// /.stl, }.stl"
