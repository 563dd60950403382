"""Rules across the rows of a table, checked by the build. Each yields (row, column, what is wrong)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Any, NamedTuple

Fault = tuple[Any, str, str]


class Refers(NamedTuple):
    """Each value of `column` stands in column `to` of `table`."""

    column: str
    table: str
    to: str

    def check(self, rows, tables) -> Iterator[Fault]:
        known = {getattr(row, self.to) for row in tables.get(self.table, ())}
        for row in rows:
            value = getattr(row, self.column)
            if value is not None and value not in known:
                from .reading import nearest

                close = ", ".join(nearest(value, known)) or "nothing like it"
                yield row, self.column, f'"{value}" is not in {self.table} ({self.to}), which has {close}'


class Ordered(NamedTuple):
    """`column` grows from row to row among rows alike in the columns `within`."""

    column: str
    within: tuple[str, ...] = ()

    def check(self, rows, tables) -> Iterator[Fault]:
        last: dict[tuple, Any] = {}
        for row in rows:
            group, value = tuple(getattr(row, name) for name in self.within), getattr(row, self.column)
            if value is None:
                continue
            before = last.get(group)
            if before is not None and value <= before:
                yield row, self.column, f"{value.text} is not above {before.text}, the value of the row before"
            last[group] = value


class Above(NamedTuple):
    """`column` is greater than `other` (or equal, with `equal`) in each row that has both."""

    column: str
    other: str
    equal: bool = False

    def check(self, rows, tables) -> Iterator[Fault]:
        for row in rows:
            high, low = getattr(row, self.column), getattr(row, self.other)
            if high is not None and low is not None and not (high > low or (self.equal and high == low)):
                yield row, self.column, f"{high.text} is not above {self.other} {low.text}"


class Holds(NamedTuple):
    """`test(rows, tables)` yields the faults itself: for rules that belong to one table only."""

    says: str
    test: Callable[[list, dict], Iterator[Fault]]

    def check(self, rows, tables) -> Iterator[Fault]:
        yield from self.test(rows, tables)


class Formula(NamedTuple):
    """`compute(row)` gives the exact value of `column`, or None where the formula does not hold for that row.

    It works as a witness: the printed digits must be the computed value rounded. `source` is a source of kind
    formula, `says` the formula in words.
    """

    column: str
    compute: Callable[[Any], Fraction | None]
    source: str
    says: str


def grouped(rows, *columns) -> dict[tuple, list]:
    """Rows by the values of some columns."""
    found = defaultdict(list)
    for row in rows:
        found[tuple(getattr(row, name) for name in columns)].append(row)
    return found
