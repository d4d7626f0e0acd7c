#!/usr/bin/env bash
# The page of the command in a real browser: filled in by keys alone, a spreadsheet taken in, a set chosen,
# printed, and looked at by a checker of accessibility. Debian's Chromium is driven, and none is fetched.
#
#     tests/browser/test.sh [COMMAND]
#
# COMMAND is the command to serve the page; without it, it is built. KEEP_SCREENS=1 keeps small pictures
# in tests/browser/screens.
set -euo pipefail
cd "$(dirname "$0")/../.."

for tool in chromium fc-list; do
    command -v "$tool" >/dev/null 2>&1 || wanted+=" ${tool/fc-list/fontconfig}"
done
fc-list 2>/dev/null | grep -q DejaVu || wanted+=" fonts-dejavu-core"
# shellcheck disable=SC2086 # They are words.
[ -z "${wanted:-}" ] || (apt-get update -qq && apt-get install -y -qq --no-install-recommends $wanted)

command=${1:-}
if [ -z "$command" ]; then
    cargo build --quiet --package rules-cli --locked
    command=${CARGO_TARGET_DIR:-target}/debug/cellrules
fi
CELLRULES=$(realpath "$command")
CHROMIUM=$(command -v chromium)
export CELLRULES CHROMIUM

venv=$(mktemp -d)
trap 'rm -rf "$venv"' EXIT
python3 -m venv "$venv"
"$venv/bin/pip" install --quiet --disable-pip-version-check --requirement tests/browser/requirements.txt
cd tests/browser
PYTHONDONTWRITEBYTECODE=1 "$venv/bin/python" -m unittest --verbose
