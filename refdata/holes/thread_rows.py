"""Row models of threads, their limits and tap drills."""

from __future__ import annotations

from fractions import Fraction
from math import pi, sqrt
from typing import Literal, NamedTuple

from refdata.core.numbers import leading_number
from refdata.core.rows import Percent, Positive, Sourced, Text
from refdata.core.rules import Above, Estimate, Formula, Holds

from .rows import number_screw
from .tolerances import metric_limits, unified_limits

# height of the sharp triangle of a 60 degree thread over its pitch
_H = Fraction(sqrt(3) / 2)
_WHITWORTH = ("BSW", "BSF")


def _major(row) -> Fraction:
    """Major diameter by the designation: a number size, a fraction of an inch."""
    return number_screw(row)


def _inch_form(depths: Fraction, whitworth: Fraction | None):
    """D less so many heights H of the sharp triangle, or for a Whitworth form so many depths of thread."""

    def compute(row, tables):
        if row.series in _WHITWORTH:
            return None if whitworth is None else _major(row) - whitworth * Fraction("0.640327") / row.threads_per_inch
        return _major(row) - depths * _H / row.threads_per_inch

    return compute


def _per_inch(row, tables):
    """Threads per inch back from the printed diameters, to the nearest half."""
    depths = {
        "pitch_diameter_in": Fraction("0.640327") if row.series in _WHITWORTH else Fraction(3, 4) * _H,
        "minor_diameter_internal_in": Fraction(5, 4) * _H,
        "minor_diameter_external_in": 2 * Fraction("0.640327") if row.series in _WHITWORTH else Fraction(11, 8) * _H,
    }
    for column, depth in depths.items():
        printed = getattr(row, column)
        if printed is not None:
            return Fraction(round(2 * depth / (_major(row) - printed)), 2)
    return None


# the standard rounds the depth of thread before it subtracts: printed figures lie within this part of the formula
_LAST_PLACE = Fraction(1, 250)


def _whitworth_core(row, tables):
    return _inch_form(Fraction(0), Fraction(2))(row, tables) if row.series in _WHITWORTH else None


def _inch_stress_area(row, tables):
    if row.series in _WHITWORTH:
        return None
    return Fraction(pi) / 4 * (_major(row) - Fraction("0.9743") / row.threads_per_inch) ** 2


class ThreadsInch(Sourced):
    """Basic figures of inch threads: threads per inch, pitch and minor diameters, stress area."""

    table = "threads_inch"
    key = ("standard", "edition", "series", "size")
    labels = ("size",)
    ask = 'thread "{size} {series}"'
    places = {"major_diameter_in": 4, "pitch_diameter_in": 4, "minor_diameter_external_in": 4,
              "minor_diameter_internal_in": 4}  # fmt: skip
    rules = (
        Above("major_diameter_in", "pitch_diameter_in"),
        Above("pitch_diameter_in", "minor_diameter_internal_in"),
        Above("pitch_diameter_in", "minor_diameter_external_in"),
        Formula("major_diameter_in", lambda row, tables: _major(row), "inch-designation", "0.060 + 0.013 n in; n/d in"),
        Formula("threads_per_inch", _per_inch, "thread-form", "depth of thread over (D - pitch diameter)"),
        Formula("pitch_diameter_in", _inch_form(Fraction(3, 4), Fraction(1)), "thread-form",
                "D - 0.6495 P (60 degrees), D - 0.6403 P (Whitworth)"),
        Formula("minor_diameter_external_in", _whitworth_core, "thread-form", "D - 1.2807 P (Whitworth)"),
        Estimate("minor_diameter_external_in", _inch_form(Fraction(11, 8), None), "thread-form", "D - 1.1908 P (UNR)",
                 _LAST_PLACE),
        Formula("minor_diameter_internal_in", _inch_form(Fraction(5, 4), None), "thread-form", "D - 1.0825 P"),
        Estimate("stress_area_in2", _inch_stress_area, "thread-stress-area", "pi/4 (D - 0.9743 P)2", _LAST_PLACE),
    )  # fmt: skip

    standard: Text
    edition: Text
    series: Literal[
        "UNC", "UNF", "UNEF", "4-UN", "6-UN", "8-UN", "12-UN", "16-UN", "20-UN", "28-UN", "32-UN", "BSW", "BSF"
    ]
    size: Text
    threads_per_inch: Positive
    major_diameter_in: Positive | None = None
    pitch_diameter_in: Positive | None = None
    minor_diameter_external_in: Positive | None = None
    minor_diameter_internal_in: Positive | None = None
    stress_area_in2: Positive | None = None


def _metric_major(row, tables=None) -> Fraction | None:
    """M d has d mm; a BA screw 6 p^1.2 mm, rounded to a tenth or hundredth by its standard, so none."""
    return None if row.series == "BA" else Fraction(row.size[1:].partition("x")[0])


def _metric_form(depths: Fraction, of_ba: Fraction | None = None):
    """d less so many heights H of the sharp triangle; for a BA thread the printed diameter less so many
    depths of thread, each 0.6 P to the nearest 0.005 mm as the standard has it."""

    def compute(row, tables):
        if row.series == "BA":
            return None if of_ba is None else row.major_diameter_mm - of_ba * Fraction(round(row.pitch_mm * 120), 200)
        return _metric_major(row) - depths * _H * row.pitch_mm

    return compute


def _metric_stress_area(row, tables):
    """pi/4 ((d2 + d3)/2)2, which is pi/4 (d - 0.9382 P)2: ISO 898-1."""
    if row.series == "BA":
        return None
    return Fraction(pi) / 4 * (_metric_major(row) - Fraction(13, 12) * _H * row.pitch_mm) ** 2


def _fine_pitch(row, tables):
    """A fine thread's pitch stands in its name; a BA thread's is 0.9 to the power of its number, to the hundredth."""
    if row.series == "fine":
        return Fraction(row.size.partition("x")[2])
    return round(Fraction(9, 10) ** int(row.size.removesuffix("BA")), 2) if row.series == "BA" else None


class ThreadsMetric(Sourced):
    """Basic figures of metric and BA threads: pitch, pitch and minor diameters, stress area."""

    table = "threads_metric"
    key = ("standard", "edition", "series", "size")
    labels = ("size",)
    ask = 'thread "{size}"'
    places = {"major_diameter_mm": 3, "pitch_diameter_mm": 3, "minor_diameter_external_mm": 3,
              "minor_diameter_internal_mm": 3, "pitch_mm": 2}  # fmt: skip
    rules = (
        Above("major_diameter_mm", "pitch_diameter_mm"),
        Above("pitch_diameter_mm", "minor_diameter_internal_mm"),
        Above("pitch_diameter_mm", "minor_diameter_external_mm"),
        Formula("pitch_mm", _fine_pitch, "thread-designation", "the pitch in the name; BA: 0.9^n mm"),
        Formula("major_diameter_mm", _metric_major, "iso-designation", "M d has d mm"),
        Formula(
            "pitch_diameter_mm", _metric_form(Fraction(3, 4), Fraction(1)), "thread-form", "d - 0.6495 P (BA: 0.6 P)"
        ),
        Formula("minor_diameter_internal_mm", _metric_form(Fraction(5, 4)), "thread-form", "d - 1.0825 P"),
        Formula(
            "minor_diameter_external_mm",
            _metric_form(Fraction(17, 12), Fraction(2)),
            "thread-form",
            "d - 1.2269 P (BA: 1.2 P)",
        ),
        Formula("stress_area_mm2", _metric_stress_area, "thread-stress-area", "pi/4 (d - 0.9382 P)2"),
    )

    standard: Text
    edition: Text
    series: Literal["coarse", "fine", "BA"]
    size: Text
    pitch_mm: Positive
    major_diameter_mm: Positive
    pitch_diameter_mm: Positive | None = None
    minor_diameter_external_mm: Positive | None = None
    minor_diameter_internal_mm: Positive | None = None
    stress_area_mm2: Positive | None = None


def _limit_rules(unit: str) -> tuple:
    major, pitch, minor = (f"{which}_diameter" for which in ("major", "pitch", "minor"))
    pairs = tuple(Above(f"{which}_max_{unit}", f"{which}_min_{unit}") for which in (major, pitch, minor))
    return (
        *pairs,
        Above(f"{major}_min_{unit}", f"{pitch}_max_{unit}"),
        Above(f"{pitch}_min_{unit}", f"{minor}_max_{unit}"),
    )


def _inch_limit(name: str):
    """A limit by the formulas of ASME B1.1."""

    def compute(row, tables):
        threads = {(one.series, one.size): one for one in tables.get("threads_inch", ())}
        thread = threads.get((row.series, row.size))
        if thread is None:
            return None
        limits = unified_limits(float(_major(row)), float(thread.threads_per_inch), row.series, row.tolerance_class)
        return Fraction(limits[name]) if name in limits else None

    return compute


_INCH_LIMITS = ("major_diameter_max", "major_diameter_min", "pitch_diameter_max", "pitch_diameter_min",
                "minor_diameter_max", "minor_diameter_min")  # fmt: skip


class ThreadLimitsInch(Sourced):
    """Limits of size of Unified threads by class: 2A for screws, 2B for nuts and tapped holes."""

    table = "thread_limits_inch"
    key = ("standard", "edition", "series", "size", "tolerance_class")
    labels = ("size",)
    ask = 'thread "{size} {series}" --tolerance {tolerance_class}'
    places = {"minor_diameter_max_in": 4, "minor_diameter_min_in": 4}
    rules = (
        *_limit_rules("in"),
        *(
            Formula(f"{name}_in", _inch_limit(name), "asme-b1.1-tolerances", "tolerance formulas of ASME B1.1")
            for name in ("allowance", *_INCH_LIMITS)
        ),
    )

    standard: Text
    edition: Text
    series: Text
    size: Text
    tolerance_class: Literal["2A", "2B", "3A", "3B"]
    allowance_in: Positive | None = None
    major_diameter_max_in: Positive | None = None
    major_diameter_min_in: Positive | None = None
    pitch_diameter_max_in: Positive | None = None
    pitch_diameter_min_in: Positive | None = None
    minor_diameter_max_in: Positive | None = None
    minor_diameter_min_in: Positive | None = None


def _metric_limit(name: str):
    """A limit by the formulas of ISO 965-1, for the classes that it is worked for."""

    def compute(row, tables):
        threads = {one.size: one for one in tables.get("threads_metric", ())}
        thread = threads.get(row.size)
        if thread is None or row.tolerance_class not in ("6g", "6H"):
            return None
        limits = metric_limits(float(_metric_major(thread)), float(thread.pitch_mm), row.tolerance_class)
        return Fraction(round(limits[name], 4)).limit_denominator(10**4) if name in limits else None

    return compute


class ThreadLimitsMetric(Sourced):
    """Limits of size of metric threads by tolerance class: 6g for screws, 6H for nuts and tapped holes."""

    table = "thread_limits_metric"
    key = ("standard", "edition", "size", "tolerance_class")
    labels = ("size",)
    ask = 'thread "{size}" --tolerance {tolerance_class}'
    places = {f"{name}_mm": 3 for name in _INCH_LIMITS}
    rules = (
        *_limit_rules("mm"),
        *(
            Formula(f"{name}_mm", _metric_limit(name), "iso-965-1-tolerances", "tolerance formulas of ISO 965-1")
            for name in _INCH_LIMITS
        ),
    )

    standard: Text
    edition: Text
    size: Text
    tolerance_class: Literal["6g", "6H", "6e", "6f", "6h", "4h", "5H"]
    major_diameter_max_mm: Positive | None = None
    major_diameter_min_mm: Positive | None = None
    pitch_diameter_max_mm: Positive | None = None
    pitch_diameter_min_mm: Positive | None = None
    minor_diameter_max_mm: Positive | None = None
    minor_diameter_min_mm: Positive | None = None


def _drill_refers(rows, tables):
    """A tap drill is a drill of our tables: by name, or by its millimetres."""
    named = {row.name for row in tables.get("drills_inch", ())}
    for row in rows:
        if not row.drill.endswith(" mm") and row.drill not in named:
            yield row, "drill", f'"{row.drill}" is no drill of drills_inch'


class TapDrills(Sourced):
    """Drills that published charts name for a thread, a row for each chart."""

    table = "tap_drills"
    key = ("kind", "thread", "drill", "source")
    nature = "words"
    labels = ("thread",)
    ask = 'tap "{thread}"'
    rules = (Holds("the drill is a drill of the tables", _drill_refers),)

    kind: Literal["cut", "form"]
    thread: Text
    drill: Text
    remark: Text | None = None


def _engagement(row, tables) -> Fraction | None:
    """(D - d)/(k P) by the definition of the row."""
    pitches = {"coarse": {}, "inch": {}}
    for one in tables.get("threads_metric", ()):
        pitches["coarse"][one.size] = one.pitch_mm
    if row.thread.startswith("M"):
        major, unit = Fraction(row.thread[1:].partition("x")[0]), Fraction(1)
        pitch = pitches["coarse"].get(row.thread)
    else:
        size, _, per_inch = row.thread.rpartition("-")
        major, pitch, unit = number_screw(Size(size)), 1 / Fraction(per_inch), Fraction(254, 10)
    bore = _bore(row.drill, tables) / unit
    return None if pitch is None else (major - bore) / (Fraction(row.definition.split()[0]) * pitch) * 100


class Size(NamedTuple):
    """What number_screw reads of a row."""

    size: str


def _bore(drill: str, tables) -> Fraction:
    """Diameter of a drill in millimetres by its name."""
    if drill.endswith(" mm"):
        return Fraction(drill.removesuffix(" mm"))
    named = {one.name: one.diameter_in for one in tables.get("drills_inch", ())}
    return (named.get(drill) or leading_number(drill)[0]) * Fraction(254, 10)


class TapEngagements(Sourced):
    """Percent of thread that published charts print for a drill, by the definition of each."""

    table = "tap_engagements"
    key = ("thread", "drill", "definition")
    labels = ("thread",)
    ask = 'tap "{thread}" --drill "{drill}"'
    rules = (Estimate("engagement_pct", _engagement, "thread-form", "(D - drill)/(k P)", Fraction(1, 40)),)

    thread: Text
    drill: Text
    definition: Literal["1.2990 P", "1.2269 P", "1.0825 P"]
    engagement_pct: Percent


class TapLeads(Sourced):
    """Lead (chamfer) of taps in pitches, by the name of the tap."""

    table = "tap_leads"
    key = ("practice", "lead")
    rules = (Above("lead_max_pitches", "lead_min_pitches"),)

    practice: Literal["US", "DIN"]
    lead: Text
    lead_min_pitches: Positive
    lead_max_pitches: Positive


class ThreadEngagements(Sourced):
    """Percent of thread that charts advise by family of metal."""

    table = "thread_engagements"
    key = ("family",)
    nature = "measured"

    family: Text
    engagement_pct: Percent
