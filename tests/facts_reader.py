"""Lists name, kind and place of every fact of facts.yaml: all that another language needs of it.

Reads the plain subset of YAML that the table is written in, without a library.
"""

import sys


def facts(lines):
    name, fact = None, {}
    inside = False
    for line in lines:
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        indent = len(line) - len(line.lstrip())
        key, _, value = line.strip().partition(":")
        if indent == 0:
            inside = key == "facts"
        if inside and indent == 4:
            fact[key] = value.strip().strip('"')
        if indent <= 2 and name:
            yield name, fact
            name = None
        if inside and indent == 2:
            name, fact = key, {}
    if name:
        yield name, fact


with open(sys.argv[1], encoding="utf-8") as table:
    for name, fact in facts(table):
        print(name, fact["kind"], fact.get("place") or "from " + fact["from"], sep="\t")
