"""Checks on Spark, on a cluster of two workers of one core each, that run in processes of their own.

`CELLRULES_SPARK_ROWS` says how many rows are checked; a million by hand, fewer where time counts.
"""

import json
import os
import subprocess
import sys
from collections import Counter

import pytest

pytest.importorskip("pyspark", reason="Spark is installed where its tests are asked for")
pyarrow = pytest.importorskip("pyarrow")

import cellrules  # noqa: E402
from cellrules import spark as on_spark  # noqa: E402
from conftest import ROOT  # noqa: E402

pytestmark = pytest.mark.spark
# Workers have not the tests: what they run of them is sent.
pytest.importorskip("pyspark.cloudpickle").register_pickle_by_value(sys.modules[__name__])

ROWS = int(os.environ.get("CELLRULES_SPARK_ROWS", "5000"))
MASTER = os.environ.get("CELLRULES_SPARK_MASTER", "local-cluster[2,1,1024]")


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Where Spark is started, so that paths of data are told from there."""
    return tmp_path_factory.mktemp("spark")


@pytest.fixture(scope="module")
def spark(folder):
    os.environ["PYSPARK_PYTHON"] = sys.executable
    from pyspark.sql import SparkSession

    builder = SparkSession.builder.master(MASTER).appName("cellrules")
    options = {
        "spark.driver.host": "127.0.0.1", "spark.driver.bindAddress": "127.0.0.1", "spark.ui.enabled": "false",
        "spark.executor.memory": "1g", "spark.local.dir": str(folder), "spark.task.maxFailures": "4",
        "spark.sql.warehouse.dir": str(folder / "tables"), "spark.sql.shuffle.partitions": "4",
        # The same session checks with lost workers, which must not be locked out for it.
        "spark.excludeOnFailure.enabled": "false",
    }
    for name, value in options.items():
        builder = builder.config(name, value)
    before = os.getcwd()
    os.chdir(folder)
    session = builder.getOrCreate()
    os.chdir(before)
    yield session
    session.stop()


def proposals(torch, count):
    """Torches that differ in what a cell was found at, from 1.5 V to 3.9 V; every hundredth is broken."""
    for n in range(count):
        cell = {**torch["cells"][0], "found": {"voltage": f"{1.5 + n % 25 / 10:.1f} V"}}
        text = json.dumps({**torch, "title": f"torch {n}", "cells": [cell]}, ensure_ascii=False)
        yield text[:-5] if n % 100 == 99 else text


@pytest.fixture(scope="module")
def lines(folder, torch):
    """A file with a proposal on each line."""
    path = folder / "proposals.jsonl"
    with path.open("w") as file:
        file.writelines(f"{text}\n" for text in proposals(torch, ROWS))
    return path


@pytest.fixture(scope="module")
def streamed(command, lines):
    """What `cellrules stream` says of the same lines, by their titles: those that can be used."""
    ran = subprocess.Popen([command, "stream", str(lines)], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    return [summary(json.loads(line)) for line in ran.stdout]


def summary(record):
    cautions = tuple(dict.fromkeys(one["caution"] for one in record.get("findings", ())))
    code = record["problems"][0]["fault"] if "problems" in record else None
    return (record.get("verdict"), record.get("best"), record.get("worst"), cautions, code)


def of_row(row):
    return (row.verdict, row.best, row.worst, tuple(row.cautions), row.problem_code)


def test_the_same_as_the_stream_in_any_order(spark, rules, lines, streamed):
    rows = spark.read.text(str(lines)).repartition(8)
    found = on_spark.check(rows, rules, json="value").collect()
    assert Counter(map(of_row, found)) == Counter(streamed)
    assert len(found) == ROWS and sum(row.verdict is None for row in found) == ROWS // 100
    assert {row.digest for row in found} == {rules.digest}
    assert {tuple(row.notice) for row in found} == {tuple(one.id for one in rules.notice)}


def test_rules_from_texts_are_sent(spark, torch):
    """Workers need no file of the driver: the rules take their texts along."""
    ours = "{ format: 1, ruleset: ours, version: 1.0.0, title: Ours, extends: [rescued-cells] }"
    rules = cellrules.Rules.from_texts({"ours.yaml": ours})
    frame = spark.createDataFrame([(1, json.dumps(torch))], ["id", "proposal"])
    row = on_spark.check(frame, rules, json="proposal", keep=["id"]).collect()[0]
    assert (row.id, row.verdict, row.digest) == (1, "pass", rules.digest)


def test_columns_named_by_keys(spark, rules):
    frame = spark.createDataFrame(
        [("a", "1S1P", 1.87), ("b", "1S1P", 3.71), ("c", None, 3.71)],
        ["id", "arrangement", "cells[c].rest.voltage [V]"])
    found = {row.id: row for row in on_spark.check(frame, rules, keep=["id"]).collect()}
    assert [found[name].best for name in "abc"] == ["refuse", "pass", None]
    assert found["c"].problem_code == "missing-key"


def test_unknown_columns_stop_before_a_job(spark, rules):
    frame = spark.createDataFrame([("1S1P",)], ["arangement"])
    with pytest.raises(cellrules.CellRulesError, match="arrangement"):
        on_spark.check(frame, rules)
    with pytest.raises(cellrules.CellRulesError, match="arangement"):
        on_spark.check(frame, rules, json="arangment")


def test_pandas_workers_say_the_same(spark, rules, lines):
    rows = spark.read.text(str(lines)).limit(300).repartition(3).cache()
    worker = on_spark.pandas_worker(rules, json="value", session=spark)
    of_pandas = rows.mapInPandas(worker, on_spark.schema(rows)).collect()
    of_arrow = on_spark.check(rows, rules, json="value").collect()
    assert Counter(map(of_row, of_pandas)) == Counter(map(of_row, of_arrow))


def first(path):
    """Whether nobody was here before."""
    try:
        path.open("x").close()
        return True
    except FileExistsError:
        return False


def kill_executor():
    """A Python worker is the child of a daemon, and that of the executor."""
    import signal
    from pathlib import Path

    stat = Path(f"/proc/{os.getppid()}/stat").read_text()
    os.kill(int(stat.rpartition(")")[2].split()[1]), signal.SIGKILL)


@pytest.mark.parametrize("lost", ["worker", "executor"])
def test_lost_partitions_are_done_again(spark, rules, lines, streamed, lost, tmp_path):
    """Of each partition the first Python worker dies when it gave a part; of one of them the executor does,
    with all that it had done before."""
    work = on_spark.arrow_worker(rules, json="value", session=spark)

    def dying(batches):
        from pyspark import TaskContext

        partition = TaskContext.get().partitionId()
        for batch in work(batches):
            yield batch
            if lost == "worker" and first(tmp_path / f"partition-{partition}"):
                os._exit(7)
            if lost == "executor" and partition == 2 and first(tmp_path / "executor"):
                kill_executor()

    rows = spark.read.text(str(lines)).repartition(4)
    found = rows.mapInArrow(dying, on_spark.schema(rows)).collect()
    assert len(list(tmp_path.iterdir())) == (4 if lost == "worker" else 1), "they died"
    assert Counter(map(of_row, found)) == Counter(streamed)


def test_rules_of_another_version_fail_with_their_reason(spark, rules, torch):
    """A worker with other shipped rules than those that were meant says so."""
    restore, (texts, names, _) = rules.__reduce__()

    class Other:
        def __reduce__(self):
            return restore, (texts, names, "sha256:other")

    frame = spark.createDataFrame([(json.dumps(torch),)], ["proposal"])
    worker = on_spark.arrow_worker(Other(), json="proposal")
    with pytest.raises(Exception, match="install the same version of cellrules"):
        frame.mapInArrow(worker, on_spark.schema(frame)).collect()


def test_the_lines_of_the_readme(spark, lines, capsys):
    from test_docs import blocks

    found = [block for block in blocks(ROOT / "README.md", "python") if "spark" in block]
    assert len(found) == 1
    exec(found[0], {"spark": spark})
    assert "refuse" in capsys.readouterr().out
