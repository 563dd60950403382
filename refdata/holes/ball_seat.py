"""The question `ball-seat`: a spherical seat for a countersunk head, cut by a ball burr where no countersink fits."""

from refdata.core import store
from refdata.core.errors import NotFound, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import Above, FromZero, ScrewSize, Size
from refdata.core.results import Result

from .clearance import screw_hole
from .countersink import TRY, coned, flush_diameter
from .geometry import ball_depth, cap_depth, cap_width, sagitta
from .screw import Edition, Head, Screw, Standard, heads, which_head

LOWEST = "depth is that of the ball's lowest point: touch off on the plain face before drilling"


class BallSeat(Result):
    """A spherical seat: the ball, the depth of its lowest point under the face, the diameter at the face, where the
    head touches, and the straight land of the hole that is left under it."""

    HEADLINE = "depth"
    IN_CAPTION = ("size", "head", "standard", "edition")
    size: str
    head: str
    standard: str
    edition: str
    ball: Quantity
    hole: Quantity
    head_used: str
    head_diameter: Quantity
    depth: Quantity
    surface_diameter: Quantity
    touches_at: str
    seat_depth: Quantity
    land: Quantity | None

    @property
    def caption(self) -> str:
        of = f"{self.size}, {self.head} degrees ({self.standard}, {self.edition})"
        return f"depth of the {self.ball} ball for {of}"


@question
def ball_seat(
    size: Size, *, head: Head = "flat", standard: Standard = None, edition: Edition = None, ball: Above = None,
    hole: Above = None, below: FromZero = "0 in", thickness: Above = None, radius: Above = None,
) -> BallSeat:  # fmt: skip
    """Spherical seat for a countersunk head where no countersink fits: ball, depth, width cut.

    `ball` is the cutter's diameter (none means the smallest in ordinary use that is larger than the head), `hole` the
    hole's diameter (none means the normal clearance hole), `below` how far under the face the head shall lie,
    `thickness` the plate's, `radius` that of a face that curves away. The head touches at its rim or on the hole's
    edge, whichever comes first; computed by geometry from the table of heads. Raises NotFound, Refused, Ambiguous.

    >>> import refdata
    >>> refdata.ball_seat("#8", standard="B18.3", head="flat 82", ball="1/2 in", hole="0.177 in").touches_at
    "hole's edge"
    """
    found = coned(heads(size, head, standard, edition))
    return Answers([_answer(size, one, ball, hole, below, thickness, radius) for one in found], which_head(found))


def _answer(size: ScrewSize, one: Screw, ball, hole, below, thickness, radius) -> BallSeat:
    unit = "mm" if size.system == "metric" else "in"
    hole, told = (hole, []) if hole else screw_hole(size)
    used, how = flush_diameter(size, one)
    ball, more = (ball, []) if ball else smallest_ball(used)
    across, bore, rim = (float(q.to(unit).exact) for q in (ball, hole, used))
    if across <= rim:
        raise Refused(
            f"a ball of {ball} is no larger than the {one.size} head of {used}", [str(smallest_ball(used)[0])]
        )
    if bore >= rim:
        raise Refused(f"a hole of {hole} lets the {one.size} head of {used} through", ["a smaller hole", "a washer"])
    sub = float(below.to(unit).exact) + _fall(rim, radius, unit)
    depth, touches = ball_depth(across, rim, float(one.angle.exact), bore, sub)
    seat = depth - cap_depth(across, bore)
    land = None if thickness is None else float(thickness.to(unit).exact) - seat
    if land is not None and land <= 0:
        raise Refused(
            f"the seat of {one.size} goes {Quantity.length(seat, unit)} deep and leaves no land in {thickness}",
            ["a thicker plate", "a smaller screw", "a head left proud"],
        )
    if radius is not None:
        told = [
            *told,
            f"the face falls away {Quantity.length(_fall(rim, radius, unit), unit)} at the head's rim, added",
        ]
    return BallSeat(
        size=one.size, head=one.head, standard=one.standard, edition=one.edition, ball=ball, hole=hole,
        head_used=how, head_diameter=used,
        depth=Quantity.length(depth, unit), surface_diameter=Quantity.length(cap_width(across, depth), unit),
        touches_at=touches, seat_depth=Quantity.length(seat, unit),
        land=None if land is None else Quantity.length(land, unit),
        notes=[*told, *more, LOWEST, TRY],
    )  # fmt: skip


def _fall(rim: float, radius: Quantity | None, unit: str) -> float:
    if radius is None:
        return 0.0
    round_ = float(radius.to(unit).exact)
    if 2 * round_ <= rim:
        raise Refused(f"a face of radius {radius} is narrower than the head", ["a larger radius"])
    return sagitta(rim, round_)


def smallest_ball(head: Quantity) -> tuple[Quantity, list[str]]:
    """The smallest ball cutter in ordinary use that is larger than a head, and the note that it was taken."""
    column = f"diameter_{head.unit}"
    rows = store.records("cutters", f"t.kind = 'ball burr' AND t.{column} > ?", head.value)
    if not rows:
        raise NotFound(f"no ball burr in the tables is larger than the head of {head}", ["--ball DIAMETER"])
    ball = min((row[column] for row in rows), key=lambda one: one.exact)
    return ball, ["the smallest ball burr larger than the head, since none was given"]
