"""The question `screw`: the head of a screw."""

import re

from refdata.core import store
from refdata.core.errors import NotFound, NotUnderstood
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import Reader, ScrewSize, Size, nearest
from refdata.core.results import Result

from .clearance import table_label

TWO_DIAMETERS = (
    "the sharp diameter is where the cone would end in an edge, the actual head is smaller: cut the first one shallow"
    " and try the screw"
)


def _plain(words: str) -> str:
    return "".join(part for part in words.lower() if part.isalnum() or part == ".")


TABLES = {"inch": ("heads_inch", "heads_raised_inch"), "metric": ("heads_metric", "heads_raised_metric")}


class Words(tuple):
    """The words of a column that a text stands for."""

    def __str__(self) -> str:
        return ", ".join(self)


def _column_reader(name: str, column: str, help: str) -> Reader:
    """Reads a word of one column of the tables of heads, or the end of it: `B18.3` is `ASME B18.3`."""

    def read(text: str) -> Words:
        tables = [table for both in TABLES.values() for table in both]
        known = [row[0] for row in store.select(" UNION ".join(f"SELECT {column} FROM {table}" for table in tables))]
        wanted = _plain(re.sub(r"\b(countersunk|csk)\b", "flat", re.sub(r"\bdeg(rees?)?\b", "", text.lower())))
        found = [word for word in known if _plain(word) == wanted] or [
            word for word in known if wanted and (_plain(word).endswith(wanted) or _plain(word).startswith(wanted))
        ]
        if not found:
            raise NotUnderstood(f'no table of heads has the {name} "{text.strip()}"', nearest(text, known, known))
        return Words(found)

    return Reader(name, read, help)


Standard = _column_reader("standard", "standard", "standard of the screw: B18.6.3, B18.3, ISO 2009, DIN 963, ...")
Head = _column_reader("head", "head", "head: flat, flat 82, oval, pan, round, socket cap, button, hex, ...")
Edition = _column_reader("edition", "edition", "edition of the standard, as 2013; the newest where none is named")


class Screw(Result):
    """A head: for a flat one the angle of its cone (in its name), the actual diameters and the sharp one; the height;
    the width across flats of a hexagon; the counterbore that takes it."""

    IN_CAPTION = ("size", "head", "standard", "edition", "status")
    size: str
    head: str
    standard: str
    edition: str
    status: str | None
    angle: Quantity | None
    head_diameter_max: Quantity | None
    head_diameter_min: Quantity | None
    head_diameter_sharp: Quantity | None
    head_height: Quantity | None
    head_height_min: Quantity | None
    width_across_flats_max: Quantity | None
    width_across_flats_min: Quantity | None
    counterbore_diameter: Quantity | None

    @property
    def HEADLINE(self) -> str:
        names = ("head_diameter_max", "head_diameter_sharp", "width_across_flats_max", "head_height")
        return next(name for name in names if getattr(self, name))

    @property
    def coned(self) -> bool:
        """Whether the head lies in a countersink, as a flat or an oval one."""
        return self.angle is not None

    @property
    def caption(self) -> str:
        names = {
            "head_diameter_sharp": "sharp head",
            "width_across_flats_max": "width across flats",
            "head_height": "height of head",
        }
        told = f", {self.status}" if self.status not in (None, "current") else ""
        angle = " degrees" if self.angle else ""
        what = names.get(self.HEADLINE, "largest head")
        return f"{what} of {self.size}, {self.head}{angle} ({self.standard}, {self.edition}{told})"


@question
def screw(size: Size, *, head: Head = "flat", standard: Standard = None, edition: Edition = None) -> Screw:
    """Head of a screw: angle, largest, smallest and sharp diameter, height, width across flats.

    `size` is a screw size ("#8", "1/4-20", "M4"); `head` flat (no head means flat), flat 82, oval, pan, round, socket
    cap, button, hex; `standard` and `edition` as people say them. A screw is made to several standards whose heads
    differ: then all come back, with the question which. Without an edition the newest answers. Raises NotFound,
    NotUnderstood, Ambiguous.

    >>> import refdata
    >>> refdata.screw("#8", standard="B18.3").head_diameter_sharp.value
    0.359
    """
    results = heads(size, head, standard, edition)
    return Answers(results, which_head(results))


def which_head(results) -> str | None:
    """What to ask when a size is made to several standards."""
    if len(results) > 1:
        return f"Which {results[0].size} is it: {'; '.join(f'{r.standard} {r.head}' for r in results)}?"
    return None


def heads(size: ScrewSize, head: Words | None, standard: Words | None, edition: Words | None = None) -> list[Screw]:
    """The heads of a screw that fit what is said, the newest edition of each. Raises NotFound."""
    tables = TABLES["metric" if size.system == "metric" else "inch"]
    label = table_label(size)
    rows = [row for table in tables for row in store.records(table, "t.size = ?", label)]
    if not rows:
        raise NotFound(f"the tables have no head for {label}", _sizes_near(size, tables[0]))
    wanted = {"head": head, "standard": standard, "edition": edition}
    chosen = [row for row in rows if all(not words or row[column] in words for column, words in wanted.items())]
    if not chosen:
        have = dict.fromkeys(f"{row['standard']} {row['edition']}, {row['head']}" for row in rows)
        raise NotFound(f"{label} has no such head", list(have))
    newest: dict[tuple, store.Record] = {}
    for row in sorted(chosen, key=lambda row: row.get("status", "current") != "current"):
        newest.setdefault((row["standard"], row["head"]), row)
    return [_answer(row, [other for other in rows if _same_head(other, row)]) for row in newest.values()]


def _same_head(one: store.Record, other: store.Record) -> bool:
    """Whether two rows are editions of one head."""
    return one is not other and (one["standard"], one["head"]) == (other["standard"], other["head"])


_FIGURES = (
    "head_diameter_max", "head_diameter_min", "head_diameter_sharp", "head_height", "width_across_flats_max",
    "width_across_flats_min", "head_height_min",
)  # fmt: skip


def _answer(row: store.Record, editions: list[store.Record]) -> Screw:
    unit = "mm" if row.table.endswith("metric") else "in"
    figures = {name: row.get(f"{name}_{unit}") for name in _FIGURES}
    figures["head_height"] = figures["head_height"] or row.get(f"head_height_max_{unit}")
    bores = store.records(
        f"counterbores_{'metric' if unit == 'mm' else 'inch'}", "t.head = ? AND t.size = ?", row["head"], row["size"]
    )
    figures["counterbore_diameter"] = bores[0][f"counterbore_diameter_{unit}"] if bores else None
    notes = [TWO_DIAMETERS] if figures["head_diameter_sharp"] else []
    if editions:
        notes.append(
            f"also edition {', '.join(one['edition'] for one in editions)}, whose figures may differ: --edition"
        )
    if row.get("status") == "withdrawn":
        notes.append(f"{row['standard']} is withdrawn; what replaced it may have another head")
    words = {name: row.get(name) for name in ("size", "head", "standard", "edition", "status")}
    cone = row["head"].split()[-1]
    return Screw(**words, angle=Quantity(cone, "deg") if cone.isdigit() else None, **figures, notes=notes)


def _sizes_near(size: ScrewSize, table: str) -> list[str]:
    """The sizes of the table nearest in diameter."""
    from refdata.core.reading import read_screw_size

    known = [(read_screw_size(label), label) for label in store.names(table, "size")]
    apart = {label: abs(one.diameter.exact - size.diameter.exact) for one, label in known if isinstance(one, ScrewSize)}
    return sorted(apart, key=apart.get)[:2]
