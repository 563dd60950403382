"""`refdata chart NAME [--paper letter|a4] [--out FILE.pdf|FILE.svg]`: wall charts made from the database alone."""

from __future__ import annotations

import os
from pathlib import Path

from refdata.core.errors import NotUnderstood
from refdata.core.reading import nearest
from refdata.doors.command import Parser

TITLES = {
    "clearance": "Clearance holes and tap drills",
    "gauges": "Sheet and wire gauges side by side",
    "grit": "Abrasive grades to scale",
    "alloys": "Alloys at a glance",
    "heads": "Heads of countersunk screws",
}
PAPERS = ("letter", "a4")
KINDS = ("pdf", "svg")


def make(name: str, paper: str = "letter", kind: str = "pdf") -> bytes | str:
    """A chart as PDF (bytes) or SVG (text). Raises NotUnderstood."""
    if name not in TITLES:
        raise NotUnderstood(f'there is no chart "{name}"', nearest(name, TITLES, TITLES))
    if paper not in PAPERS:
        raise NotUnderstood(f'"{paper}" is not a paper for charts', PAPERS)
    from . import sheets

    made = getattr(sheets, name)(TITLES[name], paper)
    return made.pdf() if kind == "pdf" else made.svg()


def main(arguments: list[str]) -> int:
    """Write one chart, whole or not at all. Raises NotUnderstood."""
    parser = Parser("refdata chart", description="A wall chart of one page, from the database.")
    parser.add_argument("name", help=", ".join(TITLES))
    parser.add_argument("--paper", default="letter", help="letter or a4")
    parser.add_argument("--out", help="FILE.pdf or FILE.svg; NAME.pdf by default")
    given = parser.parse_args(arguments)
    out = Path(given.out or f"{given.name}.pdf")
    kind = out.suffix.lower().removeprefix(".")
    if kind not in KINDS:
        raise NotUnderstood(f'"{out.name}" ends neither in .pdf nor in .svg', [f"{out.stem}.pdf", f"{out.stem}.svg"])
    made = make(given.name, given.paper.lower(), kind)
    draft = out.with_name(f"{out.name}.part")
    try:
        draft.write_bytes(made if isinstance(made, bytes) else made.encode("utf-8"))
        os.replace(draft, out)
    except OSError as problem:
        raise NotUnderstood(f"cannot write {out}: {problem.strerror}") from None
    print(f"{TITLES[given.name]}, {given.paper.lower()}: {out}")
    return 0
