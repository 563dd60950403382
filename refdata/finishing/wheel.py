"""The question `wheel`: the surface speed of a wheel or buff, and whether it may run so."""

from math import pi

from refdata.alloys.alloy import metal_named
from refdata.core import store
from refdata.core.errors import NotUnderstood, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Length, Metal, Word, measured
from refdata.core.results import Result

from . import dust

Turns = measured("speed in turns", "rotation", "speed: 3450 rpm", ("3450 rpm",), bare="rpm")


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

    def __init__(self, *, verdict: str | None = None, **values):
        self.__dict__["_verdict"] = verdict  # leads the answer where the wheel runs faster than advised
        super().__init__(**values)

    @property
    def caption(self) -> str:
        return f"{self._verdict} ({self.operation})" if self._verdict else f"surface speed, {self.operation}"


@question
def wheel(diameter: Length, *, speed: Turns, operation: Word = None, in_: Metal = None, marked: Turns = None) -> Wheel:
    """Surface speed of a wheel and the range for its work; refused above the marked maximum.

    `speed` in rpm, `marked` the maximum on the wheel, `operation` as buffing (taken where none is named), polishing,
    satin finishing, wire wheel, grinding wheel. v = pi D n/12. Ranges from the table of wheel speeds; above the highest
    of them, or half as fast again as advised, the answer of an unmarked wheel leads with TOO FAST. Raises Refused,
    NotUnderstood.

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
    row, fastest = _advice((operation or "buffing").lower(), family)
    low, high = row["speed_min_ft_per_min"], row["speed_max_ft_per_min"]
    value = pi * across * turns / 12
    verdict = _verdict(value, high.value, fastest["speed_max_ft_per_min"].value, marked is not None)
    first, others = dust.of_metal(of_metal)
    leads = [f"{verdict}."] if verdict and verdict.startswith("TOO FAST") else []
    return Wheel(
        operation=row["operation"], diameter=diameter, speed=speed, verdict=verdict,
        surface_speed=Quantity.computed(value, "ft/min", 4), advised_from=low, advised_to=high,
        fitting_speed=Quantity.computed(12 * high.value / (pi * across), "rpm", 3),
        cautions=[*first, *leads, *dust.of_work(row["operation"]), *others],
        notes=[*([] if operation else [_ASSUMED]), _judged(value, row, fastest), *([_OF_SPEED_ONLY] if first else [])],
    )  # fmt: skip


_ASSUMED = "taken for a buff, since no --operation was named: other wheels have other limits"
_OF_SPEED_ONLY = "that is said of the speed alone: the dust of this metal comes first"
_NEAR = 1.0001  # a speed so near a limit is the limit, rounded
_FAR = 1.5  # times what is advised: one source that goes further does not make it right


def _verdict(value: float, high: float, highest: float, marked: bool) -> str | None:
    """What leads the answer where the speed is above what is advised, or above the highest advised for such work; the
    maker's mark on a wheel, which it keeps to, goes before advice on wheels in general."""
    if value > high * _NEAR and marked:
        return "faster than advised for such wheels in general, yet within this wheel's own mark"
    highest = high if value > _FAR * high else highest
    if value > highest * _NEAR:
        times = value / highest
        much = f"{times:.1f} times" if times >= 1.1 else "a little over"
        mark = "" if times > _FAR else " unless the mark on the wheel allows it (--marked)"
        return (
            f"TOO FAST: {much} {'what' if highest == high else 'the highest that'} is advised: do not run it so{mark}"
        )
    return "faster than advised, yet within the highest advised for such work" if value > high * _NEAR else None


def _judged(value: float, row: store.Record, fastest: store.Record) -> str:
    """How a surface speed in ft/min stands to the range of a row, and to the highest advised for such work."""
    low, high, highest = row["speed_min_ft_per_min"], row["speed_max_ft_per_min"], fastest["speed_max_ft_per_min"]
    if value > high.value * _NEAR:
        other = "by another source" if fastest["operation"] == row["operation"] else f"for {fastest['operation']}"
        told = f", {highest} {other}" if highest.value > high.value else ""
        return f"faster than the {high} advised{told}: a smaller wheel or a slower spindle"
    if low and value < low.value:
        return f"slower than the {low} advised: safe, and slow work"
    if not low and value < high.value / 3:
        return "much slower than advised: it is safe, and slow work"
    return "the speed is within what is advised"


def _advice(operation: str, family: str | None) -> tuple[store.Record, store.Record]:
    """The row of the table for an operation, for the metal's own family where there is one, and the one that
    advises the highest speed for such work. Raises NotUnderstood."""
    every = store.records("wheel_speeds")
    rows = [row for row in every if row["operation"].startswith(operation)] if len(operation) > 2 else []
    if not rows:
        known = list(dict.fromkeys(row["operation"] for row in every))
        from refdata.core.reading import nearest

        raise NotUnderstood(f'"{operation}" is no work of a wheel in the tables', nearest(operation, known, known))
    rows = [row for row in rows if row["metal"] == family] or rows
    chosen = next((row for row in rows if family or row["metal"] is None), rows[0])
    return chosen, max(rows, key=lambda row: row["speed_max_ft_per_min"].value)
