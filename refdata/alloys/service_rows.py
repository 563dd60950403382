"""Row models of what an alloy does: strength by temper, ratings, heat treatment, bending, colour, corrosion, limits."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from annotated_types import Ge

from refdata.core.rows import Figure, Positive, Sourced, Text, Uns
from refdata.core.rules import Above, Holds, Refers, grouped
from refdata.core.units import UNITS, convert

from .rows import Element

OF_AN_ALLOY = Refers("uns", "alloys", "uns")
NotNegative = Annotated[Figure, Ge(0)]

# How far two sources of one strength may lie apart and still agree: sheets round to the ksi or to 5 MPa.
_STRENGTH = Fraction(3, 100)
_POINTS = 2  # of elongation in per cent, and of hardness on its scale
_DIMENSION = {
    "tensile_strength": "stress", "yield_strength": "stress", "shear_strength": "stress", "elongation": "ratio",
    "hardness": "number",
}  # fmt: skip


def _unit_fits(rows, tables):
    for row in rows:
        if UNITS[row.unit].dimension != _DIMENSION[row.property]:
            yield row, "unit", f"{row.unit} is not a unit of {row.property}"
        if row.property == "hardness" and not row.scale:
            yield row, "scale", "a hardness needs its scale"


def _yield_below_tensile(rows, tables):
    pairs = grouped(rows, "uns", "temper", "form", "section", "basis", "standard", "source")
    for group in pairs.values():
        tensile = [row for row in group if row.property == "tensile_strength"]
        for row in group:
            if row.property == "yield_strength" and len(tensile) == 1:
                most = convert(tensile[0].value, tensile[0].unit, row.unit)
                above = row.value > most
                yield (
                    row,
                    "value",
                    f"the yield strength lies above the tensile {tensile[0].value.text}" if above else None,
                )


class AlloyStrengths(Sourced):
    """Strength, elongation and hardness, one figure a row, by temper, form and section, typical or a limit."""

    table = "alloy_strengths"
    key = ("uns", "property", "temper", "form", "section", "basis", "scale")
    nature = "measured"
    ruled_within = ("uns",)
    rules = (
        OF_AN_ALLOY,
        Holds("units fit", _unit_fits),
        Holds("is not above the tensile strength of the same row of its source", _yield_below_tensile),
    )

    uns: Uns
    property: Literal["tensile_strength", "yield_strength", "shear_strength", "elongation", "hardness"]
    value: NotNegative
    unit: Literal["psi", "ksi", "MPa", "%", "number"]
    temper: Text | None = None
    form: (
        Literal[
            "rod",
            "bar",
            "flat",
            "sheet",
            "strip",
            "plate",
            "tube",
            "wire",
            "shape",
            "casting",
            "sand casting",
            "permanent mold casting",
            "die casting",
            "forging",
            "any",
        ]
        | None
    ) = None
    section: Text | None = None
    basis: Literal["typical", "minimum", "maximum"]
    scale: Text | None = None
    standard: Text | None = None

    def unit_of(self, column: str) -> str:
        return self.unit

    def agreement(self, column: str) -> Fraction:
        return _STRENGTH * self.value if self.unit in ("psi", "ksi", "MPa") else Fraction(_POINTS)


class Tempers(Sourced):
    """What the code of a temper stands for, in a few words."""

    table = "tempers"
    key = ("metal", "code")
    labels = ("code", "words")
    nature = "words"

    code: Text
    metal: Literal["copper alloys", "aluminium", "stainless"]
    words: Text


class AlloyRatings(Sourced):
    """How well an alloy takes a process, in the words or letters of those who grade it."""

    table = "alloy_ratings"
    key = ("uns", "process", "temper", "scale")
    nature = "words"
    rules = (OF_AN_ALLOY,)

    uns: Uns
    process: Literal[
        "machining", "cold working", "hot forming", "soldering", "brazing", "oxyacetylene welding",
        "gas shielded arc welding", "coated metal arc welding", "spot welding", "seam welding", "butt welding",
        "polishing", "buffing", "anodizing",
    ]  # fmt: skip
    rating: Text
    scale: Text
    temper: Text | None = None


class HeatTreatments(Sourced):
    """Temperatures of annealing, stress relief, hot working and hardening."""

    table = "heat_treatments"
    key = ("uns", "treatment", "product")
    nature = "measured"
    ruled_within = ("uns",)
    rules = (OF_AN_ALLOY, Above("temperature_to", "temperature_from", equal=True))

    uns: Uns
    treatment: Literal[
        "annealing", "stress relief", "hot working", "forging", "solution treatment", "ageing", "hardening", "tempering"
    ]
    temperature_from: Figure
    temperature_to: Figure
    unit: Literal["degF", "degC"]
    time: Text | None = None
    product: Text | None = None

    def unit_of(self, column: str) -> str:
        return self.unit

    def agreement(self, column: str) -> Fraction:
        return Fraction(9 if self.unit == "degF" else 5)


def _grows_with_thickness(rows, tables):
    """A thicker sheet of one alloy and temper bends to no fewer thicknesses, in one source."""
    for group in grouped(rows, "uns", "temper", "angle_deg", "direction", "source").values():
        known = [row for row in group if row.thickness]
        known.sort(key=lambda row: row.thickness_in * Fraction("25.4") if row.thickness_in else row.thickness_mm)
        for thin, thick in zip(known, known[1:]):
            less, more = thick.radius_thicknesses, thin.radius_thicknesses
            wrong = f"a thicker sheet bends to {less.text}, fewer than {more.text}"
            yield thick, "radius_thicknesses", None if less >= more else wrong


class BendRadii(Sourced):
    """Least inside radius of a cold bend, in thicknesses of the sheet."""

    table = "bend_radii"
    key = ("uns", "temper", "angle", "direction", "thickness")
    qualifiers = ("angle_deg", "thickness_in", "thickness_mm")
    nature = "measured"
    ruled_within = ("uns",)
    rules = (
        OF_AN_ALLOY,
        Holds("is not below that of a thinner sheet", _grows_with_thickness),
    )

    uns: Uns
    temper: Text | None = None
    angle_deg: Positive | None = None
    direction: Literal["any", "good way", "bad way"]
    thickness_in: Positive | None = None
    thickness_mm: Positive | None = None
    radius_thicknesses: NotNegative

    @property
    def angle(self) -> str | None:
        return f"{self.angle_deg.text} deg" if self.angle_deg is not None else None

    @property
    def thickness(self) -> str | None:
        told = [(self.thickness_in, "in"), (self.thickness_mm, "mm")]
        return next((f"{figure.text} {unit}" for figure, unit in told if figure is not None), None)


class AlloyColours(Sourced):
    """Colour of an alloy when new and when weathered, in the words of its source."""

    table = "alloy_colours"
    key = ("uns", "state")
    nature = "words"
    rules = (OF_AN_ALLOY,)

    uns: Uns
    state: Literal["new", "aged"]
    colour: Text


class ColourMatches(Sourced):
    """Which alloy, in another form, matches the colour of a sheet alloy."""

    table = "colour_matches"
    key = ("uns", "form", "match_uns")
    nature = "words"
    rules = (OF_AN_ALLOY,)

    uns: Uns
    form: Text
    match_uns: Uns
    quality: Text | None = None


class AlloyCorrosion(Sourced):
    """How an alloy stands against one kind of corrosion, after its source."""

    table = "alloy_corrosion"
    key = ("uns", "hazard", "source")
    nature = "words"
    rules = (OF_AN_ALLOY,)

    uns: Uns
    hazard: Literal[
        "dezincification", "stress corrosion in ammonia", "stress corrosion", "sea water", "marine atmosphere",
        "industrial atmosphere", "fresh water", "pitting in chlorides", "intergranular after welding",
    ]  # fmt: skip
    rating: Text


class AlloyLimits(Sourced):
    """Limits of law on what a metal may hold or give off, with jurisdiction and year."""

    table = "alloy_limits"
    key = ("subject", "jurisdiction", "element", "applies_to", "unit")
    labels = ("rule",)
    nature = "defined"

    subject: Text
    jurisdiction: Text
    year: Text
    element: Element
    limit: NotNegative
    unit: Literal["%", "ppm", "ug/m3", "ug/cm2/week"]
    metals: Text | None = None
    applies_to: Text
    rule: Text

    def unit_of(self, column: str) -> str:
        return self.unit
