"""The words of the browser (metadata.yml): every table and column must have some, and name only what exists."""

from __future__ import annotations

from pathlib import Path

import yaml

from refdata.core.rows import columns

from .faults import Fault
from .tables import Table


def read(path: Path, tables: dict[str, Table]) -> tuple[dict, list[Fault]]:
    """What metadata.yml says of each table, and what is missing or names nothing."""
    file = Path(path.name)
    lines = path.read_text(encoding="utf-8").splitlines()
    try:
        said = yaml.safe_load("\n".join(lines))["databases"]["refdata"]["tables"]
    except (yaml.YAMLError, KeyError, TypeError) as error:
        return {}, [Fault(file, 1, "databases", f"cannot be read: {str(error).splitlines()[0]}")]
    faults = [
        Fault(file, n, "comment", "a # after a space starts a comment and cuts the text: put it in quotes")
        for n, line in enumerate(lines, 1)
        if " #" in line and "'" not in line and '"' not in line and not line.strip().startswith("#")
    ]
    for name, table in tables.items():
        words = said.get(name)
        if not words:
            faults.append(Fault(file, 1, name, "this table has no title and description here"))
            continue
        known = {column.name for column in columns(table.model)}
        described = set(words.get("columns") or {})
        at = next((n for n, line in enumerate(lines, 1) if line.strip() == f"{name}:"), 1)
        faults += [
            Fault(file, at, f"{name}.{part}", "is missing") for part in ("title", "description") if not words.get(part)
        ]
        faults += [
            Fault(file, at, f"{name}.{column}", "this column is not described") for column in sorted(known - described)
        ]
        faults += [
            Fault(file, at, f"{name}.{column}", "is described but is not a column")
            for column in sorted(described - known - {"key"})
        ]
    return said, faults
