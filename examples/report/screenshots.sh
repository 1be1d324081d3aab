#!/usr/bin/env bash
# Pictures of the demo report in FOLDER, by default report-screenshots below the temporary folder.
set -euo pipefail
folder=$(realpath -m "${1:-${TMPDIR:-/tmp}/report-screenshots}")
mkdir -p "$folder"
cd "$(dirname "$0")"
go run . -o "$folder/report.html"
go run ./screenshots -o "$folder" "$folder/report.html"
echo "$folder"
