"""Row models of the holes room: screws, clearance holes, drills, countersink angles."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from refdata.core.numbers import leading_number
from refdata.core.rows import Positive, Sourced, Text
from refdata.core.rules import Above, Formula, Holds, Ordered, Refers

FitName = Literal["close", "normal", "loose"]


def _number_screw(row, tables=None) -> Fraction | None:
    """0.060 + 0.013 n in for the number sizes; a fraction is its own diameter."""
    if row.size.startswith("#"):
        return Fraction(60 + 13 * int(row.size[1:]), 1000)
    return leading_number(row.size)[0]


class ScrewsInch(Sourced):
    """Basic major diameters of inch screws."""

    table = "screws_inch"
    key = ("size",)
    labels = ("size",)
    ask = 'clearance "{size}"'
    rules = (
        Ordered("major_diameter_in"),
        Formula("major_diameter_in", _number_screw, "number-screw-formula", "0.060 + 0.013 n in; n/d in"),
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


def _above_screw(column: str, screws: str, major: str) -> Holds:
    def test(rows, tables):
        diameters = {row.size: getattr(row, major) for row in tables.get(screws, ())}
        for row in rows:
            screw = diameters.get(row.size)
            if screw is not None:
                hole = getattr(row, column)
                yield (
                    row,
                    column,
                    None if hole > screw else f"{hole.text} is not above the {row.size} screw, {screw.text}",
                )

    return Holds("is larger than the screw", test)


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
