#!/bin/sh
# Checks rulesets and plans before they are committed. To put it into a repository:
#
#   cellrules hook commit > .git/hooks/pre-commit
#   chmod +x .git/hooks/pre-commit
#
# What is about to be committed is checked, not what stands in the folder. A ruleset is a file of YAML
# with a key `ruleset`, a plan one with a key `arrangement`, or `bench` with a path. If a ruleset, a
# bench or a table changes, every plan is checked. A ruleset with something to correct, a case that
# gives another verdict, and a plan that is refused or cannot be used stop the commit;
# `git commit --no-verify` goes past them.
set -eu

# What is given to `cellrules check` as well: --rules ./club.rules.yaml
check_options=

if ! command -v cellrules >/dev/null 2>&1; then
    echo 'cellrules is not there: rulesets and plans were not checked' >&2
    exit 1
fi
kept=$(mktemp -d)
trap 'rm -rf "$kept"' EXIT

git ls-files -z -- '*.yaml' '*.yml' '*.json' '*.csv' >"$kept/all"
git diff --cached --name-only -z --diff-filter=ACMR -- '*.yaml' '*.yml' >"$kept/changed"
tables=$(git diff --cached --name-only -- '*.csv')
mkdir "$kept/staged"
git checkout-index -z --stdin --prefix="$kept/staged/" <"$kept/all"
cd "$kept/staged"

# The files of a list that have a line like this.
having() {
    tr '\0' '\n' <"$2" | grep -E '\.ya?ml$' | tr '\n' '\0' | xargs -0 grep -l -E "$1" /dev/null | tr '\n' '\0'
}

having '^ruleset:' "$kept/changed" >"$kept/rulesets"
having '^bench: *[^/]*$' "$kept/changed" >"$kept/benches"
plans='^(arrangement:|bench:.*/)'
if [ -s "$kept/rulesets" ] || [ -s "$kept/benches" ] || [ -n "$tables" ]; then
    having "$plans" "$kept/all" >"$kept/plans"
else
    having "$plans" "$kept/changed" >"$kept/plans"
fi

status=0
if [ -s "$kept/rulesets" ]; then
    xargs -0 cellrules vet <"$kept/rulesets" >&2 || status=1
    xargs -0 cellrules cases <"$kept/rulesets" >&2 || status=1
fi
if [ -s "$kept/plans" ]; then
    # shellcheck disable=SC2086 # They are words.
    xargs -0 cellrules check $check_options <"$kept/plans" >&2 || status=1
fi
exit "$status"
