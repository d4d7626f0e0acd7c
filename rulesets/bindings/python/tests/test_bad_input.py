"""Whatever cannot be used is told as data, with its place, and nothing falls over."""

import pathlib
import pickle

import pytest

import cellrules
from cellrules import CellRulesError, Rules


def problems(act):
    with pytest.raises(CellRulesError) as raised:
        act()
    assert raised.value.problems and str(raised.value)
    return raised.value.problems


def codes(act):
    return [one.code for one in problems(act)]


def holding_itself():
    proposal = {"format": 1}
    proposal["cells"] = [proposal]
    return proposal


@pytest.mark.parametrize("proposal, code", [
    (None, "wrong-shape"), (17, "wrong-shape"), ([], "wrong-shape"), (object(), "wrong-shape"),
    ({}, "missing-key"), ("", "empty"), (b"", "empty"), ("\ufffd", "wrong-shape"), (b"\xff\xfe\x00", "unreadable"),
    ("{", "syntax"), ('{"format": 1', "syntax"), ('{"format": 1, "format": 1}', "repeated-key"),
    ("torch.yaml", "wrong-shape"), (pathlib.Path("nowhere.yaml"), "unreadable"), (pathlib.Path("."), "unreadable"),
    (holding_itself(), "too-deep"), ("[" * 5000, "too-deep"), (b"a: " * 10, "syntax"),
    ({"format": 2, "arrangement": "1S1P"}, "unknown-option"),
    ({"format": 1, "arrangement": "1S1P", "bench": "./bench.yaml"}, "wrong-shape"),
])
def test_a_bad_proposal(rules, proposal, code):
    found = codes(lambda: rules.check(proposal))
    assert code in found, found
    record = next(rules.check_many([proposal]))
    assert record.verdict is None and code in [one.code for one in record.problems]


def test_every_problem_is_told_with_its_place(rules):
    text = "format: 1\narrangement: 1S1P\ncells:\n  - { id: K4, rest: { voltage: 3.7 }, wrapp: torn }\n"
    found = {one.code: one for one in problems(lambda: rules.check(text, name="plan.yaml"))}
    assert (found["no-unit"].place.file, found["no-unit"].place.line) == ("plan.yaml", 4)
    assert found["unknown-key"].place.line == 4 and "wrap" in found["unknown-key"].help


def test_a_text_that_names_a_file_says_how_to_give_it(rules):
    problem = problems(lambda: rules.check("demo/torch.yaml"))[0]
    assert 'pathlib.Path("demo/torch.yaml")' in problem.help


@pytest.mark.parametrize("rules, code", [
    ({"club.yaml": "format: 1"}, "missing-key"), ({"club.yaml": "{"}, "syntax"), ({"club.yaml": b"\xff"}, "unreadable"),
    ({"club.yaml": 17}, "wrong-shape"), ({17: "format: 1"}, "wrong-shape"), ("club.yaml", "wrong-shape"),
    ({"a.yaml": "{ format: 1, ruleset: a, version: 1.0.0, title: A, extends: [./b.yaml] }"}, "unknown-ruleset"),
    ({"a.yaml": "{ format: 1, ruleset: rescued-cells, version: 9.0.0, title: A }"}, "reserved-name"),
])
def test_bad_rules(rules, code):
    assert code in codes(lambda: Rules.from_texts(rules))


def test_rules_of_no_file():
    assert codes(lambda: Rules.from_files("./nowhere.yaml")) == ["unreadable"]
    near = problems(lambda: Rules.from_files("rescued-cell"))[0]
    assert near.code == "unknown-ruleset" and "rescued-cells" in near.help


def test_rules_within_a_folder(tmp_path):
    inside = tmp_path / "rules"
    inside.mkdir()
    (tmp_path / "outside.yaml").write_text("format: 1")
    assert codes(lambda: Rules.from_files(inside / ".." / "outside.yaml", within=inside)) == ["unreadable"]


def test_rules_are_made_by_name_alone():
    with pytest.raises(TypeError, match="shipped"):
        Rules()


def test_unknown_words(rules):
    torch = {"format": 1, "title": "t", "arrangement": "1S1P"}
    near = problems(lambda: rules.check(torch, stages=["sortin"]))[0]
    assert near.code == "unknown-name" and "sorting" in near.help
    assert codes(lambda: rules.check(torch, acceptance="lax")) == ["unknown-option"]
    assert codes(lambda: rules.check("{}", syntax="toml")) == ["unknown-option"]
    assert codes(lambda: rules.range(torch, "light.drw")) == ["unknown-name"]


def test_bad_benches(rules):
    assert codes(lambda: cellrules.Bench.from_file("nowhere.yaml")) == ["unreadable"]
    assert codes(lambda: cellrules.Bench.from_texts({"a": "{"}, "a")) == ["syntax"]
    assert codes(lambda: cellrules.Bench.from_texts({"bench.yaml": "{}"}, "bensh.yaml")) == ["unknown-name"]
    bench = cellrules.Bench.from_texts({"b.yaml": "{ format: 1, bench: B, cells: [{ id: K4 }] }"}, "b.yaml")
    assert codes(lambda: rules.sort(bench, cells=["K5"])) == ["unknown-name"]
    assert codes(lambda: rules.sort(bench, as_of="yesterday")) == ["bad-date"]


def test_bad_labels():
    assert codes(lambda: cellrules.label()) == ["out-of-domain"]
    problem = problems(lambda: cellrules.label(voltage="14.8 Ah"))[0]
    assert (problem.code, problem.place.file) == ("bad-number", "voltage")
    assert codes(lambda: cellrules.label(code="3XYZ")) == ["bad-code"]


def test_what_a_source_raises_comes_after_what_it_gave(rules):
    def source():
        yield {"format": 1, "title": "t", "arrangement": "1S1P"}
        raise RuntimeError("the reader broke off")

    records = rules.check_many(source())
    assert next(records).verdict == "refuse"
    with pytest.raises(RuntimeError, match="broke off"):
        next(records)
    with pytest.raises(StopIteration):
        next(records)


def test_what_is_no_source(rules):
    with pytest.raises(TypeError):
        rules.check_many(17)


def test_rules_of_another_version_are_not_taken(rules):
    make, (texts, names, digest) = rules.__reduce__()
    assert make(texts, names, digest).digest == rules.digest
    assert codes(lambda: make(texts, names, "sha256:00")) == ["unknown-ruleset"]


def test_rules_and_reports_and_benches_can_be_sent(rules, torch, tmp_path):
    ours = "{ format: 1, ruleset: ours, version: 1.0.0, title: Ours, extends: [./base.yaml] }"
    base = "{ format: 1, ruleset: base, version: 1.0.0, title: Base, extends: [rescued-cells] }"
    (tmp_path / "ours.yaml").write_text(ours)
    (tmp_path / "base.yaml").write_text(base)
    loaded = Rules.from_files(tmp_path / "ours.yaml")
    sent = pickle.dumps(loaded)
    (tmp_path / "base.yaml").unlink()
    again = pickle.loads(sent)
    assert again.digest == loaded.digest and repr(again) == repr(loaded)
    report = again.check(torch)
    assert pickle.loads(pickle.dumps(report)).to_json() == report.to_json()
    bench = cellrules.Bench.from_texts({"b.yaml": "{ format: 1, bench: B, cells: [{ id: K4 }] }"}, "b.yaml")
    assert pickle.loads(pickle.dumps(bench)).digest == bench.digest
