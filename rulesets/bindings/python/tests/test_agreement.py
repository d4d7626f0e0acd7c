"""What the command writes of the demos, the wheel writes too, byte for byte."""

import json
import subprocess
from pathlib import Path

import pytest

import cellrules
from conftest import DEMOS, ROOT

BENCH = "rules-cli/demo/club/bench.yaml"


def printed(command, *arguments, given=None):
    """What the command prints, from the top of the repository."""
    ran = subprocess.run(
        [command, *map(str, arguments)], cwd=ROOT, input=given, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert ran.returncode in (0, 1), ran.stderr.decode()
    return ran.stdout.decode()


def test_there_are_demos():
    assert len(DEMOS) >= 7


@pytest.mark.parametrize("demo", DEMOS, ids=str)
def test_reports_are_the_same(demo, rules, command, in_root):
    report = rules.check(demo, narrowing=True, would_change=True)
    assert report.to_json() == printed(command, "check", "--format", "json", demo)
    assert report.text() == printed(command, "check", "--full", demo)
    assert report.question_page() == printed(command, "check", "--questions", demo)
    assert cellrules.Report.from_json(report.to_json()).to_json() == report.to_json()


@pytest.mark.parametrize("demo", DEMOS, ids=str)
def test_figures_are_the_same(demo, rules, command, in_root):
    figures = rules.figures(demo)
    assert figures.to_json() == printed(command, "figures", "--format", "json", demo)
    assert figures.text() == printed(command, "figures", demo)


def test_other_rules_are_the_same(command, in_root):
    demo = Path("rules-cli/demo/marshal-torch.yaml")
    names = ["rulesets/local-practice-example.yaml", "rescued-cells-measured"]
    report = cellrules.Rules.from_files(*names).check(demo, narrowing=True, would_change=True)
    rules = [word for name in names for word in ("--rules", name)]
    assert report.to_json() == printed(command, "check", "--format", "json", *rules, demo)


def test_some_stages_are_the_same(rules, command, in_root):
    demo = Path("rules-cli/demo/helmet-lamp.yaml")
    report = rules.check(demo, stages=["sorting"], narrowing=True, would_change=True)
    assert report.verdict is None and [one.stage for one in report.stages] == ["sorting"]
    assert report.to_json() == printed(command, "check", "--format", "json", "--stage", "sorting", demo)


def test_a_sorted_bench_is_the_same(rules, command, in_root):
    found = rules.sort(cellrules.Bench.from_file(BENCH))
    assert found.to_json() == printed(command, "sort", "--format", "json", BENCH)
    assert found.text() == printed(command, "sort", BENCH)
    assert found["counts"]["cells"] == 24


def test_chosen_cells_are_the_same(rules, command, in_root):
    plan = Path("rules-cli/demo/club/start-hut.yaml")
    found = rules.choose(plan)
    assert found.to_json() == printed(command, "choose", "--format", "json", plan)
    assert found.text() == printed(command, "choose", plan)


def test_a_range_and_a_map_are_the_same(rules, command, in_root):
    plan = Path("rules-cli/demo/club/marshal-torch.yaml")
    found = rules.range(plan, "light.draw")
    assert found.to_json() == printed(command, "range", "--format", "json", plan, "light.draw")
    assert found.text() == printed(command, "range", plan, "light.draw")
    up = "conditions.ambient"
    ends = {"start": "1 W", "end": "4 W", "resolution": "1 W"}
    of_up = {"up_start": "0 degC", "up_end": "20 degC", "up_resolution": "10 K"}
    options = [word for name, value in ends.items()
               for word in ({"start": "--from", "end": "--to"}.get(name, f"--{name}"), value)]
    options += ["--and", up, "--and-from", "0 degC", "--and-to", "20 degC", "--and-resolution", "10 K"]
    found = rules.range(plan, "light.draw", up=up, **ends, **of_up)
    assert found.to_json() == printed(command, "range", "--format", "json", plan, "light.draw", *options)


def test_a_label_is_the_same(command):
    found = cellrules.label(voltage="14.8 V", capacity="4.4 Ah", cells=8)
    options = ["--voltage", "14.8 V", "--capacity", "4.4 Ah", "--cells", "8"]
    assert found.to_json() == printed(command, "label", "--format", "json", *options)
    assert found.text() == printed(command, "label", *options)


def test_records_are_those_of_the_stream(rules, command, torch):
    """The records of many, to the byte, but for the number of the line."""
    lines = [json.dumps({**torch, "title": f"torch {n}"}, ensure_ascii=False) for n in range(40)]
    lines[7] = lines[7].replace("1S1P", "1S1Q")
    text = "\n".join(lines) + "\n"
    streamed = subprocess.run([command, "stream", "-"], input=text.encode(), stdout=subprocess.PIPE).stdout
    wanted = [json.loads(line) for line in streamed.splitlines()]
    records = list(rules.check_many(lines, name="line"))
    assert [record.verdict for record in records] == [one.get("verdict") for one in wanted]
    assert [record.verdict is None for record in records].count(True) == 1
    for number, (record, line) in enumerate(zip(records, streamed.decode().splitlines()), 1):
        if record.problems:
            told = json.loads(line)["problems"]
            assert record.to_dict()["problems"] == told
        else:
            assert "{" + f'"line":{number},' + record.to_json()[1:] == line
