"""Row models of what goes with a screw: raised heads, counterbores, nuts, washers, wood screws, and the cutters."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from refdata.core.numbers import leading_number
from refdata.core.rows import Positive, Sourced, Text
from refdata.core.rules import Above, Formula, Holds, Ordered, grouped

from .rows import number_screw


def _spans(unit: str, *stems: str) -> tuple:
    """Each largest dimension is not below the smallest one."""
    return tuple(Above(f"{stem}_max_{unit}", f"{stem}_min_{unit}", equal=True) for stem in stems)


def _grow(unit: str, within: tuple[str, ...], *stems: str) -> tuple:
    return tuple(_not_smaller(f"{stem}_{unit}", within) for stem in stems)


def _not_smaller(column: str, within: tuple[str, ...]) -> Holds:
    """From size to size a dimension does not shrink: neighbours may share a head or a washer."""

    def test(rows, tables):
        for group in grouped(rows, *within).values():
            # the slotted oval head of 7/16 in is lower than that of 3/8 in, so printed in every copy of ASME B18.6.3
            oval = column.startswith("head_height") and group[0].head.startswith("oval")
            have = [row for row in group if getattr(row, column) is not None and not oval]
            for before, row in zip(have, have[1:]):
                value, last = getattr(row, column), getattr(before, column)
                yield row, column, f"{value.text} is below {last.text} of {before.size}" if value < last else None

    return Holds("does not shrink from size to size", test)


class Hardware(Sourced):
    """A part of one standard, edition and size."""

    standard: Text
    edition: Text


_HEAD = ("standard", "edition", "head")
_HEAD_STEMS = ("head_diameter", "width_across_flats", "head_height")


class HeadsRaisedInch(Hardware):
    """Heads of inch screws other than flat: pan, oval, fillister, round, socket cap, button, hexagon."""

    table = "heads_raised_inch"
    key = (*_HEAD, "size")
    labels = ("size",)
    rules = (
        *_spans("in", *_HEAD_STEMS),
        *_grow("in", _HEAD, "head_diameter_max", "head_height_max", "width_across_flats_max"),
    )

    head: Text
    size: Text
    head_diameter_max_in: Positive | None = None
    head_diameter_min_in: Positive | None = None
    width_across_flats_max_in: Positive | None = None
    width_across_flats_min_in: Positive | None = None
    head_height_max_in: Positive | None = None
    head_height_min_in: Positive | None = None


class HeadsRaisedMetric(Hardware):
    """Heads of metric screws other than flat: pan, oval, cheese, socket cap, button, hexagon."""

    table = "heads_raised_metric"
    key = (*_HEAD, "size")
    labels = ("size",)
    rules = (
        *_spans("mm", *_HEAD_STEMS),
        *_grow("mm", _HEAD, "head_diameter_max", "head_height_max", "width_across_flats_max"),
    )

    head: Text
    size: Text
    head_diameter_max_mm: Positive | None = None
    head_diameter_min_mm: Positive | None = None
    width_across_flats_max_mm: Positive | None = None
    width_across_flats_min_mm: Positive | None = None
    head_height_max_mm: Positive | None = None
    head_height_min_mm: Positive | None = None


def _above_head(unit: str) -> Holds:
    """A counterbore is wider than the largest head of its size in any standard of the table of heads."""

    def test(rows, tables):
        heads: dict = {}
        for head in tables.get(f"heads_raised_{'metric' if unit == 'mm' else 'inch'}", ()):
            widest = getattr(head, f"head_diameter_max_{unit}")
            if widest is not None:
                heads[head.head, head.size] = max(widest, heads.get((head.head, head.size), widest))
        column = f"counterbore_diameter_{unit}"
        for row in rows:
            bore, widest = getattr(row, column), heads.get((row.head, row.size))
            if widest is not None:
                yield row, column, None if bore > widest else f"{bore.text} does not take the head of {widest.text}"

    return Holds("is wider than the head", test)


_BORE = ("standard", "edition", "head", "size", "fit")


class CounterboresInch(Hardware):
    """Counterbores and holes for inch screws."""

    table = "counterbores_inch"
    key = _BORE
    labels = ("size",)
    rules = (Above("counterbore_diameter_in", "hole_diameter_in"), _above_head("in"))

    head: Text
    size: Text
    fit: Text | None = None
    counterbore_diameter_in: Positive
    counterbore_depth_in: Positive | None = None
    hole_diameter_in: Positive | None = None


class CounterboresMetric(Hardware):
    """Counterbores and holes for metric screws."""

    table = "counterbores_metric"
    key = _BORE
    labels = ("size",)
    rules = (Above("counterbore_diameter_mm", "hole_diameter_mm"), _above_head("mm"))

    head: Text
    size: Text
    fit: Text | None = None
    counterbore_diameter_mm: Positive
    counterbore_depth_mm: Positive | None = None
    hole_diameter_mm: Positive | None = None


_NUT = ("standard", "edition", "nut")


class NutsInch(Hardware):
    """Hexagon and machine screw nuts for inch screws."""

    table = "nuts_inch"
    key = (*_NUT, "size")
    labels = ("size",)
    rules = (
        *_spans("in", "width_across_flats", "width_across_corners", "thickness"),
        Above("width_across_corners_max_in", "width_across_flats_max_in"),
        *_grow("in", _NUT, "width_across_flats_max", "thickness_max"),
    )

    nut: Text
    size: Text
    width_across_flats_max_in: Positive | None = None
    width_across_flats_min_in: Positive | None = None
    width_across_corners_max_in: Positive | None = None
    width_across_corners_min_in: Positive | None = None
    thickness_max_in: Positive | None = None
    thickness_min_in: Positive | None = None


class NutsMetric(Hardware):
    """Hexagon nuts for metric screws."""

    table = "nuts_metric"
    key = (*_NUT, "size")
    labels = ("size",)
    rules = (
        *_spans("mm", "width_across_flats", "thickness"),
        Above("width_across_corners_min_mm", "width_across_flats_min_mm"),
        *_grow("mm", _NUT, "width_across_flats_max", "thickness_max"),
    )

    nut: Text
    size: Text
    width_across_flats_max_mm: Positive | None = None
    width_across_flats_min_mm: Positive | None = None
    width_across_corners_min_mm: Positive | None = None
    thickness_max_mm: Positive | None = None
    thickness_min_mm: Positive | None = None


_WASHER = ("standard", "edition", "washer")


class WashersInch(Hardware):
    """Plain washers for inch screws."""

    table = "washers_inch"
    key = (*_WASHER, "size")
    labels = ("size",)
    rules = (
        Above("outside_diameter_in", "inside_diameter_in"),
        *_spans("in", "thickness"),
    )

    washer: Text
    size: Text
    inside_diameter_in: Positive
    outside_diameter_in: Positive
    thickness_in: Positive | None = None
    thickness_max_in: Positive | None = None
    thickness_min_in: Positive | None = None


class WashersMetric(Hardware):
    """Plain washers for metric screws."""

    table = "washers_metric"
    key = (*_WASHER, "size")
    labels = ("size",)
    rules = (
        Above("outside_diameter_mm", "inside_diameter_mm"),
        *_spans("mm", "thickness"),
        *_grow("mm", _WASHER, "inside_diameter", "outside_diameter"),
    )

    washer: Text
    size: Text
    inside_diameter_mm: Positive
    outside_diameter_mm: Positive
    thickness_mm: Positive | None = None
    thickness_max_mm: Positive | None = None
    thickness_min_mm: Positive | None = None


def _wood_shank(row, tables) -> Fraction | None:
    """Number screws share one rule in wood and metal, in US and British practice to the printed thousandth."""
    return number_screw(row) if row.practice == "US" else None


class WoodScrews(Sourced):
    """Shank, root and the holes for wood screws, as practice of the United States and Britain has them."""

    table = "wood_screws"
    bare = True
    key = ("practice", "size")
    labels = ("size",)
    rules = (
        Ordered("shank_diameter_in", ("practice",)),
        Formula("shank_diameter_in", _wood_shank, "number-screw-formula", "0.060 + 0.013 n in"),
    )

    practice: Literal["US", "UK"]
    size: Text
    shank_diameter_in: Positive | None = None
    threads_per_inch: Positive | None = None
    shank_hole: Text | None = None
    pilot_hardwood: Text | None = None
    pilot_softwood: Text | None = None


class CentreDrills(Hardware):
    """Combined drills and countersinks for centre holes: pilot and body."""

    table = "centre_drills"
    key = ("standard", "edition", "type", "size")
    labels = ("size",)
    rules = (Above("body_diameter_in", "pilot_diameter_in"),)

    type: Text
    size: Text
    pilot_diameter_in: Positive | None = None
    pilot_diameter_mm: Positive | None = None
    body_diameter_in: Positive | None = None


def _is_its_size(rows, tables):
    """A cutter's diameter is the size it is called by: `3/8`, `3 mm`; a bur's three figures are tenths of a millimetre.

    It catches a slip, but lifts nothing: which sizes are in use rests on the source.
    """
    for row in rows:
        column = "diameter_mm" if row.diameter_in is None else "diameter_in"
        if row.kind == "round bur":
            called = Fraction(int(row.size), 10)
        else:
            called = leading_number(row.size.removesuffix(" mm"))[0]
        figure = getattr(row, column)
        yield row, column, None if figure == called else f"{figure.text} is not the {row.size} it is called"


class Cutters(Sourced):
    """Countersinks, spot drills and ball burrs in ordinary use: diameter and angle."""

    table = "cutters"
    nature = "measured"
    key = ("kind", "size", "angle_deg")
    labels = ("size",)
    rules = (Holds("is the size it is called by", _is_its_size),)

    kind: Literal["ball burr", "round bur", "countersink", "spot drill"]
    size: Text
    diameter_in: Positive | None = None
    diameter_mm: Positive | None = None
    angle_deg: Positive | None = None
