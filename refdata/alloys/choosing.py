"""The question `alloys`: which metals fulfil conditions."""

import re

from refdata.core import store
from refdata.core.errors import NotFound, NotUnderstood
from refdata.core.numbers import leading_number, plain
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import ListReader, Reader, choice, nearest
from refdata.core.results import Result, Told
from refdata.core.units import UNITS, convert, read_unit

from . import service
from .alloy import LISTED, SINGLE, Alloy, alloy
from .cautions import strongest
from .families import FAMILIES, only_words

# of these a metal has as many as it has tempers, and is asked whether one of them will do
BY_TEMPER = tuple(name for name in service.STRENGTHS if name != "hardness")
PROPERTIES = {name.replace("_", " "): name for name in (*SINGLE, *LISTED, *BY_TEMPER)}
PROPERTIES |= {"modulus": "elastic_modulus", "expansion": "thermal_expansion", "conductivity": "thermal_conductivity",
               "tensile": "tensile_strength", "yield": "yield_strength"}  # fmt: skip
# what people ask for that has no one figure, and what to ask instead
_ELSEWISE = {
    "melting point": ("an alloy melts over a range, not at a point", ["solidus", "liquidus"]),
    "hardness": ("hardness stands on scales that cannot be compared; alloy NAME shows it", ["tensile strength"]),
}
_SIGNS = {"<=": lambda a, b: a <= b, ">=": lambda a, b: a >= b, "<": lambda a, b: a < b, ">": lambda a, b: a > b,
          "=": lambda a, b: a == b}  # fmt: skip
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
        verdicts = [self.holds_for(q) for q in told]
        return any(verdicts) if self.column in BY_TEMPER else all(verdicts)

    def holds_for(self, figure: Quantity) -> bool:
        """Whether one figure fulfils it. Raises NotUnderstood for units of another kind."""
        try:
            value = convert(figure.exact, figure.unit, self.limit.unit)
        except NotUnderstood as problem:
            raise NotUnderstood(f"{self.column}: {problem.message}", [figure.unit]) from None
        return _SIGNS[self.sign](value, self.limit.exact)


class Conditions(tuple):
    """Conditions that must all hold."""

    def __str__(self) -> str:
        return "; ".join(map(str, self))


class ManyReader(Reader):
    """A Reader whose option may be given more than once."""

    many = True
    comma = "; "


def column_named(text: str) -> str:
    """A column by its name: a property, or an element by name or symbol. Raises NotUnderstood."""
    word = " ".join(text.lower().replace("_", " ").split())
    elements = _elements()
    symbol = elements.get(word) or next((s for s in elements.values() if s == text.strip()), None)
    if word in PROPERTIES or symbol:
        return symbol or PROPERTIES[word]
    if word in _ELSEWISE:
        raise NotUnderstood(*_ELSEWISE[word])
    known = [*PROPERTIES, *elements]
    raise NotUnderstood(
        f'"{text.strip()}" is not a column of alloys', nearest(word, known, ["density", "lead", "zinc"])
    )


def _elements() -> dict[str, str]:
    """Symbols by the names of the elements, and by themselves where a composition lists one that has no name here."""
    named = {name: symbol for symbol, name in store.select("SELECT symbol, name FROM elements")}
    named |= {"aluminum": "Al", "sulfur": "S"}
    listed = store.select("SELECT DISTINCT element FROM alloy_compositions WHERE element != 'others'")
    return named | {symbol.lower(): symbol for (symbol,) in listed if symbol not in named.values()}


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
Family = choice("family", {name: only_words(name) for name in FAMILIES}, "family of metal")


class Columns(tuple):
    """Columns to show."""

    def __str__(self) -> str:
        return ", ".join(self)


ColumnsReader = ListReader(
    "list of columns", lambda text: Columns(column_named(part) for part in text.split(",") if part.strip()),
    "columns to show: density, lead, solidus", ("density, lead",),
)  # fmt: skip
ColumnReader = Reader("column", column_named, "column to sort by: density, lead", ("density", "lead"))


def figures(one: Alloy, column: str, low: bool = False) -> list[Quantity]:
    """The figures of a column: readings of a property, or the most (with `low` the least) of an element."""
    if column in (*PROPERTIES.values(), "hardness"):
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


def several(told: list) -> Told:
    """Figures in few words: with their tempers or scales, and more than three of them as a range."""
    scales = dict.fromkeys(q.qualifiers.get("scale") for q in told if isinstance(q, Quantity) and q.unit == "number")
    if len(scales) > 1:  # hardness: one scale says nothing of another
        return Told.listed([several([q for q in told if q.qualifiers["scale"] == scale]) for scale in scales], "; ")
    if len(told) > 3 and isinstance(told[0], Quantity) and "basis" in told[0].qualifiers:
        ends = sorted(told, key=lambda q: convert(q.exact, q.unit, told[0].unit))
        scale, least, most = f"{next(iter(scales))} " if scales else "", ends[0], ends[-1].to(ends[0].unit)
        count = f" ({len(told)} tempers and forms)"
        return Told.joined(scale, Told.of(least.figure, least), " to ", Told.of(str(most), most), count)
    return Told.listed(list(dict.fromkeys(_told(q) for q in told)), " / ")


def _told(figure) -> Told:
    """A figure with the scale or temper that it stands on."""
    if not isinstance(figure, Quantity):
        return Told(figure)
    held = [figure.qualifiers.get(name) for name in ("scale", "temper", "form")]
    held = held[:1] if "basis" not in figure.qualifiers else held[figure.unit != "number" :]
    told = " ".join(word for word in held if word and word != "IACS")
    return Told.joined(Told.of(str(figure), figure), f" ({told})" if told else "")


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
        shown = [several(told) or "–" for told in self.values.values()]
        return [self.uns, self.name, self.family, *shown, ", ".join(self.not_specified).replace("_", " ")]


@question
def alloys(
    *, family: Family = None, where: Where = None, sort: ColumnReader = "density", show: ColumnsReader = None
) -> list[AlloyLine]:
    """Alloys that fulfil conditions, those whose figures are not specified listed apart at the end.

    `where` is one or more of column, sign and quantity ("density < 8.5 g/cm3; lead <= 0.1 %"); columns are properties
    and elements. An element's <= is held against its most, >= against its least; of several readings all must hold. A
    figure that no source seen gives is not specified, which is neither yes nor no. A strength or elongation holds if it
    does in one temper, and those are shown. Raises NotFound, NotUnderstood.

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
        told = " and ".join(filter(None, (f"family {family}" if family else "", f"{where}" if where else "")))
        raise NotFound(f"no alloy of the tables fulfils {told}", ["a wider condition"])
    found.sort(key=lambda f: (f[0], not f[1], f[1] and float(_in_one_unit(f[1][0]))))
    shown = {condition.column: condition for condition in where or ()}
    cautions = strongest(text for _, _, one, _ in found for text in one.cautions)
    return [_line(one, columns, shown, unknown, cautions) for _, _, one, unknown in found]


def _in_one_unit(q: Quantity):
    """A quantity in the first unit of its kind, so that unlike units sort."""
    return convert(q.exact, q.unit, next(u.code for u in UNITS.values() if u.dimension == UNITS[q.unit].dimension))


def _shown(told: list[Quantity], condition: Condition | None) -> list[Quantity]:
    """The figures of a column in the unit of its condition; of the tempers those that fulfil it."""
    if condition is None:
        return [q.within("metric") for q in told]
    if condition.column in BY_TEMPER:
        told = [q for q in told if condition.holds_for(q)]
    return [q.to(condition.limit.unit) for q in told]


def _line(one: Alloy, columns, shown, unknown, cautions) -> AlloyLine:
    values = {column: _shown(figures(one, column), shown.get(column)) for column in columns}
    return AlloyLine(
        uns=one.uns, name=one.name, family=one.family, values=values, not_specified=unknown, cautions=cautions,
        cited=[s.id for s in one.sources][:1],
    )  # fmt: skip
