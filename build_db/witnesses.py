"""Second sources: each witness file and formula held against the primary figures, to a standing for every cell.

A witness agrees when the two figures, in one unit, are nearer than half a unit of the last place of each, plus what
the row model allows for measured values. Beside a table `x.csv` stand `witness/x.SOURCE.csv` files with the same
columns, in the units that the witness prints, and `disputes.csv`, which lists every disagreement with its reason.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import Literal, NamedTuple

from pydantic import ValidationError

from refdata.core.numbers import Printed, half_place, show
from refdata.core.rows import Row, columns, figures
from refdata.core.rules import Estimate, Formula
from refdata.core.units import UNITS, column_subject, column_unit, convert

from .faults import Fault
from .tables import Line, Table, plain_words


class Evidence(NamedTuple):
    """What one witness says of one cell."""

    table: str
    key: str
    column: str
    printed: str
    value: Fraction
    unit: str | None
    source: str
    locator: str
    served: str
    agrees: bool
    kind: Literal["source", "formula", "estimate"]
    file: Path
    line: int


class Dispute(NamedTuple):
    table: str
    key: str
    column: str
    source: str
    reason: str
    file: Path
    line: int


def read_evidence(tables: dict[str, Table], root: Path) -> tuple[list[Evidence], list[Fault]]:
    """What all witness files and formulas say, and the faults of the files."""
    evidence, faults = [], []
    sources = {row.id for row in tables["sources"].rows}
    rows_of = {name: table.rows for name, table in tables.items()}
    for table in tables.values():
        rows = {line.row.row_key: line for line in table.lines}
        folder = root / table.file.parent / "witness"
        for path in sorted(folder.glob(f"{table.model.table}.*.csv")):
            found, wrong = _read_witness(table, rows, path, path.relative_to(root), sources)
            evidence += found
            faults += wrong
        evidence += [one for line in table.lines for one in computed(table, line, line.row, rows_of)]
    return evidence, faults


def computed(table: Table, line: Line, row: Row, tables: dict[str, list[Row]]) -> Iterator[Evidence]:
    """What the formulas and estimates of a table say of one row, which stands in `line`."""
    for rule in table.model.rules:
        if not isinstance(rule, (Formula, Estimate)) or (figure := getattr(row, rule.column)) is None:
            continue
        exact = rule.compute(row, tables)
        if exact is None:
            continue
        if isinstance(rule, Formula):
            # a printed figure is the exact one rounded, up or down where it falls on half a place
            kind, below = "formula", half_place(figure.text)
            above = 2 * below if rule.cut else below
        else:
            kind, below = "estimate", rule.within * figure
            above = below
        yield Evidence(
            table=table.model.table,
            key=row.row_key,
            column=rule.column,
            printed=show(exact, 6 if kind == "formula" else 4),
            value=exact,
            unit=row.unit_of(rule.column),
            source=rule.source,
            locator=rule.says,
            served=figure.text,
            agrees=-below <= exact - figure <= above,
            kind=kind,
            file=table.file,
            line=line.number,
        )


def _read_witness(table: Table, rows, path: Path, file: Path, sources: set[str]):
    source = path.name.removeprefix(f"{table.model.table}.").removesuffix(".csv")
    if source not in sources:
        return [], [Fault(file, 1, "source", f'"{source}" in the file name is not an id of sources')]
    with path.open(encoding="utf-8", newline="") as stream:
        reader = csv.DictReader(stream)
        header = reader.fieldnames or []
        faults = list(_header(table.model, file, header))
        if faults:
            return [], faults
        evidence = []
        for record in reader:
            values = {k: (v or "").strip() or None for k, v in record.items()}
            found, wrong = _witness_line(table, rows, values, source, file, reader.line_num)
            evidence += found
            faults += wrong
    return evidence, faults


@cache
def _primary_column(model: type[Row], name: str) -> str | None:
    """The column of the table that a witness column speaks of: diameter_mm for diameter_in."""
    if name in model.model_fields:
        return name
    same = [c for c in figures(model) if column_unit(name) and column_subject(c) == column_subject(name)]
    return same[0] if same else None


def _header(model, file, header):
    for name in header:
        if _primary_column(model, name) is None:
            yield Fault(file, 1, name or "(blank)", f"is not a column of {model.table}, in any unit")
    for name in (*(k for k in model.key if k in model.model_fields), "source", "locator"):
        if name not in header:
            yield Fault(file, 1, name, "this column is missing; a witness has the keys of its table")


def _witness_line(table: Table, rows, values, source: str, file: Path, number: int):
    if values["source"] != source:
        return [], [Fault(file, number, "source", f'"{values["source"]}" is not the {source} of the file name')]
    if not values["locator"]:
        return [], [Fault(file, number, "locator", "is blank; a stranger must be able to open the place")]
    try:
        witness = table.model.model_validate(_stand_in(table.model, values))
    except ValidationError as error:
        return [], [Fault(file, number, *plain_words(e, table.model)) for e in error.errors()]
    primary = rows.get(witness.row_key)
    if primary is None:
        return [], [Fault(file, number, table.model.key[0], f'"{witness.row_key}" is not a row of {table.model.table}')]
    evidence, faults = [], []
    for name, text in values.items():
        column = _primary_column(table.model, name)
        if text is None or column not in figures(table.model) or getattr(primary.row, column) is None:
            continue
        try:
            figure = Printed(text)
        except ValueError as error:
            faults.append(Fault(file, number, name, str(error)))
            continue
        unit = column_unit(name) or witness.unit_of(column)
        evidence.append(
            Evidence(
                table=table.model.table,
                key=witness.row_key,
                column=column,
                printed=text,
                value=figure,
                unit=unit,
                source=source,
                locator=values["locator"],
                served=getattr(primary.row, column).text,
                agrees=agrees(primary.row, column, figure, unit),
                kind="source",
                file=file,
                line=number,
            )
        )
    return evidence, faults


def _stand_in(model, values) -> dict:
    """The witness as a row of the table, so that its key can be read: it may be silent on all else, and what a row of
    the table must have gets a stand-in."""
    row = {column.name: values.get(column.name) for column in columns(model)}
    silent = [c for c in columns(model) if c.required and c.name not in model.key and row[c.name] is None]
    return row | {c.name: c.choices[0] if c.choices else "1" for c in silent}


def agrees(primary: Row, column: str, figure: Printed, unit: str | None) -> bool:
    """Whether a second source's figure is that of the row, as far as both are printed."""
    mine = getattr(primary, column)
    own = primary.unit_of(column)
    if unit == own:
        value, slack = Fraction(figure), figure.rounding
        if primary.nature == "defined" and unit == "mm" and figure.text.isdigit():
            slack = Fraction(0)  # a standard's 14 mm beside its 13.5 mm is not 14 rounded
    elif UNITS[unit].dimension != UNITS[own].dimension:
        return False
    else:
        value = convert(figure, unit, own)
        slack = abs(convert(figure + figure.rounding, unit, own) - value)
    apart = abs(value - mine)
    # strictly: of two figures printed to the same places, one more in the last place is another figure
    return apart == 0 or apart < slack + primary.rounding(column) + primary.agreement(column)


def read_disputes(root: Path) -> tuple[list[Dispute], list[Fault]]:
    """The listed disagreements of all rooms."""
    disputes, faults = [], []
    names = Dispute._fields[:5]
    for path in sorted(root.glob("*/tables/disputes.csv")):
        file = path.relative_to(root)
        with path.open(encoding="utf-8", newline="") as stream:
            reader = csv.DictReader(stream)
            for record in reader:
                values = [(record.get(name) or "").strip() for name in names]
                faults += [
                    Fault(file, reader.line_num, name, "is blank") for name, value in zip(names, values) if not value
                ]
                if all(values):
                    disputes.append(Dispute(*values, file, reader.line_num))
    return disputes, faults


def check_disputes(evidence: list[Evidence], disputes: list[Dispute]) -> list[Fault]:
    """Each disagreement is listed, and each listed one still exists."""
    listed = {(d.table, d.key, d.column, d.source) for d in disputes}
    real = {(e.table, e.key, e.column, e.source): e for e in evidence if not e.agrees}
    faults = [Fault(e.file, e.line, e.column, _differs(e)) for name, e in real.items() if name not in listed]
    return faults + [
        Fault(
            d.file, d.line, "key", f'{d.source} no longer disputes {d.column} of {d.table} "{d.key}": take the line out'
        )
        for d in disputes
        if (d.table, d.key, d.column, d.source) not in real
    ]


def _differs(e: Evidence) -> str:
    unit = f" {e.unit}" if e.unit else ""
    return (
        f'{e.source} has {e.printed}{unit} for "{e.key}", the table {e.served};'
        " correct the wrong one, or list it in disputes.csv with the reason"
    )


class Voice(NamedTuple):
    """Who speaks in a source: its kind, the document that one opens to see it, and the first of its ancestors."""

    kind: str
    document: str
    root: str


_UNSTATED = "a maker that names no ancestor"


def voices(sources: list[Row]) -> dict[str, Voice]:
    """The voice of each source. Two ids of one address are one document: it cannot confirm itself. Makers who name no
    ancestor may have one in common: none of them is independent of another."""
    parent = {row.id: row.ancestor for row in sources}
    unstated = {row.id for row in sources if row.kind == "maker" and not row.ancestor}

    def root(id: str) -> str:
        seen = set()
        while parent.get(id) and id not in seen:
            seen.add(id)
            id = parent[id]
        return _UNSTATED if id in unstated else id

    return {row.id: Voice(row.kind, _document(row), root(row.id)) for row in sources}


def _document(source: Row) -> str:
    if source.address is None:
        return source.id
    return re.sub(r"^https?://(www\.)?", "", source.address).rstrip("/").casefold()


def standing(model: type[Row], source: str, agreeing: list[Evidence], voices: dict[str, Voice]) -> str:
    """The best word that a cell has earned from the witnesses that agree with it.

    A hobby page or a memory lifts nothing. What a standard defines can be copied faithfully but not measured again,
    so its copies agree and are never independent.
    """
    if any(e.kind == "formula" for e in agreeing):
        return "formula"
    said = {voices[s] for s in (source, *(e.source for e in agreeing if e.kind == "source"))}
    published = {voice for voice in said if voice.kind not in ("memory", "practice")}
    if not published:
        return voices[source].kind
    if len({voice.document for voice in published}) == 1:
        return "single"
    apart = any(a.document != b.document and a.root != b.root for a, b in combinations(published, 2))
    return "independent" if model.nature == "measured" and apart else "agreed"
