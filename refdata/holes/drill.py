"""The question `drill`: a drill by its name, or the drills nearest to a diameter."""

import re

from refdata.core import numbers, store
from refdata.core.errors import NotFound, NotUnderstood
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import ListReader, Reader, Readings, above, choice, nearest, read_length
from refdata.core.results import Result
from refdata.core.units import convert

SETS = ("fractional", "number", "letter", "metric")
_OneSet = choice(
    "drill set",
    {
        "fractional": ("fraction", "fractions"),
        "number": ("numbers", "wire"),
        "letter": ("letters",),
        "metric": ("mm",),
    },
    "set of drills",
)
_SEVERAL = {"inch": ("fractional", "number", "letter"), "all": SETS}


class Sets(tuple):
    """The sets of drills that a shop owns."""

    def __str__(self) -> str:
        return ", ".join(self)


def read_sets(text: str) -> Sets:
    """Sets of drills as written: `number`, `fractional, letter`, `inch`. Raises NotUnderstood."""
    words = [word.strip() for word in re.split(r",|\+|\band\b", text.lower()) if word.strip()]
    found = [name for word in words for name in _SEVERAL.get(word) or (_OneSet.read(word),)]
    return Sets(dict.fromkeys(found))


DrillSet = ListReader(
    "drill set",
    read_sets,
    "sets of drills owned: fractional, number, letter, metric, or several: number, letter",
    SETS,
    SETS,
)
_AS_DRILL = ("#18", "F", "13/64", "5 mm", ".201")


def read_drill(text: str) -> str | Quantity | Readings:
    """A drill as written: its name (`#18`, `no. 18`, `F`, `13/64`) or a diameter (`5 mm`, `.201`).

    A bare whole number may be a number drill or millimetres, so both come back. Raises NotUnderstood.
    """
    words = re.sub(r"(?i)\s+drill(?: bit)?$", "", numbers.plain(text))
    if match := re.fullmatch(r"(?:#|no\.?|number|wire)\s*(\d{1,3})", words, re.I):
        return f"#{int(match[1])}"
    if match := re.fullmatch(r"(?:letter\s+)?([a-z])", words, re.I):
        return match[1].upper()
    if re.fullmatch(r"\d{1,3}", words):
        number, millimetres = f"#{int(words)}", Quantity(words, "mm")
        if not 1 <= int(words) <= 97:
            return above(millimetres, text, _AS_DRILL)
        return Readings(f"Is {words} the number drill #{words} or {words} mm?", (number, millimetres))
    try:
        diameter = read_length(words)
    except NotUnderstood:
        raise NotUnderstood(f'"{text.strip()}" is not a drill name or diameter', _AS_DRILL) from None
    return above(diameter, text, _AS_DRILL)


DrillName = Reader("drill", read_drill, "drill name or diameter: #18, F, 13/64, 5 mm, .201", _AS_DRILL)


class Drill(Result):
    """A drill: its name, the set it belongs to, its diameter, and how far that is from the diameter asked for."""

    HEADLINE = "diameter"
    IN_CAPTION = ("name", "set")
    name: str
    set: str
    diameter: Quantity
    deviation: Quantity | None

    @property
    def caption(self) -> str:
        return f"{self.set} drill {self.name}"


@question
def drill(name: DrillName, *, set: DrillSet = None) -> Drill | list[Drill]:
    """A drill by its name, or the drills at, just below and just above a diameter.

    `name` is a name ("#18", "F", "13/64") or a diameter ("5 mm", ".201"); `set` keeps to the sets that a shop owns:
    fractional, number, letter, metric, or several ("number, letter"). A diameter that a drill has exactly gives the
    drills that have it. Deviation is the drill less the diameter asked for. Sources: those of the tables drills_inch
    and drills_metric. Raises NotFound.

    >>> import refdata
    >>> refdata.drill("#18").diameter.value
    0.1695
    """
    if isinstance(name, str):
        return _named(name, set)
    fraction = name.text.replace(" ", "-") if name.unit == "in" and "/" in name.text else None
    if fraction and (set is None or "fractional" in set):
        named = store.records("drills_inch", "t.name = ?", fraction)
        if named:
            return _drill(named[0])
    return Answers(_around(name, set), listed=True)


def any_drills(wanted: str | Quantity | None, sets: tuple[str, ...] = SETS) -> list[Drill]:
    """The one drill that is wanted (a diameter that no drill has is a bore of its own), or all drills of some sets."""
    if isinstance(wanted, str):
        return [_named(wanted, None)]
    if wanted is not None:
        exact = [one for one in _around(wanted, None) if not one.deviation.exact]
        return exact[:1] or [Drill(name=str(wanted), set="bore", diameter=wanted)]
    return [
        _drill(row) for table in ("drills_inch", "drills_metric") for row in store.records(table) if row["set"] in sets
    ]


def _named(name: str, set: Sets | None) -> Drill:
    rows = [row for row in store.records("drills_inch", "t.name = ?", name) if not set or row["set"] in set]
    if not rows:
        known = store.names("drills_inch", "name")
        if set and name in known:
            where = store.select("SELECT [set] FROM drills_inch WHERE name = ?", name)[0][0]
            raise NotFound(f"drill {name} is of the {where} set, not {set}", [f"--set {where}"])
        raise NotFound(
            f"there is no drill {name}{f' in the {set} set' if set else ''}", nearest(name, known, _AS_DRILL)
        )
    return _drill(rows[0])


def _drill(row: store.Record, asked: Quantity | None = None) -> Drill:
    metric = row["set"] == "metric"
    diameter = row["diameter_mm" if metric else "diameter_in"]
    deviation = None if asked is None else diameter.less(asked)
    return Drill(
        name=f"{row['name']} mm" if metric else row["name"], set=row["set"], diameter=diameter, deviation=deviation
    )


def _around(asked: Quantity, set: Sets | None) -> list[Drill]:
    """The drills of exactly this diameter, else the nearest below and the nearest above."""
    exact, below, above = (_side(asked, set, side) for side in ("=", "<", ">"))
    if exact:
        return exact
    near = [*_closest(below), *_closest(above)]
    # beyond the smallest or the largest drill; a metric drill without its mm reads as inches
    if len(near) < 2 and all(abs(one.deviation.exact) > asked.exact / 10 for one in near):
        ends = [f"{one.diameter} is the {'largest' if below else 'smallest'}" for one in near]
        metric = [f"{asked.text} mm"] if asked.unit == "in" and "/" not in asked.text else []
        raise NotFound(f"no drill is near {asked}", [*metric, *ends] or SETS)
    return near


def _side(asked: Quantity, set: Sets | None, side: str) -> list[Drill]:
    """In each table, the drills nearest to a diameter on one side of it (`=`: exactly there)."""
    found = []
    for table, column, unit in (("drills_inch", "diameter_in", "in"), ("drills_metric", "diameter_mm", "mm")):
        best = "max" if side == "<" else "min"
        owned = set or SETS
        mine = f't."set" IN ({", ".join("?" * len(owned))})'
        rows = store.records(
            table,
            f"{mine} AND t.{column} = (SELECT {best}({column}) FROM {table} t WHERE {mine} AND {column} {side} ?)",
            *owned, *owned, float(convert(asked.exact, asked.unit, unit)),
        )  # fmt: skip
        found += [_drill(row, asked) for row in rows]
    return found


def _closest(drills: list[Drill]) -> list[Drill]:
    return sorted(drills, key=lambda one: abs(one.deviation.to("mm").exact))[:1]
