"""The question `countersink`: how wide and how deep for a head to lie flush, or below the face."""

from refdata.core.errors import NotFound, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import Above, Angle, FromZero, Size
from refdata.core.results import Result

from .clearance import screw_hole
from .geometry import cone_depth, cone_seat, stands_proud
from .screw import Edition, Head, Screw, Standard, heads, which_head

TRY = "cut the first one shallow and try the screw: heads vary between their limits"


class Countersink(Result):
    """A countersink: its angle, diameter at the face and depth from the face to the hole's edge, which is the spindle's
    travel from first touch; for the largest actual head and, where the standard gives it, for the sharp one."""

    HEADLINE = "depth"
    IN_CAPTION = ("size", "head", "standard", "edition")
    size: str
    head: str
    standard: str
    edition: str
    angle: Quantity
    hole: Quantity
    head_used: str
    head_diameter: Quantity
    surface_diameter: Quantity
    depth: Quantity
    surface_diameter_sharp: Quantity | None
    depth_sharp: Quantity | None
    bears_on: str

    @property
    def caption(self) -> str:
        return f"countersink depth for {self.size}, {self.head} degrees ({self.standard}, {self.edition})"


@question
def countersink(
    size: Size, *, head: Head = "flat", standard: Standard = None, edition: Edition = None, angle: Angle = None,
    hole: Above = None, below: FromZero = "0 in",
) -> Countersink:  # fmt: skip
    """Countersink for a screw: angle, diameter at the face, spindle travel from first touch.

    `angle` is the cutter's, where it is not the head's; `hole` the hole's diameter (no hole means the normal clearance
    hole); `below` how far under the face the head shall lie. Several standards ask. C = A + 2 s tan(a/2), depth =
    (C - d)/(2 tan(a/2)); head diameters from the table of heads. Raises NotFound, Refused, Ambiguous.

    >>> import refdata
    >>> refdata.countersink("#8", standard="B18.3").depth
    <0.094 in · computed>
    """
    found = coned(heads(size, head, standard, edition))
    return Answers([_answer(size, one, angle, hole, below) for one in found], which_head(found))


def coned(found: list[Screw]) -> list[Screw]:
    """The heads that lie in a countersink. Raises NotFound where none of them does."""
    kept = [one for one in found if one.angle and (one.head_diameter_max or one.head_diameter_sharp)]
    if not kept:
        raise NotFound(f"a {found[0].head} head lies in no countersink", ["flat", "oval"])
    return kept


def _answer(size, one: Screw, angle: Quantity | None, hole: Quantity | None, below: Quantity) -> Countersink:
    unit = "mm" if size.system == "metric" else "in"
    hole, told = (hole, []) if hole else screw_hole(size)
    cutter, sub = angle or one.angle, below.to(unit).exact
    used = one.head_diameter_max or one.head_diameter_sharp
    bore = hole.to(unit).exact
    if bore >= used.exact:
        raise Refused(f"a hole of {hole} lets the {one.size} head of {used} through", ["a smaller hole", "a washer"])
    mouth, bears = cone_seat(used.exact, one.angle.exact, bore, cutter.exact, sub)
    sharp = one.head_diameter_sharp if one.head_diameter_max else None
    wide = cone_seat(sharp.exact, one.angle.exact, bore, cutter.exact, sub)[0] if sharp else None
    depth, depth_sharp = (None if m is None else cone_depth(m, bore, cutter.exact) for m in (mouth, wide))
    return Countersink(
        size=one.size, head=one.head, standard=one.standard, edition=one.edition, angle=cutter, hole=hole,
        head_used="largest actual" if one.head_diameter_max else "sharp", head_diameter=used,
        surface_diameter=Quantity.length(mouth, unit), depth=Quantity.length(depth, unit), bears_on=bears,
        surface_diameter_sharp=sharp and Quantity.length(wide, unit),
        depth_sharp=sharp and Quantity.length(depth_sharp, unit),
        notes=[*told, *_wrong_angle(one, used, bore, cutter, unit), TRY],
    )  # fmt: skip


def _wrong_angle(one: Screw, used: Quantity, bore, cutter: Quantity, unit: str) -> list[str]:
    """What a countersink of another angle does to the head."""
    if cutter.exact == one.angle.exact:
        return []
    proud = stands_proud(used.exact, one.angle.exact, used.exact, bore, cutter.exact)
    if cutter.exact > one.angle.exact:
        return [
            f"the {one.angle} head is steeper than the {cutter} cone and bears on the hole's edge only:"
            f" cut no wider than the head, it would stand {Quantity.length(proud, unit)} proud"
        ]
    return [
        f"the {one.angle} head is wider than the {cutter} cone and bears on its rim only, a line that dents soft metal"
    ]
