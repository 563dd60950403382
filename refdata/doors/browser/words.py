"""Plain words for the table browser: headings with units, tables by room."""

from __future__ import annotations

from functools import lru_cache

from refdata.core import store
from refdata.core.units import UNITS, column_subject, column_unit

ROOMS = {
    "holes": "Holes and drills",
    "sheet": "Sheet and gauges",
    "abrasives": "Abrasives",
    "machining": "Speeds and feeds",
    "finishing": "Wheels",
    "alloys": "Alloys",
    "core": "Sources",
}
_ELSEWISE = {"locator": "where in the source", "uns": "UNS"}


@lru_cache(maxsize=256)
def heading(column: str) -> str:
    """A column name in plain words: `diameter_max_in` gives "diameter max (in)"."""
    unit = column_unit(column)
    words = _ELSEWISE.get(column, column_subject(column).replace("_", " "))
    return f"{words} ({UNITS[unit].symbol})" if unit else words


@lru_cache(maxsize=256)
def is_figure(column: str) -> bool:
    """Whether a column holds numbers, to be aligned right."""
    return column_unit(column) is not None or column in ("value", "range_from", "range_to")


@lru_cache(maxsize=1)
def tables_by_room() -> list[tuple[str, list[dict]]]:
    """The data tables under the plain name of their room, as name, title, description, rows."""
    rows = store.select("SELECT room, name, title, description, rows FROM tables")
    keys = ("name", "title", "description", "rows")
    return [(said, [dict(zip(keys, row[1:])) for row in rows if row[0] == room]) for room, said in ROOMS.items()]


def questions() -> list[tuple[str, str]]:
    """Every question by name, with what comes back."""
    from refdata.core.questions import QUESTIONS, load

    return [(name, load(name).question.summary) for name in QUESTIONS]


def cautions(table: str, key: str) -> tuple[str, ...]:
    """The cautions that a row of the alloy tables calls for; a key there starts with the UNS number."""
    if not table.startswith("alloy"):
        return ()
    from refdata.alloys.alloy import alloy

    numbers = {row[0] for row in store.select("SELECT uns FROM alloys")} & set(key.split())
    return alloy(numbers.pop()).cautions if numbers else ()


def data_version() -> str:
    """The version of the data, as every answer states it."""
    return store.data_version()
