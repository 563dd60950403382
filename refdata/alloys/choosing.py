"""The questions `alloys`, `compare` and `substitute`: which metals fit, how they differ, what may stand in."""

import re

from refdata.core import store
from refdata.core.errors import NotFound, NotUnderstood
from refdata.core.numbers import leading_number, plain
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Reader, choice, nearest
from refdata.core.results import Result
from refdata.core.units import UNITS, convert, read_unit

from .alloy import LISTED, SINGLE, Alloy, OneAlloy, alloy
from .cautions import strongest

PROPERTIES = {name.replace("_", " "): name for name in (*SINGLE, *LISTED)}
PROPERTIES |= {"modulus": "elastic_modulus", "expansion": "thermal_expansion", "conductivity": "thermal_conductivity"}
_SIGNS = {"<=": lambda a, b: a <= b, ">=": lambda a, b: a >= b, "<": lambda a, b: a < b, ">": lambda a, b: a > b,
          "=": lambda a, b: a == b}  # fmt: skip
_SAID = {"lead": "Pb", "zinc": "Zn", "copper": "Cu", "nickel": "Ni", "tin": "Sn", "iron": "Fe", "carbon": "C",
         "chromium": "Cr",
         "aluminium": "Al", "aluminum": "Al", "silicon": "Si", "manganese": "Mn", "beryllium": "Be", "cadmium": "Cd",
         "phosphorus": "P", "sulphur": "S", "sulfur": "S", "molybdenum": "Mo", "magnesium": "Mg", "silver": "Ag",
         "titanium": "Ti", "vanadium": "V", "tellurium": "Te"}  # fmt: skip
_AS_WHERE = ("density < 8.5 g/cm3", "lead <= 0.1 %")


class Condition:
    """One comparison: a column, a sign, a quantity."""

    def __init__(self, column: str, sign: str, limit: Quantity):
        self.column, self.sign, self.limit = column, sign, limit

    def __str__(self) -> str:
        return f"{self.column} {self.sign} {self.limit}"

    def holds(self, one: Alloy) -> bool | None:
        """Whether an alloy fulfils it; None where the figure is not specified."""
        told = figures(one, self.column, low=self.sign.startswith(">"))
        if not told:
            return None
        try:
            values = [convert(q.exact, q.unit, self.limit.unit) for q in told]
        except NotUnderstood as problem:
            raise NotUnderstood(f"{self.column}: {problem.message}", [told[0].unit]) from None
        return all(_SIGNS[self.sign](value, self.limit.exact) for value in values)


class Conditions(tuple):
    """Conditions that must all hold."""

    def __str__(self) -> str:
        return "; ".join(map(str, self))


class ManyReader(Reader):
    """A Reader whose option may be given more than once."""

    many = True


def column_named(text: str) -> str:
    """A column by its name: a property, or an element by name or symbol. Raises NotUnderstood."""
    word = " ".join(text.lower().replace("_", " ").split())
    symbol = _SAID.get(word) or next((s for s in set(_SAID.values()) if s == text.strip()), None)
    if word in PROPERTIES or symbol:
        return symbol or PROPERTIES[word]
    known = [*PROPERTIES, *_SAID]
    raise NotUnderstood(
        f'"{text.strip()}" is not a column of alloys', nearest(word, known, ["density", "lead", "zinc"])
    )


def read_where(text: str) -> Conditions:
    """Conditions as written: `density < 8.5 g/cm3; lead <= 0.1 %`. Raises NotUnderstood."""
    found = []
    for words in filter(None, (part.strip() for part in text.split(";"))):
        match = re.fullmatch(
            r"([A-Za-z_ ]+?)\s*(<=|>=|<|>|=)\s*(.+)", plain(words).replace("≤", "<=").replace("≥", ">=")
        )
        number = match and leading_number(match[3])
        if not number:
            raise NotUnderstood(f'"{words}" is not a condition', _AS_WHERE)
        unit = read_unit(number[2].strip() or "%")
        found.append(Condition(column_named(match[1]), match[2], Quantity(number[1], unit, exact=number[0])))
    if not found:
        raise NotUnderstood("no condition is named", _AS_WHERE)
    return Conditions(found)


Where = ManyReader("condition", read_where, "conditions: density < 8.5 g/cm3; lead <= 0.1 %", _AS_WHERE)
FAMILIES = (
    "copper", "brass", "bronze", "nickel silver", "cupronickel", "aluminium", "carbon steel", "alloy steel",
    "stainless steel", "tool steel", "titanium", "zinc", "silver", "magnesium", "nickel alloy",
)  # fmt: skip
Family = choice(
    "family", {name: (("aluminum",) if name == "aluminium" else ()) for name in FAMILIES}, "family of metal"
)


class Columns(tuple):
    """Columns to show."""

    def __str__(self) -> str:
        return ", ".join(self)


ColumnsReader = Reader(
    "list of columns", lambda text: Columns(column_named(part) for part in text.split(",") if part.strip()),
    "columns to show: density, lead, solidus", ("density, lead",),
)  # fmt: skip
ColumnReader = Reader("column", column_named, "column to sort by: density, lead", ("density", "lead"))


def figures(one: Alloy, column: str, low: bool = False) -> list[Quantity]:
    """The figures of a column: readings of a property, or the most (with `low` the least) of an element."""
    if column in PROPERTIES.values():
        value = getattr(one, column)
        return value if isinstance(value, list) else [value] if value else []
    amounts = one.composition.get(column)
    if amounts is None:
        return []
    if amounts.get("remainder") and not amounts["nominal"] and not amounts["max"]:
        return []
    names = ("min", "nominal", "max") if low else ("max", "nominal", "min")
    return [next(amounts[name] for name in names if amounts[name])] if any(amounts[n] for n in names) else []


def every_alloy(family: str | None = None) -> list[Alloy]:
    """All alloys, or those of a family, by UNS number."""
    rows = store.select("SELECT uns FROM alloys WHERE family = coalesce(?, family) ORDER BY uns", family)
    return [alloy(uns) for (uns,) in rows]


class AlloyLine(Result):
    """One alloy of a list, with the columns asked for; `not_specified` names what no source seen gives."""

    IN_CAPTION = ("uns", "name", "family")
    uns: str
    name: str
    family: str
    values: dict
    not_specified: list

    @property
    def caption(self) -> str:
        return f"{self.uns} {self.name}"

    @property
    def HEADER(self):
        return ("uns", "name", "family", *(name.replace("_", " ") for name in self.values), "not specified")

    def headline(self) -> list[str]:
        shown = [" / ".join(str(q) for q in told) if told else "–" for told in self.values.values()]
        return [self.uns, self.name, self.family, *shown, ", ".join(self.not_specified)]


@question
def alloys(
    *, family: Family = None, where: Where = None, sort: ColumnReader = "density", show: ColumnsReader = None
) -> list[AlloyLine]:
    """Alloys that fulfil conditions, those whose figures are not specified listed apart at the end.

    `where` is one or more of column, sign and quantity ("density < 8.5 g/cm3; lead <= 0.1 %"); columns are properties
    and elements. An element's <= is held against its most, >= against its least; of several readings all must hold. A
    figure that no source seen gives is not specified, which is neither yes nor no. Raises NotFound, NotUnderstood.

    >>> import refdata
    >>> [one.uns for one in refdata.alloys(family="brass", where="lead >= 2 %", sort="density")][:2]
    ['C38500', 'C36000']
    """
    columns = tuple(dict.fromkeys([sort, *(one.column for one in where or ()), *(show or ())]))
    found = []
    for one in every_alloy(family):
        verdicts = [condition.holds(one) for condition in where or ()]
        if False not in verdicts:
            unknown = [c.column for c, verdict in zip(where or (), verdicts) if verdict is None]
            found.append((bool(unknown), figures(one, sort), one, unknown))
    if not found:
        raise NotFound(f"no alloy of the tables fulfils {where}", ["a wider condition"])
    found.sort(key=lambda f: (f[0], not f[1], f[1] and float(convert(f[1][0].exact, f[1][0].unit, _si(f[1][0])))))
    shown = {condition.column: condition.limit.unit for condition in where or ()}
    cautions = strongest(text for _, _, one, _ in found for text in one.cautions)
    return [_line(one, columns, shown, unknown, cautions) for _, _, one, unknown in found]


def _si(q: Quantity) -> str:
    """The metric unit of a quantity's kind, so that unlike units sort."""
    same = [unit.code for unit in UNITS.values() if unit.dimension == UNITS[q.unit].dimension]
    return same[0]


def _line(one: Alloy, columns, shown, unknown, cautions) -> AlloyLine:
    values = {
        column: [q.to(shown[column]) if column in shown else q.within("metric") for q in figures(one, column)]
        for column in columns
    }
    return AlloyLine(
        uns=one.uns, name=one.name, family=one.family, values=values, not_specified=unknown, cautions=cautions,
        cited=[s.id for s in one.sources][:1],
    )  # fmt: skip


class Compared(Result):
    """One property or element of several alloys side by side; `differs` where their figures do not meet."""

    column: str
    values: dict
    differs: bool

    @property
    def caption(self) -> str:
        return self.column

    @property
    def HEADER(self):
        return ("", *self.values, "")

    def headline(self) -> list[str]:
        shown = [" / ".join(_told(q) for q in told) if told else "not specified" for told in self.values.values()]
        return [self.column.replace("_", " "), *shown, "differs" if self.differs else ""]


def _told(figure) -> str:
    """A figure with its scale, where it stands on one."""
    scale = figure.qualifiers.get("scale") if isinstance(figure, Quantity) else None
    return f"{figure} ({scale})" if scale and scale != "IACS" else str(figure)


@question
def compare(first: OneAlloy, second: OneAlloy, third: OneAlloy = None, fourth: OneAlloy = None) -> list[Compared]:
    """Two to four alloys side by side, a line for each property and element, differences marked.

    Names as people say them. Two figures differ when the ranges printed do not meet within 1 %. Raises NotFound,
    Ambiguous.

    >>> import refdata
    >>> [line.column for line in refdata.compare("C36000", "C46400") if line.differs][:1]
    ['elastic_modulus']
    """
    chosen = [alloy(name) for name in (first, second, third, fourth) if name]
    elements = dict.fromkeys(symbol for one in chosen for symbol in one.composition)
    cautions = strongest(text for one in chosen for text in one.cautions)
    lines = [
        Compared(
            column=part, values={one.uns: [getattr(one, part)] for one in chosen}, differs=False, cautions=cautions
        )
        for part in ("name", "family")
    ]
    for column in (*SINGLE, *LISTED, *elements):
        values = {one.uns: _compared(one, column) for one in chosen}
        if any(values.values()):
            scales = {q.qualifiers["scale"] for told in values.values() for q in told if "scale" in q.qualifiers}
            notes = [f"{column.replace('_', ' ')} stands on scales that cannot be compared"] if len(scales) > 1 else []
            differs = len(scales) < 2 and _apart(list(values.values()))
            lines.append(Compared(column=column, values=values, differs=differs, cautions=cautions, notes=notes))
    return lines


def _compared(one: Alloy, column: str) -> list[Quantity]:
    if column in PROPERTIES.values():
        return figures(one, column)
    both = [*figures(one, column, low=True), *figures(one, column)]
    return list(dict.fromkeys(both))


def _apart(values: list[list[Quantity]]) -> bool:
    """Whether some two of the ranges do not meet within 1 %."""
    spans = []
    for told in filter(None, values):
        metric = [float(convert(q.exact, q.unit, told[0].unit)) if q.unit != told[0].unit else q.value for q in told]
        first = values[next(i for i, v in enumerate(values) if v)][0].unit
        metric = [float(convert(q.exact, q.unit, first)) for q in told]
        spans.append((min(metric), max(metric)))
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


_BASES = (
    ("copper", "brass", "bronze", "nickel silver", "cupronickel"),
    ("carbon steel", "alloy steel", "tool steel"),
)
_MATTERS = (
    ("Pb", 0.5, "more lead: machines easier, does not bend, barred from drinking water",
     "less lead: machines worse, bends and brazes better"),
    ("Zn", 5.0, "more zinc: yellower, dezincifies sooner, fumes more when hot",
     "less zinc: redder, better in sea water and ammonia"),
    ("Be", 0.1, "beryllium: its dust must not be breathed", "no beryllium"),
    ("Ni", 1.0, "nickel: whiter, and an allergen on the skin", "less nickel: less white, tarnishes sooner"),
    ("Sn", 0.4, "more tin: stands sea water better", "less tin: dezincifies sooner in sea water"),
    ("Cr", 2.0, "more chromium: rusts less, hexavalent fume when hot", "less chromium: rusts sooner"),
    ("Mo", 0.5, "molybdenum: stands salt better", "no molybdenum: pits in salt"),
    ("S", 0.05, "more sulphur: machines easier, welds worse", "less sulphur: machines worse, welds better"),
    ("C", 0.1, "more carbon: harder, welds worse", "less carbon: softer, welds better"),
)  # fmt: skip


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
    base = next((some for some in _BASES if one.family in some), (one.family,))
    mine = _middle(one)
    others = [other for other in every_alloy() if other.uns != one.uns and other.family in base]
    if not others:
        raise NotFound(f"the tables have no other {one.family}", [])
    ranked = sorted(others, key=lambda other: _distance(mine, _middle(other)))[:5]
    cautions = strongest(text for other in (one, *ranked) for text in other.cautions)
    return [_stand_in(one, mine, other, cautions) for other in ranked]


def _middle(one: Alloy) -> dict[str, float]:
    """The middle amount of each element; the remainder is what is left."""
    found, rest = {}, None
    for symbol, amounts in one.composition.items():
        if symbol.startswith("others"):
            continue
        told = [amounts[n].value for n in ("min", "max") if amounts[n]]
        if amounts["nominal"]:
            found[symbol] = amounts["nominal"].value
        elif len(told) == 2 or (told and amounts["min"]):
            found[symbol] = sum(told) / len(told)
        elif told:
            found[symbol] = told[0] / 2
        elif amounts.get("remainder"):
            rest = symbol
    if rest:
        found[rest] = max(100 - sum(found.values()), 0)
    return found


def _distance(a: dict[str, float], b: dict[str, float]) -> float:
    return sum(abs(a.get(e, 0) - b.get(e, 0)) for e in {*a, *b}) / 2


def _stand_in(one: Alloy, mine, other: Alloy, cautions) -> Substitute:
    theirs = _middle(other)
    changes = [
        more if theirs.get(e, 0) > mine.get(e, 0) else less
        for e, least, more, less in _MATTERS
        if abs(theirs.get(e, 0) - mine.get(e, 0)) >= least
    ]
    change = None
    if one.density and other.density:
        share = float(convert(other.density.exact, other.density.unit, one.density.unit)) / one.density.value - 1
        change = Quantity(f"{100 * share:+.1f}", "%", exact=None, value=100 * share)
    if one.liquidus and other.liquidus:
        apart = float(other.liquidus.to("degC").exact - one.liquidus.to("degC").exact)
        if abs(apart) >= 25:
            changes.append(f"melts {abs(apart):.0f} °C {'higher' if apart > 0 else 'lower'}: mind the filler")
    return Substitute(
        uns=other.uns, name=other.name, family=other.family, density_change=change, changes=changes,
        composition_apart=Quantity(f"{_distance(mine, theirs):.1f}", "%"), cautions=cautions,
        notes=["near in composition is not the same metal: colour, temper and standard must fit too"],
    )  # fmt: skip
