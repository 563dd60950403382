"""Limits of threads by the formulas of their standards, in floats.

Unified: ASME B1.1, tolerance of the pitch diameter of class 2A = 0.0015 D^(1/3) + 0.0015 LE^(1/2) + 0.015 P^(2/3), with
an engagement LE of one diameter for the coarse and fine series and of nine pitches for the others; class 2B 1.3 times
that, allowance of class 2A 0.3 times. Metric: ISO 965-1, tolerance position g and grade 6, rounded by the standard to
preferred numbers, so these come within a few micrometres.
"""

ONE_DIAMETER = ("UNC", "UNF", "4-UN", "6-UN", "8-UN")


def unified_limits(major: float, per_inch: float, series: str, tolerance_class: str) -> dict[str, float]:
    """Limits of a Unified thread of class 2A or 2B in inches, by column name without unit; each rounded as
    published."""
    pitch = 1 / per_inch
    engaged = major if series in ONE_DIAMETER else 9 * pitch
    tolerance = 0.0015 * major ** (1 / 3) + 0.0015 * engaged**0.5 + 0.015 * pitch ** (2 / 3)
    basic = round(major - 0.64951905 * pitch, 4)
    if tolerance_class == "2A":
        allowance = round(0.3 * tolerance, 4)
        return {
            "allowance": allowance,
            "major_diameter_max": major - allowance,
            "major_diameter_min": major - allowance - round(0.06 * pitch ** (2 / 3), 4),
            "pitch_diameter_max": basic - allowance,
            "pitch_diameter_min": basic - allowance - round(tolerance, 4),
            "minor_diameter_max": major - allowance - 1.190784 * pitch,
        }
    bore = major - 1.08253175 * pitch
    places = 3 if major >= 0.138 else 4  # the standard gives the minor diameter from #6 on in thousandths
    return {
        "major_diameter_min": major,
        "pitch_diameter_min": basic,
        "pitch_diameter_max": basic + round(1.3 * tolerance, 4),
        "minor_diameter_min": round(bore, places),
        "minor_diameter_max": round(bore + _bore_tolerance(major, pitch), places),
    }


def _bore_tolerance(major: float, pitch: float) -> float:
    """Tolerance of the minor diameter of an internal thread of class 2B."""
    ordinary = 0.25 * pitch - 0.4 * pitch**2 if pitch <= 0.25 else 0.15 * pitch
    if major >= 0.25:
        return ordinary
    return min(max(0.05 * pitch ** (2 / 3) + 0.03 * pitch / major - 0.002, ordinary), 0.394 * pitch)


# Fundamental deviation of position g by pitch, micrometres (ISO 965-1): from memory, every printed 6g limit confirms it
_POSITION_G = {
    0.2: 17, 0.25: 18, 0.3: 18, 0.35: 19, 0.4: 19, 0.45: 20, 0.5: 20, 0.6: 21, 0.7: 22, 0.75: 22, 0.8: 24, 1: 26,
    1.25: 28, 1.5: 32, 1.75: 34, 2: 38, 2.5: 42, 3: 48, 3.5: 53, 4: 60, 4.5: 63, 5: 71, 5.5: 75, 6: 80,
}  # fmt: skip
_DIAMETER_RANGES = (0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45, 90, 180, 355)
_R40 = (1, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3, 3.15,
        3.35, 3.55, 3.75, 4, 4.25, 4.5, 4.75, 5, 5.3, 5.6, 6, 6.3, 6.7, 7.1, 7.5, 8, 8.5, 9, 9.5, 10)  # fmt: skip


def _preferred(micrometres: float) -> float:
    """The nearest number of the R40 series (ISO 3), in millimetres; the larger of two as near."""
    tens = 1
    while micrometres >= 10:
        micrometres, tens = micrometres / 10, tens * 10
    return min(_R40, key=lambda number: (round(abs(number - micrometres), 9), -number)) * tens / 1000


def metric_limits(diameter: float, pitch: float, tolerance_class: str) -> dict[str, float]:
    """Limits of a metric thread of class 6g or 6H in millimetres, by column name without unit."""
    low, high = next(pair for pair in zip(_DIAMETER_RANGES, _DIAMETER_RANGES[1:]) if pair[0] < diameter <= pair[1])
    tolerance = _preferred(90 * pitch**0.4 * (low * high) ** 0.05)
    basic, bore = (diameter - depth * 3**0.5 / 2 * pitch for depth in (0.75, 1.25))
    if tolerance_class == "6g":
        deviation = _POSITION_G[pitch] / 1000
        major = _preferred(180 * pitch ** (2 / 3) - 3.15 / pitch**0.5)
        return {
            "major_diameter_max": diameter - deviation,
            "major_diameter_min": diameter - deviation - major,
            "pitch_diameter_max": basic - deviation,
            "pitch_diameter_min": basic - deviation - tolerance,
        }
    of_bore = 433 * pitch - 190 * pitch**1.22 if pitch < 1 else 230 * pitch**0.7
    return {
        "major_diameter_min": diameter,
        "pitch_diameter_min": basic,
        "pitch_diameter_max": basic + _preferred(1320 * tolerance),
        "minor_diameter_min": bore,
        "minor_diameter_max": bore + _preferred(of_bore),
    }
