"""Finding and reading the tables: every room's row models and CSV files, each line with its number."""

from __future__ import annotations

import csv
import importlib
import io
from pathlib import Path
from typing import NamedTuple

from pydantic import ValidationError

from refdata.core.numbers import Printed
from refdata.core.rows import Row, columns
from refdata.core.units import SUFFIXES, column_subject, column_unit

from .faults import Fault

ROOT = Path(__file__).resolve().parent.parent / "refdata"


class Line(NamedTuple):
    """A row with where it stands."""

    row: Row
    file: Path
    number: int


class Table(NamedTuple):
    """A table as read: its model, its file (relative to refdata/), its good lines."""

    model: type[Row]
    file: Path
    lines: list[Line]

    @property
    def rows(self) -> list[Row]:
        return [line.row for line in self.lines]


def models() -> list[type[Row]]:
    """The row models of all rooms, in the order rooms and models are written."""
    found = []
    for path in sorted(ROOT.glob("*/*rows.py"), key=lambda path: (path.parent, path.stem != "rows", path.stem)):
        module = importlib.import_module(f"refdata.{path.parent.name}.{path.stem}")
        for model in vars(module).values():
            own = isinstance(model, type) and issubclass(model, Row) and model.__module__ == module.__name__
            if own and hasattr(model, "table"):
                found.append(model)
    return found


def room(model: type[Row]) -> str:
    """The room a model lives in: `holes` for refdata.holes.rows."""
    return model.__module__.split(".")[1]


def read_all(root: Path = ROOT) -> tuple[dict[str, Table], list[Fault]]:
    """Every table of every room by name, with the faults of single lines."""
    tables, faults = {}, []
    for model in models():
        file = Path(room(model), "tables", f"{model.table}.csv")
        lines, wrong = read(model, root, file)
        tables[model.table] = Table(model, file, lines)
        faults += wrong
    known = {table.file.name for table in tables.values()} | {"disputes.csv"}
    for path in sorted(root.glob("*/tables/*.csv")):
        if path.name not in known:
            faults.append(Fault(path.relative_to(root), 1, "file", "no row model reads this file: add one to rows.py"))
    return tables, faults


def read(model: type[Row], root: Path, file: Path) -> tuple[list[Line], list[Fault]]:
    """The lines of one CSV file as rows of `model`, and what is wrong in them."""
    try:
        text = (root / file).read_text(encoding="utf-8")
    except FileNotFoundError:
        return [], [Fault(file, 1, "file", "is missing")]
    except UnicodeDecodeError as error:
        return [], [Fault(file, 1, "file", f"is not UTF-8: {error.reason} at byte {error.start}")]
    reader = csv.DictReader(io.StringIO(text, newline=""), strict=True)
    faults = list(_header(model, file, reader.fieldnames or []))
    if faults:
        return [], faults
    lines = []
    for record in reader:
        number = reader.line_num
        if None in record or None in record.values():
            faults.append(Fault(file, number, "line", f"has not the {len(reader.fieldnames)} cells of the header"))
            continue
        values = {column: value.strip() or None for column, value in record.items()}
        try:
            lines.append(Line(model.model_validate(values), file, number))
        except ValidationError as error:
            faults += [Fault(file, number, *plain_words(e, model)) for e in error.errors()]
    return lines, faults


def _header(model, file, header):
    known = [column.name for column in columns(model)]
    for name in header:
        if name not in known:
            same = [k for k in known if column_unit(k) and column_subject(k) == _subject(name)]
            allowed = f"the unit of this table is in {same[0]}" if same else f"the columns are {', '.join(known)}"
            yield Fault(file, 1, name or "(blank)", f"is not a column of this table; {allowed}")
    for name in known:
        if name not in header:
            yield Fault(file, 1, name, "this column is missing")
    for name in sorted({name for name in header if header.count(name) > 1}):
        yield Fault(file, 1, name, "this column stands twice")


def _subject(name: str) -> str:
    return column_subject(name) if any(name.endswith(s) for s in SUFFIXES) else name.rsplit("_", 1)[0]


def plain_words(error, model) -> tuple[str, str]:
    """A validation error in the trade's words: (column, what is wrong and what is allowed)."""
    column, given, kind = str(error["loc"][0]), error["input"], error["type"]
    spec = next(c for c in columns(model) if c.name == column)
    if given is None:
        return column, "is blank; every row needs it" + (f", one of {', '.join(spec.choices)}" if spec.choices else "")
    if kind == "literal_error":
        return column, f'"{given}" is not allowed; one of {", ".join(spec.choices)}'
    if kind in ("greater_than", "greater_than_equal", "less_than_equal"):
        return column, f"{given} is out of bounds; allowed is {' and '.join(spec.limits)}"
    if kind == "string_pattern_mismatch":
        return column, f'"{given}" is not allowed; small letters, digits, dots and hyphens'
    if spec.type is Printed and "is not a number" not in error["msg"]:
        return column, f'"{given}" is not a number'
    return column, error["msg"].removeprefix("Value error, ")
