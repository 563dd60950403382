"""Rules across the rows of a table, run by the build.

`check` yields a verdict (row, column, what is wrong) for each figure that it tests; None says that the figure
holds, and the build lists the rule with the figures that it vouches for. A Formula or Estimate computes the figure
instead: the build holds both against each other, as it does with a second source.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Any, NamedTuple

Verdict = tuple[Any, str, str | None]


class Refers(NamedTuple):
    """Each value of `column` stands in column `to` of `table`. It tests names, so it vouches for no figure."""

    column: str
    table: str
    to: str
    says = None

    def check(self, rows, tables) -> Iterator[Verdict]:
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

    @property
    def says(self) -> str:
        return "grows from row to row" + (f" of one {', '.join(self.within)}" if self.within else "")

    def check(self, rows, tables) -> Iterator[Verdict]:
        last: dict[tuple, Any] = {}
        for row in rows:
            group, value = tuple(getattr(row, name) for name in self.within), getattr(row, self.column)
            if value is None:
                continue
            before = last.get(group)
            if before is not None and value <= before:
                yield row, self.column, f"{value.text} is not above {before.text}, the value of the row before"
            elif before is not None:
                yield row, self.column, None
            last[group] = value


class Above(NamedTuple):
    """`column` is greater than `other` (or equal, with `equal`) in each row that has both."""

    column: str
    other: str
    equal: bool = False

    @property
    def says(self) -> str:
        return f"{'is not below' if self.equal else 'is above'} {self.other}"

    def check(self, rows, tables) -> Iterator[Verdict]:
        for row in rows:
            high, low = getattr(row, self.column), getattr(row, self.other)
            if high is not None and low is not None:
                holds = high > low or (self.equal and high == low)
                yield row, self.column, None if holds else f"{high.text} is not above {self.other} {low.text}"


class Holds(NamedTuple):
    """`test(rows, tables)` yields the verdicts itself: for rules that belong to one table only."""

    says: str
    test: Callable[[list, dict], Iterator[Verdict]]

    def check(self, rows, tables) -> Iterator[Verdict]:
        yield from self.test(rows, tables)


class Formula(NamedTuple):
    """`compute(row, tables)` gives the exact value of `column`, or None where the formula does not hold for that row.

    It works as a witness: the printed digits must be the computed value rounded (or, with `cut`, for publications
    that do so, cut off). `source` is a source of kind formula, `says` the formula in words.
    """

    column: str
    compute: Callable[[Any, dict], Fraction | None]
    source: str
    says: str
    cut: bool = False


class Estimate(NamedTuple):
    """`compute(row, tables)` gives about the value of `column`: within the part `within` of it, or the row is listed
    in disputes.csv with the reason. It bounds a figure and catches slips, but lifts no standing."""

    column: str
    compute: Callable[[Any, dict], Fraction | None]
    source: str
    says: str
    within: Fraction


def grouped(rows, *columns) -> dict[tuple, list]:
    """Rows by the values of some columns."""
    found = defaultdict(list)
    for row in rows:
        found[tuple(getattr(row, name) for name in columns)].append(row)
    return found
