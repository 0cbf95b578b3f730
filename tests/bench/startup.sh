#!/usr/bin/env bash
# How long a user waits: the median of 15 runs of `check` and of `trade` on one case.
#
#   startup.sh PROGRAM CASE
#
# A table for people; it fails nothing, as the machine may be busy.
set -euo pipefail
[ $# -eq 2 ] || { echo "usage: startup.sh PROGRAM CASE" >&2; exit 0; }
program=$1 case_file=$2 runs=15

median_ms() {
  local i start end
  for ((i = 0; i < runs; i++)); do
    start=$(date +%s%N)
    "$program" "$1" "$case_file" --quiet >/dev/null || echo "$1 ended with $?" >&2
    end=$(date +%s%N)
    echo $(((end - start) / 1000))
  done | sort -n | awk -v middle=$(((runs + 1) / 2)) 'NR == middle { printf "%.1f", $1 / 1000 }'
}

row() {
  local took
  took=$(median_ms "$1")
  printf '%-8s %10s %8s   %s\n' "$1" "$took" "$2" \
    "$(awk -v t="$took" -v goal="$2" 'BEGIN { print t <= goal ? "met" : "missed" }')"
}

printf '%-8s %10s %8s\n' command 'median ms' 'goal ms'
row check 50
row trade 1000
