"""One digit changed at a time: which slips of a typist would the build catch, and which would nobody notice?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from refdata.core.numbers import Printed
from refdata.core.rows import Row, figures
from refdata.core.rules import Estimate, Formula, grouped

from . import witnesses
from .tables import ROOT, Line, Table, read_all


class Slip(NamedTuple):
    """A figure with one digit changed. `caught` says by what (a row model, a rule, a witness), or is None; `watched`
    whether any second source or formula confirms the figure, so that a miss lies within its stated rounding."""

    table: str
    key: str
    column: str
    printed: str
    changed: str
    caught: str | None
    watched: bool


def report() -> Iterator[str]:
    """Lines for people: the share of slips caught, table by table, then every slip that nobody would notice."""
    tables, _ = read_all()
    evidence, _ = witnesses.read_evidence(tables, ROOT)
    by_table = defaultdict(list)
    for slip in slips(tables, evidence):
        by_table[slip.table].append(slip)
    missed = {name: [slip for slip in some if not slip.caught] for name, some in by_table.items()}
    for name, some in by_table.items():
        unwatched = sum(not slip.watched for slip in missed[name])
        within = len(missed[name]) - unwatched
        share = 1 - len(missed[name]) / len(some)
        yield (
            f"{name}: {share:.1%} of {len(some)} slips caught; {unwatched} in figures without a second source,"
            f" {within} within the rounding of theirs"
        )
    for slip in (slip for some in missed.values() for slip in some):
        why = "within rounding" if slip.watched else "no second source"
        yield f"{slip.table} {slip.key} {slip.column}: {slip.printed} to {slip.changed}, {why}"


def slips(tables: dict[str, Table], evidence: list[witnesses.Evidence]) -> Iterator[Slip]:
    """Each digit of each typed figure raised by one (9 becomes 0), one at a time, in memory."""
    said = defaultdict(list)
    for one in evidence:
        said[one.table, one.key, one.column].append(one)
    rows = {name: table.rows for name, table in tables.items()}
    for table in tables.values():
        groups = grouped(table.rows, *table.model.ruled_within)
        for line in table.lines:
            alike = groups[tuple(getattr(line.row, name) for name in table.model.ruled_within)]
            for column in figures(table.model):
                figure = getattr(line.row, column)
                if figure is None:
                    continue
                about = said[table.model.table, line.row.row_key, column]
                for changed in _changed(figure.text):
                    caught = _caught(table, line, alike, column, changed, about, rows)
                    watched = any(one.agrees for one in about)
                    yield Slip(table.model.table, line.row.row_key, column, figure.text, changed, caught, watched)


def _changed(text: str) -> Iterator[str]:
    for at, digit in enumerate(text):
        if digit.isdigit():
            yield f"{text[:at]}{(int(digit) + 1) % 10}{text[at + 1 :]}"


def _caught(table: Table, line: Line, alike, column: str, changed: str, about, rows) -> str | None:
    values = {name: getattr(line.row, name) for name in type(line.row).model_fields} | {column: changed}
    try:
        row = table.model.model_validate(values)
    except ValueError:
        return "row model"
    by = _witness(row, column, about) or _computed(table, line, row, rows)
    return by or _rule(table, line, alike, row, rows)


def _witness(row: Row, column: str, about) -> str | None:
    """The first second source whose agreement, or listed disagreement, is no longer what it was."""
    for one in about:
        if one.kind == "source" and witnesses.agrees(row, column, Printed(one.printed), one.unit) != one.agrees:
            return one.source
    return None


def _computed(table: Table, line: Line, row: Row, rows) -> str | None:
    before = {(e.column, e.source, e.locator): e.agrees for e in witnesses.computed(table, line, line.row, rows)}
    after = {(e.column, e.source, e.locator): e.agrees for e in witnesses.computed(table, line, row, rows)}
    return next((place[1] for place in before.keys() | after.keys() if before.get(place) != after.get(place)), None)


def _rule(table: Table, line: Line, alike: list[Row], row: Row, rows) -> str | None:
    changed = [row if other is line.row else other for other in alike]
    tables = rows | {table.model.table: changed}
    for rule in table.model.rules:
        if rule.says is None or isinstance(rule, (Formula, Estimate)):  # those of names, and those tried as witnesses
            continue
        if any(wrong for _, _, wrong in rule.check(changed, tables)):
            return rule.says
    return None
