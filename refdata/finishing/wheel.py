"""The question `wheel`: the surface speed of a wheel or buff, and whether it may run so."""

from math import pi

from refdata.alloys.alloy import metal_named
from refdata.core import store
from refdata.core.errors import NotUnderstood, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Length, Metal, Word, measured
from refdata.core.results import Result

Turns = measured("speed in turns", "rotation", "speed: 3450 rpm", ("3450 rpm",), bare="rpm")
BUFFING = (
    "Buffing: the wheel grabs edges and throws the part; hold it below the centre line with the edge trailing, never"
    " gloves or loose sleeves, no thin strip or chain; eye protection, dust extracted, no one in the"
    " plane of the wheel.",
    "A wheel never runs above its marked maximum; ring a stone before mounting, stand aside for the first minute.",
)


class Wheel(Result):
    """Surface speed of a wheel and the range advised for its work."""

    HEADLINE = "surface_speed"
    CAUTIONS_FIRST = True
    IN_CAPTION = ("operation",)
    operation: str
    diameter: Quantity
    speed: Quantity
    surface_speed: Quantity
    advised_from: Quantity | None
    advised_to: Quantity | None
    fitting_speed: Quantity | None

    @property
    def caption(self) -> str:
        return f"surface speed, {self.operation}"


@question
def wheel(
    diameter: Length, *, speed: Turns, operation: Word = "buffing", in_: Metal = None, marked: Turns = None
) -> Wheel:
    """Surface speed of a wheel and the range for its work; refused above the marked maximum.

    `speed` in rpm, `marked` the maximum on the wheel, `operation` as buffing, polishing, satin finishing, wire wheel,
    grinding wheel. v = pi D n/12. Ranges from the table of wheel speeds. Raises Refused, NotUnderstood.

    >>> import refdata
    >>> refdata.wheel("8 in", speed="3450 rpm").surface_speed
    <7226 ft/min · computed>
    """
    across, turns = float(diameter.to("in").exact), float(speed.to("rpm").exact)
    if min(across, turns) <= 0:
        raise NotUnderstood("a wheel has diameter and speed above nothing", ["8 in at 3450 rpm"])
    if marked is not None and turns > float(marked.to("rpm").exact):
        raise Refused(
            f"{speed} is above the wheel's marked maximum of {marked}", ["a slower spindle", "a wheel marked for it"]
        )
    _, family, of_metal = metal_named(in_) if in_ else (None, None, ())
    row = _advice(operation.lower(), family)
    low, high = (row["speed_min_ft_per_min"], row["speed_max_ft_per_min"]) if row else (None, None)
    value = pi * across * turns / 12
    notes = []
    if high and value > high.value * 1.0001:
        notes.append(f"faster than the {high} advised: a smaller wheel or a slower spindle")
    elif low and value < low.value or (high and not low and value < high.value / 3):
        notes.append(
            "much slower than advised: it is safe, and slow work"
            if not low
            else f"slower than the {low} advised: safe, and slow work"
        )
    fitting = high and Quantity.computed(12 * high.value / (pi * across), "rpm", 3)
    return Wheel(
        operation=(row["operation"] if row else operation), diameter=diameter, speed=speed,
        surface_speed=Quantity.computed(value, "ft/min", 4), advised_from=low, advised_to=high, fitting_speed=fitting,
        cautions=[*BUFFING, *of_metal], notes=notes or ["within what is advised"] * bool(high),
    )  # fmt: skip


def _advice(operation: str, family: str | None) -> store.Record | None:
    """The row of the table for an operation, for the metal's own family where there is one. Raises NotUnderstood."""
    rows = [row for row in store.records("wheel_speeds") if row["operation"].startswith(operation)]
    if not rows:
        known = list(dict.fromkeys(row["operation"] for row in store.records("wheel_speeds")))
        from refdata.core.reading import nearest

        raise NotUnderstood(f'"{operation}" is no work of a wheel in the tables', nearest(operation, known, known))
    rows = [row for row in rows if row["metal"] == family] or rows
    return next((row for row in rows if family or row["metal"] is None), rows[0])
