"""Row models of the sheet room: gauge systems, what each is for, thicknesses, rolling tolerances."""

from __future__ import annotations

from decimal import Decimal, localcontext
from fractions import Fraction
from typing import Literal

from refdata.core.rows import Positive, Sourced, Text
from refdata.core.rules import Above, Formula, Holds, Refers, grouped

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


def gauge_number(label: str) -> int:
    """The place of a gauge in its row: 18 for `18`, 0 for `0`, -2 for `3/0`."""
    return 1 - int(label[:-2]) if label.endswith("/0") else int(label)


def _awg(row) -> Fraction | None:
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
            if rises != grows or row.thickness_in == before.thickness_in:
                way = "above" if grows else "below"
                yield (
                    row,
                    "thickness_in",
                    f"{row.thickness_in.text} is not {way} {before.thickness_in.text} of No. {before.gauge}",
                )


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
        Holds("thickness runs one way", _one_way),
        Formula("thickness_in", _awg, "awg-formula", "0.005 x 92^((36 - n)/39) in"),
    )

    system: System
    gauge: Text
    thickness_in: Positive
    weight_lb_per_ft2: Positive | None = None


class SheetTolerances(Sourced):
    """Rolling tolerance of sheet thickness, plus and minus, by standard, thickness and width."""

    table = "sheet_tolerances"
    key = (
        "standard",
        "metal",
        "system",
        "gauge",
        "thickness_from_in",
        "thickness_to_in",
        "width_from_in",
        "width_to_in",
    )
    rules = (
        Above("thickness_to_in", "thickness_from_in", equal=True),
        Above("width_to_in", "width_from_in"),
    )

    standard: Text
    metal: Text
    system: System | None = None
    gauge: Text | None = None
    thickness_from_in: Positive | None = None
    thickness_to_in: Positive | None = None
    width_from_in: Positive | None = None
    width_to_in: Positive | None = None
    tolerance_in: Positive
