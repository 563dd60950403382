"""The questions `spindle` and `passes`: speed, feed and power for a cutter, and the depth steps of a pocket."""

import re
from math import ceil, pi

from refdata.alloys.alloy import alloy, metal_named
from refdata.core import store
from refdata.core.errors import NotFound, NotUnderstood, Refused
from refdata.core.numbers import leading_number, plain
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Above, FromZero, ListReader, Metal, choice, count, measured
from refdata.core.results import Result
from refdata.core.units import inch_or_mm

Operation = choice(
    "operation",
    {
        "drill": ("drilling",),
        "mill": ("milling",),
        "turn": ("turning",),
        "ream": ("reaming",),
        "tap": ("tapping",),
        "countersink": (),
    },
    "operation: drill, mill, turn, ream, tap or countersink",
)
Tool = choice("tool material", {"HSS": ("hss", "high-speed steel"), "carbide": ()}, "tool: HSS or carbide")
Speed = measured("surface speed", "speed", "surface speed: 100 ft/min, 30 m/min", ("100 ft/min", "30 m/min"))
Flutes = count("number of flutes", "number of flutes", 40)
CAUTIONS = (
    "Milling and drilling: clamp the work, no gloves or loose sleeves at a turning spindle, chips by brush and never by"
    " hand, eye protection; the cutter's and the machine's marked maximum come first.",
)


class Speeds(tuple):
    """The speeds that a machine has, in turns a minute."""

    def __str__(self) -> str:
        return ", ".join(f"{one:g}" for one in self)


def read_speeds(text: str) -> Speeds:
    """Speeds as written: `290, 500, 870, 1450`. Raises NotUnderstood."""
    found = []
    for word in filter(None, re.split(r"[,;\s]+", plain(text).lower().replace("rpm", " "))):
        number = leading_number(word)
        if not number or number[2] or not 0 < number[0] <= 100_000:
            raise NotUnderstood(f'"{word}" is not a spindle speed', ["290, 500, 870, 1450"])
        found.append(float(number[0]))
    if not found:
        raise NotUnderstood("no spindle speed is named", ["290, 500, 870, 1450"])
    return Speeds(sorted(set(found)))


MachineSpeeds = ListReader(
    "machine's speeds", read_speeds, "speeds that the machine has: 290, 500, 870", ("290, 500, 870",)
)


class Spindle(Result):
    """A spindle speed with the surface speed it gives, the range advised, feed, removal rate and power at the
    cutter."""

    HEADLINE = "speed"
    IN_CAPTION = ("operation", "metal", "tool")
    operation: str
    metal: str
    tool: str
    diameter: Quantity
    speed: Quantity
    surface_speed: Quantity
    advised_from: Quantity | None
    advised_to: Quantity
    others_from: Quantity | None
    others_to: Quantity | None
    chip_load: Quantity | None
    feed: Quantity | None
    removal_rate: Quantity | None
    power: Quantity | None

    @property
    def caption(self) -> str:
        return f"to {self.operation} {self.metal} with {self.diameter} {self.tool}"


@question
def spindle(
    diameter: Above, *, in_: Metal, operation: Operation = "drill", tool: Tool = "HSS", flutes: Flutes = None,
    surface: Speed = None, machine: MachineSpeeds = None, width: Above = None, depth: Above = None, chip: Above = None,
) -> Spindle:  # fmt: skip
    """Spindle speed for a cutter in a metal, from the low end of what is advised; feed, power.

    `diameter` is the cutter's (the work's when turning). `surface` overrides the table; `machine` lists the speeds it
    has: the nearest at or below is taken. `flutes` gives the feed of a mill, `chip` its chip load; `width` and
    `depth` of cut give removal rate and power. n = 12 V/(pi D); F = n z fz; P = Kp Q. Raises NotFound, Refused,
    NotUnderstood.

    >>> import refdata
    >>> refdata.spindle("1/2 in", in_="brass", surface="80 ft/min").speed
    <611 rpm · computed>
    """
    across = float(diameter.to("in").exact)
    metal, own, cautions = _metal(in_)
    rows = store.records(
        "cutting_speeds", "t.metal IN (?, ?) AND t.operation = ? AND t.tool = ?", metal, own, operation, tool
    )
    rows.sort(key=lambda row: row["metal"] != metal)
    if not rows and surface is None:
        raise NotFound(f"no speed to {operation} {metal} with {tool} in the tables", _known(metal, operation, tool))
    low, high = (rows[0]["speed_min_ft_per_min"], rows[0]["speed_max_ft_per_min"]) if rows else (None, surface)
    wanted = surface or low or high
    part, why = (1.0, []) if surface else _ease(in_, metal)
    per_foot = 12 / (pi * across)
    ideal = part * float(wanted.to("ft/min").exact) * per_foot
    most = float((surface or high).to("ft/min").exact) * per_foot
    turns, more = _of_machine(ideal, most, machine) if machine else (ideal, [])
    if width and width.to("in").exact > diameter.to("in").exact and operation == "mill":
        raise Refused(f"a cut of {width} is wider than the cutter of {diameter}", ["a narrower cut", "two passes"])
    chip, feed, told = _feed(operation, metal, across, turns, flutes, chip)
    told += [*more, *why, *_beyond(rows, surface)]
    rate, power = _power(metal, width, depth, feed)
    if power:
        told.append(
            "power at the cutter with the largest constant of the table for this metal; the motor gives a third more"
        )
    spread = [q for row in rows[1:] for q in (row["speed_min_ft_per_min"], row["speed_max_ft_per_min"]) if q]
    return Spindle(
        operation=operation, metal=metal, tool=tool, diameter=diameter, speed=Quantity.computed(turns, "rpm", 3),
        surface_speed=Quantity.computed(pi * across * turns / 12, "ft/min", 3),
        advised_from=low if rows else None, advised_to=high,
        others_from=_bare(min(spread, key=float, default=None)), others_to=_bare(max(spread, key=float, default=None)),
        chip_load=chip, feed=feed, removal_rate=rate, power=power, cautions=[*CAUTIONS, *cautions],
        notes=[*told, *_starting(rows, surface, metal, operation)],
    )  # fmt: skip


def _of_machine(ideal: float, most: float, speeds: Speeds) -> tuple[float, list[str]]:
    """The fastest speed of a machine that is not above the ideal one, or its slowest where that is still within what is
    advised, and what is to be said of it. Raises Refused."""
    slower = [one for one in speeds if one <= ideal * 1.0001]
    if slower:
        return max(slower), []
    if speeds[0] > most * 1.0001:
        raise Refused(
            f"the slowest speed of {speeds[0]:g} rpm is above {most:.0f} rpm", ["a smaller cutter", "hand feed"]
        )
    return speeds[0], [f"the machine's slowest speed: above the {ideal:.0f} rpm to start with, within what is advised"]


def _ease(said: str, metal: str) -> tuple[float, list[str]]:
    """The part of the advised speed to start with in an alloy of copper, and why: advice on brass and bronze is for the
    free-cutting ones. Handbooks give naval and silicon bronze about 0.6 of their speed, phosphor bronze 0.3."""
    if metal not in ("brass", "bronze"):
        return 1.0, []
    try:
        ratings = [q.value for q in alloy(said).machinability if q.qualifiers["scale"] == "C36000 = 100"]
    except LookupError:  # a word for many alloys, or for none of the tables
        ratings = []
    if not ratings:
        return 1.0, [f"advice on {metal} is for the free-cutting kinds: start at half of it in the others"]
    part = 1.0 if max(ratings) >= 70 else 0.6 if max(ratings) >= 30 else 0.3
    why = f"{part:g} of the advice on {metal}, which is for free-cutting kinds (common practice)"
    return part, [f"{why}: machinability {max(ratings):g} % of C36000"] if part < 1 else []


def _beyond(rows, surface: Quantity | None) -> list[str]:
    """What is to be said of a surface speed that is faster than any advice of the tables."""
    advised = max((row["speed_max_ft_per_min"].value for row in rows), default=None)
    if surface is None or advised is None or surface.to("ft/min").value <= advised:
        return []
    return [f"{surface} is faster than any advice here, {advised:g} ft/min at most: the tool will burn"]


def _bare(q: Quantity | None) -> Quantity | None:
    return q and Quantity(q.text, q.unit, q.source, q.standing)


_OF_WORK = {
    "tap": ("the feed is the pitch for each turn: by hand, or with a tapping head or a spindle that reverses",),
    "ream": ("many ream at half the speed of the drill, by hand feed, with oil; never turn a reamer backwards",),
}


def _starting(rows, surface, metal: str, operation: str) -> list[str]:
    notes = []
    if rows and surface is None:
        notes.append(
            "the low end of the advice: raise it while the tool stays cool, lower it at a squeal or blue chips"
        )
    if metal in ("brass", "free-cutting brass"):
        notes.append(
            "brass takes a wide range of feeds with HSS; a slower spindle than the book is no fault where chips fly"
        )
    return [*notes, *_OF_WORK.get(operation, ())]


def _metal(said: str) -> tuple[str, str, tuple[str, ...]]:
    """The family of the tables that a name stands for, the metal's own name (free-cutting brass has rows of its own
    beside those of brass), and its cautions."""
    known = [row[0] for row in store.select("SELECT DISTINCT metal FROM cutting_speeds")]
    word = " ".join(said.lower().split()).replace("aluminum", "aluminium")
    try:
        name, family, cautions = metal_named(said)
    except NotFound:
        if word in known:
            return word, word, ()
        raise
    return family, name.partition(" ")[2] or word, cautions


def _known(metal: str, operation: str, tool: str) -> list[str]:
    """What the tables have instead: the metal with the same operation or tool, else other metals with both."""
    rows = store.select(
        "SELECT DISTINCT operation, tool FROM cutting_speeds WHERE metal = ? AND (operation = ? OR tool = ?)",
        metal, operation, tool,
    )  # fmt: skip
    if rows:
        return [f"{one} with {made}" for one, made in rows]
    rows = store.select("SELECT DISTINCT metal FROM cutting_speeds WHERE operation = ? AND tool = ?", operation, tool)
    return [row[0] for row in rows] or ["--surface '80 ft/min' of your own"]


def _feed(operation: str, metal: str, across: float, turns: float, flutes: int | None, chip: Quantity | None):
    """Chip load (feed per tooth, or per turn of a drill), feed, and what was assumed."""
    if operation == "drill":
        rows = store.records(
            "drill_feeds",
            "coalesce(t.drill_diameter_min_in, 0) <= ? AND coalesce(t.drill_diameter_max_in, 1e9) > ?",
            across,
            across,
        )
        chip = chip or (rows and (rows[0]["feed_min_in"] or rows[0]["feed_max_in"])) or None
        return chip, _rate(turns, chip), ["feed per turn of the drill"] if chip else []
    if operation != "mill":
        return chip, None, []
    own = chip is not None
    if chip is None:
        rows = store.records("chip_loads", "t.metal = ?", metal)
        near = [row for row in rows if row["tool_diameter_in"] <= across * 1.001]
        chosen = max(near, key=lambda row: row["tool_diameter_in"], default=None)
        chip = chosen and chosen["chip_load_max_in"]
    if chip is None or flutes is None:
        return chip, None, ["--flutes gives the feed"] if chip else []
    return (
        chip,
        _rate(turns * flutes, chip),
        [] if own else ["chip load of the next smaller cutter of the table; start at half of it by hand"],
    )


def _rate(per_minute: float, chip: Quantity | None) -> Quantity | None:
    return chip and Quantity.computed(per_minute * float(chip.to("in").exact), "in/min", 3)


def _power(metal: str, width: Quantity | None, depth: Quantity | None, feed: Quantity | None):
    if width is None or depth is None or feed is None:
        return None, None
    rate = float(width.to("in").exact) * float(depth.to("in").exact) * float(feed.exact)
    constants = [
        row["power_constant_hp_min_per_in3"].value for row in store.records("cutting_power", "t.metal = ?", metal)
    ]
    power = Quantity.computed(max(constants) * rate, "hp", 2) if constants else None
    return Quantity.computed(rate, "in3/min", 3), power


_DEEP = 4


class Passes(Result):
    """Depth steps of a pocket: the final depth of each pass, what is left at the walls, the corner radius left."""

    HEADLINE = "step"
    passes: int
    step: Quantity
    depths: list
    allowance: Quantity
    corner_radius: Quantity

    @property
    def caption(self) -> str:
        return f"a pass, {self.passes} passes"

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        told = super().lines(units, (*skip, "depths"))
        return told + [(f"pass {at}", f"to {depth}") for at, depth in enumerate(self.depths, 1)]


@question
def passes(
    depth: Above, *, step: Above, cutter: Above, allowance: FromZero = "0.005 in", floor: FromZero = "0 in"
) -> Passes:
    """Equal depth steps of a pocket, what is left at its walls, the corner radius left.

    `step` is the most that one pass may take, `cutter` the *measured* width of its slot; `allowance` per side (five
    thousandths is common practice); `floor` is left for a last pass over the floor. Raises NotUnderstood, Refused.

    >>> import refdata
    >>> [one.figure for one in refdata.passes("1/4 in", step="0.100 in", cutter="3/8 in").depths]
    ['0.083', '0.167', '0.250']
    """
    unit = inch_or_mm(depth.unit)
    deep, most, wide, side, last = (float(q.to(unit).exact) for q in (depth, step, cutter, allowance, floor))
    if side >= wide:
        raise Refused(f"{allowance} left a side is more than a cutter of {cutter} takes", ["--allowance '0.005 in'"])
    if last >= deep:
        raise Refused(f"{floor} left on the floor is more than the pocket's {depth}", ["--floor '0.005 in'"])
    number = max(ceil((deep - last) / most - 1e-9), 1)
    if number > 1000:
        raise Refused(f"{number} passes are no way to work", ["a larger step"])
    each = (deep - last) / number
    depths = [Quantity.length(each * n, unit) for n in range(1, number + 1)]
    if last:
        depths.append(Quantity.length(deep, unit))
    slender = deep > _DEEP * wide
    last_cut = "take it last, in several depths" if slender else "take it in one pass at full depth"
    notes = [f"leave the allowance at every wall and {last_cut}; no climbing where the slide has play"]
    if most > wide:
        notes.append("a step deeper than the cutter is wide bends it: half of its width is plenty in a slot")
    if slender:
        notes.append(
            f"{deep / wide:.1f} times as deep as the cutter is wide: an ordinary cutter neither reaches nor stays stiff"
            f" beyond some {_DEEP} (common practice); take a wider or a long one"
        )
    return Passes(
        passes=len(depths),
        step=Quantity.length(each, unit),
        depths=depths,
        allowance=allowance,
        corner_radius=Quantity.length(wide / 2, unit),
        notes=notes,
        cautions=CAUTIONS,
    )
