"""Builds the database: reads the tables, checks them, joins the witnesses, writes one SQLite file."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple


class Built(NamedTuple):
    """What a build read: number of tables and of figures, and the version of the data."""

    tables: int
    cells: int
    version: str


def build(out: Path | None = None, root: Path | None = None, metadata: Path | None = None) -> Built:
    """Check all tables below `root` (refdata/ by default) and write the database to `out`; None only checks.

    Raises Faults with every fault found; then nothing is written.
    """
    from refdata.core.rows import figures

    from . import checks, database, tables, witnesses, wording
    from .faults import Faults

    root = root or tables.ROOT
    read, faults = tables.read_all(root)
    vouched, wrong = checks.check(read)
    faults += wrong
    evidence, wrong = witnesses.read_evidence(read, root)
    faults += wrong
    disputes, wrong = witnesses.read_disputes(root)
    faults += wrong + witnesses.check_disputes(evidence, disputes)
    words, wrong = wording.read(metadata or tables.ROOT.parent / "metadata.yml", read)
    faults += wrong
    if faults:
        raise Faults(faults)
    version = database.data_version(root)
    if out is not None:
        database.write(Path(out), read, evidence, vouched, disputes, words, version)
    cells = sum(getattr(r, f) is not None for t in read.values() for f in figures(t.model) for r in t.rows)
    return Built(len(read), cells, version)
