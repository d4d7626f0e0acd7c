#!/usr/bin/env bash
# Builds the wheel, installs it into a fresh virtual environment and runs its tests there.
#
#   ./test.sh            the wheel as it is published, into target/wheels of the repository
#   ./test.sh quick      one that is built in a fraction of the time, into target/wheels/quick
#
# Further arguments go to pytest. It needs Rust and Python 3.10 or later; with SPARK=1 also a Java of 17 or later.
set -euo pipefail
cd "$(dirname "$0")"

profile=release
out=../../../target/wheels
if [ "${1:-}" = quick ]; then
    shift
    profile=quick
    out=$out/quick
fi
extras=test
[ -n "${SPARK:-}" ] && extras=test,spark

environment=$(mktemp -d)
trap 'rm -rf "$environment"' EXIT
python3 -m venv "$environment"
pip() { "$environment/bin/python" -m pip --quiet --disable-pip-version-check "$@"; }

pip install "maturin>=1.9,<2"
rm -f "$out"/cellrules-*.whl
"$environment/bin/maturin" build --profile "$profile" --locked --out "$out"
wheel=$(echo "$out"/cellrules-*.whl)
pip install "$wheel[$extras]"
# In a folder of its own, so that the installed package is tested and not the sources beside the tests.
"$environment/bin/python" -m pytest -c pyproject.toml --rootdir . -p no:cacheprovider tests "$@"
