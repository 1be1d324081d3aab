#!/usr/bin/env bash
# Gives loop and pipeline the same records, compares every byte that they print and set
# aside, and says what each took. Needs GNU time.
#
#	./compare.sh [RECORDS...]    10000 100000 1000000 unless given, in steps of 500
set -euo pipefail
cd "$(dirname "$0")"
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
go -C ../.. build -o "$folder/loop" ./examples/network
go build -o "$folder/pipeline" .

# measure NAME RECORDS prints seconds on the clock, seconds of the processors and the peak
# memory in MB of one run.
measure() {
	command time -o "$folder/$1.took" -f '%e %U %S %M' \
		"$folder/$1" -contracts $(($2 / 500)) -json -aside "$folder/$1.csv" > "$folder/$1.json"
	awk '{printf "%9.2f %9.2f %7.0f", $1, $2 + $3, $4 / 1024}' "$folder/$1.took"
}

[ $# -gt 0 ] || set -- 10000 100000 1000000
printf '%10s  %28s  %28s\n' records 'loop: s, CPU s, MB' 'pipeline: s, CPU s, MB'
for records; do
	loop=$(measure loop "$records")
	pipeline=$(measure pipeline "$records")
	cmp "$folder/loop.json" "$folder/pipeline.json"
	cmp "$folder/loop.csv" "$folder/pipeline.csv"
	printf '%10d   %s   %s   same answers, %d set aside\n' "$records" "$loop" "$pipeline" $(($(wc -l < "$folder/loop.csv") - 1))
done
