"""Row models of the machining room. Advice differs from shop to shop, so every source keeps its own row."""

from __future__ import annotations

from typing import Literal

from refdata.core.rows import Positive, Sourced, Text
from refdata.core.rules import Above, Holds, grouped

Metal = Literal[
    "brass", "free-cutting brass", "bronze", "copper", "nickel silver", "cupronickel", "aluminium", "cast iron",
    "carbon steel", "alloy steel", "tool steel", "stainless steel", "titanium", "zinc", "magnesium",
]  # fmt: skip


def _near_the_others(rows, tables):
    """Advice differs, but seldom fivefold: a slip of the point does."""
    for group in grouped(rows, "metal", "operation", "tool").values():
        for row in group:
            others = [other.speed_max_ft_per_min for other in group if other is not row]
            if others:
                low, high = min(others) / 5, max(others) * 5
                speed = row.speed_max_ft_per_min
                says = f"{speed.text} is five times off what the others advise"
                yield row, "speed_max_ft_per_min", None if low <= speed <= high else says


class CuttingSpeeds(Sourced):
    """Surface speeds that handbooks and makers advise, a row for each source; the one served stands first."""

    table = "cutting_speeds"
    key = ("metal", "operation", "tool", "source")
    nature = "measured"
    labels = ("metal",)
    ask = 'spindle "1/2 in" --in "{metal}" --operation {operation}'
    rules = (
        Above("speed_max_ft_per_min", "speed_min_ft_per_min"),
        Holds("is within a factor of five of other advice", _near_the_others),
    )

    metal: Metal
    operation: Literal["drill", "mill", "turn", "ream", "tap", "countersink"]
    tool: Literal["HSS", "carbide"]
    speed_min_ft_per_min: Positive | None = None
    speed_max_ft_per_min: Positive


def _grows_with_the_cutter(rows, tables):
    for group in grouped(rows, "metal", "source").values():
        for before, row in zip(group, group[1:]):
            more, less = row.chip_load_max_in, before.chip_load_max_in
            yield row, "chip_load_max_in", None if more >= less else f"{more.text} is below that of a smaller cutter"


class ChipLoads(Sourced):
    """Feed per tooth of end mills by metal and cutter diameter."""

    table = "chip_loads"
    key = ("metal", "tool_diameter_in", "source")
    nature = "measured"
    labels = ("metal",)
    rules = (Holds("grows with the cutter", _grows_with_the_cutter),)

    metal: Metal
    tool_diameter_in: Positive
    chip_load_max_in: Positive


class DrillFeeds(Sourced):
    """Feed per turn of twist drills by their diameter."""

    table = "drill_feeds"
    key = ("drill_diameter_min_in", "drill_diameter_max_in", "source")
    nature = "measured"
    rules = (Above("feed_max_in", "feed_min_in"),)

    drill_diameter_min_in: Positive | None = None
    drill_diameter_max_in: Positive | None = None
    feed_min_in: Positive | None = None
    feed_max_in: Positive


class CuttingPower(Sourced):
    """Power at the cutter for each cubic inch a minute, sharp tools."""

    table = "cutting_power"
    key = ("metal", "condition", "source")
    nature = "measured"
    labels = ("metal",)

    metal: Metal
    condition: Text
    power_constant_hp_min_per_in3: Positive
