"""Checks the hand-kept tables beside this file against themselves, with exact rational numbers and no code of the project.

Run with Python 3.11 or later:  python check_tables.py
It is silent when all is well. It tells slips of arithmetic and of filing; it cannot tell whether a source is right.
"""

import json
import operator
import re
from fractions import Fraction
from pathlib import Path

HERE = Path(__file__).parent
TABLES = ("decision_rules", "designations", "trade_boundaries", "units")
VERDICTS = ("pass", "warn", "refuse")


def load(name):
    return json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))


def rows_of(table):
    return [row for part in table.values() if isinstance(part, list) for row in part]


# ---------------------------------------------------------------- filing


def check_filing(name, table):
    """Every row has an id of its own, a way of knowing, and sources that are listed and used."""
    rows = rows_of(table)
    ids = [row["id"] for row in rows]
    assert len(ids) == len(set(ids)), name
    named = set()
    for row in rows:
        assert row["known"] in table["known_meaning"], (name, row["id"])
        sources = row.get("sources", row.get("source"))
        named.update([sources] if isinstance(sources, str) else sources)
    assert named == set(table["sources"]), (name, named ^ set(table["sources"]))
    for key, source in table["sources"].items():
        assert source["known"] in table["known_meaning"], (name, key)


# ---------------------------------------------------------------- units

PREFIXES = {"": Fraction(1), "c": Fraction(1, 100), "k": Fraction(1000), "m": Fraction(1, 1000)}
PREFIXES.update(dict.fromkeys(("u", "\u00b5", "\u03bc"), Fraction(1, 10**6)))
# Size in SI units, and exponents of V, A, s, m, K.
BASES = {
    "V": (1, (1, 0, 0, 0, 0)), "A": (1, (0, 1, 0, 0, 0)), "Ah": (3600, (0, 1, 1, 0, 0)), "W": (1, (1, 1, 0, 0, 0)),
    "Wh": (3600, (1, 1, 1, 0, 0)), "ohm": (1, (1, -1, 0, 0, 0)), "\u03a9": (1, (1, -1, 0, 0, 0)),
    "\u2126": (1, (1, -1, 0, 0, 0)), "m": (1, (0, 0, 0, 1, 0)),
}
PLAIN = {
    "": (1, (0,) * 5), "%": (Fraction(1, 100), (0,) * 5), "s": (1, (0, 0, 1, 0, 0)), "min": (60, (0, 0, 1, 0, 0)),
    "h": (3600, (0, 0, 1, 0, 0)), "d": (86400, (0, 0, 1, 0, 0)), "C": (Fraction(1, 3600), (0, 0, -1, 0, 0)),
    "1/h": (Fraction(1, 3600), (0, 0, -1, 0, 0)), "K": (1, (0, 0, 0, 0, 1)), "degC": (1, (0, 0, 0, 0, 1)),
}
UNITS = PLAIN | {p + b: (PREFIXES[p] * size, dim) for p in PREFIXES for b, (size, dim) in BASES.items()}
NUMBER = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?(?:e\d+)?)(?:\s*(1/h|%|[A-Za-z\u00b5\u03bc\u03a9\u2126]+(?:/[A-Za-z]+)?))?")


class Size:
    """A number of SI units with its dimension."""

    def __init__(self, value, dim):
        self.value, self.dim = Fraction(value), tuple(dim)

    def __add__(self, other):
        assert self.dim == other.dim
        return Size(self.value + other.value, self.dim)

    def __sub__(self, other):
        assert self.dim == other.dim
        return Size(self.value - other.value, self.dim)

    def __mul__(self, other):
        return Size(self.value * other.value, map(operator.add, self.dim, other.dim))

    def __truediv__(self, other):
        return Size(self.value / other.value, map(operator.sub, self.dim, other.dim))

    def __neg__(self):
        return Size(-self.value, self.dim)


OPERATIONS = {"*": operator.mul, "/": operator.truediv}


def unit_size(unit):
    if unit in UNITS:
        return Size(*UNITS[unit])
    over, under = unit.split("/")
    return Size(*UNITS[over]) / Size(*UNITS[under])


def evaluate(formula):
    """The exact size of a formula of numbers with units, + - * / and parentheses."""
    sizes = []

    def keep(match):
        sizes.append(Size(Fraction(match[1]), (0,) * 5) * unit_size(match[2] or ""))
        return f"sizes[{len(sizes) - 1}]"

    return eval(NUMBER.sub(keep, formula), {"sizes": sizes})  # noqa: S307 (our own file)


def check_same(row, left, right, tolerance):
    a, b = evaluate(left), evaluate(right)
    assert a.dim == b.dim and abs(a.value - b.value) <= Fraction(tolerance) * abs(b.value), row["id"]


def check_units(table):
    for row in table["amounts"]:
        assert evaluate(row["text"]).value == Fraction(row["si"]), row["id"]
    for row in table["relations"]:
        check_same(row, row["example"], row["example_result"], 0)
        if "degC" not in row["example"]:
            left, right, result = (unit_size("" if row[side] == "1" else row[side]) for side in ("left", "right", "result"))
            assert OPERATIONS[row["op"]](left, right).dim == result.dim, row["id"]
    for row in table["worked"]:
        exact = row["relative_tolerance"] == "1e-12"
        check_same(row, row["formula"], row["result"], 0 if exact else row["relative_tolerance"])
    for row in table["temperatures"]:
        assert Fraction(row["celsius"]) + Fraction("273.15") == Fraction(row["kelvin"]), row["id"]
    for row in table["units"]:
        assert unit_size(row["unit"]).value == Fraction(row["si"]), row["id"]


# ---------------------------------------------------------------- decisions


def decided(row):
    """Simple decision, guarded decision and zone, from the distances to the limits."""
    x, u = Fraction(row["measured"]), Fraction(row["U"])
    room = [Fraction(v) - x if side == "high" else x - Fraction(v) for side, v in row["limits"].items()]
    simple, guarded = min(room) >= 0, min(room) >= u
    zone = "pass" if guarded else "conditional pass" if simple else "conditional fail" if min(room) >= -u else "fail"
    return "accept" if simple else "reject", "accept" if guarded else "reject", zone


def check_decisions(table):
    conditions = {"pass": "yes", "conditional pass": "doubt", "conditional fail": "doubt", "fail": "no"}
    for row in table["rows"]:
        assert (row["simple"], row["guarded"], row["zone"]) == decided(row), row["id"]
        unit = row["unit"]
        assert row["x"] == f"{row['measured']} {unit} ± {row['U']} {unit}", row["id"]
        sides = {"low": ">=", "high": "<="}
        parts = [f"x {sides[side]} {row['limits'][side]} {unit}" for side in sides if side in row["limits"]]
        assert row["relation"] == " and ".join(parts), row["id"]
        ours = row["ours"]
        assert ours["guarded"]["condition"] == conditions[row["zone"]], row["id"]
        assert (ours["guarded"]["verdict"] == "pass") == (row["guarded"] == "accept"), row["id"]
        assert (ours["simple"]["verdict"] == "pass") == (row["simple"] == "accept"), row["id"]


# ---------------------------------------------------------------- designations

STANDARD = re.compile(r"([1-9][0-9]*)?([IL])(C|N|M|Mp|V|T|F|Fp|X)R([1-9][0-9]{0,2})/([1-9][0-9]{0,2})(?:-([1-9][0-9]*))?", re.ASCII)
TRADE = re.compile(r"([IL])([CNMVTF])R([0-9]{2})([0-9]{2})([0-9])", re.ASCII)


def check_designation(row):
    standard, trade = STANDARD.fullmatch(row["text"]), TRADE.fullmatch(row["text"])
    if row["expect"] == "malformed":
        assert not standard or len(standard[1] or "") > 3, row["id"]
        assert not trade, row["id"]
    elif row.get("form") == "standard":
        series, parallel = int(standard[1] or 1), int(standard[6] or 1)
        assert (row["series"], row["parallel"], row["cells"]) == (series, parallel, series * parallel), row["id"]
        assert (row["max_diameter_mm"], row["max_height_mm"]) == (int(standard[4]), int(standard[5])), row["id"]
        assert row["electrode_letters"] == standard[2] + standard[3], row["id"]
    elif row.get("form") == "trade":
        assert (row["nominal_diameter_mm"], row["nominal_height_mm"]) == (trade[3], f"{trade[4]}.{trade[5]}"), row["id"]
        assert row["electrode_letters"] == trade[1] + trade[2], row["id"]


# ---------------------------------------------------------------- boundaries


def check_boundary(row):
    assert row["side"] in ("inside", "on", "outside"), row["id"]
    assert row["source_says"] in ("allowed", "caution", "not allowed", "silent"), row["id"]
    least = VERDICTS.index(row["at_least"])
    assert least <= VERDICTS.index(row.get("at_most", "refuse")), row["id"]
    assert least <= {"allowed": 0, "silent": 0, "caution": 1, "not allowed": 2}[row["source_says"]], row["id"]


def main():
    tables = {name: load(name) for name in TABLES}
    for name, table in tables.items():
        check_filing(name, table)
    check_units(tables["units"])
    check_decisions(tables["decision_rules"])
    for row in tables["designations"]["rows"]:
        check_designation(row)
    for row in tables["trade_boundaries"]["rows"]:
        check_boundary(row)


if __name__ == "__main__":
    main()
