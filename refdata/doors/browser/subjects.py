"""Pages about one thing: an alloy, a screw size, a gauge system, a grade of abrasive. Each shows what the questions say
of it, and needs no more than a line here."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from refdata.core import store
from refdata.core.errors import NotFound, RefdataError
from refdata.core.questions import load
from refdata.core.reading import nearest

from .answer import Shown, shown


class Subject(NamedTuple):
    """What a kind of page is about: its heading, its members by group, the questions asked of one with `{}` for it."""

    heading: str
    members: Callable[[], dict[str, list[tuple[str, str]]]]
    asks: tuple[tuple[str, dict[str, str]], ...]

    def says(self, member: str) -> str:
        """What a member is in words, where the list of members tells it."""
        return next((says for some in self.members().values() for one, says in some if one == member), "")


def _grouped(rows) -> dict[str, list[tuple[str, str]]]:
    found: dict[str, list[tuple[str, str]]] = {}
    for group, member, says in rows:
        found.setdefault(group, []).append((member, says))
    return found


def _alloys():
    return _grouped(store.select("SELECT family, uns, name FROM alloys ORDER BY family, uns"))


def _screws():
    rows = store.select("SELECT 'inch', size, '' FROM screws_inch ORDER BY major_diameter_in")
    return _grouped([*rows, *store.select("SELECT 'metric', size, '' FROM screws_metric ORDER BY major_diameter_mm")])


def _gauges():
    return _grouped(store.select("SELECT 'systems', system, name FROM gauge_systems"))


def _grades():
    rows = store.select("SELECT system, grade, '' FROM abrasive_grades ORDER BY system, median_grain_um DESC")
    said = {"cami": "CAMI {}", "jis": "JIS {}", "mesh": "{} mesh", "micron": "{} micron"}
    return _grouped((system, said.get(system, "{}").format(grade), "") for system, grade, _ in dict.fromkeys(rows))


SUBJECTS = {
    "alloy": Subject("Alloys", _alloys, (("alloy", {"name": "{}"}), ("substitute", {"name": "{}"}))),
    "screw": Subject(
        "Screw sizes",
        _screws,
        (
            ("clearance", {"size": "{}", "fit": "all"}),
            ("tap", {"size": "{}"}),
            ("thread", {"size": "{}"}),
            ("screw", {"size": "{}"}),
            ("countersink", {"size": "{}"}),
        ),
    ),
    "gauge": Subject("Gauge systems", _gauges, ()),
    "grade": Subject("Grades of abrasive", _grades, (("grit", {"grade": "{}"}),)),
}


def subject(kind: str) -> Subject:
    """The kind of page by name. Raises NotFound."""
    if kind not in SUBJECTS:
        raise NotFound(f'there are no pages on "{kind}"', list(SUBJECTS))
    return SUBJECTS[kind]


def answers(kind: str, member: str) -> list[Shown]:
    """What the questions of a subject say of one member; what does not apply to it is left out. Raises NotFound."""
    told, problem = [], None
    for name, given in subject(kind).asks:
        declared = load(name).question
        asked = {parameter: words.format(member) for parameter, words in given.items()}
        try:
            told.append(shown(declared, asked, declared.answers(**asked)))
        except RefdataError as error:
            problem = problem or error
    if not told and problem:
        raise problem
    return told


def gauges(system: str) -> list[store.Record]:
    """The gauges of one system, thickest first. Raises NotFound."""
    rows = store.records("gauges", "t.system = ?", system)
    if not rows:
        known = store.names("gauge_systems", "system")
        raise NotFound(f'there is no gauge system "{system}"', nearest(system, known, known))
    return rows
