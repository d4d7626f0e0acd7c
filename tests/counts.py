"""How many instructions the checker takes for what it does, compared with the committed table.

    python3 tests/counts.py             # counts, prints, compares with tests/counts.txt
    python3 tests/counts.py --update    # writes the table; read the difference
    python3 tests/counts.py WORD        # only tasks with this word in their names

Counts do not depend on what else the machine does, so that one day can be compared with another.
They depend on the compiler: with the one that made the table a count that has grown by more than
5 % is a failure, with another it is only printed. Needs Linux and valgrind.
"""

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
TABLE = os.path.join(HERE, "counts.txt")
ROOT = os.path.dirname(HERE)
MOST_GROWTH = 1.05
# A task must take this many instructions in all, so that what a process counts beside it is nothing.
ENOUGH = 20_000_000
MOST_ROUNDS = 5_000

# What is divided by what.
RATIOS = [
    ("twenty-sound-answers", "twenty-sound-by-hand"),
    ("twenty-faulty-answers", "twenty-faulty-by-hand"),
    ("twenty-sound-json-to-answers", "twenty-sound-json-by-hand"),
    ("twenty-faulty-json-to-answers", "twenty-faulty-json-by-hand"),
    ("one-cell-read", "one-cell-typed-parse"),
    ("one-cell-lean", "one-cell-typed-parse"),
    ("one-cell-full", "one-cell-typed-parse-and-write-as-full"),
    ("four-cells-read", "four-cells-typed-parse"),
    ("four-cells-lean", "four-cells-typed-parse-and-write-as-lean"),
    ("four-cells-full", "four-cells-typed-parse-and-write-as-full"),
]


def compiler():
    """The compiler and what it compiles for."""
    told = subprocess.run(["rustc", "-vV"], cwd=ROOT, capture_output=True, text=True, check=True)
    lines = told.stdout.splitlines()
    return ", ".join([lines[0]] + [line for line in lines if line.startswith("host:")])


def built():
    """The program that runs the tasks."""
    command = ["cargo", "bench", "-p", "rulesets", "--bench", "counts", "--no-run"]
    command.append("--message-format=json-render-diagnostics")
    told = subprocess.run(command, cwd=ROOT, stdout=subprocess.PIPE, text=True, check=True)
    messages = [json.loads(line) for line in told.stdout.splitlines() if line.startswith("{")]
    programs = [one["executable"] for one in messages if one.get("executable")]
    return programs[-1]


def collected(program, task, rounds):
    """The instructions of a process that does a task so many times."""
    with tempfile.NamedTemporaryFile() as out:
        command = ["valgrind", "--tool=callgrind", f"--callgrind-out-file={out.name}"]
        told = subprocess.run(command + [program, task, str(rounds)], capture_output=True, text=True)
    found = re.search(r"Collected : (\d+)", told.stderr)
    if told.returncode != 0 or not found:
        sys.exit(f"{task} failed:\n{told.stderr}")
    return int(found[1])


def instructions(program, task):
    """The instructions of one round: what a process with more rounds takes more."""
    few = collected(program, task, 1)
    one = max(collected(program, task, 2) - few, 1)
    rounds = min(max(ENOUGH // one, 2), MOST_ROUNDS)
    return round((collected(program, task, 1 + rounds) - few) / rounds)


def committed():
    """The compiler of the table, and its counts by task."""
    with open(TABLE, encoding="utf-8") as file:
        first, *rows = file.read().splitlines()
    return first, {name: int(count) for name, count in (row.split() for row in rows)}


def print_counts(counts, before):
    print("| task | instructions | in the table | grown by |\n| --- | ---: | ---: | ---: |")
    for task, count in counts.items():
        old = before.get(task)
        grown = f"{100 * (count / old - 1):.1f} %" if old else ""
        print(f"| {task} | {count:,} | {f'{old:,}' if old else ''} | {grown} |")


def print_ratios(counts):
    print("\n| task | against | ratio |\n| --- | --- | ---: |")
    for task, base in RATIOS:
        if task in counts and base in counts:
            print(f"| {task} | {base} | {counts[task] / counts[base]:.1f} |")


def main():
    if not shutil.which("valgrind"):
        print("nothing is counted: there is no valgrind here")
        return
    words = [word for word in sys.argv[1:] if not word.startswith("--")]
    update = "--update" in sys.argv
    program = built()
    tasks = subprocess.run([program], capture_output=True, text=True, check=True).stdout.split()
    tasks = [task for task in tasks if all(word in task for word in words)]
    counts = {task: instructions(program, task) for task in tasks}
    by, before = committed() if os.path.exists(TABLE) else ("", {})
    print_counts(counts, before)
    print_ratios(counts)
    if update:
        kept = {**before, **counts} if words else counts
        with open(TABLE, "w", encoding="utf-8") as file:
            file.write("\n".join([compiler(), *(f"{task} {count}" for task, count in kept.items())]) + "\n")
        return
    grown = [task for task in tasks if counts[task] > MOST_GROWTH * before.get(task, counts[task])]
    if grown and by == compiler():
        sys.exit("\ngrown by more than 5 %: " + ", ".join(grown))
    if by != compiler():
        print(f"\nonly printed: the table was made with {by or 'nothing'}, this is {compiler()}")


if __name__ == "__main__":
    main()
