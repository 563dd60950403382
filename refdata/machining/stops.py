"""The question `stops`: stop-to-stop travel and spacers for a pocket milled against set stops."""

from refdata.core.errors import Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Above, FromZero
from refdata.core.results import Result
from refdata.core.units import inch_or_mm

from .spindle import CAUTIONS


class Stops(Result):
    """Travel between the stops of each axis, final and roughing, the spacer that makes the difference, where the
    cutter's axis stands at the first walls, and the corner radius left."""

    HEADLINE = "travel_x"
    travel_x: Quantity
    travel_y: Quantity
    roughing_x: Quantity
    roughing_y: Quantity
    spacer: Quantity
    first_x: Quantity
    first_y: Quantity
    corner_radius: Quantity

    @property
    def caption(self) -> str:
        return "travel in X between the stops, final"


@question
def stops(
    length: Above,
    *,
    width: Above,
    cutter: Above,
    allowance: FromZero = "0.005 in",
    wall_x: FromZero = "0 in",
    wall_y: FromZero = "0 in",
) -> Stops:
    """Stop-to-stop travel for a pocket, roughing and final, and the spacer for roughing.

    `length` (X) and `width` (Y) of the pocket; `cutter` is the *measured* width of a slot it cuts, not its mark;
    `allowance` per side for the last pass; `wall_x`, `wall_y` from the datum edge to the pocket. Travel = pocket -
    slot, roughing = travel - 2 allowances. Raises Refused, NotUnderstood.

    >>> import refdata
    >>> refdata.stops("1.250 in", width="0.750 in", cutter="0.3725 in").travel_x
    <0.8775 in · computed>
    """
    unit = inch_or_mm(length.unit)
    long, wide, slot, side, at_x, at_y = (q.to(unit).exact for q in (length, width, cutter, allowance, wall_x, wall_y))
    if slot > min(long, wide):
        raise Refused(f"a cutter that cuts {cutter} is wider than the pocket", ["a smaller cutter"])
    if slot + 2 * side > min(long, wide):
        raise Refused(f"{allowance} a side leaves no travel for roughing", ["a smaller allowance", "a smaller cutter"])

    def fine(value) -> Quantity:
        return Quantity(f"{float(value):.{4 if unit == 'in' else 3}f}", unit, exact=value)

    return Stops(
        travel_x=fine(long - slot),
        travel_y=fine(wide - slot),
        roughing_x=fine(long - slot - 2 * side),
        roughing_y=fine(wide - slot - 2 * side),
        spacer=fine(side),
        first_x=fine(at_x + slot / 2),
        first_y=fine(at_y + slot / 2),
        corner_radius=fine(slot / 2),
        cautions=CAUTIONS,
        notes=[
            "mill a test slot in the same metal and measure it: the cutter's mark is not its width",
            "a spacer of the allowance at each of the four stops for roughing; take them out for the last pass",
        ],
    )
