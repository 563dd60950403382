"""Faults of the data: all are collected and shown at once, one line each."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple


class Fault(NamedTuple):
    """One thing wrong in a table file: where (file, line, column) and what, with what is allowed."""

    file: Path
    line: int
    column: str
    says: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.column}: {self.says}"


class Faults(Exception):
    """All the faults that a build met."""

    def __init__(self, faults):
        self.faults = sorted(set(faults), key=lambda f: (str(f.file), f.line, f.column))
        super().__init__(f"{len(self.faults)} fault(s)")
