"""What reports are made of, and the exception that everything raises.

Numbers are in the base unit of their kind: volts, amperes, ampere-hours, watts, watt-hours, ohms, seconds,
metres, kelvins, degrees Celsius for a temperature, square metres. Each stands beside the name of its unit.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, Optional

Verdict = Literal["pass", "warn", "refuse"]
"""What a check comes to. ``pass`` < ``warn`` < ``refuse``."""


@dataclass(frozen=True)
class Place:
    """A place in a text: line and column count from 1, the column in characters."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True)
class Problem:
    """What is wrong with something given."""

    code: str
    """The kind of fault, as ``unknown-key``: one of the codes of the rules' language."""
    message: str
    """What is wrong, with the caller's own words in backticks."""
    help: Optional[str]
    """What was expected, and how to mend it."""
    place: Optional[Place]
    """Where it is; ``None`` for what concerns a whole file, or is no text."""

    def __str__(self) -> str:
        place = f"{self.place}: " if self.place else ""
        return f"{place}{self.message}" + (f"; {self.help}" if self.help else "")


class CellRulesError(Exception):
    """Something given cannot be used. ``problems`` has all that is wrong with it, not the first alone."""

    problems: tuple[Problem, ...]

    def __init__(self, problems: Iterable[Problem] = ()) -> None:
        self.problems = tuple(problems)
        super().__init__(self.problems)

    def __str__(self) -> str:
        return "\n".join(map(str, self.problems))


@dataclass(frozen=True)
class Notice:
    """A point of the standing notice: what regulators and makers say of any such use. No verdict overrules
    it; whoever shows a result shows it too."""

    id: str
    says: str
    short: Optional[str]
    source: str


@dataclass(frozen=True)
class Stage:
    """What one stage of the work came to."""

    stage: str
    verdict: Verdict
    best: Verdict
    worst: Verdict
    nothing_checked: bool


@dataclass(frozen=True)
class Number:
    """A number with its interval. ``low`` and ``high`` are in ``unit``; ``None`` where there is no end."""

    text: str
    low: Optional[float]
    high: Optional[float]
    unit: str


@dataclass(frozen=True)
class Clause:
    """A comparison that was not surely met, or another part of a condition."""

    text: str
    left: Optional[Number]
    right: Optional[Number]
    margin: Optional[float]
    """By how much it is met at the worst, in ``margin_unit``: negative where it is not."""
    margin_unit: Optional[str]
    share: Optional[float]
    """The same as a share of the right side."""


@dataclass(frozen=True)
class Finding:
    """One caution's outcome for one subject, where that is no pass."""

    caution: str
    title: str
    stage: Optional[str]
    subject: str
    """Whom it is of: ``cell K4``, ``build``."""
    count: int
    """How many it stands for."""
    verdict: Verdict
    best: Verdict
    worst: Verdict
    status: Literal["decided", "in doubt", "unmeasured"]
    rung: Literal["refuse_unless", "warn_unless"]
    """The condition of the caution that gave the verdict."""
    fixed: bool
    reason: str
    remedy: Optional[str]
    missing: tuple[str, ...]
    """The names of the facts that are missing."""
    facts: tuple[str, ...]
    """The names of the facts that took part, the missing ones among them."""
    clauses: tuple[Clause, ...]


@dataclass(frozen=True)
class Question:
    """Something to state or to measure."""

    place: str
    """Where it is answered, for all of whom it is asked: ``cells[K4 K7].rated.charge``."""
    paths: tuple[str, ...]
    """The same for each: ``cells[K4].rated.charge``."""
    meaning: str
    kind: str
    """What can be written: ``choice``, ``text``, ``entries``, or a kind of quantity as ``voltage``."""
    unit: Optional[str]
    """A unit that a quantity can have there."""
    options: tuple[str, ...]
    """The words of a choice."""
    leaves_open: Verdict
    """The gravest verdict that it leaves open."""
    holds_the_verdict: bool
