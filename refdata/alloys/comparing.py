"""The questions `compare` and `substitute`: how metals differ, and what may stand in for one."""

from typing import NamedTuple

from refdata.core.errors import NotFound
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.results import Result, Told
from refdata.core.units import convert

from . import service
from .alloy import LISTED, SINGLE, Alloy, AtTemper, OneAlloy, alloy
from .cautions import strongest
from .choosing import PROPERTIES, every_alloy, figures, several
from .composition import middle, sensitizes
from .families import COPPER, FAMILIES, IRON


class Compared(Result):
    """One property or element of several alloys side by side; `differs` where their figures do not meet."""

    column: str
    values: dict
    differs: bool

    @property
    def caption(self) -> str:
        return self.column

    @property
    def is_element(self) -> bool:
        return self.column not in PROPERTIES.values() and all(
            isinstance(q, Quantity) and q.unit == "%" for told in self.values.values() for q in told
        )

    @property
    def HEADER(self):
        return ("", *self.values, "")

    def headline(self) -> list[str]:
        shown = [
            (_limits(told) if self.is_element else several(told)) or "not specified" for told in self.values.values()
        ]
        return [self.column.replace("_", " "), *shown, "differs" if self.differs else ""]


def _limits(told: list[Quantity]) -> Told:
    """The limits of an element: `60.0 to 63.0 %`, `0.35 %`."""
    first = [Told.of(told[0].figure, told[0])] if len(told) > 1 else []
    return Told.listed([*first, *(Told.of(str(q), q) for q in told[-1:])], " to ")


@question
def compare(first: AtTemper, second: AtTemper, third: AtTemper = None, fourth: AtTemper = None) -> list[Compared]:
    """Two to four alloys side by side, a line for each property and element, differences marked.

    Names as people say them; with a temper (`6061-T6`) only what holds for it. Two figures differ when the ranges
    printed do not meet within 1 %. Raises NotFound, Ambiguous.

    >>> import refdata
    >>> [line.column for line in refdata.compare("C36000", "C46400") if line.differs][:1]
    ['elastic_modulus']
    """
    chosen = {name: alloy(name) for name in (first, second, third, fourth) if name}
    if len(chosen) < 2:
        raise NotFound(f"compare takes different alloys: {first} is given more than once", [])
    elements = dict.fromkeys(symbol for one in chosen.values() for symbol in one.composition)
    cautions = strongest(text for one in chosen.values() for text in one.cautions)
    lines = [
        Compared(
            column=part,
            values={name: [getattr(one, part)] for name, one in chosen.items()},
            differs=False,
            cautions=cautions,
        )
        for part in ("name", "family")
    ]
    for column in (*SINGLE, *LISTED, *service.STRENGTHS, *elements):
        values = {name: _compared(one, column) for name, one in chosen.items()}
        if any(values.values()):
            scales = {q.qualifiers["scale"] for told in values.values() for q in told if "scale" in q.qualifiers}
            scales = scales if column in ("machinability", "hardness") else {}
            notes = [f"{column.replace('_', ' ')} stands on scales that cannot be compared"] if len(scales) > 1 else []
            differs = len(scales) < 2 and _apart(list(values.values()))
            lines.append(Compared(column=column, values=values, differs=differs, cautions=cautions, notes=notes))
    return [*lines, *_words_compared(chosen, cautions)]


def _words_compared(chosen: dict[str, Alloy], cautions) -> list[Compared]:
    """Ratings on one scale, corrosion and colour side by side; the scale is told once, as a note."""
    said: dict[str, dict[str, list[str]]] = {}
    scales: dict[str, str] = {}
    for label, one in chosen.items():
        told = [(f"colour {r['state']}", r["colour"]) for r in one.colours]
        told += [(r["hazard"], r["rating"]) for r in one.corrosion]
        for r in one.ratings:
            grader, _, words = r["scale"].partition(": ")
            scales[f"{r['process']} ({grader})"] = f"{grader} grades {words}" if words else ""
            told.append((f"{r['process']} ({grader})", r["rating"]))
        for name, word in told:
            values = said.setdefault(name, {each: [] for each in chosen})
            values[label] = list(dict.fromkeys([*values[label], word]))
    return [
        Compared(
            column=name,
            values=values,
            differs=_words_differ(values),
            cautions=cautions,
            notes=[note] if (note := scales.get(name)) else [],
        )
        for name, values in said.items()
    ]


def _words_differ(values: dict[str, list[str]]) -> bool:
    told = [set(words) for words in values.values() if words]
    return any(not (a & b) for a in told for b in told)


def _compared(one: Alloy, column: str) -> list[Quantity]:
    if column in (*PROPERTIES.values(), "hardness"):
        return figures(one, column)
    both = [*figures(one, column, low=True), *figures(one, column)]
    return list(dict.fromkeys(both))


def _apart(values: list[list[Quantity]]) -> bool:
    """Whether some two of the ranges do not meet within 1 %."""
    known = [told for told in values if told]
    spans, unit = [], known[0][0].unit if known else None
    for told in known:
        alike = [convert(q.exact, q.unit, unit) for q in told]
        spans.append((float(min(alike)), float(max(alike))))
    return any(a[0] > b[1] * 1.01 or b[0] > a[1] * 1.01 for a in spans for b in spans)


class Substitute(Result):
    """An alloy that may stand in for another: how near it is in composition, what changes and why it matters."""

    IN_CAPTION = ("uns", "name")
    uns: str
    name: str
    family: str
    composition_apart: Quantity
    density_change: Quantity | None
    changes: list

    HEADER = ("uns", "name", "per cent apart", "what changes")

    @property
    def caption(self) -> str:
        return f"{self.uns} {self.name}"

    def headline(self) -> list[str]:
        return [self.uns, self.name, str(self.composition_apart), "; ".join(self.changes) or "little"]


_STEEL = (IRON, "stainless")


class Matter(NamedTuple):
    """What more and less of an element mean, from how much on a difference counts, and in which base metals; `none`
    is what its absence means, where that is not the same as less."""

    element: str
    least: float
    more: str
    less: str
    bases: tuple[str, ...]
    none: str | None = None


_MATTERS = (
    Matter("Pb", 0.1, "more lead: machines easier, barred from drinking water", "less lead: machines worse", _STEEL),
    Matter("Pb", 0.5, "more lead: machines easier, does not bend, barred from drinking water",
           "less lead: machines worse, bends and brazes better", (COPPER,)),
    Matter("Pb", 0.2, "more lead: machines easier, its dust is poison", "less lead: machines worse", ("aluminium",)),
    Matter("Zn", 5.0, "more zinc: yellower, dezincifies sooner, fumes more when hot",
           "less zinc: redder, better in sea water and ammonia", (COPPER,)),
    Matter("Be", 0.1, "more beryllium: harder, its dust must not be breathed",
           "less beryllium: softer, its dust must not be breathed either", (COPPER,), "no beryllium"),
    Matter("Ni", 1.0, "nickel: whiter, and an allergen on the skin", "less nickel: less white, tarnishes sooner",
           (COPPER,)),
    Matter("Ni", 1.0, "more nickel: forms easier", "less nickel: work-hardens sooner", ("stainless",)),
    Matter("Sn", 0.4, "more tin: stands sea water better", "less tin: dezincifies sooner in sea water", (COPPER,)),
    Matter("Al", 1.0, "more aluminium: its oxide makes soldering and brazing hard",
           "less aluminium: solders and brazes easier", (COPPER,)),
    Matter("Fe", 0.5, "more iron: stronger, cuts harder", "less iron: softer", (COPPER,)),
    Matter("Cr", 2.0, "more chromium: rusts less, hexavalent fume when hot", "less chromium: rusts sooner", _STEEL),
    Matter("Mo", 0.5, "molybdenum: stands salt better", "less molybdenum: pits sooner in salt",
           ("stainless", "nickel")),
    Matter("Cu", 1.0, "more copper: corrodes sooner", "less copper: stands weather and sea better", ("aluminium",)),
    Matter("S", 0.05, "more sulphur: machines easier, welds worse", "less sulphur: machines worse, welds better",
           _STEEL),
    Matter("Ti", 0.2, "titanium: its hard carbides mar a mirror polish", "less titanium: takes a brighter polish",
           ("stainless",)),
    Matter("C", 0.1, "more carbon: harder, welds worse", "less carbon: softer, welds better", _STEEL),
)  # fmt: skip
# brazing fillers melt below this: a metal that melts above it is safe from them
_FILLERS_MELT = 1150


@question
def substitute(name: OneAlloy) -> list[Substitute]:
    """Alloys nearest in composition to one, at most five, with what changes and why it matters.

    Nearness is half the sum of the differences of the elements' middle amounts, in per cent of the mass; within the
    same base metal. A near alloy is not the same alloy: ask the customer. Raises NotFound, Ambiguous.

    >>> import refdata
    >>> len(refdata.substitute("C36000"))
    5
    """
    one = alloy(name)
    base = FAMILIES[one.family].base
    mine = middle(one.composition)
    others = [other for other in every_alloy() if other.uns != one.uns and FAMILIES[other.family].base == base]
    if not others:
        raise NotFound(f"the tables have no other {one.family}", [])
    ranked = sorted(others, key=lambda other: _distance(mine, middle(other.composition)))[:5]
    cautions = strongest(text for other in (one, *ranked) for text in other.cautions)
    return [_stand_in(one, mine, other, cautions) for other in ranked]


def _distance(a: dict[str, float], b: dict[str, float]) -> float:
    return sum(abs(a.get(e, 0) - b.get(e, 0)) for e in {*a, *b}) / 2


def _greatest_tensile(one: Alloy) -> float | None:
    """The greatest tensile strength that an alloy has in any temper, in ksi; upper limits left out."""
    told = (q for q in one.tensile_strength if q.qualifiers["basis"] != "maximum")
    return max((q.to("ksi").value for q in told), default=None)


def _change(matter: Matter, mine: dict[str, float], theirs: dict[str, float]) -> str | None:
    apart = theirs.get(matter.element, 0) - mine.get(matter.element, 0)
    if abs(apart) < matter.least:
        return None
    if apart > 0:
        return matter.more
    return matter.less if theirs.get(matter.element) else matter.none or matter.less


def _machined(one: Alloy, other: Alloy) -> list[str]:
    """How the machinability changes, where both stand on one scale and it differs by a tenth or more."""
    mine = {q.qualifiers["scale"]: q for q in one.machinability}
    both = [(q, mine[q.qualifiers["scale"]]) for q in other.machinability if q.qualifiers["scale"] in mine]
    return [
        f"machinability {q.value:g} % against {m.value:g}" for q, m in both if abs(q.value - m.value) > m.value / 10
    ][:1]


def _welded(one: Alloy, other: Alloy) -> list[str]:
    """How austenitic stainless steels differ beside a weld."""
    mine, theirs = (sensitizes(each.family, each.composition) for each in (one, other))
    if None in (mine, theirs) or mine == theirs:
        return []
    if theirs:
        return ["more free carbon: rusts sooner beside a weld"]
    return ["little free carbon: rusts less beside a weld"]


def _stand_in(one: Alloy, mine, other: Alloy, cautions) -> Substitute:
    theirs = middle(other.composition)
    changes = [_change(m, mine, theirs) for m in _MATTERS if FAMILIES[one.family].base in m.bases]
    changes = [change for change in changes if change] + _welded(one, other)
    change = None
    if one.density and other.density:
        share = float(convert(other.density.exact, other.density.unit, one.density.unit)) / one.density.value - 1
        change = Quantity(f"{100 * share:+.1f}", "%", exact=None, value=100 * share)
    if one.liquidus and other.liquidus:
        apart = float(other.liquidus.to("degC").exact - one.liquidus.to("degC").exact)
        if abs(apart) >= 25 and min(each.liquidus.to("degC").value for each in (one, other)) < _FILLERS_MELT:
            changes.append(f"melts {abs(apart):.0f} °C {'higher' if apart > 0 else 'lower'}: mind the filler")
    tensile = [_greatest_tensile(each) for each in (other, one)]
    if all(tensile) and not 0.8 <= tensile[0] / tensile[1] <= 1.25:
        changes.append("tensile on file up to {:.0f} ksi against {:.0f}".format(*tensile))
    elif tensile[1] and not tensile[0]:
        changes.append("no strength on file")
    changes += _machined(one, other)
    return Substitute(
        uns=other.uns, name=other.name, family=other.family, density_change=change, changes=changes,
        composition_apart=Quantity(f"{_distance(mine, theirs):.1f}", "%"), cautions=cautions,
        notes=["near in composition is not the same metal: colour, temper and standard must fit too"],
    )  # fmt: skip
