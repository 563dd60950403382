"""The questions `lap` and `filler-quantity`: overlap of a brazed joint, and the wire it takes."""

from math import pi

from refdata.core.errors import NotUnderstood, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Above, FromZero, count, factor, measured
from refdata.core.results import Result
from refdata.core.units import inch_or_mm

from .heating import OXY_FUEL

Stress = measured("stress", "stress", "stress: 70 ksi, 480 MPa", ("70 ksi", "480 MPa"))
Quality = factor("joint quality", "part of the lap that is sound, 0.8")
Joints = count("number of joints", "number of joints", 100_000)


class Lap(Result):
    """Overlap of a lap joint as strong as its thinner member, and the rule of three thicknesses beside it."""

    HEADLINE = "overlap"
    overlap: Quantity
    three_thicknesses: Quantity

    @property
    def caption(self) -> str:
        return "overlap as strong as the thinner member"


@question
def lap(thickness: Above, *, strength: Stress, filler_shear: Stress = "25 ksi", quality: Quality = "0.8") -> Lap:
    """Overlap of a brazed lap as strong as its thinner member.

    `thickness` and tensile `strength` are the thinner member's (annealed: brazing just annealed it), `filler_shear`
    the shear strength of the filler, `quality` the part of the lap that is sound. X = T W/(C L). Rule: three times
    the thinner. Raises Refused, NotUnderstood.

    >>> import refdata
    >>> refdata.lap("0.050 in", strength="70 ksi").overlap
    <0.175 in · computed>
    """
    unit = inch_or_mm(thickness.unit)
    thick = thickness.to(unit).exact
    if not 0 < quality <= 1:
        raise NotUnderstood("joint quality is a part of the whole, above 0 and at most 1", ["0.8"])
    overlap = strength.to("ksi").exact * thick / (quality * filler_shear.to("ksi").exact)
    if overlap > 10 * thick:
        raise Refused(
            f"a lap of {Quantity.length(overlap, unit)} is {float(overlap / thick):.0f} thicknesses:"
            " filler does not run that far",
            ["a stronger filler", "a sleeve or a butt-lap", "a joint loaded less than the metal can bear"],
        )
    notes = [
        f"reckoned with filler of {filler_shear} in shear and {float(quality) * 100:g} % of the lap sound",
        "strength of the annealed metal, since brazing anneals it",
        "gap 0.002 to 0.005 in between the faces at heat (per side of a pin) is common practice",
    ]
    return Lap(
        overlap=Quantity.length(overlap, unit),
        three_thicknesses=Quantity.length(3 * thick, unit),
        notes=notes,
        cautions=OXY_FUEL,
    )


class FillerQuantity(Result):
    """Filler for a joint: volume with the usual surplus, and the length of wire that holds it."""

    HEADLINE = "wire_length"
    wire_length: Quantity
    each: Quantity
    volume: Quantity
    joints: int

    @property
    def caption(self) -> str:
        return f"of wire for {self.joints} joint{'s' * (self.joints > 1)}"


@question
def filler_quantity(
    length: Above, *, lap: Above, gap: Above, wire: Above, fillet: FromZero = "0 in", joints: Joints = "1"
) -> FillerQuantity:
    """Wire for a brazed joint: the gap filled one and a half times, and a fillet along the edge.

    `length` along the joint, `lap` across it, mean `gap`, `wire` diameter, radius of the `fillet`. V = length x lap x
    gap x 1.5 + 0.215 r^2 length; wire = 4 V/(pi d^2). Real use may be two to three times that. Raises Refused,
    NotUnderstood.

    >>> import refdata
    >>> refdata.filler_quantity("2 in", lap="0.25 in", gap="0.003 in", wire="1/16 in").wire_length
    <0.733 in · computed>
    """
    unit = inch_or_mm(length.unit)
    long, wide, space, across, radius = (float(q.to(unit).exact) for q in (length, lap, gap, wire, fillet))
    if space > (0.25 if unit == "mm" else 0.010):
        raise Refused(
            f"a gap of {gap} is too wide for filler to hold in it", ["a closer fit", "a gap of 0.002 to 0.005 in"]
        )
    volume = long * wide * space * 1.5 + (1 - pi / 4) * radius**2 * long
    one = 4 * volume / (pi * across**2)
    return FillerQuantity(
        wire_length=Quantity.length(one * joints, unit),
        each=Quantity.length(one, unit),
        volume=Quantity.computed(volume * joints, "in3")
        if unit == "in"
        else Quantity.computed(volume * joints / 1000, "cm3"),
        joints=joints,
        notes=["real use may be two to three times this: cut a trial piece and record what it took"],
        cautions=OXY_FUEL,
    )
