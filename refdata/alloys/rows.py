"""Row models of the alloys room: alloys, their names, composition limits and properties."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from refdata.core.rows import Figure, Percent, Positive, Sourced, Text, Uns
from refdata.core.rules import Above, Estimate, Holds, Refers, grouped
from refdata.core.units import UNITS, convert

from .families import FAMILIES

Family = Literal[tuple(FAMILIES)]
Element = Literal[
    "Ag", "Al", "As", "Au", "B", "Be", "Bi", "C", "Ca", "Cd", "Co", "Cr", "Cu", "Fe", "H", "Mg", "Mn", "Mo", "N", "Nb",
    "Nb+Ta", "Ni", "O", "P", "Pb", "S", "Sb", "Se", "Si", "Sn", "Te", "Ti", "V", "W", "Zn", "Zr", "others",
    "others each",
]  # fmt: skip


# Handbooks differ so much in the densities of the pure elements (purity, porosity, 20 or 25 degC).
ELEMENT_DENSITY_AGREEMENT = Fraction(1, 100)


class Elements(Sourced):
    """Densities of the pure elements that alloys are made of, near room temperature."""

    table = "elements"
    key = ("symbol",)
    nature = "measured"
    labels = ("symbol", "name")

    symbol: Element
    name: Text
    density_g_per_cm3: Positive

    def agreement(self, column: str) -> Fraction:
        return ELEMENT_DENSITY_AGREEMENT * self.density_g_per_cm3


class Alloys(Sourced):
    """Alloys by UNS number."""

    table = "alloys"
    key = ("uns",)
    nature = "words"
    labels = ("uns", "name")
    ask = "alloy {uns}"

    uns: Uns
    name: Text
    family: Family
    note: Text | None = None


class AlloyNames(Sourced):
    """Names that people use for an alloy: exact, near (with what differs) or former."""

    table = "alloy_names"
    key = ("name", "system", "uns")
    nature = "words"
    labels = ("name",)
    ask = "alloy {uns}"
    rules = (Refers("uns", "alloys", "uns"),)

    name: Text
    system: Literal["UNS", "CDA", "AISI", "SAE", "AA", "EN", "ISO", "BS", "W.Nr.", "DIN", "JIS", "trade"]
    uns: Uns
    relation: Literal["exact", "near", "former"]
    differs: Text | None = None


# the copper of a copper counts its additions in; nominal amounts may be the middles of wide limits
_LEAST_SUM, _NOMINAL_SUM = Fraction("100.25"), 102


def _adds_up(rows, tables):
    """The least of all elements is at most 100 %, and so are the nominal amounts, but for rounding."""
    for (uns,), group in grouped(rows, "uns").items():
        least = sum(row.min_pct or 0 for row in group)
        nominal = sum(row.nominal_pct or 0 for row in group)
        if least > _LEAST_SUM:
            yield group[0], "min_pct", f"the least amounts of {uns} add up to {float(least):g} %"
        if nominal > _NOMINAL_SUM:
            yield group[0], "nominal_pct", f"the nominal amounts of {uns} add up to {float(nominal):g} %"
        if least <= _LEAST_SUM and nominal <= _NOMINAL_SUM:
            yield from (
                (row, c, None) for row in group for c in ("min_pct", "nominal_pct") if getattr(row, c) is not None
            )


class AlloyCompositions(Sourced):
    """Composition limits and nominal composition, per cent by mass. An element that is not listed is not specified."""

    table = "alloy_compositions"
    key = ("uns", "element")
    ruled_within = ("uns",)
    rules = (
        Refers("uns", "alloys", "uns"),
        Above("max_pct", "min_pct"),
        Holds("the least and the nominal amounts of the alloy add up to 100 % at most", _adds_up),
    )

    uns: Uns
    element: Element
    min_pct: Percent | None = None
    max_pct: Percent | None = None
    nominal_pct: Percent | None = None
    remainder: Literal["yes"] | None = None


# How far two sources may lie apart and still agree: a part of the value, or degrees for temperatures. Common
# practice: published figures of one alloy scatter so much between melts, tempers and test methods.
AGREEMENT = {
    "density": Fraction(1, 200),
    "solidus": 5,
    "liquidus": 5,
    "elastic_modulus": Fraction(3, 100),
    "thermal_conductivity": Fraction(3, 100),
    "thermal_expansion": Fraction(2, 100),
    "electrical_conductivity": Fraction(3, 100),
    "specific_heat": Fraction(3, 100),
    "machinability": 0,
}
_DIMENSION = {
    "density": "density",
    "solidus": "temperature",
    "liquidus": "temperature",
    "elastic_modulus": "stress",
    "thermal_conductivity": "thermal conductivity",
    "thermal_expansion": "thermal expansion",
    "electrical_conductivity": "ratio",
    "specific_heat": "specific heat",
    "machinability": "ratio",
}


def _unit_fits(rows, tables):
    for row in rows:
        if UNITS[row.unit].dimension != _DIMENSION[row.property]:
            yield row, "unit", f"{row.unit} is not a unit of {row.property}"
        if row.property == "thermal_expansion" and (row.range_from is None or row.range_from == row.range_to):
            yield row, "range_from", "an expansion coefficient needs its temperature range"
        if row.property in ("machinability", "electrical_conductivity") and not row.scale:
            yield row, "scale", f"{row.property} needs its scale"


def _solidus_below_liquidus(rows, tables):
    for (uns,), group in grouped(rows, "uns").items():
        ends = {row.property: row for row in group if row.property in ("solidus", "liquidus")}
        if len(ends) == 2:
            solidus, liquidus = (convert(ends[e].value, ends[e].unit, "degC") for e in ("solidus", "liquidus"))
            if solidus > liquidus:
                yield ends["liquidus"], "value", f"the liquidus of {uns} lies below its solidus"
            else:
                yield from ((row, "value", None) for row in ends.values())


def _mixture_density(row, tables) -> Fraction | None:
    """The density of the alloy if its elements kept their volumes: one over the sum of mass fraction over density.

    Nominal amounts, else the middle of the limits, or the least of a nearly pure metal; the remainder makes up the
    rest. None where less than 95 % of the mass is known so.
    """
    if row.property != "density" or UNITS[row.unit].dimension != "density":
        return None
    densities = {element.symbol: element.density_g_per_cm3 for element in tables.get("elements", ())}
    known, rest = {}, []
    for part in tables.get("alloy_compositions", ()):
        if part.uns != row.uns:
            continue
        both = part.min_pct is not None and part.max_pct is not None
        amount = part.nominal_pct or ((part.min_pct + part.max_pct) / 2 if both else None)
        if amount is None and part.min_pct is not None and part.min_pct >= 95:
            amount = part.min_pct
        if amount is not None and part.element in densities:
            known[part.element] = amount
        elif part.remainder or part.nominal_pct is not None:
            rest.append(part.element)
    if len(rest) == 1 and rest[0] in densities:
        known[rest[0]] = 100 - sum(known.values())
    total = sum(known.values())
    if not 95 <= total <= 102:
        return None
    mixed = total / sum(amount / densities[element] for element, amount in known.items())
    return convert(mixed, "g/cm3", row.unit)


class AlloyProperties(Sourced):
    """Properties, one figure a row, with the temper, temperature range and scale that each holds for."""

    table = "alloy_properties"
    key = ("uns", "property", "temper", "range", "scale")
    nature = "measured"
    ruled_within = ("uns",)
    qualifiers = ("range_from", "range_to")
    rules = (
        Refers("uns", "alloys", "uns"),
        Above("range_to", "range_from", equal=True),
        Holds("units fit", _unit_fits),
        Estimate(
            "value", _mixture_density, "mixture-rule", "1/density = sum of mass fraction/density", Fraction(3, 100)
        ),
        Holds("solidus is not above liquidus", _solidus_below_liquidus),
    )

    uns: Uns
    property: Literal[
        "density",
        "solidus",
        "liquidus",
        "elastic_modulus",
        "thermal_conductivity",
        "thermal_expansion",
        "electrical_conductivity",
        "specific_heat",
        "machinability",
    ]
    value: Positive
    unit: Literal[
        "lb/in3", "g/cm3", "kg/m3", "degF", "degC", "ksi", "MPa", "GPa", "BTU/h/ft/degF", "BTU-in/h/ft2/degF", "W/m/K",
        "uin/in/degF", "um/m/K", "%", "BTU/lb/degF", "J/kg/K",
    ]  # fmt: skip
    temper: Text | None = None
    range_from: Figure | None = None
    range_to: Figure | None = None
    range_unit: Literal["degF", "degC"] | None = None
    scale: Text | None = None

    @property
    def range(self) -> str | None:
        """The temperature range in whole degrees Celsius, so that 68 to 572 degF and 20 to 300 degC are one key."""
        if self.range_from is None:
            return None
        low, high = (round(convert(end, self.range_unit, "degC")) for end in (self.range_from, self.range_to))
        return f"{low}..{high} degC" if low != high else f"{low} degC"

    def unit_of(self, column: str) -> str | None:
        return self.unit if column == "value" else self.range_unit

    def agreement(self, column: str) -> Fraction:
        allowed = AGREEMENT[self.property]
        if self.property in ("solidus", "liquidus"):
            return Fraction(allowed * 9, 5) if self.unit == "degF" else Fraction(allowed)
        return Fraction(allowed) * self.value
