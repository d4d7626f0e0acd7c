"""Checks a proposed use of rescued lithium-ion cells in a light against rulesets of trade cautions.

Before anything else: regulators and a large cell maker advise against loose or salvaged cells at all. Every
result carries that notice, and a pass overrules neither them nor local law.

>>> import cellrules
>>> rules = cellrules.Rules.shipped()  # once; it can be shared between threads
>>> report = rules.check({
...     "format": 1,
...     "title": "Marshal's torch, one bare cell",
...     "arrangement": "1S1P",
...     "cells": [{"id": "K4", "rest": {"voltage": "1.87 V", "after": (24, "h")}}],
... })
>>> report.verdict  # it was found deeply discharged
'refuse'
>>> report.findings[0].caution
'deeply-discharged'
>>> report.notice[0].id
'loose_cells'

A *proposal* is a dict, a text or bytes of JSON or YAML, or a ``pathlib.Path`` of a file. A quantity in a dict
is a text with its unit and, where it is known, its uncertainty (``"3.71 V ± 0.02 V"``), a pair of a number
and a unit (``(3.71, "V")``), or a quantity of a library of units, as those of ``pint``. Results are numbers in
base units: see :mod:`cellrules._data`. Whatever cannot be used raises :class:`CellRulesError`.
"""

from __future__ import annotations

from ._data import (
    CellRulesError,
    Clause,
    Finding,
    Notice,
    Number,
    Place,
    Problem,
    Question,
    Stage,
    Verdict,
)
from ._native import Answer, Bench, CheckedTable, Record, Report, __version__
from .rules import Rules, label

__all__ = [
    "Answer",
    "Bench",
    "CellRulesError",
    "CheckedTable",
    "Clause",
    "Finding",
    "Notice",
    "Number",
    "Place",
    "Problem",
    "Question",
    "Record",
    "Report",
    "Rules",
    "Stage",
    "Verdict",
    "__version__",
    "label",
]
