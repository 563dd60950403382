"""Checks across rows: keys are unique, sources exist, the rules of each table hold."""

from __future__ import annotations

from refdata.core.rows import figures
from refdata.core.rules import Formula, Refers

from .faults import Fault
from .tables import Table

_CITED = Refers("source", "sources", "id")


def check(tables: dict[str, Table]) -> list[Fault]:
    """All cross-row faults of all tables."""
    rows = {name: table.rows for name, table in tables.items()}
    faults = []
    for table in tables.values():
        faults += _unique(table)
        rules = [rule for rule in table.model.rules if not isinstance(rule, Formula)]
        if "source" in table.model.model_fields:
            rules.append(_CITED)
        lines = {id(line.row): line.number for line in table.lines}
        for rule in rules:
            faults += [
                Fault(table.file, lines[id(row)], column, says) for row, column, says in rule.check(table.rows, rows)
            ]
        faults += _figures_given(table)
    return faults


def _unique(table: Table):
    first = {}
    for line in table.lines:
        key = line.row.row_key
        if key in first:
            column = table.model.key[0]
            yield Fault(
                table.file, line.number, column, f'"{key}" stands already in line {first[key]}; keys are unique'
            )
        first.setdefault(key, line.number)


def _figures_given(table: Table):
    """A row of a table of figures has at least one of them."""
    names = figures(table.model)
    for line in table.lines:
        if (
            names
            and all(getattr(line.row, name) is None for name in names)
            and not getattr(line.row, "remainder", None)
        ):
            yield Fault(table.file, line.number, names[0], "the row has no figure at all")
