"""The steps of a hole in their order: what to do, with which tool, what to set, what to check."""

from refdata.core import store
from refdata.core.units import convert

from .geometry import point_length


def steps(plan) -> list[dict]:
    """The ordered steps of a plan as dictionaries of `do`, `tool`, `set`, `check`, all in words."""
    say, found = plan._say, []
    edge = f"{say(plan._f(plan.asked['edge']))} from the edge" if plan.asked["edge"] else "from two datum edges"
    found.append(_step("mark", "scriber, punch", edge, "the cross by rule or caliper before you punch"))
    found.append(_step("centre", _centre_drill(plan), "until its cone is seen all round", ""))
    point = f"point {say(point_length(plan.bore))} at 118 degrees"
    found.append(
        _step(
            "drill",
            f"drill {plan.drill}",
            f"travel {say(plan.travel())} from the face ({point})",
            "the screw drops through freely",
        )
    )
    found.append(_step("deburr", "countersink by hand, a turn or two", "both faces", "no burr catches a nail"))
    if plan.ball:
        found.append(_ball(plan))
    elif plan.counterbored:
        travel = f"{say(plan.depth)} deep from the face, guided by the hole"
        found.append(
            _step("counterbore", plan.seat.replace("of", "with pilot,"), travel, "the head's top by depth gauge")
        )
    elif plan.depth is not None:
        found.append(_cone(plan))
    sunk = f"{say(plan.sub)} below the face" if plan.sub else "flush with the face"
    lies = f"the head lies {sunk}" if plan.depth is not None else "the head bears all round on the face"
    found.append(_step("try the screw", "", "on the first hole before the stop is set for the others", lies))
    if plan.asked["purpose"] == "wood-screw":
        found.append(_pilot(plan))
    return found


def _step(do: str, tool: str, set: str, check: str) -> dict:
    return {"do": do, "tool": tool, "set": set, "check": check}


def _cone(plan) -> dict:
    travel = f"spindle travel {plan._say(plan.depth)} from first touch on the hole's rim; cut the first one shallow"
    return _step(
        "countersink",
        plan.seat.replace("cone of", "countersink,"),
        travel,
        f"{plan._say(plan.mouth)} across at the face",
    )


def _ball(plan) -> dict:
    travel = (
        f"spindle travel {plan._say(plan.depth)} from first touch on the hole's rim"
        f" ({plan._say(plan.deep)} from the plain face); cut the first one shallow"
    )
    return _step("ball seat", f"{plan.seat}, burr", travel, f"{plan._say(plan.mouth)} across at the face")


def _centre_drill(plan) -> str:
    """The largest centre drill whose body is no wider than the hole's mouth, or any spot drill."""
    widest = plan.mouth or plan.bore
    rows = store.records("centre_drills", "t.body_diameter_in <= ?", float(convert(widest, plan.unit, "in")))
    if not rows:
        return "centre drill or spot drill no wider than the hole"
    largest = max(rows, key=lambda row: row["body_diameter_in"].value)
    name = largest["size"] if largest["size"].startswith("#") else f"{largest['size']} mm"
    return f"centre drill {name} or smaller"


def _wood(plan):
    """The row of wood screws that a plan rests on, where it gives pilot drills."""
    if plan.asked["purpose"] != "wood-screw":
        return None
    rows = store.records("wood_screws", "t.size = ? AND t.practice = 'US'", plan.head.size)
    return rows[0] if rows and (rows[0]["pilot_hardwood"] or rows[0]["pilot_softwood"]) else None


def cited(plan) -> tuple[str, ...]:
    """Sources of the steps that are not sources of a figure."""
    row = _wood(plan)
    return (row.source,) if row else ()


def _pilot(plan) -> dict:
    """The hole in the wood under the plate."""
    row = _wood(plan)
    if row is None:
        return _step("pilot hole in the wood", "by trial in the same wood", "", "")
    told = ", ".join(f"{row[f'pilot_{wood}']} in {wood}" for wood in ("hardwood", "softwood") if row[f"pilot_{wood}"])
    return _step(
        "pilot hole in the wood", f"drill {told}", "through the plate's hole, centred", "a trial in scrap of that wood"
    )
