"""Works out the digest of a report as LANGUAGE.md section 7 says, without a library.

Reads a map from standard input: `facts`, the document of facts.yaml; `files`, the documents of
rulesets by file name; `given`, the file names given to the check. Every scalar is a text. Prints the
list that the digest is taken of, then the digest.
"""

import hashlib
import json
import sys


def canonical(value):
    """RFC 8785, for what has no numbers. Its keys are in order of UTF-16 code units."""
    if isinstance(value, dict):
        keys = sorted(value, key=lambda key: key.encode("utf-16-be", "surrogatepass"))
        inside = ",".join(canonical(key) + ":" + canonical(value[key]) for key in keys)
        return "{" + inside + "}"
    if isinstance(value, list):
        return "[" + ",".join(map(canonical, value)) + "]"
    return json.dumps(value, ensure_ascii=False)


def digest(value):
    return "sha256:" + hashlib.sha256(canonical(value).encode()).hexdigest()


def file_of(path):
    return path.removeprefix("./")


def extended(document):
    return [file_of(path) for path in document.get("extends", [])]


def reached(files, given):
    found = set()
    while given:
        found.update(given)
        given = [path for name in given for path in extended(files[name]) if path not in found]
    return found


def acceptance(files, given):
    """Simple only if all are: of one by what it adjusts to, what it says, what it extends."""

    def of(name):
        document = files[name]
        adjusted = document.get("adjust", {}).get("acceptance", {}).get("to")
        bases = extended(document)
        inherited = "simple" if bases and all(of(base) == "simple" for base in bases) else "guarded"
        return adjusted or document.get("acceptance") or inherited

    return "simple" if all(of(name) == "simple" for name in given) else "guarded"


asked = json.load(sys.stdin)
files, given = asked["files"], sorted(map(file_of, set(asked["given"])))


def names(paths):
    return sorted({files[path]["ruleset"] for path in paths})


def entry(document):
    return {
        "digest": digest(document),
        "extends": names(extended(document)),
        "ruleset": document["ruleset"],
        "version": document["version"],
    }


rulesets = [entry(files[path]) for path in reached(files, given)]
made_of = {
    "acceptance": acceptance(files, given),
    "facts": digest(asked["facts"]),
    "given": names(given),
    "rulesets": sorted(rulesets, key=lambda one: one["ruleset"]),
}
print(canonical(made_of))
print(digest(made_of))
