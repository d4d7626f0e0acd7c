"""Rules, which answer everything else."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, Literal, Optional, Union, overload

from . import _native
from ._data import CellRulesError, Notice, Problem
from ._native import Answer, Bench, CheckedTable, Record, Report

Proposal = Union[Mapping[str, Any], str, bytes, bytearray, "os.PathLike[str]"]
"""A proposal: a dict, a text or bytes of JSON or YAML, or a path of a file."""
Texts = Mapping[str, Union[str, bytes]]
"""Texts by name."""


class Rules:
    """Rulesets that apply together. Loading takes some milliseconds, so load them once; they do not change and
    can be shared between threads. Pickled, they take their texts along.

    >>> rules = Rules.shipped()
    >>> rules
    <Rules rescued-cells 1.0.0>
    >>> rules.stages[:3]
    ('opening', 'sorting', 'fitting')
    """

    __slots__ = ("_rules",)
    _rules: _native.Rules

    def __init__(self) -> None:
        raise TypeError("use Rules.shipped(), Rules.from_files() or Rules.from_texts()")

    @classmethod
    def _of(cls, rules: _native.Rules) -> Rules:
        self = object.__new__(cls)
        self._rules = rules
        return self

    @classmethod
    def shipped(cls) -> Rules:
        """The shipped rules, ``rescued-cells``. No file is read."""
        return cls._of(_native.Rules.shipped())

    @classmethod
    def from_files(
        cls,
        *names: Union[str, "os.PathLike[str]"],
        within: Union[str, "os.PathLike[str]", None] = None,
    ) -> Rules:
        """Rulesets from files by path, and shipped ones by name.

        With ``within`` only files of that folder are read, wherever ``extends``, ``..`` or links lead: for
        rulesets that others wrote. A file in the working folder is named as the command has it, with its
        ending: ``club.yaml``.

        >>> Rules.from_files("rescued-cells", "rescued-cells-measured").names
        ('rescued-cells', 'rescued-cells-measured')
        """
        texts = [os.fspath(name) for name in names]
        folder = None if within is None else os.fspath(within)
        return cls._of(_native.Rules.from_files(texts, folder))

    @classmethod
    def from_texts(cls, files: Texts, *names: str) -> Rules:
        """Rulesets from texts in memory by name, and shipped ones; no file is read. ``names`` are those that
        apply; without any it is the first of ``files``.

        >>> ours = '''
        ... format: 1
        ... ruleset: night-relay-club
        ... version: 1.0.0
        ... title: A stricter match for the lamps of the night relay
        ... extends: [rescued-cells]
        ... adjust: { limits: { rest_match: { to: 5 mV, because: our meter can show it } } }
        ... '''
        >>> Rules.from_texts({"club.yaml": ours})
        <Rules night-relay-club 1.0.0, rescued-cells 1.0.0>
        """
        asked = list(names) or [name for name in list(files)[:1] if isinstance(name, str)]
        return cls._of(_native.Rules.from_texts(files, asked))

    @property
    def digest(self) -> str:
        """The digest of the rules: what is checked by the same digest is checked alike."""
        return self._rules.digest

    @property
    def names(self) -> tuple[str, ...]:
        """The rulesets that were asked for; none for the usual one."""
        return tuple(self._rules.names)

    @property
    def notice(self) -> tuple[Notice, ...]:
        """The standing notice, which every result carries."""
        return self._rules.notice

    @property
    def stages(self) -> tuple[str, ...]:
        """The stages of the work, in order."""
        return self._rules.stages

    @property
    def cautions(self) -> tuple[str, ...]:
        """The names of the cautions."""
        return self._rules.cautions

    def check(
        self,
        proposal: Proposal,
        *,
        stages: Sequence[str] = (),
        acceptance: Optional[Literal["guarded", "simple"]] = None,
        narrowing: bool = False,
        would_change: bool = False,
        bench: Optional[Bench] = None,
        files: Optional[Texts] = None,
        name: Optional[str] = None,
        syntax: Optional[Literal["json", "yaml"]] = None,
    ) -> Report:
        """Checks a proposal.

        ``stages`` checks some stages of the work alone, which gives no verdict on the whole. ``narrowing`` says
        what would narrow figures and ``would_change`` what would change and lift the verdict; both take some tens of
        milliseconds more, and with both a report is what the command writes. ``bench`` is a bench that the
        proposal takes from without naming it. A proposal of a path may name a bench by its path; one in memory
        finds it in ``files`` alone. ``name`` is what messages call the proposal.

        >>> rules = Rules.shipped()
        >>> report = rules.check("{ format: 1, title: torch, arrangement: 1S1P, cells: [{ id: K4 }] }")
        >>> report.verdict, report.best
        ('refuse', 'pass')
        >>> rules.check({"format": 1, "title": "torch", "arangement": "1S1P"})
        Traceback (most recent call last):
        cellrules._data.CellRulesError: proposal:1:1: ...
        """
        question = (proposal, name, syntax, bench, files)
        options = (list(stages), acceptance, narrowing, would_change)
        return self._rules.check(question, options)

    @overload
    def check_many(
        self, proposals: Iterable[Proposal], *, full: Literal[False] = ..., stages: Sequence[str] = ...,
        name: str = ..., batch: int = ..., threads: Optional[int] = ...,
    ) -> Iterator[Record]: ...
    @overload
    def check_many(
        self, proposals: Iterable[Proposal], *, full: Literal[True], stages: Sequence[str] = ...,
        name: str = ..., batch: int = ..., threads: Optional[int] = ...,
    ) -> Iterator[Union[Report, Record]]: ...
    def check_many(
        self,
        proposals: Iterable[Proposal],
        *,
        full: bool = False,
        stages: Sequence[str] = (),
        name: str = "proposal",
        batch: int = 64,
        threads: Optional[int] = None,
    ) -> Iterator[Any]:
        """Checks many proposals on all cores, and gives a lean record for each, in order; with ``full`` the
        whole report. One that cannot be used gets a record with its problems.

        Nobody waits for the last: ``proposals`` can be endless. ``batch`` proposals are taken ahead for each
        core, and no more are held. Messages call each by ``name`` and its number. ``threads`` is how many work,
        where that is not to be one on each core.

        >>> rules = Rules.shipped()
        >>> torch = {"format": 1, "title": "torch", "arrangement": "1S1P"}
        >>> [record.verdict for record in rules.check_many([torch, "no proposal", torch])]
        ['refuse', None, 'refuse']
        """
        options = (list(stages), None, False, False)
        return self._rules.check_many(proposals, options, name, full, (batch, threads))

    def check_table(
        self,
        table: Any,
        *,
        json: Optional[str] = None,
        keep: Sequence[str] = (),
        bench: Optional[Bench] = None,
        identify: bool = False,
        threads: Optional[int] = None,
    ) -> CheckedTable:
        """Checks every row of a table on all cores, or on so many ``threads``, and gives a table with what was
        found.

        ``table`` is whatever speaks Arrow's interface for Python: a table, record batches or a reader of
        ``pyarrow``, a frame of ``polars``, a frame of ``pandas`` 2.2 or later where ``pyarrow`` is installed.
        Nothing is copied where it need not be. Its columns are named by the keys of a proposal, as reports
        name them, with the unit of their numbers: ``arrangement``, ``light.draw [W]``,
        ``cells[K4].rest.voltage [V]``; an empty field is not known. A column may also hold maps or lists, as
        ``cells`` does. Or each row is a text of JSON in the column ``json``. A column that is no key raises
        :class:`CellRulesError` with the key that was meant.

        The result has, after the columns named in ``keep`` (which are keys too, where they are some):

        * ``verdict``, ``best``, ``worst``: nothing for a row that cannot be used;
        * ``cautions``: what speaks against it, the gravest first;
        * ``missing``: where the first of what is missing is written;
        * ``margin``: the narrowest margin of what speaks against it or, where nothing does, of what passes, as a
          share of the limit: negative where one is not kept, nothing where no amount decides;
        * ``problem``, ``problem_code``: why a row cannot be used;
        * with ``identify`` also ``digest`` of the rules and the ids of the ``notice``.

        Digest and notice are in its metadata as well (``cellrules.digest``, ``cellrules.notice``).

        >>> import pyarrow
        >>> rows = pyarrow.table({
        ...     "id": ["a", "b"],
        ...     "arrangement": ["1S1P", "1S9Q"],
        ...     "cells[c].rest.voltage [V]": [1.87, 3.71],
        ... })
        >>> found = pyarrow.table(Rules.shipped().check_table(rows, keep=["id"]))
        >>> found.column("verdict").to_pylist()
        ['refuse', None]
        >>> found.column("problem_code").to_pylist()
        [None, 'syntax']
        """
        return self._rules.check_table(table, (json, bench, list(keep), identify, threads))

    def figures(
        self, proposal: Proposal, *, bench: Optional[Bench] = None, files: Optional[Texts] = None,
        name: Optional[str] = None,
    ) -> Answer:
        """What can be worked out of a proposal: loaded voltages, run time and so on, each with its interval and
        what would narrow it.

        >>> light = {"draw": "2.8 W", "input": {"min": "2.8 V", "max": "4.5 V"}}
        >>> torch = {"format": 1, "title": "torch", "arrangement": "1S1P", "light": light}
        >>> current = Rules.shipped().figures(torch)["figures"][0]  # 2.8 W at 2.8 V
        >>> current["name"], current["value"]["high"], current["value"]["unit"]
        ('build.current', 1.0, 'A')
        """
        return _native.figures(self._rules, (proposal, name, None, bench, files))

    def range(
        self,
        proposal: Proposal,
        fact: str,
        *,
        start: Optional[str] = None,
        end: Optional[str] = None,
        resolution: Optional[str] = None,
        up: Optional[str] = None,
        up_start: Optional[str] = None,
        up_end: Optional[str] = None,
        up_resolution: Optional[str] = None,
        checks: Optional[int] = None,
        stages: Sequence[str] = (),
        bench: Optional[Bench] = None,
        files: Optional[Texts] = None,
        name: Optional[str] = None,
    ) -> Answer:
        """For which values of a fact a proposal passes: proved for every value between, and not sampled. With
        ``up`` a second fact is varied, and the answer is a map."""
        question = (proposal, name, None, bench, files)
        second = None if up is None else (up, up_start, up_end, up_resolution)
        across = (fact, start, end, resolution)
        return _native.range(self._rules, question, across, second, checks, list(stages))

    def choose(
        self,
        proposal: Proposal,
        *,
        sets: int = 5,
        most_checks: Optional[int] = None,
        from_other_lights: bool = False,
        not_passing: bool = False,
        stages: Sequence[str] = (),
        bench: Optional[Bench] = None,
        files: Optional[Texts] = None,
        name: Optional[str] = None,
    ) -> Answer:
        """The cells of a light: of those that its bench has, the sets that pass with the widest margins, or
        those that come nearest."""
        question = (proposal, name, None, bench, files)
        wish = (sets, most_checks, from_other_lights, not_passing)
        return _native.choose(self._rules, question, wish, list(stages))

    def sort(
        self, bench: Bench, *, cells: Sequence[str] = (), as_of: Optional[str] = None
    ) -> Answer:
        """The cells of a bench, graded: sound, watch, to test, set aside, retire; and the lights that each may
        go into. ``as_of`` is the day on which readings count, as ``2026-11-29``."""
        return _native.sort(self._rules, bench, list(cells), as_of)

    def __repr__(self) -> str:
        return repr(self._rules)

    def __reduce__(self) -> tuple[Any, ...]:
        return _restored, (self._rules.texts, self.names, self.digest)


def _restored(texts: Texts, names: tuple[str, ...], digest: str) -> Rules:
    """Rules of another process: by the same texts and the same shipped ones, or an error."""
    rules = Rules.from_texts(texts, *names) if names else Rules.shipped()
    if rules.digest != digest:
        message = f"the rules here are {rules.digest}, and those that were sent {digest}"
        help = "install the same version of cellrules on every machine"
        raise CellRulesError([Problem("unknown-ruleset", message, help, None)])
    return rules


def label(
    *,
    voltage: Optional[str] = None,
    capacity: Optional[str] = None,
    energy: Optional[str] = None,
    code: Optional[str] = None,
    cells: Optional[int] = None,
) -> Answer:
    """Which arrangement and which cells the label of a pack means, and where it contradicts itself.

    >>> found = label(voltage="14.8 V", capacity="4.4 Ah", cells=8)
    >>> found["readings"][0]["arrangement"], found["believable"]
    ('4S2P', True)
    """
    return _native.label(voltage, capacity, energy, code, cells)
