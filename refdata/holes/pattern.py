"""The question `pattern`: hole coordinates from datum edges, as dial moves taken from one side."""

from fractions import Fraction
from math import cos, dist, pi, sin

from refdata.core.errors import NotUnderstood, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Above, Length, amount, choice, count
from refdata.core.results import Result
from refdata.core.units import inch_or_mm

Kind = choice(
    "pattern",
    {"row": ("line", "strip"), "rectangle": ("grid", "rect"), "circle": ("bolt circle", "ring")},
    "pattern: row, rectangle or circle",
)
MOST_HOLES = 500
Holes = count("number of holes", "number of holes", 360)
Start = amount(
    "start angle", "deg", "angle of the first hole, anticlockwise from the X axis", "-360", "360", ("0", "45")
)


class PatternHole(Result):
    """One hole: its place from the two datum edges, the dial moves from the hole before, and its distance from the
    first hole and the one before, to check with a caliper."""

    HEADER = ("hole", "x", "y", "move x", "move y", "from hole 1", "from the last")
    hole: int
    x: Quantity
    y: Quantity
    move_x: Quantity
    move_y: Quantity
    from_first: Quantity
    from_last: Quantity

    def headline(self) -> list[str]:
        places = (self.x, self.y, self.move_x, self.move_y, self.from_first, self.from_last)
        return [str(self.hole), *(str(place) for place in places)]


@question
def pattern(
    kind: Kind, *, x: Length, y: Length, holes: Holes = None, pitch: Above = None, columns: Holes = None,
    rows: Holes = None, pitch_y: Above = None, diameter: Above = None, start: Start = "0", tip: Above = None,
) -> list[PatternHole]:  # fmt: skip
    """Hole coordinates from two datum edges, with the dial moves and the distances to check.

    A row has `holes` along X at `pitch`; a rectangle `columns` by `rows` at `pitch` and `pitch_y`; a circle `holes`
    on `diameter`, the first at `start`. `x` and `y` are the first hole's (a circle's centre's) distances from the
    edges. With `tip`, the edge finder's diameter, the moves of hole 1 start from its axis where it touches the edges,
    else from the edges themselves. Coordinates are rounded to the thousandth of an inch or the hundredth of a
    millimetre, so that the moves add up to them. Raises NotUnderstood.

    >>> import refdata
    >>> [hole.x.figure for hole in refdata.pattern("row", x="1/2 in", y="3/8 in", holes=3, pitch="0.75 in")]
    ['0.500', '1.250', '2.000']
    """
    unit = inch_or_mm((x if x.exact else y).unit)
    given = {"pitch": pitch, "pitch_y": pitch_y, "diameter": diameter}
    sizes = {name: float(q.to(unit).exact) for name, q in given.items() if q is not None}
    corner = (float(x.to(unit).exact), float(y.to(unit).exact))
    places = _PLACES[kind](corner, sizes, holes, columns, rows, float(start.exact) * pi / 180)
    # with its tip against an edge from outside, the spindle's axis stands half the tip before the edge
    touch = -float(tip.to(unit).exact) / 2 if tip else 0.0
    if len(places) > MOST_HOLES:
        raise Refused(f"{len(places)} holes are more than a plan of moves is read by", [f"at most {MOST_HOLES} holes"])
    return _moves(places, touch, unit)


def _row(corner, sizes, holes, columns, rows, start):
    _need("row", holes=holes, pitch=sizes.get("pitch"))
    return [(corner[0] + n * sizes["pitch"], corner[1]) for n in range(holes)]


def _rectangle(corner, sizes, holes, columns, rows, start):
    _need("rectangle", columns=columns, rows=rows, pitch=sizes.get("pitch"))
    down = sizes.get("pitch_y", sizes["pitch"])
    return [(corner[0] + i * sizes["pitch"], corner[1] + j * down) for j in range(rows) for i in range(columns)]


def _circle(corner, sizes, holes, columns, rows, start):
    _need("circle", holes=holes, diameter=sizes.get("diameter"))
    angles = [start + 2 * pi * n / holes for n in range(holes)]
    half = sizes["diameter"] / 2
    return [(corner[0] + half * cos(a), corner[1] + half * sin(a)) for a in angles]


_PLACES = {"row": _row, "rectangle": _rectangle, "circle": _circle}


def _need(kind: str, **parts) -> None:
    missing = [name for name, part in parts.items() if not part]
    if missing:
        raise NotUnderstood(f"a {kind} needs its {' and '.join(missing)}", [f"--{name}" for name in missing])


_OFF = "holes lie beyond a datum edge, which may be off the part: --x and --y place hole 1, of a circle the centre"
_NOTES = (
    "moves are from the hole before, from the datum edges to hole 1",
    "take up the play: come to every hole in the same direction, and past a negative move by half a turn and back",
)


def _moves(places, touch: float, unit: str) -> list[PatternHole]:
    """Places rounded to the dial's thousandth or hundredth first, so that the moves add up to them."""
    places = [tuple(_on_dial(part, unit) for part in place) for place in places]
    lasts = [(_on_dial(touch, unit),) * 2, *places]
    moves = [(place[0] - last[0], place[1] - last[1]) for place, last in zip(places, lasts)]
    notes = _NOTES if min(map(min, moves)) < 0 else _NOTES[:1]
    if min(map(min, places)) < 0:
        notes = (_OFF, *notes)
    return [
        PatternHole(
            hole=at + 1, x=Quantity.length(place[0], unit), y=Quantity.length(place[1], unit),
            move_x=Quantity.length(move[0], unit), move_y=Quantity.length(move[1], unit),
            from_first=Quantity.length(dist(place, places[0]), unit),
            from_last=Quantity.length(dist(place, places[at - 1]) if at else 0, unit),
            notes=notes,
        )
        for at, (place, move) in enumerate(zip(places, moves))
    ]  # fmt: skip


def _on_dial(value: float, unit: str) -> Fraction:
    steps = 1000 if unit == "in" else 100
    return Fraction(round(value * steps), steps)
