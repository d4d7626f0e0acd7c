#!/usr/bin/env bash
# Builds the C interface and tests it as its users see it: the header is fresh, a program in C and one in
# C++ compile with warnings as errors, find everything by pkg-config, and run under valgrind without a
# leak or a wrong access, with the shared library and with the static one.
set -euo pipefail
cd "$(dirname "$0")"
demo=$(realpath ../../../rules-cli/demo/helmet-lamp.yaml)

for tool in gcc g++ valgrind pkg-config; do
    command -v "$tool" >/dev/null 2>&1 || missing+=" $tool"
done
if [ -n "${missing:-}" ]; then
    echo "needed and not found:$missing" >&2
    exit 1
fi

cargo test --locked --quiet
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
DEBUG_BUILD=${DEBUG_BUILD-1} ./install.sh "$place"
export PKG_CONFIG_PATH="$place/lib/pkgconfig" LD_LIBRARY_PATH="$place/lib"
# The lines that the README shows, for a program around them.
sed -n '/^```c$/,/^```$/{/^```/d;p}' ../../../README.md > "$place/include/readme-lines.h"
# shellcheck disable=SC2046 # What pkg-config prints is words.
{
    gcc -std=c11 -Wall -Wextra -Wpedantic -Werror -g -o "$place/in-c" tests/program.c \
        -pthread $(pkg-config --cflags --libs cellrules)
    g++ -std=c++17 -Wall -Wextra -Wpedantic -Werror -g -o "$place/in-cpp" tests/program.cpp \
        $(pkg-config --cflags --libs cellrules)
    gcc -std=c11 -Wall -Wextra -Wpedantic -Werror -g -o "$place/readme" tests/readme.c \
        $(pkg-config --cflags --libs cellrules)
    static=$(pkg-config --static --libs cellrules)
    gcc -std=c11 -Wall -Wextra -Wpedantic -Werror -g -o "$place/in-c-static" tests/program.c \
        -pthread $(pkg-config --cflags cellrules) ${static/-lcellrules/-l:libcellrules.a}
}
for program in in-c in-c-static in-cpp readme; do
    valgrind --quiet --error-exitcode=9 --leak-check=full --show-leak-kinds=definite,indirect,possible \
        --errors-for-leak-kinds=definite,indirect,possible "$place/$program" "$demo"
done
