"""The largest time, memory and output of the command for each byte of its input.

Every command runs over hostile inputs, one process each; the table has, for each command, the input
that costs most a byte. What a run on the smallest input takes is taken off first: it is the price of
loading the rules. Needs Linux, for the memory that a process held at most.

    cargo build --release -p rules-cli
    python3 tests/worst.py target/release/cellrules

With `--all` it prints every run, with a word only those of commands in which it occurs.
"""

import json
import os
import random
import subprocess
import sys
import tempfile
import time

LETTERS = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
MOST_CELLS = 10_000
MOST_BYTES = 8 * 1024 * 1024
SECONDS = 300


def name(number):
    """A short id."""
    text = ""
    while True:
        text += LETTERS[number % len(LETTERS)]
        number //= len(LETTERS)
        if number == 0:
            return text


def proposal(arrangement, cells, **more):
    """A proposal on one line."""
    whole = {"format": 1, "arrangement": arrangement, **more, "cells": cells}
    return json.dumps(whole, separators=(",", ":"), ensure_ascii=False) + "\n"


def ids(many, group=None):
    """Cells of which nothing but the id is said, or the id and the group of so many."""
    return [{"id": name(at), **({"group": name(at // group)} if group else {})} for at in range(many)]


def some_facts(chance):
    """A cell with one or some of a few facts."""
    facts = {
        "body": chance.choice(["sound", "dented"]),
        "protected": chance.choice([True, False]),
        "rest": {"voltage": f"{chance.randint(0, 4)}.{chance.randint(0, 99):02} V"},
        "capacity": {"value": f"{chance.randint(300, 3000)} mAh"},
        "resistance": {"value": f"{chance.randint(10, 400)} mohm"},
        "designation": chance.choice(["ICR18650", "INR18650", "IFR18650"]),
        "pack": chance.choice(["a", "b"]),
    }
    return {key: value for key, value in facts.items() if chance.random() < 0.4}


def measured(at):
    """A cell of which all is said, and next to nothing objected to."""
    step = at % 7
    return {
        "id": name(at), "designation": "ICR18650", "origin": "salvaged", "protected": False,
        "found": {"voltage": "3.52 V"}, "rest": {"voltage": f"3.84{step} V", "after": "26 h"},
        "capacity": {"value": f"22{step}0 mAh", "at": "1.1 A", "to": "3.0 V"},
        "rated": {"capacity": "2600 mAh", "full": "4.20 V", "discharge": "5.2 A"},
        "resistance": {"value": f"6{step} mohm", "method": "dc-10s"},
        "drift": {"fall": "5 mV", "over": "28 d"}, "wrap": "intact", "top_ring": "present",
        "body": "sound", "tabs": "ground-off",
    }


def use(series):
    """The rest of a proposal of which all is said. Numbers stay where they can be believed."""
    cut_off, most = min(3 * series, 900), min(5 * series, 1000)
    return {
        "light": {"drive": "buck", "draw": f"{cut_off} W", "cut_off": f"{cut_off} V",
                  "input": {"min": f"{cut_off} V", "max": f"{most} V"}},
        "protection": {"kind": "pack", "each_cell": True, "under_voltage": "2.5 V"},
        "charging": {"termination": "4.20 V", "current": "1 A", "ambient": "18 degC", "attended": True},
        "conditions": {"ambient": "8 degC", "run_time": "90 min"},
    }


def proposals():
    """Proposals by what is hostile in them."""
    chance = random.Random(1)
    varied = [{"id": name(at), **some_facts(chance)} for at in range(2000)]
    pairs = [{**cell, "group": name(at // 2)} for at, cell in enumerate(varied)]
    keys = {f"rest_votage{at}": "1 V" for at in range(40)}
    unknown = [{"id": name(at), **keys} for at in range(MOST_BYTES // 1000)]
    return {
        "10,000 in series, none listed": proposal(f"{MOST_CELLS}S1P", []),
        "10,000 in parallel, none listed": proposal(f"1S{MOST_CELLS}P", []),
        "100 by 100, none listed": proposal("100S100P", []),
        "2,000 cells by id alone": proposal("2000S1P", ids(2000)),
        "2,000 cells by id alone, in parallel": proposal("1S2000P", ids(2000)),
        "2,000 cells by id alone, in pairs": proposal("1000S2P", ids(2000, 2)),
        "10,000 cells by id alone": proposal(f"{MOST_CELLS}S1P", ids(MOST_CELLS)),
        "2,000 cells that all differ": proposal("2000S1P", varied),
        "2,000 cells that all differ, in parallel": proposal("1S2000P", varied),
        "2,000 cells that all differ, in pairs": proposal("1000S2P", pairs),
        "10,000 cells, all measured": proposal(
            f"{MOST_CELLS}S1P", [measured(at) for at in range(MOST_CELLS)], **use(MOST_CELLS)),
        "2,000 cells, all measured, in parallel": proposal(
            "1S2000P", [measured(at) for at in range(2000)], **use(1)),
        "2,000 cells of long ids": proposal(
            "2000S1P", [{"id": "x" * 190 + name(at)} for at in range(2000)]),
        "keys that nobody knows": proposal("1S1P", unknown),
        "values to the bound": '{"a":[' + "1," * 900_000 + "1]}\n",
        "maps in maps to the bound": '{"a":' * 31 + "1" + "}" * 31 + "\n",
        "one long text": json.dumps({"format": 1, "title": "x" * 8_000_000}) + "\n",
    }


def lines():
    """Streams of several lines."""
    return {
        "64 lines of 500S1P": proposal("500S1P", []) * 64,
        "200 lines of 2000S1P": proposal("2000S1P", []) * 200,
        "2,000 lines that are no JSON": "[\n" * 2000,
        "2,000 blank lines": "\n" * 2000,
        "500 lines of four cells": proposal("4S1P", ids(4)) * 500,
    }


def ruleset(cautions, more=""):
    """A ruleset of these cautions."""
    head = "format: 1\nruleset: hostile\nversion: 1.0.0\ntitle: Hostile rules\n"
    return head + more + "cautions:\n" + "".join(cautions)


def caution(at, rung, about="each cell"):
    """A caution of a rung."""
    return (f"  - {{ id: c{at}, title: One, about: {about}, refuse_unless: \"{rung}\", reason: low, "
            "basis: [{ common_practice: one }], cases: [{ given: { cell.rest_voltage: 3.9 V }, expect: pass }] }\n")


def rulesets():
    """Rulesets by what is hostile in them."""
    long = " or ".join(["cell.rest_voltage > 100 V"] * 72 + ["cell.rest_voltage > 1 V"])
    limit = "  limit{0}: {{ value: 1 A, stricter: lower, meaning: One, basis: [{{ common_practice: one }}] }}\n"
    limits = "limits:\n" + "".join(limit.format(at) for at in range(5000))
    return {
        "5,000 cautions": ruleset(caution(at, "cell.rest_voltage > 1 V") for at in range(5000)),
        "500 of the longest formulas": ruleset(caution(at, long) for at in range(500)),
        "500 formulas, all at fault": ruleset(
            caution(at, long.replace("rest_voltage", "rest_votage")) for at in range(500)),
        "5,000 limits that nothing uses": ruleset([caution(0, "cell.rest_voltage > 1 V")], limits),
        "keys that nobody knows": ruleset([caution(0, "cell.rest_voltage > 1 V")])
        + "".join(f"limts{at}: 1\n" for at in range(50_000)),
    }


def commands():
    """What is run: on the inputs of a kind, with `{}` for the file."""
    return {
        "check": (["check", "{}"], "proposals"),
        "check --brief": (["check", "--brief", "{}"], "proposals"),
        "check --format json": (["check", "--format", "json", "{}"], "proposals"),
        "figures": (["figures", "{}"], "proposals"),
        "figures --format json": (["figures", "--format", "json", "{}"], "proposals"),
        "stream": (["stream", "{}"], "streams"),
        "stream --full": (["stream", "--full", "{}"], "streams"),
        "vet": (["vet", "{}"], "rulesets"),
        "cases": (["cases", "{}"], "rulesets"),
        "merged": (["merged", "{}"], "rulesets"),
        "cautions": (["cautions", "--rules", "{}"], "rulesets"),
        "limits": (["limits", "--rules", "{}"], "rulesets"),
        "check --rules": (["check", "--rules", "{}", "SMALLEST"], "rulesets"),
    }


def labels():
    """Arguments of `label`, which reads no file."""
    return {
        "numbers as wide as may be": ["--voltage", "1..100 V", "--capacity", "0.1..100 Ah", "--energy", "1..1000 Wh"],
        "a voltage alone": ["--voltage", "11.1 V"],
        "a long code": ["--code", "9" * 100 + "INR19/66-9"],
    }


def write(folder):
    """Writes all inputs, and tells where they are."""
    kinds = {"proposals": proposals(), "rulesets": rulesets()}
    kinds["streams"] = {**kinds["proposals"], **lines()}
    smallest = {"proposals": proposal("1S1P", []), "streams": proposal("1S1P", []),
                "rulesets": ruleset([caution(0, "cell.rest_voltage > 1 V")])}
    places = {}
    for kind, inputs in kinds.items():
        ending = "yaml" if kind == "rulesets" else "json"
        for at, (title, text) in enumerate([("", smallest[kind]), *inputs.items()]):
            path = os.path.join(folder, f"{kind}-{at}.{ending}")
            with open(path, "w", encoding="utf-8") as file:
                file.write(text)
            places.setdefault(kind, []).append((title, path))
    print(json.dumps(places))


def run(command):
    """Seconds, KiB of memory at most, bytes of output, exit code; none past the time."""
    with tempfile.TemporaryFile() as out:
        start = time.monotonic()
        child = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=out, stderr=out)
        while True:
            pid, status, used = os.wait4(child.pid, os.WNOHANG)
            if pid:
                break
            if time.monotonic() - start > SECONDS:
                child.kill()
                os.wait4(child.pid, 0)
                return None
            time.sleep(0.002)
        return (time.monotonic() - start, used.ru_maxrss, out.tell() or os.fstat(out.fileno()).st_size,
                os.waitstatus_to_exitcode(status))


class Run:
    """A run on an input, less what the smallest input takes."""

    def __init__(self, title, size, took, least):
        self.title, self.size = title, max(size, 1)
        self.seconds, self.memory, self.output, self.code = took
        self.own = [max(took[at] - least[at], 0) for at in range(3)]

    def each(self, at):
        return self.own[at] / self.size

    def row(self, command):
        seconds, memory, output = self.own
        return (f"| `{command}` | {self.title} | {self.size:,} | {self.seconds:.2f} s | {self.memory / 1024:.0f} MiB "
                f"| {self.output:,} | {1e6 * seconds / self.size:,.1f} µs | {1024 * memory / self.size:,.0f} "
                f"| {output / self.size:,.1f} |")


def runs(program, arguments, places):
    """Runs a command on each of its inputs."""
    (_, smallest), *inputs = places
    filled = lambda path: [program] + [part.replace("{}", path) for part in arguments]
    least = min(run(filled(smallest)) for _ in range(3))
    for title, path in inputs:
        took = run(filled(path))
        if took is None:
            print(f"| `{arguments[0]}` | {title} | more than {SECONDS} s |", flush=True)
        else:
            yield Run(title, os.path.getsize(path), took, least)


def worst(all_runs):
    """The runs that cost most a byte, in time, in memory and in output, and the one that holds most."""
    found = []
    for measure in (lambda one: one.each(0), lambda one: one.each(1), lambda one: one.each(2),
                    lambda one: one.memory):
        most = max(all_runs, key=measure)
        if most not in found:
            found.append(most)
    return found


def main(program, wanted, everything):
    print("| command | input | bytes | time | memory at most | output | time a byte | memory a byte | output a byte |")
    print("| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |", flush=True)
    with tempfile.TemporaryDirectory() as folder:
        # Made in a process of its own: what this one holds counts for those that it starts.
        made = subprocess.run([sys.executable, __file__, "--write", folder], check=True, capture_output=True)
        places = json.loads(made.stdout)
        smallest = places["proposals"][0][1]
        for command, (arguments, kind) in commands().items():
            if wanted not in command:
                continue
            arguments = [smallest if part == "SMALLEST" else part for part in arguments]
            all_runs = list(runs(program, arguments, places[kind]))
            for one in all_runs if everything else worst(all_runs):
                print(one.row(command), flush=True)
    if wanted in "label":
        for title, arguments in labels().items():
            took = run([program, "label", *arguments])
            print(Run(title, sum(map(len, arguments)), took, (0, 0, 0)).row("label"), flush=True)


if __name__ == "__main__":
    if sys.argv[1] == "--write":
        write(sys.argv[2])
    else:
        words = [word for word in sys.argv[2:] if not word.startswith("--")]
        main(sys.argv[1], words[0] if words else "", "--all" in sys.argv)
