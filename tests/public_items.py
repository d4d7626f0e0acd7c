"""Counts the public items of the crates, by module.

    cargo doc --no-deps -p rules-core -p rulesets && python3 tests/public_items.py target/doc

It counts what `all.html` of a crate's documentation lists: structs, enums, traits, functions, types
and constants that can be named and are not hidden. Methods, fields and variants do not count.
"""

import collections
import pathlib
import re
import sys

KINDS = "struct|enum|union|trait|fn|type|constant|static|macro|derive|attr"


def items(page):
    """The paths of the items that a page lists."""
    listed = re.findall(rf'<li><a href="(?:[\w/]*?)(?:{KINDS})\.\w+\.html">([^<]+)</a>', page)
    return [name.replace("<wbr>", "") for name in listed]


def main():
    folder = pathlib.Path(sys.argv[1])
    for crate in ("rules_core", "rulesets"):
        names = items((folder / crate / "all.html").read_text())
        modules = collections.Counter(name.rpartition("::")[0] or "(root)" for name in names)
        print(f"{crate}: {len(names)}")
        for module, count in sorted(modules.items()):
            print(f"  {module}: {count}")


main()
