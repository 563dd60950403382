"""Row models of the finishing room."""

from __future__ import annotations

from refdata.core.rows import Positive, Sourced, Text
from refdata.core.rules import Above


class WheelSpeeds(Sourced):
    """Surface speeds of wheels and buffs, a row for each source."""

    table = "wheel_speeds"
    key = ("operation", "metal", "source")
    nature = "measured"
    labels = ("operation",)
    rules = (Above("speed_max_ft_per_min", "speed_min_ft_per_min"),)

    operation: Text
    metal: Text | None = None
    speed_min_ft_per_min: Positive | None = None
    speed_max_ft_per_min: Positive
