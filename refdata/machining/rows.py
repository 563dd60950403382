"""Row models of the machining room. Advice differs from shop to shop, so every source keeps its own row."""

from __future__ import annotations

from typing import Literal

from refdata.core.rows import Positive, Sourced, Text
from refdata.core.rules import Above

Metal = Literal[
    "brass", "free-cutting brass", "bronze", "copper", "nickel silver", "cupronickel", "aluminium", "cast iron",
    "carbon steel", "alloy steel", "tool steel", "stainless steel", "titanium", "zinc", "magnesium",
]  # fmt: skip


class CuttingSpeeds(Sourced):
    """Surface speeds that handbooks and makers advise, a row for each source; the one served stands first."""

    table = "cutting_speeds"
    key = ("metal", "operation", "tool", "source")
    nature = "measured"
    labels = ("metal",)
    ask = 'spindle "1/2 in" --in "{metal}" --operation {operation}'
    rules = (Above("speed_max_ft_per_min", "speed_min_ft_per_min"),)

    metal: Metal
    operation: Literal["drill", "mill", "turn", "ream", "tap", "countersink"]
    tool: Literal["HSS", "carbide"]
    speed_min_ft_per_min: Positive | None = None
    speed_max_ft_per_min: Positive


class ChipLoads(Sourced):
    """Feed per tooth of end mills by metal and cutter diameter."""

    table = "chip_loads"
    key = ("metal", "tool_diameter_in", "source")
    nature = "measured"
    labels = ("metal",)
    rules = (Above("chip_load_max_in", "chip_load_min_in"),)

    metal: Metal
    tool_diameter_in: Positive
    chip_load_min_in: Positive | None = None
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
