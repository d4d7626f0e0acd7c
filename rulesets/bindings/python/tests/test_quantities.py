"""Quantities as texts, as pairs and as those of a library of units say the same."""

import datetime
import decimal
import pickle

import numpy
import pint
import pytest

from cellrules import CellRulesError

UNITS = pint.UnitRegistry()


def proposal(voltage, capacity="2.2 Ah"):
    return {
        "format": 1, "title": "torch", "arrangement": "1S1P",
        "cells": [{
            "id": "K4", "rest": {"voltage": voltage, "after": "24 h"},
            "capacity": {"value": capacity, "at": "0.5 A", "to": "2.8 V", "by": "discharge"},
        }],
    }


def values(sheet):
    """The ends of every figure, in base units."""
    return [(one["name"], one["value"]["low"], one["value"]["high"]) for one in sheet["figures"]]


def told(rules, *given):
    return rules.check(proposal(*given)).to_dict()


@pytest.mark.parametrize("voltage", [
    (3.71, "V"), (3710, "mV"), (decimal.Decimal("3.71"), "V"), (numpy.float32(3.71), "V"),
    (numpy.int64(3710), "mV"), UNITS.Quantity(3.71, "V"), UNITS.Quantity(3710, "mV"),
    UNITS.Quantity(0.00371, "kilovolt"),
])
def test_each_way_is_the_same_reading(rules, voltage):
    """The voltage at rest as a number in volts, by SI prefixes worked out by hand."""
    other = rules.figures(proposal(voltage)).to_dict()
    plain = rules.figures(proposal("3.71 V")).to_dict()
    assert values(plain) == values(other)


@pytest.mark.parametrize("capacity", [
    UNITS.Quantity(2200, "mAh"), UNITS.Quantity(2.2, "ampere * hour"), UNITS.Quantity(7920, "coulomb"),
    UNITS.Quantity(7.92, "kilocoulomb"),
])
def test_a_library_may_have_units_that_a_proposal_has_not(rules, capacity):
    """2.2 Ah are 2.2 A * 3600 s = 7920 As, and a coulomb is an ampere-second."""
    assert told(rules, "3.71 V", capacity)["verdict"] == told(rules, "3.71 V", "2.2 Ah")["verdict"]
    figures = [rules.figures(proposal("3.71 V", one)).to_dict() for one in (capacity, "2200 mAh")]
    assert values(figures[0]) == values(figures[1])


def test_digits_of_a_decimal_are_kept(rules):
    """3.70 is better known than 3.7: by half a unit of the last digit."""
    def width(voltage):
        report = rules.check({**proposal(voltage), "meters": {"voltage": "± 1 mV"}})
        facts = {one["name"]: one for one in report.to_dict()["facts"]}
        return facts["cell.rest_voltage"]["value"]

    assert width((decimal.Decimal("3.70"), "V")) == width("3.70 V")
    assert width((decimal.Decimal("3.7"), "V")) == width("3.7 V") != width("3.70 V")


@pytest.mark.parametrize("voltage, code", [
    ((float("nan"), "V"), "not-finite"),
    ((float("inf"), "V"), "not-finite"),
    ((None, "V"), "bad-number"),
    (("3.71", "V"), "wrong-shape"),
    ((3.71, "Ah"), "wrong-kind"),
    ((3.71, "Volts!"), "unknown-unit"),
    (3.71, "no-unit"),
    (float("nan"), "not-finite"),
    (UNITS.Quantity(3.71, "A"), "wrong-kind"),
    (UNITS.Quantity(3.71, "candela"), "unknown-unit"),
    (UNITS.Quantity(numpy.array([3.7, 3.8]), "V"), "bad-number"),
    ({3.71}, "wrong-shape"),
    ({1: "V"}, "wrong-shape"),
    (object(), "wrong-shape"),
    ("3.71 V\ud800", "syntax"),
])
def test_what_is_no_reading_is_told_with_its_place(rules, voltage, code):
    with pytest.raises(CellRulesError) as raised:
        rules.check(proposal(voltage))
    problem = raised.value.problems[0]
    assert problem.code == code, raised.value
    where = f"{problem.message} {problem.place}"
    assert "rest.voltage" in where or problem.place, where


def test_a_day_is_taken_as_a_day(rules):
    """`as_of` is a key of a proposal that takes from a bench."""
    bench = "{ format: 1, bench: Club, cells: [{ id: K4 }], lights: { torch: { arrangement: 1S1P } } }"
    plan = {"format": 1, "title": "t", "bench": "./bench.yaml", "light": "torch", "cells": ["K4"],
            "as_of": datetime.date(2026, 11, 29)}
    assert rules.check(plan, files={"bench.yaml": bench}).verdict == "refuse"


def test_units_are_not_imported_for_anybody():
    import subprocess
    import sys
    code = "import cellrules, sys; cellrules.Rules.shipped(); print({'pint', 'pyarrow', 'pandas'} & set(sys.modules))"
    assert subprocess.check_output([sys.executable, "-c", code]).strip() == b"set()"


def test_problems_can_be_sent(rules):
    with pytest.raises(CellRulesError) as raised:
        rules.check(proposal(3.71))
    again = pickle.loads(pickle.dumps(raised.value))
    assert again.problems == raised.value.problems and again.problems[0].help
