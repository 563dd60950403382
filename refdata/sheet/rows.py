"""Row models of the sheet room: gauge systems, what each is for, thicknesses, rolling tolerances."""

from __future__ import annotations

from decimal import Decimal, localcontext
from fractions import Fraction
from typing import Literal

from refdata.core.rows import Positive, Sourced, Text
from refdata.core.rules import Above, Formula, Holds, Refers, grouped

from .labels import gauge_number

System = Literal[
    "manufacturers",
    "galvanized",
    "us-standard",
    "brown-sharpe",
    "birmingham",
    "imperial",
    "washburn-moen",
    "zinc",
    "copper-ounce",
]
Form = Literal["sheet", "wire", "tube"]
_AWG_DIGITS = 40  # far beyond any printed digit


def _awg(row, tables) -> Fraction | None:
    """0.005 in at No. 36, growing by the 39th root of 92 a step (ASTM B258)."""
    if row.system != "brown-sharpe":
        return None
    with localcontext() as context:
        context.prec = _AWG_DIGITS
        steps = Decimal(36 - gauge_number(row.gauge)) / 39
        return Fraction(Decimal("0.005") * Decimal(92) ** steps)


def _one_way(rows, tables):
    """Thickness falls with the gauge number in every system but zinc and copper-ounce, where it grows."""
    for (system,), group in grouped(rows, "system").items():
        grows = system in ("zinc", "copper-ounce")
        ordered = sorted(group, key=lambda row: gauge_number(row.gauge))
        for before, row in zip(ordered, ordered[1:]):
            rises = row.thickness_in > before.thickness_in
            wrong = rises != grows or row.thickness_in == before.thickness_in
            way = "above" if grows else "below"
            says = f"{row.thickness_in.text} is not {way} {before.thickness_in.text} of No. {before.gauge}"
            yield row, "thickness_in", says if wrong else None


# Pounds per square foot for an inch of thickness: wrought iron in the law of 1893 (640 ounces), steel in the trade
_IRON, _STEEL = Fraction(40), Fraction(4182, 100)
_ZINC_COAT = Fraction(5, 32)  # 2.5 ounces per square foot
_COPPER = 144 * Fraction(322, 1000)  # density 0.322 lb/in3


def _law_weight(row, tables) -> Fraction | None:
    """Pounds per square foot that the law of 1893 gives to this gauge number, in iron of its thickness."""
    law = (r for r in tables.get("gauges", ()) if r.system == "us-standard" and r.gauge == row.gauge)
    return next((r.weight_lb_per_ft2 or _IRON * r.thickness_in for r in law), None)


def _sheet_weight(row, tables) -> Fraction | None:
    """Weight that the system gives its number: that of the law, with the zinc, or the ounces that it is named by."""
    if row.system == "copper-ounce":
        return Fraction(int(row.gauge), 16)
    if row.system == "us-standard":
        return _IRON * row.thickness_in
    weight = _law_weight(row, tables) if row.system in ("manufacturers", "galvanized") else None
    return weight + _ZINC_COAT if weight and row.system == "galvanized" else weight


def _sheet_thickness(row, tables) -> Fraction | None:
    """Thickness from the weight: iron 40, steel 41.82, copper 46.368 pounds per square foot for an inch."""
    if row.system == "us-standard":
        return row.weight_lb_per_ft2 and row.weight_lb_per_ft2 / _IRON
    weight = _sheet_weight(row, tables)
    return weight and weight / (_COPPER if row.system == "copper-ounce" else _STEEL)


class GaugeSystems(Sourced):
    """The nine gauge systems."""

    table = "gauge_systems"
    key = ("system",)
    nature = "words"
    labels = ("system", "name")

    system: System
    name: Text
    standard: Text | None = None
    note: Text | None = None


class GaugeUses(Sourced):
    """Which system is used for which metal and form, where. `usual` marks the daily rule where practice is mixed."""

    table = "gauge_uses"
    key = ("system", "metal", "form", "practice")
    nature = "words"
    rules = (Refers("system", "gauge_systems", "system"),)

    system: System
    metal: Text
    form: Form
    practice: Literal["US", "UK"]
    usual: Literal["yes"] | None = None


class Gauges(Sourced):
    """Thickness of each gauge number."""

    table = "gauges"
    key = ("system", "gauge")
    labels = ("gauge",)
    ask = "gauge {gauge} --system {system}"
    rules = (
        Refers("system", "gauge_systems", "system"),
        Holds("runs one way with the gauge number", _one_way),
        Formula("thickness_in", _awg, "awg-formula", "0.005 x 92^((36 - n)/39) in"),
        Formula("thickness_in", _sheet_thickness, "sheet-weight", "weight/40 (iron), /41.82 (steel), /46.368 (copper)"),
        Formula(
            "weight_lb_per_ft2", _sheet_weight, "sheet-weight", "weights of the 1893 law; zinc + 2.5 oz/ft2; oz/16"
        ),
    )

    system: System
    gauge: Text
    thickness_in: Positive
    weight_lb_per_ft2: Positive | None = None


class SheetTolerances(Sourced):
    """Rolling tolerance of sheet thickness, plus and minus, by standard and thickness."""

    table = "sheet_tolerances"
    key = (
        "standard",
        "metal",
        "system",
        "gauge",
        "thickness_from_in",
        "thickness_to_in",
    )
    rules = (Above("thickness_to_in", "thickness_from_in", equal=True),)

    standard: Text
    metal: Text
    system: System | None = None
    gauge: Text | None = None
    thickness_from_in: Positive | None = None
    thickness_to_in: Positive | None = None
    tolerance_in: Positive
