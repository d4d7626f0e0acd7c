#!/bin/sh
# Checks every ruleset and plan of a repository on a server that builds it. It is run where the
# repository lies:
#
#   cellrules hook server > check.sh
#   sh check.sh FOLDER
#
# Lines of files are marked in its output, as workflow commands. Into the folder go `rulesets.sarif` and
# `plans.sarif` (SARIF 2.1.0) and `cases.xml` (JUnit), for servers that show them. A ruleset is a file of
# YAML with a key `ruleset`, a plan one with a key `arrangement`, or `bench` with a path. It ends with 1
# if something is to be corrected, is refused, or cannot be used.
set -eu

# What is given to `cellrules check` as well: --rules ./club.rules.yaml
check_options=

found=${1:-found}
mkdir -p "$found"

# The files of the repository that have a line like this.
having() {
    git ls-files -- '*.yaml' '*.yml' | tr '\n' '\0' | xargs -0 grep -l -E "$1" /dev/null | tr '\n' '\0'
}

# Checks files once more for each form, of which the first alone decides.
status=0
having '^ruleset:' >"$found/rulesets"
if [ -s "$found/rulesets" ]; then
    xargs -0 cellrules vet --format annotations <"$found/rulesets" || status=1
    xargs -0 cellrules vet --format sarif -o "$found/rulesets.sarif" <"$found/rulesets" || :
    xargs -0 cellrules cases --format junit -o "$found/cases.xml" <"$found/rulesets" || status=1
fi
having '^(arrangement:|bench:.*/)' >"$found/plans"
if [ -s "$found/plans" ]; then
    # shellcheck disable=SC2086 # They are words.
    xargs -0 cellrules check $check_options --format annotations <"$found/plans" || status=1
    # shellcheck disable=SC2086
    xargs -0 cellrules check $check_options --format sarif -o "$found/plans.sarif" <"$found/plans" || :
fi
rm "$found/rulesets" "$found/plans"
exit "$status"
