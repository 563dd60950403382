"""Checks across rows: keys are unique, sources exist, the rules of each table hold."""

from __future__ import annotations

from typing import NamedTuple

from refdata.core.rows import figures
from refdata.core.rules import Estimate, Formula, Refers

from .faults import Fault
from .tables import Table

_CITED = Refers("source", "sources", "id")


class Vouched(NamedTuple):
    """A figure that a relation was tried on and holds for."""

    table: str
    key: str
    column: str
    says: str


def check(tables: dict[str, Table]) -> tuple[list[Vouched], list[Fault]]:
    """What the relations vouch for, and all cross-row faults, of all tables."""
    rows = {name: table.rows for name, table in tables.items()}
    vouched, faults = [], []
    for table in tables.values():
        faults += _unique(table)
        numbers, typed = {id(line.row): line.number for line in table.lines}, set(figures(table.model))
        for rule in _rules(table):
            for row, column, wrong in rule.check(table.rows, rows):
                if wrong:
                    faults.append(Fault(table.file, numbers[id(row)], column, wrong))
                elif column in typed:
                    vouched.append(Vouched(table.model.table, row.row_key, column, rule.says))
        faults += _figures_given(table)
    return list(dict.fromkeys(vouched)), faults


def _rules(table: Table):
    rules = [rule for rule in table.model.rules if not isinstance(rule, (Formula, Estimate))]
    return [*rules, _CITED] if "source" in table.model.model_fields else rules


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
            and not table.model.bare
            and all(getattr(line.row, name) is None for name in names)
            and not getattr(line.row, "remainder", None)
        ):
            yield Fault(table.file, line.number, names[0], "the row has no figure at all")
