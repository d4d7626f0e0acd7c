"""What a notebook shows: the page of the command as a part of the notebook."""

from __future__ import annotations

import xml.etree.ElementTree as tree

import pytest

import cellrules
from cellrules import Bench, Report, Rules

HOSTILE = '</div><script>alert("1")</script><style>p{}</style>'

BENCH = """
format: 1
bench: Clubhouse
lights: { torch: { bays: 1, draw: 2.8 W, arrangement: 1S1P } }
cells:
  - { id: K4, found: { voltage: 0.9 V } }
  - { id: K7, capacity: { value: 2310 mAh, at: 0.5 A, to: 3.0 V }, resistance: { value: 57 mohm } }
"""


@pytest.fixture(scope="module")
def rules() -> Rules:
    return Rules.shipped()


def torch(**more):
    light = {"bays": 1, "drive": "buck-boost", "draw": "2.8 W", "cut_off": "3.0 V"}
    light["input"] = {"min": "2.8 V", "max": "4.5 V"}
    cell = {"id": "K4", "class": "ICR", "resistance": {"value": "57 mohm", "method": "dc-10s"}}
    cell["capacity"] = {"value": "2120 mAh", "at": "0.5 A", "to": "2.8 V"}
    build = {"format": 1, "arrangement": "1S1P", "light": light, "cells": [cell]}
    return {**build, "conditions": {"ambient": "6 degC"}, **more}


def shown(answer) -> tree.Element:
    """What a notebook shows, read as XML: what is opened is closed."""
    return tree.fromstring(answer._repr_html_())


def every(part: tree.Element, name: str) -> list[tree.Element]:
    """The elements of a name; those of a drawing are in a namespace of their own."""
    return part.findall(f".//{{*}}{name}")


def words(part: tree.Element) -> str:
    return "".join(part.itertext())


def each(rules: Rules):
    bench = Bench.from_texts({"bench.yaml": BENCH}, "bench.yaml")
    yield rules.check(torch())
    yield rules.range(torch(), "light.draw")
    yield rules.range(torch(), "light.draw", up="conditions.ambient", checks=200)
    yield rules.sort(bench)
    yield rules.choose({"format": 1, "title": "torch", "light": "torch"}, bench=bench)
    yield rules.figures(torch())
    yield cellrules.label(voltage="14.8 V", capacity="4.4 Ah", cells=8)


def test_the_notice_is_there(rules: Rules) -> None:
    for answer in each(rules):
        said = words(shown(answer))
        assert answer.notice
        for point in answer.notice:
            assert point.says in said and point.source in said


def test_nothing_runs_and_the_style_stays_inside(rules: Rules) -> None:
    for answer in each(rules):
        part = shown(answer)
        assert part.get("class") == "cellrules"
        assert not every(part, "script")
        assert not [name for one in part.iter() for name in one.attrib if name.startswith("on")]
        rules_of_style = [line for line in part.find("style").text.splitlines() if "{" in line]
        assert all(line.startswith((".cellrules", "@media")) for line in rules_of_style)


def test_a_hostile_title_is_a_text(rules: Rules) -> None:
    report = rules.check(torch(title=HOSTILE))
    part = shown(report)
    assert HOSTILE in words(part)
    assert len(every(part, "style")) == 1 and not every(part, "script")


def test_the_verdict_is_that_of_the_report(rules: Rules) -> None:
    for voltage, verdict in (("0.9 V", "refuse"), ("3.6 V", None)):
        proposal = torch()
        proposal["cells"][0]["found"] = {"voltage": voltage}
        report = rules.check(proposal)
        assert verdict in (None, report.verdict)
        outcome = next(one for one in every(shown(report), "p") if one.get("class") == "outcome")
        assert words(outcome).startswith(report.verdict)


def test_plots_are_drawn_with_a_table(rules: Rules) -> None:
    kept = rules.check(torch())
    assert every(shown(kept), "svg") and every(shown(kept), "table")
    # A report that was read has no proposal any more, and so no figures.
    read = Report.from_json(kept.to_json())
    assert not every(shown(read), "svg")
    assert words(shown(read)).count("Whatever the verdict") == 1
