"""The language-neutral cases of `tests/conformance` through the wheel.

What a proposal comes to as a plain one (`plain`) the wheel does not give, and the digests of rulesets by
themselves (`digests`) are in the dict of a report.
"""

import re
from collections import Counter
from functools import cache

import pytest
import yaml

from cellrules import CellRulesError, Rules
from conftest import ROOT

FILES = sorted((ROOT / "tests/conformance").glob("*.yaml"))
# Faults in the text of a value: a checker may point at the part that is wrong instead of its start.
IN_VALUES = {
    "bad-name", "no-unit", "unknown-unit", "wrong-kind", "bad-number", "bad-tolerance", "low-above-high",
    "not-finite",
}
NO_CAUTIONS = "{ format: 1, ruleset: without-cautions, version: 1.0.0, title: Without cautions }"


class Texts(yaml.CSafeLoader):
    """YAML in which words stay words, as the suite has them."""


# In YAML 1.1 `no` and a day are no texts; in the suite they are.
Texts.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in resolvers if not tag.endswith((":bool", ":timestamp"))]
    for first, resolvers in yaml.CSafeLoader.yaml_implicit_resolvers.items()
}
Texts.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("^(?:true|false)$"), list("tf"))


@cache
def cases():
    return [case for path in FILES for case in yaml.load(path.read_text(), Texts)["cases"]]


def run(case):
    """The report of a case, or every problem of its rules and its proposal."""
    texts = {"rules": case["rules"]} if "rules" in case else dict(case["rulesets"])
    given = ["rules"] if "rules" in case else case.get("check", ["main.yaml"])
    asked = {
        "name": "proposal", "syntax": "yaml", "stages": case.get("asked", []),
        "files": {**texts, **case["beside"]} if "beside" in case else None,
    }
    try:
        rules = Rules.from_texts(texts, *given)
    except CellRulesError as error:
        return None, [*error.problems, *of_proposal(case)]
    try:
        return rules.check(case["proposal"], **asked), []
    except CellRulesError as error:
        return None, error.problems


def of_proposal(case):
    """The problems of a proposal of which the rules cannot be read."""
    if "beside" in case:
        return []
    try:
        Rules.from_texts({"none": NO_CAUTIONS}).check(case["proposal"], name="proposal", syntax="yaml")
    except CellRulesError as error:
        # What a ruleset that is at fault declares is not asked for.
        return [one for one in error.problems if "no ruleset in use declares" not in one.message]
    return []


def is_fault(wanted, problem):
    place = problem.place
    if problem.code != wanted["about"]:
        return False
    if "in" in wanted and place and place.file != wanted["in"]:
        return False
    if "line" in wanted and not (place and place.line == wanted["line"]):
        return False
    if "column" in wanted:
        if not place:
            return False
        further = wanted["about"] in IN_VALUES and place.column > wanted["column"]
        return place.column == wanted["column"] or further
    return True


def compare_faults(wanted, problems):
    left = list(problems)
    differ = []
    for one in wanted:
        found = next((problem for problem in left if is_fault(one, problem)), None)
        if found:
            left.remove(found)
        else:
            differ.append(f"expected {one}, found {list(map(str, problems))}")
    return differ + [f"found {problem.code} {problem}" for problem in left]


def whole(expected):
    verdict = expected.get("verdict")
    return (
        verdict, expected.get("best", verdict), expected.get("worst", verdict),
        expected.get("nothing_checked", False),
    )


def finding(one):
    return (
        one["caution"], one["subject"], one.get("count", 1), one["verdict"], one["status"], one["rung"],
        tuple(sorted(one["facts"])), tuple(sorted(one["missing"])),
    )


def found_finding(one):
    # What stands for those that nobody names is called so in brackets; the suite has a question mark.
    subject = re.sub(r" \(.*\)$", " ?", one.subject)
    return (
        one.caution, subject, one.count, one.verdict, one.status, one.rung, tuple(sorted(one.facts)),
        tuple(sorted(one.missing)),
    )


def remark(one):
    says = one.get("says") if one["remark"] == "noted" else None
    return (one["remark"], one["subject"], tuple(one.get("names", ())), says)


def compare_report(expected, report):
    data = report.to_dict()
    if "verdict" in expected:
        yield "the whole", whole(expected), (
            report.verdict, report.best, report.worst, report.nothing_checked)
    else:
        yield "the whole", None, report.verdict
    stages = {one.stage: (one.verdict, one.best, one.worst, one.nothing_checked) for one in report.stages}
    wanted = {one["stage"]: whole(one) for one in expected.get("stages", [])}
    yield "the stages", wanted, stages
    yield "what does not apply", sorted(expected.get("not_applicable", [])), sorted(report.not_applicable)
    findings = Counter(map(found_finding, report.findings))
    yield "the findings", Counter(map(finding, expected.get("findings", []))), findings
    if "remarks" in expected:
        # The cases know nothing of the rulesets that are shipped.
        found = [one for one in data["remarks"] if one["remark"] != "without-shipped"]
        yield "the remarks", sorted(map(remark, expected["remarks"])), sorted(map(remark, found))
    if "digest" in expected:
        yield "the digest", expected["digest"], report.digest
    by_file = {one.get("file"): one["digest"] for one in data["rules"]}
    for file, digest in expected.get("digests", {}).items():
        yield f"the digest of {file}", digest, by_file.get(file)


def differences(case):
    expected = case["expect"]
    report, problems = run(case)
    if "error" in expected:
        if not any(is_fault(expected["error"], problem) for problem in problems):
            yield f"expected {expected['error']}, found {list(map(str, problems))}"
    elif "errors" in expected:
        yield from compare_faults(expected["errors"], problems)
    elif report is None:
        yield from map(str, problems)
    else:
        for what, wanted, found in compare_report(expected, report):
            if wanted != found:
                yield f"{what}: expected {wanted}, found {found}"


@pytest.mark.parametrize("file", FILES, ids=lambda path: path.stem)
def test_every_case_of_a_file(file):
    failed = []
    for case in yaml.load(file.read_text(), Texts)["cases"]:
        failed += [f"{case['name']}: {one}" for one in differences(case)]
    assert not failed, "\n".join(failed)


def test_the_suite_is_whole():
    assert len(cases()) >= 800
