"""Writes the SQLite file: STRICT tables with the row models' limits, cells with their standing, search, units."""

from __future__ import annotations

import hashlib
import os
import shutil
import sqlite3
import tempfile
import time
from collections import defaultdict
from pathlib import Path

import sqlite_utils

from refdata.core.numbers import Printed
from refdata.core.quantity import STANDINGS
from refdata.core.rows import Column, columns, figures
from refdata.core.rules import Refers
from refdata.core.units import column_unit

from . import witnesses
from .tables import Table, room

APPLICATION_ID = 0x53524546  # "SREF"
SCHEMA = 1

_OWN_TABLES = {
    "tables": """name TEXT PRIMARY KEY, title TEXT NOT NULL, description TEXT NOT NULL, room TEXT NOT NULL,
        nature TEXT NOT NULL CHECK (nature IN ('defined', 'measured', 'words')), rows INTEGER NOT NULL""",
    "columns": """table_name TEXT NOT NULL REFERENCES tables (name), name TEXT NOT NULL, unit TEXT,
        description TEXT NOT NULL, PRIMARY KEY (table_name, name)""",
    "cells": """table_name TEXT NOT NULL REFERENCES tables (name), row_key TEXT NOT NULL, column_name TEXT NOT NULL,
        printed TEXT NOT NULL, value REAL NOT NULL, unit TEXT, source TEXT NOT NULL REFERENCES sources (id),
        locator TEXT NOT NULL, standing TEXT NOT NULL CHECK (standing IN ({standings})),
        disputed INTEGER NOT NULL CHECK (disputed IN (0, 1)), PRIMARY KEY (table_name, row_key, column_name)""",
    "witnesses": """table_name TEXT NOT NULL, row_key TEXT NOT NULL, column_name TEXT NOT NULL, printed TEXT NOT NULL,
        value REAL NOT NULL, unit TEXT, source TEXT NOT NULL REFERENCES sources (id), locator TEXT NOT NULL,
        kind TEXT NOT NULL CHECK (kind IN ('source', 'formula', 'estimate')),
        agrees INTEGER NOT NULL CHECK (agrees IN (0, 1)), reason TEXT, CHECK (agrees = (reason IS NULL)),
        FOREIGN KEY (table_name, row_key, column_name) REFERENCES cells (table_name, row_key, column_name)""",
    "relations": """table_name TEXT NOT NULL, row_key TEXT NOT NULL, column_name TEXT NOT NULL, holds TEXT NOT NULL,
        PRIMARY KEY (table_name, row_key, column_name, holds),
        FOREIGN KEY (table_name, row_key, column_name) REFERENCES cells (table_name, row_key, column_name)""",
    "labels": """label TEXT NOT NULL, table_name TEXT NOT NULL REFERENCES tables (name), row_key TEXT NOT NULL,
        text TEXT NOT NULL, ask TEXT, PRIMARY KEY (label, table_name, row_key)""",
    "build": "data_version TEXT PRIMARY KEY, schema INTEGER NOT NULL, tables INTEGER NOT NULL, cells INTEGER NOT NULL",
}

# an estimate that lies far off is told with its figure, but is no other source's word
_DISAGREEMENTS = """CREATE VIEW disagreements AS
    SELECT w.table_name, w.row_key, w.column_name, w.printed, w.value, w.unit, w.source, w.locator,
        c.source AS served, w.reason
    FROM witnesses w JOIN cells c USING (table_name, row_key, column_name)
    WHERE NOT w.agrees AND w.kind <> 'estimate'"""


_OLD_DRAFT = 600  # seconds


def data_version(root: Path) -> str:
    """Hash of all table files, witness files and lists of disputes: twelve hex digits."""
    digest = hashlib.sha256()
    for path in sorted(root.glob("*/tables/**/*.csv")):
        text = path.read_bytes().replace(b"\r\n", b"\n")
        digest.update(f"{path.relative_to(root).as_posix()}\n{len(text)}\n".encode() + text)
    return digest.hexdigest()[:12]


def clear_drafts(folder: Path) -> None:
    """Remove what builds that were killed have left; a build that runs beside this one is not so old."""
    for draft in folder.glob(".refdata-*"):
        if time.time() - draft.stat().st_mtime > _OLD_DRAFT:
            shutil.rmtree(draft, ignore_errors=True)


def write(out: Path, tables: dict[str, Table], evidence, vouched, disputes, words: dict, version: str) -> None:
    """Write the database to `out` in one step: whoever reads it sees the old file or the new one, whole."""
    out.parent.mkdir(parents=True, exist_ok=True)
    clear_drafts(out.parent)
    with tempfile.TemporaryDirectory(dir=out.parent, prefix=".refdata-") as folder:
        draft, packed = Path(folder, "draft.db"), Path(folder, "packed.db")
        db = sqlite_utils.Database(sqlite3.connect(draft, isolation_level=None), strict=True)
        try:
            _fill(db, tables, evidence, vouched, disputes, words, version)
            db.execute("VACUUM INTO ?", [str(packed)])
        finally:
            db.close()
        _settle(packed)
        with open(packed, "rb+") as file:
            os.fsync(file.fileno())
        os.replace(packed, out)


def _fill(db, tables, evidence, vouched, disputes, words, version) -> None:
    db.execute("PRAGMA foreign_keys = ON")
    db.execute("BEGIN")
    for table in tables.values():
        db.execute(_ddl(table))
    for name, body in _OWN_TABLES.items():
        standings = ", ".join(f"'{s}'" for s in STANDINGS)
        db.execute(f"CREATE TABLE [{name}] ({body.format(standings=standings)}) STRICT")
    db.execute(_DISAGREEMENTS)
    db.execute("PRAGMA defer_foreign_keys = ON")
    for name, table in tables.items():
        db[name].insert_all(_stored(row) for row in table.rows)
        for column in _indexed(table):
            db[name].create_index([column])
    _describe(db, tables, words)
    _cells(db, tables, evidence, disputes)
    db["relations"].insert_all(dict(zip(("table_name", "row_key", "column_name", "holds"), one)) for one in vouched)
    _labels(db, tables)
    cells = db["cells"].count
    db["build"].insert({"data_version": version, "schema": SCHEMA, "tables": len(tables), "cells": cells})
    broken = list(db.execute("PRAGMA foreign_key_check"))
    if broken:
        raise AssertionError(f"foreign keys broken: {broken[:5]}")
    db.execute("COMMIT")
    db.execute("ANALYZE")


def _settle(path: Path) -> None:
    """Fix what SQLite would count up, and leave the file in a mode that needs no writing to read."""
    with sqlite3.connect(path) as connection:
        connection.execute("PRAGMA journal_mode = DELETE")
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {SCHEMA}")
    connection.close()


def _ddl(table: Table) -> str:
    names = [c.name for c in columns(table.model)]
    lines = ["key TEXT PRIMARY KEY"] if "key" not in names else []
    lines += [_column_ddl(column, table) for column in columns(table.model)]
    return f"CREATE TABLE [{table.model.table}] ({', '.join(lines)}) STRICT"


def _column_ddl(column: Column, table: Table) -> str:
    kind = "REAL" if column.type is Printed else "TEXT"
    parts = [f"[{column.name}] {kind}"]
    if column.required:
        parts.append("NOT NULL")
    if column.choices:
        parts.append(f"CHECK ([{column.name}] IN ({', '.join(repr(c) for c in column.choices)}))")
    parts += [f"CHECK ([{column.name}] {limit})" for limit in column.limits]
    for rule in table.model.rules:
        if isinstance(rule, Refers) and rule.column == column.name:
            parts.append(f"REFERENCES [{rule.table}] ({rule.to})")
    if column.name == "source":
        parts.append("REFERENCES sources (id)")
    if table.model.key == (column.name,):
        parts.append("UNIQUE")
    return " ".join(parts)


def _stored(row) -> dict:
    values = {column.name: getattr(row, column.name) for column in columns(type(row))}
    return {"key": row.row_key} | {k: float(v) if isinstance(v, Printed) else v for k, v in values.items()}


def _indexed(table: Table):
    """Columns that people look rows up by: parts of a longer key, and labels."""
    key = table.model.key if len(table.model.key) > 1 else ()
    wanted = dict.fromkeys([*key, *table.model.labels])
    return [name for name in wanted if name in table.model.model_fields and table.model.key != (name,)]


def _describe(db, tables, words) -> None:
    for name, table in tables.items():
        said = words[name]
        title, description = said["title"], said["description"]
        db["tables"].insert(
            {"name": name, "title": title, "description": description, "room": room(table.model),
             "nature": table.model.nature, "rows": len(table.lines)}
        )  # fmt: skip
        db["columns"].insert_all(
            {"table_name": name, "name": c.name, "unit": column_unit(c.name), "description": said["columns"][c.name]}
            for c in columns(table.model)
        )


def _cells(db, tables, evidence, disputes) -> None:
    """Every typed figure as a cell with its standing, and what each witness says of it."""
    by_cell = defaultdict(list)
    for one in evidence:
        by_cell[one.table, one.key, one.column].append(one)
    voices = witnesses.voices(tables["sources"].rows)
    reasons = {(d.table, d.key, d.column, d.source): d.reason for d in disputes}
    cells, seen = [], []
    for name, table in tables.items():
        for row in table.rows:
            for column in figures(table.model):
                if (figure := getattr(row, column)) is None:
                    continue
                place = (name, row.row_key, column)
                said = by_cell[place]
                standing = witnesses.standing(table.model, row.source, [e for e in said if e.agrees], voices)
                disputed = any(not e.agrees and e.kind != "estimate" for e in said)
                cells.append(
                    _figure(place, figure.text, figure, row.unit_of(column), row)
                    | {"standing": standing, "disputed": int(disputed)}
                )
                seen += [
                    _figure(place, e.printed, e.value, e.unit, e)
                    | {"kind": e.kind, "agrees": int(e.agrees)}
                    | {"reason": None if e.agrees else reasons[(*place, e.source)]}
                    for e in said
                ]
    db["cells"].insert_all(cells)
    db["witnesses"].insert_all(seen)
    db["cells"].create_index(["source"])
    db["witnesses"].create_index(["table_name", "row_key", "column_name"])
    db["witnesses"].create_index(["source"])


def _figure(cell: tuple[str, str, str], printed: str, value, unit: str | None, place) -> dict:
    figure = dict(zip(("table_name", "row_key", "column_name"), cell))
    figure |= {"printed": printed, "value": float(value), "unit": unit}
    return figure | {"source": place.source, "locator": place.locator}


def _labels(db, tables) -> None:
    """The names that people look for, with full-text search over them."""
    labels = {}
    for table in tables.values():
        for row in table.rows:
            values = {name: _words(getattr(row, name)) for name in type(row).model_fields}
            text = " · ".join(said for name, said in values.items() if said and name not in _UNSEARCHED)
            ask = table.model.ask.format(**values) if table.model.ask else None
            for name in table.model.labels:
                if values[name]:
                    place = (values[name], table.model.table, row.row_key)
                    labels.setdefault(place, (*place, text, ask))
    names = ("label", "table_name", "row_key", "text", "ask")
    db["labels"].insert_all(dict(zip(names, label)) for label in labels.values())
    # "#6", "1/4" and "P400" are words of the trade: their signs belong to them
    db.execute(
        "CREATE VIRTUAL TABLE labels_fts USING fts5 (label, text, table_name, content = labels,"
        " tokenize = \"unicode61 tokenchars '#/.'\")"
    )
    db.execute("INSERT INTO labels_fts (labels_fts) VALUES ('rebuild')")


_UNSEARCHED = ("source", "locator", "drill_source", "drill_locator", "address")


def _words(value) -> str:
    return value.text if isinstance(value, Printed) else str(value or "")
