"""Checks on a distributed engine: workers for ``mapInArrow`` and ``mapInPandas`` of Spark.

The rules are broadcast: each Python worker loads them once. A row that cannot be used is a row of the result,
with its problem, and no failed job. Every row has the digest of the rules and the ids of the standing notice;
:attr:`cellrules.Rules.notice` has its words, which whoever shows a result shows too.

.. code-block:: python

    import cellrules
    from cellrules.spark import check

    rules = cellrules.Rules.shipped()
    found = check(spark.read.parquet("proposals"), rules, json="proposal", keep=["id"])
    found.groupBy("verdict").count().show()

Nothing here imports Spark before it is asked for: a worker needs ``pyarrow`` and no Spark of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, Optional

from . import Bench, Rules

if TYPE_CHECKING:
    import pandas
    import pyarrow
    from pyspark.sql import DataFrame, SparkSession
    from pyspark.sql.types import StructType

FOUND = (
    "verdict string, best string, worst string, cautions array<string> not null, missing string, margin double, "
    "problem string, problem_code string, digest string not null, notice array<string> not null"
)
"""The columns of a result, after those that are kept, as Spark writes a schema."""


class _Sent:
    """Rules, and a bench, on the way to a worker, which are themselves there only."""

    def __init__(self, rules: Rules, bench: Optional[Bench], session: Optional[SparkSession]) -> None:
        self._itself = (rules, bench) if session is None else None
        self._broadcast: Any = None if session is None else session.sparkContext.broadcast((rules, bench))

    def value(self) -> tuple[Rules, Optional[Bench]]:
        """In a Python worker a broadcast is made once, whatever number of partitions it has."""
        if self._itself is not None:
            return self._itself
        sent: tuple[Rules, Optional[Bench]] = self._broadcast.value
        return sent


def arrow_worker(
    rules: Rules,
    *,
    json: Optional[str] = None,
    keep: Sequence[str] = (),
    bench: Optional[Bench] = None,
    session: Optional[SparkSession] = None,
    columns: Optional[Sequence[str]] = None,
) -> Callable[[Iterable[pyarrow.RecordBatch]], Iterator[pyarrow.RecordBatch]]:
    """A worker for ``mapInArrow``; the options are those of :meth:`cellrules.Rules.check_table`. With the
    ``session`` the rules are broadcast, without it they go with the worker. ``columns`` are the names of the
    columns where the frame has others: ``mapInArrow`` takes none with a dot. It runs without Spark too:

    >>> import pyarrow
    >>> from cellrules import Rules
    >>> rows = pyarrow.record_batch({"arrangement": ["1S1P"]})
    >>> [found] = arrow_worker(Rules.shipped())([rows])
    >>> found.column("verdict").to_pylist()
    ['refuse']
    """
    sent = _Sent(rules, bench, session)
    kept = list(keep)
    names = None if columns is None else list(columns)

    def work(batches: Iterable[pyarrow.RecordBatch]) -> Iterator[pyarrow.RecordBatch]:
        import pyarrow

        rules, bench = sent.value()
        for batch in batches:
            if names is not None:
                batch = batch.rename_columns(names)
            # Spark has a worker for each core.
            found = rules.check_table(
                batch, json=json, keep=kept, bench=bench, identify=True, threads=1)
            yield from pyarrow.table(found).to_batches()

    return work


def pandas_worker(
    rules: Rules,
    *,
    json: Optional[str] = None,
    keep: Sequence[str] = (),
    bench: Optional[Bench] = None,
    session: Optional[SparkSession] = None,
) -> Callable[[Iterable[pandas.DataFrame]], Iterator[pandas.DataFrame]]:
    """The same for ``mapInPandas``, which copies each batch more often."""
    of_batches = arrow_worker(rules, json=json, keep=keep, bench=bench, session=session)

    def work(frames: Iterable[pandas.DataFrame]) -> Iterator[pandas.DataFrame]:
        import pyarrow

        batches = (
            batch for frame in frames
            for batch in pyarrow.Table.from_pandas(frame, preserve_index=False).to_batches()
        )
        return (found.to_pandas() for found in of_batches(batches))

    return work


def schema(frame: DataFrame, keep: Sequence[str] = ()) -> StructType:
    """The columns that a worker gives: those of the frame that are kept, and what was found."""
    from pyspark.sql.types import StructType

    kept = [frame.schema[name] for name in keep]
    found = StructType.fromDDL(FOUND)
    assert isinstance(found, StructType)  # Its types say that it may be any type of data.
    return StructType([*kept, *found.fields])


def check(
    frame: DataFrame,
    rules: Rules,
    *,
    json: Optional[str] = None,
    keep: Sequence[str] = (),
    bench: Optional[Bench] = None,
) -> DataFrame:
    """Checks every row of a frame. Its columns are named by the keys of a proposal, or each row is a text of
    JSON in the column ``json``; the columns named in ``keep`` go into the result. A column that is no key raises
    :class:`cellrules.CellRulesError` here, before a job is started."""
    from pyspark.sql.pandas.types import to_arrow_schema

    names = frame.columns
    empty = to_arrow_schema(frame.schema).empty_table()
    rules.check_table(empty, json=json, keep=keep, bench=bench)
    worker = arrow_worker(
        rules, json=json, keep=keep, bench=bench, session=_session(frame), columns=names)
    numbered = frame.toDF(*(f"column_{number}" for number in range(len(names))))
    return numbered.mapInArrow(worker, schema(frame, keep))


def _session(frame: DataFrame) -> Optional[SparkSession]:
    """The session of a frame, where it has a context that can broadcast."""
    session = frame.sparkSession
    try:
        return session if session.sparkContext is not None else None
    except Exception:  # a session over a connection has none
        return None
