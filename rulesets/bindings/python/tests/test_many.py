"""Many proposals: in order, on all cores, without holding more than a few of them."""

import itertools
import json
import resource
import threading
import time
from pathlib import Path

import pytest

TORCH = {"format": 1, "title": "torch", "arrangement": "1S1P", "cells": [{"id": "K4"}]}


def low(number):
    """A torch whose cell was found at so many volts: below 2 V it stays out."""
    return {**TORCH, "title": str(number), "cells": [{"id": "K4", "found": {"voltage": f"{number % 4}.0 V"}}]}


def test_records_keep_their_order(rules):
    given = [low(n) for n in range(1000)]
    records = list(rules.check_many(given))
    assert [one.to_dict()["title"] for one in records] == [str(n) for n in range(1000)]
    alone = [rules.check(one) for one in given[:8]]
    assert [one.verdict for one in alone] == [one.verdict for one in records[:8]]
    cautions = [tuple(dict.fromkeys(finding.caution for finding in one.findings)) for one in alone]
    assert cautions == [one.cautions for one in records[:8]]


def test_a_source_may_be_endless(rules):
    taken = itertools.count()
    records = rules.check_many((low(next(taken)) for _ in itertools.repeat(None)), batch=4)
    assert len(list(itertools.islice(records, 100))) == 100
    assert next(taken) < 100 + 4 * 256  # no more than a batch for each core is taken ahead


def test_any_number_of_threads_says_the_same(rules):
    given = [low(n) for n in range(50)]
    wanted = [one.to_json() for one in rules.check_many(given, threads=1)]
    for threads in (0, 3, 10_000):
        assert [one.to_json() for one in rules.check_many(given, threads=threads)] == wanted


def test_whole_reports(rules):
    good, bad = rules.check_many([TORCH, "{"], full=True)
    assert good.findings and good.to_json() == rules.check(TORCH, name="proposal 1").to_json()
    assert bad.problems[0].code == "syntax"


def test_threads_share_rules(rules, torch):
    """Eight threads at once come to what one comes to."""
    wanted = rules.check(torch).to_json()
    found = []

    def work():
        found.extend(rules.check(torch).to_json() == wanted for _ in range(50))

    threads = [threading.Thread(target=work) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 400 and all(found)


def test_the_interpreter_goes_on_meanwhile(rules):
    """While one thread checks a large build, another one counts: the lock is not held."""
    cells = [{"id": f"K{n}"} for n in range(3000)]
    large = json.dumps({**TORCH, "arrangement": "1S3000P", "cells": cells})
    seen = []
    done = threading.Event()

    def check():
        start = time.perf_counter()
        try:
            rules.check(large)
            seen.append(time.perf_counter() - start)
        finally:
            done.set()

    counted = 0
    thread = threading.Thread(target=check)
    thread.start()
    while not done.wait(0.001):
        counted += 1
    thread.join()
    # With the lock held there would be one round, or two. A round takes a little over a millisecond.
    assert counted > 5 or seen[0] < 0.02


def held():
    """The memory that the process has now, in MiB (Linux tells pages)."""
    return int(Path("/proc/self/statm").read_text().split()[1]) * resource.getpagesize() / 2**20


MOST_HELD = 25
"""MiB. A leak of the smallest record, of some 500 bytes, would come to 500 MiB over a million. What is allowed is
a twentieth of that, because allocators of several threads keep some room of their own."""


@pytest.mark.skipif(not Path("/proc/self/statm").exists(), reason="no other system tells it so")
def test_a_million_checks_hold_no_memory():
    """A single caution makes a check short: how much is held does not depend on how much is checked."""
    from cellrules import Rules

    one = """
format: 1
ruleset: tested
version: 1.0.0
title: Tested
cautions:
  - { id: tested, title: Tested, about: each cell, refuse_unless: cell.wrap == intact, reason: r,
      basis: [{ common_practice: p }] }
"""
    rules = Rules.from_texts({"tested.yaml": one})
    text = '{"format":1,"title":"t","arrangement":"1S1P","cells":[{"id":"K4","wrap":"nicked"}]}'
    records = rules.check_many(itertools.repeat(text, 1_000_000), batch=512)
    first = sum(1 for _ in itertools.islice(records, 50_000))
    before = held()
    refused = sum(record.verdict == "refuse" for record in records)
    assert first + refused == 1_000_000
    assert held() - before < MOST_HELD
    # It would be seen: a tenth of the records, kept.
    before = held()
    kept = list(rules.check_many(itertools.repeat(text, 100_000), batch=512))
    assert len(kept) == 100_000 and held() - before > MOST_HELD
