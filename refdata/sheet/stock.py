"""The questions `weight` and `pieces`: what stock weighs, and how many pieces a bar gives."""

from math import pi

from refdata.alloys.alloy import OneAlloy, alloy
from refdata.core.errors import NotUnderstood, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Above, FromZero, Reader, Word, a, choice, count, read_above
from refdata.core.results import Result
from refdata.core.units import convert, inch_or_mm, is_inch

from .labels import read_gauge_label

Shape = choice(
    "shape",
    {
        "plate": ("sheet", "flat", "bar"),
        "round": ("rod",),
        "hex": ("hexagon",),
        "square": (),
        "tube": ("pipe",),
        "angle": (),
    },
    "shape: plate, round, hex, square, tube or angle",
)
Pieces = count("number of pieces", "number of pieces", 1_000_000)
Holes = count("number of holes", "number of holes in each piece", 100_000)
NEEDS = {
    "plate": ("length", "width", "thickness"),
    "round": ("length", "diameter"),
    "hex": ("length", "flats"),
    "square": ("length", "width"),
    "tube": ("length", "diameter", "wall"),
    "angle": ("length", "width", "leg", "thickness"),
}


def read_thickness(text: str):
    """A length, or a gauge as `18 ga`, which is looked up with the metal later."""
    if "ga" not in text.lower():
        return read_above(text)
    read_gauge_label(text)
    return Word.read(text)


Thickness = Reader("thickness", read_thickness, "thickness: 1/8 in, 3 mm, or a gauge: 18 ga", ("1/8 in", "18 ga"))


class Weight(Result):
    """What stock weighs: the whole and each piece, its volume, the density used, the thickness of sheet or wall."""

    HEADLINE = "weight"
    IN_CAPTION = ("shape", "metal", "size")
    shape: str
    metal: str
    size: str
    weight: Quantity
    each: Quantity
    volume: Quantity
    density: Quantity
    thickness: Quantity | None
    pieces: int

    @property
    def caption(self) -> str:
        told = f"{self.shape}, {self.size}, {self.metal}"
        return f"{self.pieces} of {told}" if self.pieces > 1 else told


@question
def weight(
    shape: Shape, *, in_: OneAlloy, length: Above, width: Above = None, thickness: Thickness = None,
    diameter: Above = None, flats: Above = None, wall: Thickness = None, leg: Above = None, pieces: Pieces = "1",
    holes: Holes = None, hole: Above = None,
) -> Weight:  # fmt: skip
    """Weight of plate, sheet by gauge, round, hexagon, square, tube or angle, less holes.

    `in` which metal; a plate needs width and thickness (a length or a gauge, "18 ga"), a round its diameter, a
    hexagon the width across flats, a tube diameter and wall (a length or a gauge), an angle `width`, `leg`, thickness.
    `holes` in each piece have the diameter `hole`. Weight = density x volume, sharp corners, density as published.
    Raises NotUnderstood, Refused, NotFound.

    >>> import refdata
    >>> refdata.weight("plate", in_="C36000", length="12 in", width="6 in", thickness="1/8 in").weight
    <2.763 lb · computed>
    """
    metal = alloy(in_)
    if metal.density is None:
        raise NotUnderstood(f"the tables give no density for {metal.name}", ["another alloy of its family"])
    given = {"length": length, "width": width, "diameter": diameter, "flats": flats, "leg": leg}
    given |= {"thickness": thickness, "wall": wall}
    given = {name: size for name, size in given.items() if size is not None}
    _needed(shape, given.keys())
    given = {name: _gauged(size, metal, "tube" if name == "wall" else "sheet") for name, size in given.items()}
    inch = is_inch(length.unit)
    size = {name: float(convert(q.exact, q.unit, "in" if inch else "cm")) for name, q in given.items()}
    volume = _VOLUMES[shape](size) - _holes(shape, size, holes, hole, inch)
    if volume <= 0:
        raise Refused("the holes take more metal than there is", ["fewer or smaller holes"])
    unit, mass_unit = ("in3", "lb") if inch else ("cm3", "kg")
    each = volume * float(convert(metal.density.exact, metal.density.unit, "lb/in3" if inch else "g/cm3"))
    each = each if inch else each / 1000
    return Weight(
        shape=shape, metal=f"{metal.uns} {metal.name}", size=", ".join(f"{name} {q}" for name, q in given.items()),
        weight=Quantity.computed(each * pieces, mass_unit), each=Quantity.computed(each, mass_unit),
        volume=Quantity.computed(volume * pieces, unit), density=metal.density,
        thickness=given.get("thickness") or given.get("wall"), pieces=pieces, cautions=metal.cautions,
        notes=["sharp corners and nominal sizes: mill tolerances come on top"],
    )  # fmt: skip


def _needed(shape: str, given) -> None:
    """Raises NotUnderstood where a size of the shape is missing, or one is given that it does not have."""
    missing = [name for name in NEEDS[shape] if name not in given]
    if missing:
        raise NotUnderstood(f"{a(shape)} needs its {' and '.join(missing)}", [f"--{name}" for name in missing])
    stray = sorted(given - set(NEEDS[shape]))
    if stray:
        takes = [f"--{name}" for name in NEEDS[shape]]
        raise NotUnderstood(f"{a(shape)} has no {' and no '.join(stray)}", takes)


def _gauged(size: str | Quantity, metal, form: str) -> Quantity:
    """A size; a gauge is looked up for the metal and the form."""
    if not isinstance(size, str):
        return size
    from .gauge import gauge

    family = "steel" if metal.family in ("carbon steel", "alloy steel", "tool steel") else metal.family
    return gauge(size, metal=family, form=form).thickness


def _tube(s: dict) -> float:
    if 2 * s["wall"] >= s["diameter"]:
        raise Refused("the wall is as thick as the tube", ["shape round"])
    return pi * (s["diameter"] - s["wall"]) * s["wall"] * s["length"]


def _angle(s: dict) -> float:
    if s["thickness"] >= min(s["width"], s["leg"]):
        raise Refused("the angle is as thick as its leg", ["shape square"])
    return (s["width"] + s["leg"] - s["thickness"]) * s["thickness"] * s["length"]


_VOLUMES = {
    "plate": lambda s: s["length"] * s["width"] * s["thickness"],
    "round": lambda s: pi / 4 * s["diameter"] ** 2 * s["length"],
    "hex": lambda s: 3**0.5 / 2 * s["flats"] ** 2 * s["length"],
    "square": lambda s: s["width"] ** 2 * s["length"],
    "tube": _tube,
    "angle": _angle,
}


def _holes(shape: str, size: dict, holes: int | None, hole: Quantity | None, inch: bool) -> float:
    """Volume of the holes in one piece, each through the plate."""
    if holes is None and hole is None:
        return 0.0
    if holes is None or hole is None:
        raise NotUnderstood("holes need their number and their diameter", ["--holes 4 --hole '1/4 in'"])
    if shape not in ("plate", "angle"):
        raise NotUnderstood(f"holes are reckoned through a plate or an angle, not {a(shape)}", ["shape plate"])
    across = float(convert(hole.exact, hole.unit, "in" if inch else "cm"))
    if across >= min(size[name] for name in NEEDS[shape] if name != "thickness"):
        raise Refused(f"a hole of {hole} is as large as the {shape} or larger", ["a smaller hole"])
    return holes * pi / 4 * across**2 * size["thickness"]


class BarPieces(Result):
    """How many pieces a bar gives, and what is left of it beyond the trim."""

    IN_CAPTION = ("per_bar",)
    per_bar: int
    pieces: int
    bars: int
    left: Quantity

    @property
    def caption(self) -> str:
        return f"{self.per_bar} pieces from a bar"


@question
def pieces(
    bar: Above,
    *,
    piece: Above,
    kerf: FromZero,
    trim: FromZero = "0 in",
    allowance: FromZero = "0 in",
    wanted: Pieces = None,
) -> BarPieces:
    """Pieces from a bar, with the saw's kerf, trim at both ends and finish allowance.

    n = floor((L - 2 trim + kerf)/(piece + allowance + kerf)). `wanted` gives the number of bars. Raises Refused,
    NotUnderstood.

    >>> import refdata
    >>> refdata.pieces("36 in", piece="3.5 in", kerf="0.045 in", trim="0.25 in").per_bar
    10
    """
    unit = inch_or_mm(bar.unit)
    long, one, saw, end, more = (convert(q.exact, q.unit, unit) for q in (bar, piece, kerf, trim, allowance))
    pitch = one + more + saw
    number = int((long - 2 * end + saw) // pitch)
    if number < 1:
        raise Refused(f"a bar of {bar} is too short for one piece of {piece}", ["a longer bar", "less trim"])
    left = long - 2 * end + saw - number * pitch
    bars = -(-wanted // number) if wanted else 1
    return BarPieces(
        pieces=wanted or number,
        per_bar=number,
        bars=bars,
        left=Quantity.length(left, unit),
        notes=[
            f"each piece takes {Quantity.length(pitch, unit)} of the bar; the last one needs no cut behind it",
            *(["left is of a full bar, the last one keeps more"] if wanted and wanted % number else []),
        ],
    )
