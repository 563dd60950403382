"""`refdata export FOLDER`: every table as CSV with a Data Package (open standard) that tells units and sources."""

from __future__ import annotations

import csv
import io
import json
import os
import shutil
import tempfile
from pathlib import Path

from refdata.core import store
from refdata.core.errors import NotUnderstood
from refdata.core.units import UNITS

from .command import Parser

# beside the tables of the trade: how each figure is witnessed, by whom, and what the build tried on it
EVIDENCE = {
    "cells": "Every figure as printed, with its source, locator and standing",
    "witnesses": "What every second source and formula says of a figure",
    "relations": "The relations that were tried and hold",
}


def main(arguments: list[str]) -> int:
    """Write the package into a new folder, whole or not at all. Raises NotUnderstood."""
    parser = Parser("refdata export", description="Write all tables as CSV with a datapackage.json.")
    parser.add_argument("folder", help="a folder that does not exist yet")
    out = Path(parser.parse_args(arguments).folder)
    if out.exists():
        raise NotUnderstood(f"{out} is there already: name a new folder")
    try:
        with tempfile.TemporaryDirectory(dir=out.parent, prefix=".refdata-") as folder:
            draft = Path(folder, "package")
            (draft / "data").mkdir(parents=True)
            package = data_package()
            for resource in package["resources"]:
                (draft / resource["path"]).write_text(csv_text(resource["name"]), encoding="utf-8", newline="")
            words = json.dumps(package, indent=2, ensure_ascii=False)
            (draft / "datapackage.json").write_text(words + "\n", encoding="utf-8")
            os.chmod(draft, 0o755)
            shutil.move(draft, out)
    except OSError as problem:
        raise NotUnderstood(f"cannot write {out}: {problem.strerror}") from None
    print(f"{len(package['resources'])} tables, data version {package['version']}: {out}")
    return 0


def csv_text(table: str) -> str:
    """A table as CSV, its figures as printed (a fraction as a decimal). Raises NotUnderstood."""
    if table not in EVIDENCE:
        store.check_table(table)
    names = _columns(table)
    printed: dict[str, dict[str, str]] = {}
    if table not in EVIDENCE:
        rows = store.select("SELECT row_key, column_name, printed FROM cells WHERE table_name = ?", table)
        for key, column, text in rows:
            printed.setdefault(key, {})[column] = text
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(names)
    key = "key" if table not in EVIDENCE else "NULL"
    for own, *row in store.select(f"SELECT {key}, {', '.join(f'[{n}]' for n in names)} FROM [{table}] ORDER BY rowid"):
        as_printed = printed.get(own, {})
        writer.writerow(_plain(value, as_printed.get(name)) for name, value in zip(names, row))
    return out.getvalue()


def _plain(value, printed: str | None) -> str:
    """A value as printed, a printed fraction as the number that it is."""
    if value is None:
        return ""
    if printed is not None and printed.replace(".", "", 1).isdigit():
        return printed
    return repr(value).removesuffix(".0") if isinstance(value, float) else str(value)


def _columns(table: str) -> list[str]:
    return [name for (name,) in store.select("SELECT name FROM pragma_table_info(?)", table) if name != "key"]


def data_package() -> dict:
    """The description: a resource for each table, its fields with type, unit and words, keys and references."""
    titles = dict(store.select("SELECT name, title FROM tables ORDER BY name"))
    return {
        "$schema": "https://datapackage.org/profiles/2.0/datapackage.json",
        "name": "shop-refdata",
        "title": "Shop reference data",
        "description": "The numbers of a small metal shop, each with its unit, source, locator and standing. Check a"
        " figure against the standard itself before a part that can hurt someone depends on it.",
        "version": store.data_version(),
        "licenses": [{"name": "MIT", "path": "https://opensource.org/license/mit", "title": "MIT (the compilation)"}],
        "sources": [{"title": "Each row names its own: see the table sources"}],
        "resources": [_resource(name, title) for name, title in [*titles.items(), *EVIDENCE.items()]],
    }


def _resource(name: str, title: str) -> dict:
    words = dict(store.select("SELECT name, description FROM columns WHERE table_name = ?", name))
    units = dict(store.select("SELECT name, unit FROM columns WHERE table_name = ? AND unit IS NOT NULL", name))
    described = store.select("SELECT description FROM tables WHERE name = ?", name)
    info = store.select("SELECT name, type, [notnull] FROM pragma_table_info(?)", name)
    fields = [_field(column, kind, needed, words, units) for column, kind, needed in info if column != "key"]
    refers = store.select("SELECT [from], [table], [to] FROM pragma_foreign_key_list(?) ORDER BY id DESC, seq", name)
    schema = {"fields": fields, "missingValues": [""]}
    if name not in EVIDENCE:
        schema["foreignKeys"] = [
            {"fields": [column], "reference": {"resource": "" if other == name else other, "fields": [to]}}
            for column, other, to in refers
        ]
    return {
        "name": name, "path": f"data/{name}.csv", "title": title, "type": "table", "format": "csv",
        "mediatype": "text/csv", "encoding": "utf-8", **({"description": described[0][0]} if described else {}),
        "schema": schema,
    }  # fmt: skip


def _field(column: str, kind: str, needed: int, words: dict, units: dict) -> dict:
    field = {"name": column, "type": {"REAL": "number", "INTEGER": "integer"}.get(kind, "string")}
    if column in words:
        field["description"] = words[column]
    if column in units:
        field["unit"] = UNITS[units[column]].code
    return field | ({"constraints": {"required": True}} if needed else {})
