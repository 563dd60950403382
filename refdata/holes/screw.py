"""The question `screw`: the countersunk head of a screw."""

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


class Words(tuple):
    """The words of a column that a text stands for."""

    def __str__(self) -> str:
        return ", ".join(self)


def _column_reader(name: str, column: str, help: str) -> Reader:
    """Reads a word of one column of the tables of heads, or the end of it: `B18.3` is `ASME B18.3`."""

    def read(text: str) -> Words:
        known = [
            row[0] for row in store.select(f"SELECT {column} FROM heads_inch UNION SELECT {column} FROM heads_metric")
        ]
        wanted = _plain(re.sub(r"\b(countersunk|csk)\b", "flat", re.sub(r"\bdeg(rees?)?\b", "", text.lower())))
        found = [word for word in known if _plain(word) == wanted] or [
            word for word in known if wanted and (_plain(word).endswith(wanted) or _plain(word).startswith(wanted))
        ]
        if not found:
            raise NotUnderstood(f'no table of heads has the {name} "{text.strip()}"', nearest(text, known, known))
        return Words(found)

    return Reader(name, read, help)


Standard = _column_reader("standard", "standard", "standard of the screw: B18.6.3, B18.3, ISO 2009, DIN 963, ...")
Head = _column_reader("head", "head", "head: flat, flat 82, flat 90, flat 100")
Edition = _column_reader("edition", "edition", "edition of the standard, as 2013; the newest where none is named")


class Screw(Result):
    """A countersunk head: the angle of its cone (in its name), the actual diameters, the sharp one, the height."""

    IN_CAPTION = ("size", "head", "standard", "edition", "status")
    size: str
    head: str
    standard: str
    edition: str
    status: str
    angle: Quantity
    head_diameter_max: Quantity | None
    head_diameter_min: Quantity | None
    head_diameter_sharp: Quantity | None
    head_height: Quantity | None

    @property
    def HEADLINE(self) -> str:
        return "head_diameter_max" if self.head_diameter_max else "head_diameter_sharp"

    @property
    def caption(self) -> str:
        which = "largest head" if self.head_diameter_max else "sharp head"
        told = "" if self.status == "current" else f", {self.status}"
        return f"{which} of {self.size}, {self.head} degrees ({self.standard}, {self.edition}{told})"


@question
def screw(size: Size, *, head: Head = None, standard: Standard = None, edition: Edition = None) -> Screw:
    """Countersunk head of a screw: angle, largest and smallest diameter, sharp diameter, height.

    `size` is a screw size ("#8", "1/4-20", "M4"); `head` flat, flat 82, flat 90 or flat 100; `standard` and `edition`
    as people say them. A screw is made to several standards whose heads differ: then all come back, with the question
    which. Without an edition the newest answers. Raises NotFound, NotUnderstood, Ambiguous.

    >>> import refdata
    >>> refdata.screw("#8", standard="B18.3").head_diameter_sharp.value
    0.359
    """
    table = "heads_metric" if size.system == "metric" else "heads_inch"
    label = table_label(size)
    rows = store.records(table, "t.size = ?", label)
    if not rows:
        raise NotFound(f"the tables have no countersunk head for {label}", _sizes_near(size, table))
    wanted = {"head": head, "standard": standard, "edition": edition}
    chosen = [row for row in rows if all(not words or row[column] in words for column, words in wanted.items())]
    if not chosen:
        have = dict.fromkeys(f"{row['standard']} {row['edition']}, {row['head']}" for row in rows)
        raise NotFound(f"{label} has no such head", list(have))
    newest: dict[tuple, store.Record] = {}
    for row in sorted(chosen, key=lambda row: row["status"] != "current"):
        newest.setdefault((row["standard"], row["head"]), row)
    results = [_answer(row, [other for other in rows if _same_head(other, row)]) for row in newest.values()]
    if len(results) == 1:
        return Answers(results)
    return Answers(results, f"Which {label} is it: {'; '.join(f'{r.standard} {r.head}' for r in results)}?")


def _same_head(one: store.Record, other: store.Record) -> bool:
    """Whether two rows are editions of one head."""
    return one is not other and (one["standard"], one["head"]) == (other["standard"], other["head"])


def _answer(row: store.Record, editions: list[store.Record]) -> Screw:
    unit = "in" if "head_height_in" in row else "mm"
    figures = {
        name: row[f"{name}_{unit}"]
        for name in ("head_diameter_max", "head_diameter_min", "head_diameter_sharp", "head_height")
    }
    notes = [TWO_DIAMETERS] if figures["head_diameter_sharp"] else []
    if editions:
        notes.append(
            f"also edition {', '.join(one['edition'] for one in editions)}, whose figures may differ: --edition"
        )
    if row["status"] == "withdrawn":
        notes.append(f"{row['standard']} is withdrawn; what replaced it may have another head")
    words = {name: row[name] for name in ("size", "head", "standard", "edition", "status")}
    return Screw(**words, angle=Quantity(row["head"].split()[-1], "deg"), **figures, notes=notes)


def _sizes_near(size: ScrewSize, table: str) -> list[str]:
    """The sizes of the table nearest in diameter."""
    from refdata.core.reading import read_screw_size

    known = [(read_screw_size(label), label) for label in store.names(table, "size")]
    apart = {label: abs(one.diameter.exact - size.diameter.exact) for one, label in known if isinstance(one, ScrewSize)}
    return sorted(apart, key=apart.get)[:2]
