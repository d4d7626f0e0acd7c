"""The native part of cellrules. Its classes are those of the package `cellrules`."""

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, Optional, Union

from ._data import Finding, Notice, Problem, Question, Stage, Verdict

__version__: str

class Report:
    """What a check found: the verdict, what speaks against the proposal, what is not known."""

    @property
    def title(self) -> str:
        """The title of the proposal."""
    @property
    def proposal(self) -> str:
        """What messages call the proposal: its file or stream."""
    @property
    def verdict(self) -> Optional[Verdict]:
        """The verdict on the whole; ``None`` where only some stages were asked for."""
    @property
    def best(self) -> Optional[Verdict]:
        """The lowest verdict that what is known allows."""
    @property
    def worst(self) -> Optional[Verdict]:
        """The highest verdict that what is known allows: the verdict."""
    @property
    def nothing_checked(self) -> bool:
        """Whether no caution surely applied, so that nothing was checked."""
    @property
    def digest(self) -> str:
        """The digest of the rules that it was checked by."""
    @property
    def stages(self) -> tuple[Stage, ...]:
        """What each stage of the work came to."""
    @property
    def findings(self) -> tuple[Finding, ...]:
        """Every finding that is not a pass, the gravest first."""
    @property
    def questions(self) -> tuple[Question, ...]:
        """What to state or to measure, what holds the verdict first."""
    @property
    def passed(self) -> tuple[str, ...]:
        """Cautions that were met wherever they applied."""
    @property
    def not_applicable(self) -> tuple[str, ...]:
        """Cautions that applied nowhere."""
    @property
    def notice(self) -> tuple[Notice, ...]:
        """The standing notice. Whoever shows a report shows it too."""
    def to_json(self) -> str:
        """The report as JSON, by the published schema of reports: the text that the command writes."""
    def to_dict(self) -> dict[str, Any]:
        """The same as a dict."""
    def text(self, width: int = ...) -> str:
        """The whole report for people, with every reason, value and source."""
    def first_page(self, width: int = ..., lines: int = ...) -> str:
        """The report on one screen. ``str(report)`` is the same."""
    def question_page(self, width: int = ...) -> str:
        """What is not known yet, with the meaning of each."""
    def _repr_html_(self) -> str:
        """What a notebook shows: the page of the command, with plots, as a part of the notebook."""
    @staticmethod
    def from_json(text: str) -> Report:
        """A report that was written as JSON."""

class Record:
    """A check as ids and numbers; or the problems of a proposal that cannot be used."""

    @property
    def verdict(self) -> Optional[Verdict]:
        """The verdict; ``None`` of what cannot be used, or where only some stages were asked for."""
    @property
    def best(self) -> Optional[Verdict]: ...
    @property
    def worst(self) -> Optional[Verdict]: ...
    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions that speak against it, the gravest first."""
    @property
    def missing(self) -> Optional[str]:
        """Where the first of what is missing is written."""
    @property
    def problems(self) -> tuple[Problem, ...]:
        """Why it cannot be used; none, if it was checked."""
    def to_json(self) -> str:
        """The record on one line, by the published schema of lean records or of problems. It has the ids of
        the notice; ``Rules.notice`` has its words."""
    def to_dict(self) -> dict[str, Any]: ...

class Answer:
    """What a job came to. ``answer["cells"]`` is an entry of its data, by the published schema of the job."""

    @property
    def notice(self) -> tuple[Notice, ...]:
        """The standing notice."""
    def to_json(self) -> str: ...
    def to_dict(self) -> dict[str, Any]: ...
    def text(self, width: int = ...) -> str:
        """The page that the command prints."""
    def _repr_html_(self) -> str:
        """What a notebook shows: the page of the command, with plots, as a part of the notebook."""
    def __getitem__(self, key: str) -> Any: ...

class Bench:
    """What a workshop says once: its meters, chargers, lights, places, packs and cells."""

    @staticmethod
    def from_file(path: Union[str, os.PathLike[str]]) -> Bench:
        """A bench and its tables, which stand in its folder."""
    @staticmethod
    def from_texts(files: Mapping[str, Union[str, bytes]], name: str) -> Bench:
        """The bench of a name among texts in memory; no file is read."""
    @property
    def title(self) -> str: ...
    @property
    def digest(self) -> str:
        """The digest of all that it says."""
    @property
    def cells(self) -> tuple[str, ...]: ...
    @property
    def lights(self) -> tuple[str, ...]: ...

class CheckedTable:
    """A table with what was found of each row. It speaks Arrow's interface for Python: ``pyarrow.table(found)``,
    ``polars.DataFrame(found)`` and ``pandas.DataFrame.from_arrow(found)`` take it as it is."""

    @property
    def column_names(self) -> tuple[str, ...]: ...
    @property
    def notice(self) -> tuple[Notice, ...]:
        """The standing notice; the metadata of the table has it too."""
    @property
    def digest(self) -> str: ...
    def __len__(self) -> int: ...
    def __arrow_c_stream__(self, requested_schema: Optional[object] = None) -> object: ...

class Records(Iterator[Union[Record, Report]]):
    def __next__(self) -> Union[Record, Report]: ...

_Question = tuple[Any, Optional[str], Optional[str], Optional[Bench], Optional[Mapping[str, Union[str, bytes]]]]
_Options = tuple[list[str], Optional[str], bool, bool]
_Varied = tuple[str, Optional[str], Optional[str], Optional[str]]

class Rules:
    @staticmethod
    def shipped() -> Rules: ...
    @staticmethod
    def from_files(names: list[str], within: Optional[str]) -> Rules: ...
    @staticmethod
    def from_texts(files: Mapping[str, Union[str, bytes]], names: list[str]) -> Rules: ...
    @property
    def digest(self) -> str: ...
    @property
    def names(self) -> list[str]: ...
    @property
    def texts(self) -> dict[str, bytes]: ...
    @property
    def notice(self) -> tuple[Notice, ...]: ...
    @property
    def stages(self) -> tuple[str, ...]: ...
    @property
    def cautions(self) -> tuple[str, ...]: ...
    def check(self, question: _Question, options: _Options) -> Report: ...
    def check_many(
        self, proposals: Iterable[Any], options: _Options, name: str, full: bool,
        ahead: tuple[int, Optional[int]],
    ) -> Records: ...
    def check_table(
        self, table: Any,
        options: tuple[Optional[str], Optional[Bench], list[str], bool, Optional[int]],
    ) -> CheckedTable: ...

def figures(rules: Rules, question: _Question) -> Answer: ...
def range(
    rules: Rules, question: _Question, across: _Varied, up: Optional[_Varied], checks: Optional[int],
    stages: list[str],
) -> Answer: ...
def choose(
    rules: Rules, question: _Question, wish: tuple[int, Optional[int], bool, bool], stages: list[str]
) -> Answer: ...
def sort(rules: Rules, bench: Bench, cells: list[str], as_of: Optional[str]) -> Answer: ...
def label(
    voltage: Optional[str], capacity: Optional[str], energy: Optional[str], code: Optional[str],
    cells: Optional[int],
) -> Answer: ...
