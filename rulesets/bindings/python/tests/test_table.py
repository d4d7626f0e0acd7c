"""Tables of whatever library speaks Arrow's interface, row by row what a check of the row comes to."""

import json

import numpy
import pandas
import polars
import pyarrow
import pytest

import cellrules
from cellrules import CellRulesError

COLUMNS = ["verdict", "best", "worst", "cautions", "missing", "margin", "problem", "problem_code"]


def rows():
    return pyarrow.table({
        "arrangement": ["1S1P", "1S1P", "1S1P", "1S9Q", None],
        "cells[c].rest.voltage [V]": [1.87, 3.71, None, 3.71, 3.71],
        "cells[c].rest.after": ["24 h", "24 h", "24 h", "24 h", "24 h"],
        "cells[c].found.voltage [mV]": pyarrow.array([1500, 3600, None, 3600, 3600], pyarrow.int32()),
        "light.draw": ["2.8 W", "2.8 W", None, "2.8 W", "2.8 W"],
        "light.lockout": [True, True, None, True, True],
        "light.bays": pyarrow.array([1, 1, None, 1, 1], pyarrow.int8()),
        "cells[c].wrap": pyarrow.array(["intact"] * 5).dictionary_encode(),
    })


def as_proposal(row):
    """The first rows by hand."""
    return [
        {"format": 1, "title": "row 1", "arrangement": "1S1P",
         "light": {"draw": "2.8 W", "lockout": True, "bays": 1},
         "cells": [{"id": "c", "rest": {"voltage": "1.87 V", "after": "24 h"}, "found": {"voltage": "1500 mV"},
                    "wrap": "intact"}]},
        {"format": 1, "title": "row 2", "arrangement": "1S1P",
         "light": {"draw": "2.8 W", "lockout": True, "bays": 1},
         "cells": [{"id": "c", "rest": {"voltage": "3.71 V", "after": "24 h"}, "found": {"voltage": "3600 mV"},
                    "wrap": "intact"}]},
        {"format": 1, "title": "row 3", "arrangement": "1S1P",
         "cells": [{"id": "c", "rest": {"after": "24 h"}, "wrap": "intact"}]},
    ][row]


@pytest.fixture(scope="module")
def found(rules):
    return pyarrow.table(rules.check_table(rows()))


def test_columns(found):
    assert found.column_names == COLUMNS and found.num_rows == 5


@pytest.mark.parametrize("row", range(3))
def test_a_row_comes_to_what_its_proposal_comes_to(rules, found, row):
    report = rules.check(as_proposal(row))
    record = next(rules.check_many([as_proposal(row)]))
    told = found.slice(row, 1).to_pylist()[0]
    assert (told["verdict"], told["best"], told["worst"]) == (report.verdict, report.best, report.worst)
    assert told["cautions"] == list(record.cautions) and told["missing"] == record.missing
    shares = [clause.share for one in report.findings for clause in one.clauses if clause.share is not None]
    assert told["margin"] == (min(shares) if shares else None)
    assert told["problem"] is None


def test_bad_rows_are_records(found):
    told = found.slice(3).to_pylist()
    assert [(one["verdict"], one["problem_code"]) for one in told] == [(None, "syntax"), (None, "missing-key")]
    assert "row 4" in told[0]["problem"] and told[0]["cautions"] == []


def test_a_margin_of_what_passes(rules, torch):
    """The torch of the demo passes; its margin is that of its tightest limit, and not
    below zero."""
    table = pyarrow.table({"json": [json.dumps(torch)]})
    told = pyarrow.table(rules.check_table(table, json="json")).to_pylist()[0]
    assert told["verdict"] == "pass" and told["cautions"] == [] and 0 <= told["margin"] < 1


def test_a_margin_by_hand():
    """4 W of 5 W keep a fifth of the limit; 6 W miss it by a fifth."""
    text = """
format: 1
ruleset: tested
version: 1.0.0
title: Tested
limits: { most: { value: 5 W, stricter: lower, meaning: m, basis: [{ common_practice: p }] } }
cautions:
  - { id: tested, title: T, about: light, refuse_unless: light.draw_power <= limit.most, reason: r,
      basis: [{ common_practice: p }] }
"""
    rules = cellrules.Rules.from_texts({"t.yaml": text})
    table = pyarrow.table({"arrangement": ["1S1P"] * 3, "light.draw [W]": [4.0, 6.0, None]})
    told = pyarrow.table(rules.check_table(table)).to_pylist()
    assert [one["verdict"] for one in told] == ["pass", "refuse", "refuse"]
    assert told[0]["margin"] == pytest.approx(0.2) and told[1]["margin"] == pytest.approx(-0.2)
    assert told[2]["margin"] is None and told[2]["missing"] == "light.draw"


def test_the_notice_and_the_digest_are_in_the_table(rules, found):
    notice = json.loads(found.schema.metadata[b"cellrules.notice"])
    assert [one["id"] for one in notice] == [one.id for one in rules.notice]
    assert found.schema.metadata[b"cellrules.digest"].decode() == rules.digest
    identified = pyarrow.table(rules.check_table(rows(), identify=True, keep=["light.bays"]))
    assert identified.column_names == ["light.bays", *COLUMNS, "digest", "notice"]
    assert set(identified.column("digest").to_pylist()) == {rules.digest}
    assert identified.column("notice").to_pylist()[4] == [one.id for one in rules.notice]


def test_every_library_of_tables(rules, found):
    wanted = found.to_pylist()
    frame = polars.DataFrame(rows())
    assert polars.DataFrame(rules.check_table(frame)).to_dicts() == wanted
    batches = rows().to_batches(max_chunksize=2)
    assert pyarrow.table(rules.check_table(pyarrow.Table.from_batches(batches))).to_pylist() == wanted
    reader = pyarrow.RecordBatchReader.from_batches(rows().schema, batches)
    assert pyarrow.table(rules.check_table(reader)).to_pylist() == wanted
    assert len(rules.check_table(batches[0])) == 2
    frame = rows().select(["arrangement", "cells[c].rest.voltage [V]", "cells[c].rest.after"]).to_pandas()
    assert isinstance(frame, pandas.DataFrame)
    told = pyarrow.table(rules.check_table(frame))
    assert told.column("verdict").to_pylist()[:2] == ["refuse", "refuse"]


def test_nested_columns(rules):
    # A cell that is called for and not listed is refused, whatever else is known.
    cells = [[{"id": "K4", "rest": {"voltage": "1.87 V"}}], [{"id": "K4", "rest": None}], []]
    table = pyarrow.table({"arrangement": ["1S1P"] * 3, "cells": cells})
    told = pyarrow.table(rules.check_table(table)).to_pylist()
    assert [one["best"] for one in told] == ["refuse", "pass", "refuse"]


def test_numbers_are_as_good_as_their_digits(rules):
    """A number of 32 bits is written with its own digits, not with those of 64 bits."""
    text = {"format": 1, "title": "row 1", "arrangement": "1S1P",
            "cells": [{"id": "c", "rest": {"voltage": "3.7 V"}}]}
    name = "cells[c].rest.voltage [V]"
    short = pyarrow.table({"arrangement": ["1S1P"], name: pyarrow.array([3.7], pyarrow.float32())})
    told = pyarrow.table(rules.check_table(short)).to_pylist()[0]
    report = rules.check(text)
    shares = [clause.share for one in report.findings for clause in one.clauses if clause.share is not None]
    assert told["margin"] == (min(shares) if shares else None)


def test_rows_of_json(rules, torch):
    texts = [json.dumps(torch), "{", None, json.dumps({**torch, "arrangement": "1S1Q"})]
    for column in (pyarrow.array(texts), pyarrow.array(texts, pyarrow.large_string()),
                   pyarrow.array([text and text.encode() for text in texts]),
                   pyarrow.array(texts).dictionary_encode()):
        told = pyarrow.table(rules.check_table(pyarrow.table({"p": column}), json="p")).to_pylist()
        assert [one["verdict"] for one in told] == ["pass", None, None, None]
        assert [one["problem_code"] for one in told] == [None, "syntax", "empty", "syntax"]
        assert "row 3" in told[2]["problem"]


def test_a_bench_for_every_row(rules):
    bench = cellrules.Bench.from_texts({"b.yaml": """
format: 1
bench: Clubhouse
lights: { torch: { bays: 1, draw: 2.8 W, arrangement: 1S1P } }
cells: [{ id: K4, rest: { voltage: 1.87 V } }, { id: K7, rest: { voltage: 3.71 V } }]
"""}, "b.yaml")
    table = pyarrow.table({"light": ["torch"] * 2, "cells": [["K4"], ["K7"]]})
    told = pyarrow.table(rules.check_table(table, bench=bench)).to_pylist()
    assert [one["best"] for one in told] == ["refuse", "pass"]


def problems(act):
    with pytest.raises(CellRulesError) as raised:
        act()
    return [(one.code, one.message, one.help or "") for one in raised.value.problems]


def test_unknown_and_missing_columns_are_named(rules):
    table = rows().rename_columns(["arangement", *rows().column_names[1:7], "cells[c].wrapp"])
    found = problems(lambda: rules.check_table(table))
    text = "\n".join(map(" ".join, found))
    assert {code for code, *_ in found} == {"unknown-key", "missing-key"}
    for word in ("`arangement`", "`arrangement`", "`wrapp`", "`wrap`"):
        assert word in text, text


@pytest.mark.parametrize("column, values, code, words", [
    ("light.draw [Wat]", [1.0], "unknown-unit", "Wat"),
    ("light.draw []", [1.0], "unknown-unit", "light.draw"),
    ("light.draw", [b"1 W"], "wrong-shape", "binary"),
    ("cells[].wrap", ["intact"], "syntax", "cells[].wrap"),
    ("cell[c].wrap", ["intact"], "syntax", "cells"),
    ("arrangement.x", ["intact"], "wrong-shape", "arrangement.x"),
])
def test_bad_columns(rules, column, values, code, words):
    table = pyarrow.table({"arrangement": ["1S1P"], column: values})
    found = problems(lambda: rules.check_table(table))
    assert found[0][0] == code, found
    assert words.lower() in " ".join(found[0]).lower(), found


def test_a_column_that_is_kept_counts_where_it_is_a_key(rules, found):
    table = rows().append_column("id", pyarrow.array(range(5)))
    keep = ["id", "cells[c].found.voltage [mV]", "light.draw"]
    told = pyarrow.table(rules.check_table(table, keep=keep))
    assert told.select(COLUMNS).to_pylist() == found.to_pylist()
    assert told.column("id").to_pylist() == list(range(5))


def test_a_kept_column_is_not_taken_for_what_was_found(rules):
    table = rows().append_column("verdict", pyarrow.array(["pass"] * 5))
    assert problems(lambda: rules.check_table(table, keep=["verdict"]))[0][0] == "defined-twice"


def test_no_such_column(rules):
    found = problems(lambda: rules.check_table(rows(), json="arangement"))
    assert found[0][0] == "unknown-name" and "`arrangement`" in found[0][2]
    assert problems(lambda: rules.check_table(rows(), keep=["light.bay"]))[0][0] == "unknown-name"
    assert problems(lambda: rules.check_table(rows(), json="light.bays"))[0][0] == "wrong-shape"


def test_what_is_no_table(rules):
    for other in (17, {"arrangement": ["1S1P"]}, numpy.zeros(3), None):
        with pytest.raises(TypeError, match="Arrow"):
            rules.check_table(other)


def test_a_table_without_rows(rules):
    assert len(rules.check_table(rows().slice(0, 0))) == 0
