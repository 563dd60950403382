"""The question `grit`: the grain behind a grade, and the nearest grade of the other systems."""

import re
from fractions import Fraction
from functools import lru_cache

from refdata.core import store
from refdata.core.errors import NotFound, NotUnderstood
from refdata.core.numbers import plain
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import Reader, choice
from refdata.core.results import Result

SYSTEMS = {
    "fepa-p": ("p", "fepa p", "european coated"),
    "fepa-f": ("f", "fepa f", "european bonded"),
    "cami": ("ansi", "ansi cami", "american coated", "us"),
    "jis": ("j", "japanese"),
    "mesh": ("sieve",),
    "micron": ("um", "µm", "microns"),
}
System = choice("grading system", SYSTEMS, "system: fepa-p (coated), fepa-f (bonded), cami (USA), jis, mesh, micron")
_WORDS = {word: system for system, words in SYSTEMS.items() for word in (system, *words) if len(word) > 1}
_FILLERS = r"\b(grit|grade|(sand|emery)?paper|cloth|abrasive|wheel|wet|dry|and|no\.?|fepa)\b"
# A grain this much larger or smaller is another grain: the next grade of a system is seldom further off
_NEAR = Fraction(5, 4)


class Grade:
    """A grade as read: its number as people write it, and its system where they say it."""

    __slots__ = ("number", "system")

    def __init__(self, number: str, system: str | None):
        self.number, self.system = number, system

    def __str__(self) -> str:
        return f"{self.system} {self.number}" if self.system else self.number


_AS_GRADE = ("P400", "F400", "CAMI 400", "JIS #400", "200 mesh", "15 micron")


def read_grade(text: str) -> Grade:
    """A grade as written: `P400`, `F 220`, `CAMI 400`, `JIS #400`, `400 grit`, `200 mesh`, `15 micron`.

    Raises NotUnderstood.
    """
    words = " ".join(re.sub(_FILLERS, " ", plain(text).lower()).replace("-", " ").split())
    if match := re.fullmatch(r"(p|f|j)?\s*#?\s*([1-9]\d{0,4})", words):
        return Grade(match[2], {"p": "fepa-p", "f": "fepa-f", "j": "jis"}.get(match[1]))
    match = re.fullmatch(r"#?\s*(?P<before>[\d.]+)\s*(?P<after>\D+)|(?P<word>\D+?)[\s#]*(?P<number>[\d.]+)", words)
    system = match and _WORDS.get((match["after"] or match["word"]).strip(" #"))
    number = match and (match["before"] or match["number"])
    if not system or not re.fullmatch(r"\d{1,5}(\.\d{1,3})?", number) or float(number) == 0:
        raise NotUnderstood(f'"{text.strip()}" is not a grade of abrasive', _AS_GRADE)
    return Grade(number, system)


GradeReader = Reader("grade", read_grade, "grade: P400, F220, CAMI 400, JIS #400, 200 mesh, 15 micron", _AS_GRADE)


class Grit(Result):
    """A grade of abrasive: the median size of its grain, how that is measured, the nearest grades elsewhere."""

    HEADLINE = "median_grain"
    IN_CAPTION = ("grade", "system", "standard", "edition", "basis")
    grade: str
    system: str
    standard: str | None
    edition: str | None
    basis: str | None
    median_grain: Quantity
    tolerance: Quantity | None
    nearest: dict
    nearest_grain: dict

    @property
    def caption(self) -> str:
        if self.system == "micron":
            return f"median grain of {self.grade}, graded by its size"
        measured = "sieve opening" if self.basis == "sieve opening" else f"median grain by {self.basis}"
        if self.basis == "average":
            measured = "average grain"
        return f"{measured}: {self.grade} ({self.system}; {', '.join(filter(None, (self.standard, self.edition)))})"

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        told = super().lines(units, (*skip, "nearest", "nearest_grain"))
        return told + [
            (f"nearest {system}", f"{grade} ({self.nearest_grain[system]})") for system, grade in self.nearest.items()
        ]


@question
def grit(grade: GradeReader, *, system: System = None, to: System = None) -> Grit:
    """Grain size of an abrasive grade in micrometres, and the nearest grade of the other systems.

    `grade` is what stands on the paper or wheel ("P400", "F220", "CAMI 400", "JIS #400", "200 mesh", "15 micron"). A
    number without its system, and a grade measured in two ways, get all readings and a question: 400 in CAMI is near
    P800. `to` keeps to the nearest grade of one system. Raises NotFound, NotUnderstood, Ambiguous.

    >>> import refdata
    >>> refdata.grit("P400").median_grain.value
    35.0
    """
    wanted = system or grade.system
    if system and grade.system and system != grade.system:
        raise NotFound(f"{grade} is not a grade of {system}", [])
    if wanted == "micron":
        grain = Quantity(grade.number, "um")
        return _answer({"grade": f"{grade.number} micron", "system": "micron", "median_grain_um": grain}, to)
    rows = [row for row in _newest() if row["grade"].lstrip("PF#") == grade.number and wanted in (None, row["system"])]
    if not rows:
        raise NotFound(f"the tables have no grade {grade}", _neighbours(grade, wanted))
    results = [_answer(row, to) for row in rows]
    if len(results) == 1:
        return Answers(results)
    if len({row["system"] for row in rows}) > 1:
        ask = f"Which {grade.number} is it: {', '.join(dict.fromkeys(_spoken(row) for row in rows))}?"
    else:
        ask = f"Measured by {' or by '.join(row['basis'] for row in rows)}?"
    return Answers(results, ask)


def _spoken(row) -> str:
    """A grade as people say it, with its system where its name does not tell."""
    return row["grade"] if row["system"] in ("fepa-p", "fepa-f") else f"{row['system']} {row['grade']}"


@lru_cache(maxsize=1)
def _newest() -> tuple[store.Record, ...]:
    """All grades, each from the newest edition of its system and basis; read once."""
    newest = {}
    for row in store.records("abrasive_grades"):
        place = (row["system"], row["basis"], row["grade"])
        if place not in newest or (row["edition"] or "") > (newest[place]["edition"] or ""):
            newest[place] = row
    return tuple(newest.values())


def _answer(row, to: str | None) -> Grit:
    grain = row["median_grain_um"]
    near = {}
    for other in dict.fromkeys(one["system"] for one in _newest()):
        if other != row["system"] and to in (None, other):
            found = _nearest(grain, row.get("basis"), [one for one in _newest() if one["system"] == other])
            if found:
                near[other] = found
    return Grit(
        **{name: row.get(name) for name in ("grade", "system", "standard", "edition", "basis")}, median_grain=grain,
        tolerance=row.get("tolerance_um"), nearest={name: one["grade"] for name, one in near.items()},
        nearest_grain={name: _apart(one["median_grain_um"]) for name, one in near.items()},
        notes=["grades of two systems are never quite the same: their grains are spread and measured differently"],
    )  # fmt: skip


def _apart(grain: Quantity) -> Quantity:
    """A grain told beside another one: who disputes it is told where it is asked for itself."""
    return Quantity(grain.text, grain.unit, grain.source, grain.standing)


def _nearest(grain: Quantity, basis: str | None, rows: list[store.Record]) -> store.Record | None:
    """The grade whose grain is nearest by ratio, measured in the same way if one such is near enough."""

    def apart(row) -> Fraction:
        ratio = row["median_grain_um"].exact / grain.exact
        return max(ratio, 1 / ratio)

    alike = [row for row in rows if row["basis"] == basis]
    for some in (alike, rows):
        best = min(some, key=apart, default=None)
        if best is not None and apart(best) <= _NEAR:
            return best
    return None


def _neighbours(grade: Grade, system: str | None) -> list[str]:
    """The grades of the system, or of all, whose numbers are nearest."""

    def apart(row) -> float:
        return abs(float(row["grade"].lstrip("PF#")) - float(grade.number))

    rows = sorted((row for row in _newest() if system in (None, row["system"])), key=apart)
    return list(dict.fromkeys(_spoken(row) for row in rows))[:4]
