#!/usr/bin/env bash
# Completions in a real bash, and manual pages as a real formatter sees them. Usage: shells.sh PATH-OF-SUMPWRIGHT
set -euo pipefail
tool=$1

completed() { # the words typed so far, the last of them to be completed
    COMP_WORDS=("$@") COMP_CWORD=$(($# - 1)) COMPREPLY=()
    _sumpwright sumpwright "${!#}" "${COMP_WORDS[$(($# - 2))]}"
    echo "${COMPREPLY[*]}"
}

expect() { # what came, what was expected
    [ "$1" = "$2" ] || { echo "expected '$2', found '$1'" >&2; exit 1; }
}

eval "$("$tool" completions bash)"
expect "$(completed sumpwright rev)" review
expect "$(completed sumpwright review --format sa)" sarif
expect "$(completed sumpwright schema veh)" vehicle
expect "$(completed sumpwright completions z)" zsh
expect "$(completed sumpwright survey --un)" --unit

folder=$(mktemp -d)
trap 'rm -r "$folder"' EXIT
"$tool" man --folder "$folder"
for page in "$folder"/*.1; do
    warnings=$(man --warnings -l "$page" 2>&1 >/dev/null)
    expect "$warnings" ""
done
echo "completions: 5 answers in bash; $(ls "$folder" | wc -l) manual pages without a warning"
