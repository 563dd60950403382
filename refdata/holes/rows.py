"""Row models of the holes room: screws and their countersunk heads, clearance holes, drills, countersink angles."""

from __future__ import annotations

from fractions import Fraction
from math import radians, tan
from typing import Literal

from refdata.core.numbers import leading_number
from refdata.core.rows import Positive, Sourced, Text
from refdata.core.rules import Above, Formula, Holds, Ordered, Refers

from .geometry import CONE_OF_HEIGHT

FitName = Literal["close", "normal", "loose"]


def number_screw(row, tables=None) -> Fraction:
    """0.060 + 0.013 n in for the number sizes, where each further nought is one number less; a fraction is itself."""
    if row.size.startswith("#"):
        number = int(row.size[1:])
        return Fraction(60 + 13 * (number or 1 - len(row.size[1:])), 1000)
    return leading_number(row.size)[0]


class ScrewsInch(Sourced):
    """Basic major diameters of inch screws."""

    table = "screws_inch"
    key = ("size",)
    labels = ("size",)
    ask = 'clearance "{size}"'
    rules = (
        Ordered("major_diameter_in"),
        Formula("major_diameter_in", number_screw, "number-screw-formula", "0.060 + 0.013 n in; n/d in"),
    )

    size: Text
    major_diameter_in: Positive


class ScrewsMetric(Sourced):
    """Basic major diameters of metric screws: the designation itself."""

    table = "screws_metric"
    key = ("size",)
    labels = ("size",)
    ask = 'clearance "{size}"'
    rules = (
        Ordered("major_diameter_mm"),
        Formula("major_diameter_mm", lambda row, tables: Fraction(row.size[1:]), "iso-designation", "M d has d mm"),
    )

    size: Text
    major_diameter_mm: Positive


Status = Literal["current", "former", "withdrawn"]


def _cone_height(row, tables) -> Fraction | None:
    """Height of a cone from the sharp diameter down to the screw's: (A - D)/(2 tan(angle/2)).

    Where an edition prints no sharp diameter, that of another edition of the same head and size stands in.
    """
    angle = CONE_OF_HEIGHT.get((row.standard, row.head))
    sharp = row.head_diameter_sharp_in
    if sharp is None:
        same = (
            r
            for r in tables.get("heads_inch", ())
            if (r.standard, r.head, r.size) == (row.standard, row.head, row.size)
        )
        sharp = next((r.head_diameter_sharp_in for r in same if r.head_diameter_sharp_in is not None), None)
    if angle is None or sharp is None:
        return None
    return (sharp - number_screw(row)) / (2 * Fraction(tan(radians(angle / 2))))


def _iso_sharp(row, tables) -> Fraction | None:
    """d + 2k: the cone of 90 degrees of ISO 7721 and ISO 10642, carried out to a sharp edge."""
    if row.standard not in ("ISO 2009", "ISO 7046", "ISO 7721", "ISO 10642") or row.head_height_mm is None:
        return None
    return Fraction(row.size[1:]) + 2 * row.head_height_mm


def _head_rules(unit: str) -> tuple:
    """The rules of both tables of heads."""
    sharp, most, least = (f"head_diameter_{which}_{unit}" for which in ("sharp", "max", "min"))
    within = ("standard", "edition", "head")
    grow = tuple(Ordered(column, within) for column in (sharp, most, least))
    return (*grow, Above(sharp, most, equal=True), Above(most, least), Above(sharp, least))


class Heads(Sourced):
    """A countersunk head of one standard, edition, form and size; the tables below add its diameters and height."""

    key = ("standard", "edition", "head", "size")
    labels = ("size",)
    ask = 'screw "{size}" --standard "{standard}" --head "{head}"'

    standard: Text
    edition: Text
    head: Text
    size: Text
    status: Status


class HeadsInch(Heads):
    """Countersunk heads of inch screws: the sharp and the actual diameters, and the height."""

    table = "heads_inch"
    places = {"head_diameter_sharp_in": 3, "head_diameter_max_in": 3, "head_diameter_min_in": 3, "head_height_in": 3}
    rules = (
        *_head_rules("in"),
        Formula(
            "head_height_in", _cone_height, "cone-height", "(sharp - screw diameter)/(2 tan(angle/2)) in", cut=True
        ),
    )

    head_diameter_sharp_in: Positive | None = None
    head_diameter_max_in: Positive | None = None
    head_diameter_min_in: Positive | None = None
    head_height_in: Positive | None = None


class HeadsMetric(Heads):
    """Countersunk heads of metric screws: the sharp and the actual diameters, and the height."""

    table = "heads_metric"
    places = {"head_diameter_sharp_mm": 2, "head_diameter_max_mm": 2, "head_diameter_min_mm": 2, "head_height_mm": 2}
    rules = (*_head_rules("mm"), Formula("head_diameter_sharp_mm", _iso_sharp, "iso-countersunk-head", "d + 2 k mm"))

    head_diameter_sharp_mm: Positive | None = None
    head_diameter_max_mm: Positive | None = None
    head_diameter_min_mm: Positive | None = None
    head_height_mm: Positive | None = None


def _above_screw(column: str, screws: str, major: str) -> Holds:
    def test(rows, tables):
        diameters = {row.size: getattr(row, major) for row in tables.get(screws, ())}
        for row in rows:
            screw = diameters.get(row.size)
            if screw is not None:
                hole = getattr(row, column)
                says = f"{hole.text} is not above the {row.size} screw, {screw.text}"
                yield row, column, None if hole > screw else says

    return Holds("is larger than the screw", test)


# ISO 286 tolerances of holes, millimetres: up to a diameter, H13 (normal fit), H14 (loose fit)
_HOLE_TOLERANCES = ((3, "0.14", "0.25"), (6, "0.18", "0.30"), (10, "0.22", "0.36"), (18, "0.27", "0.43"),
                    (30, "0.33", "0.52"), (50, "0.39", "0.62"))  # fmt: skip


def _largest_hole(row, tables) -> Fraction | None:
    """The smallest hole and its ISO tolerance, H13 for the normal and H14 for the loose fit, in inches."""
    if row.fit == "close":
        return None
    inch, hole = Fraction(254, 10), row.diameter_in
    for most, normal, loose in _HOLE_TOLERANCES:
        if hole * inch <= most:
            return hole + Fraction(normal if row.fit == "normal" else loose) / inch
    return None


class ClearanceInch(Sourced):
    """Clearance holes for inch screws: smallest hole, largest hole, the drill."""

    table = "clearance_inch"
    places = {"diameter_in": 3, "diameter_max_in": 3}
    key = ("standard", "edition", "size", "fit")
    labels = ("size",)
    ask = 'clearance "{size}" --fit {fit}'
    rules = (
        Refers("size", "screws_inch", "size"),
        Refers("drill", "drills_inch", "name"),
        Refers("drill_source", "sources", "id"),
        Ordered("diameter_in", within=("fit", "standard", "edition")),
        Above("diameter_max_in", "diameter_in"),
        Formula("diameter_max_in", _largest_hole, "iso-hole-tolerance", "smallest hole + H13 (normal), H14 (loose)"),
        _above_screw("diameter_in", "screws_inch", "major_diameter_in"),
    )

    standard: Text
    edition: Text
    size: Text
    fit: FitName
    diameter_in: Positive
    diameter_max_in: Positive | None = None
    drill: Text | None = None
    drill_source: Text | None = None
    drill_locator: Text | None = None


class ClearanceMetric(Sourced):
    """Clearance holes for metric screws."""

    table = "clearance_metric"
    places = {"diameter_mm": 1}
    key = ("standard", "edition", "size", "fit")
    labels = ("size",)
    ask = 'clearance "{size}" --fit {fit}'
    rules = (
        Refers("size", "screws_metric", "size"),
        Ordered("diameter_mm", within=("fit", "standard", "edition")),
        _above_screw("diameter_mm", "screws_metric", "major_diameter_mm"),
    )

    standard: Text
    edition: Text
    size: Text
    fit: FitName
    diameter_mm: Positive


class DrillsInch(Sourced):
    """Drill sizes by number, letter and fraction of an inch."""

    table = "drills_inch"
    key = ("name",)
    labels = ("name",)
    ask = 'drill "{name}"'
    rules = (
        Ordered("diameter_in", within=("set",)),
        Formula(
            "diameter_in",
            lambda row, tables: leading_number(row.name)[0] if row.set == "fractional" else None,
            "fraction-of-an-inch",
            "n/d in",
        ),
    )

    set: Literal["number", "letter", "fractional"]
    name: Text
    diameter_in: Positive


class DrillsMetric(Sourced):
    """Metric drill sizes as made."""

    table = "drills_metric"
    key = ("name",)
    labels = ("name",)
    ask = 'drill "{name} mm"'
    rules = (
        Ordered("diameter_mm"),
        Formula("diameter_mm", lambda row, tables: Fraction(row.name), "iso-designation", "d mm has d mm"),
    )

    set: Literal["metric"]
    name: Text
    diameter_mm: Positive


class CountersinkAngles(Sourced):
    """Who uses which included angle of countersink."""

    table = "countersink_angles"
    key = ("screw_type", "standard", "region")
    labels = ("screw_type",)

    angle_deg: Positive
    screw_type: Text
    standard: Text | None = None
    region: Text
