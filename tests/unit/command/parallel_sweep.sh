#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# A sweep in two shards under GNU parallel: one worker is killed on the way (SIGKILL: it can tidy nothing up), the run is begun
# again, and the joined shards are, byte for byte, what a single process writes. No row is lost and none is there twice.
# usage: parallel_sweep.sh SOURCE-FOLDER WALLFOOT
set -euo pipefail
study=$1/samples/slab-insulation-below.wallfoot
wallfoot=$2
export LC_ALL=C

fail() { printf 'parallel_sweep: %s\n' "$*" >&2; exit 1; }

parallel --version 2>/dev/null | grep -q '^GNU parallel' || fail "GNU parallel is needed: apt install parallel"
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder"
export HOME=$folder   # parallel keeps notes there
cat >plan.json <<'PLAN'
{ "variants": ["foam"], "change": [
    { "what": "conductivity", "piece": "foot-below", "from": 0.1, "to": 1, "steps": 29 },
    { "what": "membrane", "membrane": "dpm", "side": "right", "values": [1805, 1000] } ] }
PLAN
rows=60

"$wallfoot" sweep "$study" plan.json >whole.csv
[ "$(wc -l <whole.csv)" -eq $((rows + 1)) ] || fail "a single process writes $(wc -l <whole.csv) lines"

# Each worker leaves its process id, so that this one can be ended and no other.
cat >worker <<'WORKER'
#!/bin/sh
echo $$ >"pid.$1"
exec "$2" sweep "$3" plan.json --shard "$1/2" --out rows
WORKER
chmod +x worker
run() { parallel --will-cite --jobs 2 --joblog log "$@" ./worker {} "$wallfoot" "$study" ::: 1 2; }

# A worker may have ended by the time it is to be killed: then once more from the beginning.
for try in 1 2 3 4 5; do
    rm -rf rows log pid.*
    run >first.out 2>first.err &
    parallel_id=$!
    until [ "$(wc -l 2>/dev/null <rows/rows-1-of-2.csv)" -ge 3 ] 2>/dev/null; do
        kill -0 "$parallel_id" 2>/dev/null || break
        sleep 0.01
    done
    kill -KILL "$(cat pid.1)" 2>/dev/null || true
    wait "$parallel_id" && continue
    [ "$(wc -l <rows/rows-1-of-2.csv)" -lt $((rows / 2)) ] && break
done
cut=$(wc -l <rows/rows-1-of-2.csv)
[ "$cut" -ge 3 ] && [ "$cut" -lt $((rows / 2)) ] || fail "no worker was met half-way in $try tries ($cut rows)"
awk 'NR > 1 && ($7 != 0 || $8 != 0)' log | grep -q . || fail "parallel does not tell of the killed worker"
cp rows/rows-1-of-2.csv before.csv

# Only the shard that failed is begun again.
run --resume-failed >second.out 2>second.err || fail "the second run failed: $(cat second.err)"
head -n "$cut" rows/rows-1-of-2.csv | cmp - <(head -n "$cut" before.csv) || fail "rows of before the kill were not kept"
(cat rows/header.csv; sort -n rows/rows-*-of-2.csv) >joined.csv
[ "$(cut -d, -f1 joined.csv | sort | uniq -d | wc -l)" -eq 0 ] || fail "a row is there twice"
cmp joined.csv whole.csv || fail "the joined shards are not what a single process writes"
[ "$(grep -c "would be gone" joined.csv)" -eq $((rows / 2)) ] || fail "rows the drawing does not allow are missing"
