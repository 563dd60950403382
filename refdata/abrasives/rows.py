"""Row models of the abrasives room: grades and the size of their grain."""

from __future__ import annotations

from typing import Literal

from refdata.core.rows import Positive, Sourced, Text
from refdata.core.rules import Holds, grouped


def _finer(rows, tables):
    """Within one table of a standard each grade is finer than the one before it."""
    for group in grouped(rows, "system", "standard", "edition", "basis").values():
        for before, row in zip(group, group[1:]):
            wrong = row.median_grain_um >= before.median_grain_um
            says = f"{row.median_grain_um.text} is not finer than {before.median_grain_um.text} of {before.grade}"
            yield row, "median_grain_um", says if wrong else None


class AbrasiveGrades(Sourced):
    """Median grain size of abrasive grades, with the basis of measurement: a sieve or settling in water."""

    table = "abrasive_grades"
    key = ("system", "standard", "edition", "basis", "grade")
    labels = ("grade",)
    ask = 'grit "{grade}" --system {system}'
    rules = (Holds("is finer than the grade before", _finer),)

    system: Literal["fepa-p", "fepa-f", "cami", "jis", "mesh"]
    standard: Text
    edition: Text | None = None
    basis: Literal["sieve", "sedimentation", "electrical resistance", "sieve opening", "average"]
    grade: Text
    median_grain_um: Positive
    tolerance_um: Positive | None = None
