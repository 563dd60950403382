"""The question `countersink`: how wide and how deep for a head to lie flush, or below the face."""

from fractions import Fraction

from refdata.core import store
from refdata.core.errors import NotFound, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import Above, Angle, FromZero, ScrewSize, Size
from refdata.core.results import Result

from .clearance import screw_hole
from .geometry import CONE_OF_HEIGHT, cone_depth, cone_seat, half_tangent, stands_proud
from .screw import Edition, Head, Screw, Standard, heads, which_head

TRY = "cut the first one shallow and try the screw: heads vary between their limits"


# oval heads have the cone of the flat ones
_FLAT_OF_OVAL = {"ASME B18.6.3": "ASME B18.6.3", "ISO 7047": "ISO 2009", "DIN 966": "DIN 965"}


class Countersink(Result):
    """A countersink: its angle, diameter at the face and depth from the face to the hole's edge, which is the spindle's
    travel from first touch, for the head to lie flush; and where its rim is blunt, the shallower ones that are as wide
    as the largest actual head, which then stands proud."""

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
    surface_diameter_actual: Quantity | None
    depth_actual: Quantity | None
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
    kept = [one for one in found if one.coned and (one.head_diameter_max or one.head_diameter_sharp)]
    if not kept:
        raise NotFound(f"a {found[0].head} head lies in no countersink", ["flat", "oval"])
    return kept


def flush_diameter(size: ScrewSize, one: Screw) -> tuple[Quantity, str]:
    """The diameter at the face of a seat in which a head lies flush, and how it is known.

    The rim of a head is blunt: its cone ends below the top. Flush is where the cone would end in an edge, at the sharp
    diameter, as printed or by the height; the largest actual head stands in where neither was seen.
    """
    unit = "mm" if size.system == "metric" else "in"
    flat = (one.standard, one.head)
    if one.head.startswith("oval"):
        flat = (_FLAT_OF_OVAL.get(one.standard), f"flat {one.angle.figure}")
    table = "heads_metric" if unit == "mm" else "heads_inch"
    rows = store.records(table, "t.standard = ? AND t.head = ? AND t.size = ?", *flat, one.size)
    sharp = [one.head_diameter_sharp, *(row[f"head_diameter_sharp_{unit}"] for row in rows)]
    if printed := next(filter(None, sharp), None):
        return printed, "sharp"
    if height := next(filter(None, (row[f"head_height_{unit}"] for row in rows)), None):
        angle = CONE_OF_HEIGHT.get(flat, one.angle.exact)
        wide = size.diameter.to(unit).exact + 2 * height.exact * Fraction(half_tangent(angle))
        return Quantity.length(wide, unit), "sharp, by its height"
    return one.head_diameter_max, "largest actual"


def _answer(size, one: Screw, angle: Quantity | None, hole: Quantity | None, below: Quantity) -> Countersink:
    unit = "mm" if size.system == "metric" else "in"
    hole, told = (hole, []) if hole else screw_hole(size)
    cutter, sub = angle or one.angle, below.to(unit).exact
    used, how = flush_diameter(size, one)
    bore = hole.to(unit).exact
    if bore >= used.exact:
        raise Refused(f"a hole of {hole} lets the {one.size} head of {used} through", ["a smaller hole", "a washer"])
    mouth, bears = cone_seat(used.exact, one.angle.exact, bore, cutter.exact, sub)
    actual = one.head_diameter_max if how != "largest actual" else None
    narrow = cone_seat(actual.exact, one.angle.exact, bore, cutter.exact, sub)[0] if actual else None
    depth, depth_actual = (None if m is None else cone_depth(m, bore, cutter.exact) for m in (mouth, narrow))
    if actual:
        told = [*told, _blunt(one, actual, used, unit)]
    return Countersink(
        size=one.size, head=one.head, standard=one.standard, edition=one.edition, angle=cutter, hole=hole,
        head_used=how, head_diameter=used,
        surface_diameter=Quantity.length(mouth, unit), depth=Quantity.length(depth, unit), bears_on=bears,
        surface_diameter_actual=actual and Quantity.length(narrow, unit),
        depth_actual=actual and Quantity.length(depth_actual, unit),
        notes=[*told, *_wrong_angle(one, used, bore, cutter, unit), TRY],
    )  # fmt: skip


def _blunt(one: Screw, actual: Quantity, sharp: Quantity, unit: str) -> str:
    proud = Quantity.length(cone_depth(sharp.exact, actual.exact, one.angle.exact), unit)
    return f"the rim is blunt: in a seat no wider than the largest actual head, {actual}, the head stands {proud} proud"


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
