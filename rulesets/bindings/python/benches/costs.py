"""What a check costs by each way from Python, in one run.

    python benches/costs.py [ROWS]            one cell, the marshal's torch of the demo
    SPARK=1 python benches/costs.py [ROWS]    the same on Spark, beside a worker that only parses the JSON

COMMAND=.../cellrules adds the stream of the command, which is the library in Rust with reading and writing lines;
LIBRARY=.../libcellrules.so the C interface, called by ctypes, which costs a few microseconds itself.

Told is the time of the clock, and what of it this process worked on all cores together, which other work on the
machine does not change. The wheel must be that of a release.
"""

import ctypes
import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pyarrow

import cellrules
from cellrules.spark import arrow_worker, schema

ROOT = Path(__file__).resolve().parents[4]
ROWS = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
CORES = os.cpu_count() or 1


def timed(what, count, act):
    start, worked = time.perf_counter(), time.process_time()
    act()
    taken, worked = time.perf_counter() - start, time.process_time() - worked
    print(f"{what:44} {1e6 * taken / count:8.1f} us {1e6 * worked / count:8.1f} us of work", flush=True)


def flat(value, path=""):
    """A proposal as columns named by its keys."""
    if isinstance(value, dict):
        for key, below in value.items():
            yield from flat(below, f"{path}.{key}" if path else key)
    elif isinstance(value, list) and all(isinstance(one, dict) and "id" in one for one in value):
        for one in value:
            yield from flat({key: below for key, below in one.items() if key != "id"}, f"{path}[{one['id']}]")
    else:
        yield path, value


def here(rules, torch, texts):
    few = texts[: max(1, ROWS // 10)]
    print(f"{CORES} cores, {ROWS} rows, {len(texts[0])} bytes each")
    timed("parse and write its JSON (json of Python)", len(few), lambda: [json.dumps(json.loads(t)) for t in few])
    timed("check one by one, JSON", len(few), lambda: [rules.check(text) for text in few])
    timed("check one by one, dict", len(few), lambda: [rules.check(torch) for _ in few])
    timed("check one by one, JSON to JSON", len(few), lambda: [rules.check(text).to_json() for text in few])
    timed("check_many, JSON", ROWS, lambda: sum(1 for _ in rules.check_many(texts)))
    timed("check_many, JSON, one thread", ROWS, lambda: sum(1 for _ in rules.check_many(texts, threads=1)))
    column = pyarrow.table({"proposal": texts})
    timed("check_table, a column of JSON", ROWS, lambda: rules.check_table(column, json="proposal"))
    columns = pyarrow.table({name: [value] * ROWS for name, value in flat(torch)})
    timed(f"check_table, {columns.num_columns} columns of keys", ROWS, lambda: rules.check_table(columns))


def by_command(command, texts):
    """The stream of the command, which works in processes of its own."""
    lines = "".join(f"{text}\n" for text in texts).encode()
    for what, more in {"lean": [], "in full": ["--full"]}.items():
        before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
        subprocess.run([command, "stream", *more], input=lines, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        taken, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
        worked = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        name = f"cellrules stream, {what}"
        print(f"{name:44} {1e6 * taken / ROWS:8.1f} us {1e6 * worked / ROWS:8.1f} us of work", flush=True)


class Text(ctypes.Structure):
    _fields_ = [("bytes", ctypes.c_void_p), ("length", ctypes.c_size_t)]


def by_c(path, texts):
    library = ctypes.CDLL(path)
    rules = ctypes.c_void_p()
    assert library.cellrules_load_shipped(ctypes.byref(rules)) == 0
    written, verdict = Text(), ctypes.c_int()
    few = [text.encode() for text in texts[: max(1, ROWS // 10)]]

    def all_by(call):
        for text in few:
            call(rules, b"torch.json", text, ctypes.c_size_t(len(text)), ctypes.byref(verdict), ctypes.byref(written))
            library.cellrules_free_text(ctypes.byref(written))

    timed("C, JSON to a lean record", len(few), lambda: all_by(library.cellrules_check))
    timed("C, JSON to the report as JSON", len(few), lambda: all_by(library.cellrules_report))
    library.cellrules_free_rules(rules)


def parsing(batches):
    """A worker that only parses: what any other would have to do too."""
    for batch in batches:
        parsed = [json.loads(text) for text in batch.column(0).to_pylist()]
        yield pyarrow.record_batch({"title": [one["title"] for one in parsed]})


def measured(work):
    """A worker that gives how many rows another one took, and how long it worked on them."""

    def measure(batches):
        start = time.process_time()
        rows = sum(batch.num_rows for batch in work(batches))
        yield pyarrow.record_batch({"rows": [rows], "worked": [time.process_time() - start]})

    return measure


def on_spark(rules, texts, workers):
    from pyspark.sql import SparkSession

    os.environ["PYSPARK_PYTHON"] = sys.executable
    builder = SparkSession.builder.master(f"local-cluster[{workers},1,1024]").appName("costs")
    for name, value in {
        "spark.driver.host": "127.0.0.1", "spark.driver.bindAddress": "127.0.0.1", "spark.ui.enabled": "false",
        "spark.sql.execution.arrow.maxRecordsPerBatch": "10000",
    }.items():
        builder = builder.config(name, value)
    spark = builder.getOrCreate()
    spark.sparkContext.setLogLevel("ERROR")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "proposals.jsonl"
        path.write_text("".join(f"{text}\n" for text in texts))
        rows = spark.read.text(str(path)).repartition(4 * workers).cache()
        assert rows.count() == len(texts)
        worker = arrow_worker(rules, json="value", session=spark)
        ways = {"parse": (parsing, "title string"), "check": (worker, schema(rows))}
        for what, (way, columns) in ways.items():
            found = rows.mapInArrow(way, columns)
            found.limit(1).collect()  # the workers are there, and have their rules
            start = time.perf_counter()
            found.write.format("noop").mode("overwrite").save()
            taken = time.perf_counter() - start
            told = rows.mapInArrow(measured(way), "rows long, worked double").collect()
            worked = sum(one.worked for one in told) / sum(one.rows for one in told)
            name = f"Spark, {workers} workers of a core, {what}"
            print(f"{name:44} {1e6 * taken / len(texts):8.1f} us {1e6 * worked:8.1f} us of work", flush=True)
    spark.stop()


def main():
    rules = cellrules.Rules.shipped()
    torch = json.loads((ROOT / "rules-cli/demo/marshal-torch.json").read_text())
    texts = [json.dumps({**torch, "title": f"torch {n}"}, ensure_ascii=False) for n in range(ROWS)]
    here(rules, torch, texts)
    if "LIBRARY" in os.environ:
        by_c(os.environ["LIBRARY"], texts)
    if "COMMAND" in os.environ:
        by_command(os.environ["COMMAND"], texts)
    if os.environ.get("SPARK"):
        for workers in range(1, CORES + 1):
            on_spark(rules, texts, workers)


if __name__ == "__main__":
    main()
