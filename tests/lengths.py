"""Lengths of functions and files, outside tests, as a table in Markdown.

    python3 tests/lengths.py [FOLDER OF THE REPOSITORY]

A function is counted from the line of its `fn` to that of its last brace. Functions in test modules,
and files that hold only tests, are left out; a test module at the end of a file counts as part of it.
"""

import re
import statistics
import sys
from pathlib import Path

CRATES = ["rules-core", "rulesets", "rules-cli"]
# Comments, texts and characters can hold braces that close nothing.
NO_CODE = re.compile(
    r"""//[^\n]*|/\*.*?\*/|r(?P<hashes>\#*)".*?"(?P=hashes)|"(?:\\.|[^"\\])*"|'(?:\\[^']+|[^'\\])'""",
    re.DOTALL,
)


def blank(match):
    """Spaces in place of what is no code, with the same line ends."""
    return re.sub(r"[^\n]", " ", match.group())


def end_of_block(code, start):
    """The position behind the block that begins after `start`; none for what has no body."""
    depth = 0
    for at in range(start, len(code)):
        if code[at] == ";" and depth == 0:
            return None
        depth += {"{": 1, "}": -1}.get(code[at], 0)
        if code[at] == "}" and depth == 0:
            return at + 1
    return None


def without_test_modules(code):
    parts = re.split(r"#\[cfg\(test\)\]\s*mod \w+ \{", code)
    return parts[0]


def functions(text):
    code = without_test_modules(NO_CODE.sub(blank, text))
    # Lengths of arrays have semicolons before the body.
    code = re.sub(r"\[[^\[\]\n{}]*;[^\[\]\n{}]*\]", lambda found: found.group().replace(";", " "), code)
    for found in re.finditer(r"\bfn \w+", code):
        end = end_of_block(code, found.end())
        if end is not None:
            yield code.count("\n", found.start(), end) + 1


def files(root, crate):
    for path in sorted((root / crate / "src").rglob("*.rs")):
        is_test = path.name.endswith("tests.rs") or "tests" in path.relative_to(root).parts
        if not is_test:
            yield path.read_text(encoding="utf-8")


def percentile(lengths, share):
    return sorted(lengths)[min(len(lengths) - 1, int(share * len(lengths)))]


def row(name, texts):
    in_functions = [length for text in texts for length in functions(text)]
    in_files = [text.count("\n") for text in texts]
    cells = [
        len(in_functions),
        f"{statistics.median(in_functions):.0f}",
        percentile(in_functions, 0.9),
        max(in_functions),
        len(in_files),
        f"{statistics.median(in_files):.0f}",
        max(in_files),
        sum(length > 400 for length in in_files),
    ]
    return f"| `{name}` | " + " | ".join(map(str, cells)) + " |"


def main():
    root = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent.parent
    heads = ["crate", "functions", "median", "90 %", "longest", "files", "median", "longest", "over 400"]
    print("| " + " | ".join(heads) + " |")
    print("| --- |" + " ---: |" * (len(heads) - 1))
    every = []
    for crate in CRATES:
        texts = list(files(root, crate))
        every += texts
        if texts:
            print(row(crate, texts))
    print(row("all", every))


main()
