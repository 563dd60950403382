"""The section through a hole and its seat, to scale."""

from math import sqrt

from refdata.core.drawing import Drawing
from refdata.core.quantity import Quantity

from .geometry import half_tangent

_STEPS = 24


def section(title: str, plan: dict, unit: str) -> str:
    """The drawing of a plan as SVG: plate cut through the hole's axis, the head dashed, dimensions by letters.

    `plan` holds lengths in `unit`: thickness, hole, and where they are asked for or made, edge, mouth (diameter at
    the face), seat (depth from the face to the hole's edge), ball, bore (depth of a counterbore), rim, angle and sink
    of the head (its diameter, cone and depth of its rim under the face)."""
    half, thick = plan["hole"] / 2, plan["thickness"]
    mouth = plan.get("mouth", plan["hole"]) / 2
    reach = max(2.4 * max(mouth, half), 0.6 * thick)
    left = -plan["edge"] if plan.get("edge") and plan["edge"] <= 1.6 * reach else -reach
    # a head that stands on the face needs its room above it
    above = 0 if plan.get("angle") else min(0.0, plan.get("bore", 0.0) - plan["height"])
    sheet = Drawing(title, left, reach, above, thick)
    wall = _wall(plan, half, mouth, thick)
    for side, end in ((1, reach), (-1, left)):
        outline = [(end, 0), *((side * x, y) for x, y in wall), (end, thick)]
        sheet.shape(outline, "cut")
        sheet.shape(outline, closed=end == -plan.get("edge", 0))
    _head(sheet, plan, half, thick)
    sheet.axis(0, 0, thick)
    if plan.get("mouth"):
        sheet.across_dimension(-mouth, mouth, 0, -18, *_says("diameter at the face", plan["mouth"], unit))
    sheet.across_dimension(-half, half, thick, 20, *_says("hole", plan["hole"], unit))
    sheet.down_dimension(0, thick, reach, 14, *_says("thickness", thick, unit))
    seat = plan.get("seat")
    if seat:
        sheet.down_dimension(0, seat, mouth + (reach - mouth) * 0.35, 0, *_says("depth of the seat", seat, unit))
        sheet.down_dimension(seat, thick, mouth + (reach - mouth) * 0.6, 0, *_says("straight land", thick - seat, unit))
    if plan.get("edge"):
        if left == -plan["edge"]:
            sheet.across_dimension(left, 0, thick, 40, *_says("edge to centre", plan["edge"], unit))
        else:
            sheet.key.append(("", *_says("edge to centre (beyond this)", plan["edge"], unit)))
    return sheet.finish("Section through the axis, to scale.")


def _says(name: str, value: float, unit: str) -> tuple[str, str, str]:
    figure, other = Quantity.lengths(value, unit)
    return name, str(figure), str(other)


def _wall(plan: dict, half: float, mouth: float, thick: float) -> list[tuple[float, float]]:
    """The outline of the hole on its right side, from the face down."""
    if plan.get("ball"):
        radius = plan["ball"] / 2
        deep = plan["deep"] - radius  # of the ball's centre below the face
        top = max(0.0, deep)
        depths = [top + (plan["seat"] - top) * n / _STEPS for n in range(_STEPS + 1)]
        arc = [(sqrt(max(radius**2 - (y - deep) ** 2, 0)), y) for y in depths]
        return [*([(arc[0][0], 0)] if top else []), *arc, (half, thick)]
    if plan.get("bore"):
        return [(mouth, 0), (mouth, plan["bore"]), (half, plan["bore"]), (half, thick)]
    if plan.get("seat"):
        return [(mouth, 0), (half, plan["seat"]), (half, thick)]
    return [(half, 0), (half, thick)]


def _head(sheet: Drawing, plan: dict, half: float, thick: float) -> None:
    """The head where it comes to lie, and its shank."""
    if not plan.get("rim"):
        return
    rim, top, shank = plan["rim"] / 2, plan.get("sink", 0.0), min(plan.get("shank", 0) / 2, half)
    if plan.get("angle"):
        under = top + (rim - shank) / half_tangent(plan["angle"])
        points = [(rim, top), (shank, under), (shank, max(thick + 8 / sheet.scale, under))]
    else:
        high = plan["height"]
        floor = plan.get("bore", 0.0)
        top = floor - high
        points = [(rim, top), (rim, floor), (shank, floor), (shank, thick + 8 / sheet.scale)]
    sheet.shape([*points, *((-x, y) for x, y in reversed(points))], "part")
