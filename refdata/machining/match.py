"""The question `match`: a set of measured parts that must look alike, by dimension."""

import csv
import io
from functools import lru_cache
from statistics import NormalDist, median

from refdata.core.drawing import Drawing
from refdata.core.errors import NotUnderstood
from refdata.core.numbers import exact_fraction
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Above, FromZero, LongReader, choice
from refdata.core.results import Result

Unit = choice("unit", {"in": ("inch", "inches"), "mm": ("millimetres",)}, "unit of the measurements: in or mm")
INSIDE = ("hole", "bore", "slot", "pocket", "inside", "id")


class Measured:
    """Measured parts as read: names of the parts, and of each dimension its figures."""

    def __init__(self, parts, dimensions):
        self.parts, self.dimensions = parts, dimensions

    def __str__(self) -> str:
        return f"{len(self.parts)} parts, {', '.join(self.dimensions)}"


def read_measured(text: str) -> Measured:
    """CSV as written: a line of names (part, length, ...), then a line for each part; `;` may stand for a new line.

    Raises NotUnderstood.
    """
    rows = [
        row
        for row in csv.reader(io.StringIO(text.replace(";", "\n")), skipinitialspace=True)
        if any(cell.strip() for cell in row)
    ]
    example = ["part, length, hole; A, 2.001, 0.250; B, 2.003, 0.251"]
    if len(rows) < 3 or len(rows[0]) < 2:
        raise NotUnderstood("measured parts are a line of names and at least two parts", example)
    names = [" ".join(name.split()) for name in rows[0]]
    found: dict[str, list] = {name: [] for name in names[1:]}
    if len(found) != len(names) - 1 or not all(names[1:]):
        raise NotUnderstood("every dimension needs a name of its own", example)
    for number, row in enumerate(rows[1:], 2):
        if len(row) != len(names):
            raise NotUnderstood(f"line {number} has {len(row)} cells, the first line {len(names)}", example)
        for name, cell in zip(names[1:], row[1:]):
            try:
                found[name].append(exact_fraction(cell.strip()))
            except NotUnderstood:
                raise NotUnderstood(f'line {number}: "{cell.strip()}" under {name} is not a measure', example) from None
    return Measured([row[0].strip() for row in rows[1:]], found)


Measurements = LongReader(
    "list of measured parts",
    read_measured,
    "CSV: part, length, hole; A, 2.001, 0.250; ...",
    ("part, length; A, 2.001; B, 2.003",),
)


class Match(Result):
    """One dimension of a set: its range within the set, the odd one out, what to rework toward which size, the range
    that as many parts of a process are expected to show."""

    HEADLINE = "range"
    HEADER = ("dimension", "range", "from", "to", "odd one out", "rework", "toward")
    IN_CAPTION = ("dimension", "parts")
    dimension: str
    parts: int
    range: Quantity
    least: Quantity
    most: Quantity
    odd_one: str | None
    odd_by: Quantity | None
    rework: list
    toward: Quantity | None
    expected_range: Quantity | None
    drawing: str

    @property
    def caption(self) -> str:
        return f"range of {self.dimension} in {self.parts} parts"

    def headline(self) -> list[str]:
        sizes = [str(one) for one in (self.range, self.least, self.most)]
        return [
            self.dimension,
            *sizes,
            self.odd_one or "none",
            ", ".join(self.rework) or "none",
            str(self.toward or ""),
        ]

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        return super().lines(units, (*skip, "drawing"))


@question
def match(parts: Measurements, *, unit: Unit, eye: FromZero = "0.005 in", sigma: Above = None) -> list[Match]:
    """A set of measured parts by dimension: its range, the odd one out, what to rework.

    `parts` is CSV (on the command line `@FILE`): a line of names, then a line for each part, in `unit`. A part
    further than `eye`, what the eye sees, from the middle one is the odd one out. Metal comes off only: outside sizes
    are reworked toward the smallest, holes and pockets (by their name) toward the largest. `sigma` of the process
    gives the range expected of n parts, d2(n) sigma. The set is judged against itself, not against the nominal.
    Raises NotUnderstood.

    >>> import refdata
    >>> refdata.match("part, length; A, 2.001; B, 2.002; C, 2.011", unit="in")[0].odd_one
    'C'
    """
    seen = eye.to(unit).exact
    return [_dimension(name, parts.parts, sizes, unit, seen, sigma) for name, sizes in parts.dimensions.items()]


def _dimension(name: str, parts, sizes, unit: str, seen, sigma) -> Match:
    middle = median(sizes)
    spread = max(sizes) - min(sizes)
    far = max(range(len(sizes)), key=lambda at: abs(sizes[at] - middle))
    odd = abs(sizes[far] - middle) > seen
    inside = any(word in name.lower().replace("_", " ").split() for word in INSIDE)
    target = max(sizes) if inside else min(sizes)
    rework = [part for part, size in zip(parts, sizes) if abs(size - target) > seen]
    places = 4 if unit == "in" else 3

    def fine(value) -> Quantity:
        return Quantity(f"{float(value):.{places}f}", unit, exact=value)

    notes = [
        f"{name} is taken as an inside size: rework goes toward the largest"
        if inside
        else f"{name} is taken as an outside size: rework goes toward the smallest"
    ]
    if len(rework) == len(parts) - 1 and len(parts) > 2:
        notes.append("all but one would be reworked: one new part is less work, if it can be made")
    return Match(
        dimension=name, parts=len(parts), range=fine(spread), least=fine(min(sizes)), most=fine(max(sizes)),
        odd_one=parts[far] if odd else None, odd_by=fine(sizes[far] - middle) if odd else None, rework=rework,
        toward=fine(target) if rework else None,
        expected_range=sigma and Quantity.computed(expected_range(len(parts)) * float(sigma.to(unit).exact), unit, 3),
        drawing=_drawn(name, parts, sizes, middle, seen, unit), notes=notes,
    )  # fmt: skip


@lru_cache
def expected_range(number: int) -> float:
    """d2: the mean range of so many parts of a normal process, in standard deviations.

    d2(n) = integral of 1 - (1 - F)^n - F^n (Tippett 1925).

    >>> [round(expected_range(n), 3) for n in (2, 4, 8)]
    [1.128, 2.059, 2.847]
    """
    normal, step = NormalDist(), 0.005
    at = [step * k for k in range(-1800, 1801)]
    return step * sum(1 - (1 - p) ** number - p**number for p in map(normal.cdf, at))


def _drawn(name: str, parts, sizes, middle, seen, unit: str) -> str:
    """Each part as a tick on one scale, the odd ones named above it."""
    low, high = float(min(*sizes, middle - seen)), float(max(*sizes, middle + seen))
    room = (high - low) * 0.08 or 1e-6
    sheet = Drawing(f"{name}, {len(parts)} parts", low - room, high + room, 0, (high - low + 2 * room) * 0.28)
    deep = (high - low + 2 * room) * 0.28
    band = [float(middle - seen), float(middle + seen)]
    sheet.shape([(band[0], deep * 0.45), (band[1], deep * 0.45), (band[1], deep), (band[0], deep)], "cut")
    sheet.shape([(low - room, deep), (high + room, deep)], closed=False)
    for at, (part, size) in enumerate(sorted(zip(parts, sizes), key=lambda one: one[1])):
        sheet.shape([(float(size), deep), (float(size), deep * 0.45)], closed=False)
        if abs(size - middle) > seen or len(parts) <= 12:
            sheet.label(float(size), deep * (0.36 if at % 2 else 0.14), part)
    low_end, high_end = float(min(sizes)), float(max(sizes))
    sheet.shape([(low_end, deep * 1.15), (high_end, deep * 1.15)], closed=False)
    sheet.label((low_end + high_end) / 2, deep * 1.35, f"range {high_end - low_end:.4f} {unit}")
    return sheet.finish("Hatched: nearer to the middle one than the eye sees.")
