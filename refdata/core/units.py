"""Units by code and exact conversion between them, in rational arithmetic.

Factors are the defined ones: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, g0 = 9.80665 m/s2 (lbf), and the
International Table BTU, 1 BTU/lb/degF = 4186.8 J/kg/K (NIST SP 811, 2008, Appendix B).
"""

from __future__ import annotations

from fractions import Fraction

from .errors import NotUnderstood

_INCH = Fraction(254, 10_000)
_FOOT = 12 * _INCH
_POUND = Fraction(45_359_237, 100_000_000)
_KSI = 1000 * _POUND * Fraction(980_665, 100_000) / _INCH**2
_BTU_PER_LB_DEGF = Fraction(41_868, 10)
_PER_DEGF = Fraction(9, 5)
_MICRO = Fraction(1, 1_000_000)


class Unit:
    """One unit: `factor` and `offset` lead to the SI unit of its `dimension`; `pint` is pint's spelling."""

    __slots__ = ("code", "dimension", "factor", "offset", "pint", "symbol")

    def __init__(self, code, dimension, factor, pint, symbol=None, offset=0):
        self.code, self.dimension, self.factor = code, dimension, Fraction(factor)
        self.offset, self.pint = Fraction(offset), pint
        self.symbol = code if symbol is None else symbol


UNITS = {
    unit.code: unit
    for unit in (
        Unit("in", "length", _INCH, "inch"),
        Unit("thou", "length", _INCH / 1000, "thou"),
        Unit("mm", "length", Fraction(1, 1000), "millimeter"),
        Unit("cm", "length", Fraction(1, 100), "centimeter"),
        Unit("um", "length", _MICRO, "micrometer", "µm"),
        Unit("ft", "length", _FOOT, "foot"),
        Unit("m", "length", 1, "meter"),
        Unit("in2", "area", _INCH**2, "inch**2", "in²"),
        Unit("mm2", "area", _MICRO, "millimeter**2", "mm²"),
        Unit("oz", "mass", _POUND / 16, "ounce"),
        Unit("lb", "mass", _POUND, "pound"),
        Unit("g", "mass", Fraction(1, 1000), "gram"),
        Unit("kg", "mass", 1, "kilogram"),
        Unit("lb/in3", "density", _POUND / _INCH**3, "pound/inch**3", "lb/in³"),
        Unit("g/cm3", "density", 1000, "gram/centimeter**3", "g/cm³"),
        Unit("kg/m3", "density", 1, "kilogram/meter**3", "kg/m³"),
        Unit("lb/ft2", "mass per area", _POUND / _FOOT**2, "pound/foot**2", "lb/ft²"),
        Unit("kg/m2", "mass per area", 1, "kilogram/meter**2", "kg/m²"),
        Unit("degF", "temperature", Fraction(5, 9), "degF", "°F", Fraction(45_967, 180)),
        Unit("degC", "temperature", 1, "degC", "°C", Fraction(27_315, 100)),
        Unit(
            "BTU/h/ft/degF",
            "thermal conductivity",
            _BTU_PER_LB_DEGF * _POUND / 3600 / _FOOT,
            "Btu_it/hour/foot/delta_degF",
            "BTU/h·ft·°F",
        ),
        Unit(
            "BTU-in/h/ft2/degF",
            "thermal conductivity",
            _BTU_PER_LB_DEGF * _POUND / 3600 / _FOOT / 12,
            "Btu_it*inch/hour/foot**2/delta_degF",
            "BTU·in/h·ft²·°F",
        ),
        Unit("W/m/K", "thermal conductivity", 1, "watt/meter/kelvin", "W/m·K"),
        Unit("BTU/lb/degF", "specific heat", _BTU_PER_LB_DEGF, "Btu_it/pound/delta_degF", "BTU/lb·°F"),
        Unit("J/kg/K", "specific heat", 1, "joule/kilogram/kelvin", "J/kg·K"),
        Unit("uin/in/degF", "thermal expansion", _MICRO * _PER_DEGF, "microinch/inch/delta_degF", "µin/in·°F"),
        Unit("um/m/K", "thermal expansion", _MICRO, "micrometer/meter/kelvin", "µm/m·K"),
        Unit("psi", "stress", _KSI / 1000, "pound_force_per_square_inch"),
        Unit("ksi", "stress", _KSI, "kilopound_force_per_square_inch"),
        Unit("MPa", "stress", 10**6, "megapascal"),
        Unit("GPa", "stress", 10**9, "gigapascal"),
        Unit("rpm", "rotation", Fraction(1, 60), "revolutions_per_minute"),
        Unit("ft/min", "speed", _FOOT / 60, "foot/minute"),
        Unit("m/min", "speed", Fraction(1, 60), "meter/minute"),
        Unit("in/min", "speed", _INCH / 60, "inch/minute"),
        Unit("mm/min", "speed", Fraction(1, 60_000), "millimeter/minute"),
        Unit("kW", "power", 1000, "kilowatt"),
        Unit("hp", "power", 550 * _FOOT * _POUND * Fraction(980_665, 100_000), "horsepower"),
        Unit("BTU/h", "power", _BTU_PER_LB_DEGF * _POUND * _PER_DEGF**-1 / 3600, "Btu_it/hour"),
        Unit("min", "time", 60, "minute"),
        Unit("kJ", "energy", 1000, "kilojoule"),
        Unit("cm3", "volume", _MICRO, "centimeter**3", "cm³"),
        Unit("in3", "volume", _INCH**3, "inch**3", "in³"),
        Unit("cm2", "area", Fraction(1, 10_000), "centimeter**2", "cm²"),
        Unit("in3/min", "removal rate", _INCH**3 / 60, "inch**3/minute", "in³/min"),
        Unit("cm3/min", "removal rate", _MICRO / 60, "centimeter**3/minute", "cm³/min"),
        Unit("1/in", "threads per length", 1 / _INCH, "1/inch", "per inch"),
        Unit(
            "hp·min/in3",
            "specific cutting energy",
            550 * _FOOT * _POUND * Fraction(980_665, 100_000) * 60 / _INCH**3,
            "horsepower*minute/inch**3",
        ),
        Unit("pitches", "pitches", 1, "dimensionless"),
        Unit("thicknesses", "thicknesses", 1, "dimensionless", "× thickness"),
        Unit("number", "number", 1, "dimensionless", ""),
        Unit("ug/m3", "concentration in air", 1, "microgram/meter**3", "µg/m³"),
        Unit("ug/cm2/week", "release rate", 1, "microgram/centimeter**2/week", "µg/cm²·week"),
        Unit("%", "ratio", Fraction(1, 100), "percent"),
        Unit("ppm", "ratio", _MICRO, "ppm"),
        Unit("deg", "angle", 1, "degree", "°"),
    )
}

# What people write, beside the codes themselves. "mil" is left out on purpose: it is a thou in one shop and
# a millimetre in the next.
_WRITTEN = {
    "in": ('"', "''", "″", "”", "inch", "inches", "in."),
    "ft": ("'", "′", "foot", "feet"),
    "mm": ("millimetre", "millimeter", "millimetres", "millimeters"),
    "m": ("metre", "meter", "metres", "meters"),
    "um": ("µm", "μm", "micron", "microns", "micrometre", "micrometer"),
    "lb": ("lbs", "pound", "pounds"),
    "g": ("gram", "grams"),
    "kg": ("kilogram", "kilograms", "kilo", "kilos"),
    "in2": ("in²", "sq in"),
    "mm2": ("mm²", "sq mm"),
    "lb/in3": ("lb/in³", "lb/cu in", "lbs/in3"),
    "g/cm3": ("g/cm³", "g/cc"),
    "lb/ft2": ("lb/ft²", "lb/sq ft"),
    "kg/m2": ("kg/m²",),
    "degF": ("°f", "deg f", "f", "fahrenheit"),
    "degC": ("°c", "deg c", "c", "celsius"),
    "cm2": ("cm²", "sq cm"),
    "kW": ("kilowatt", "kilowatts"),
    "hp": ("horsepower",),
    "ft/min": ("sfm", "fpm", "surface foot", "surface feet"),
    "in/min": ("ipm",),
    "rpm": ("rev/min",),
    "%": ("percent",),
    "deg": ("°", "degree", "degrees"),
}
SPELLINGS: dict[str, str] = {code.lower(): code for code in UNITS}
SPELLINGS |= {word: code for code, words in _WRITTEN.items() for word in words}

_INCH_TO_METRIC = {
    "oz": "g",
    "in": "mm",
    "thou": "mm",
    "ft": "m",
    "in2": "mm2",
    "lb": "kg",
    "lb/in3": "g/cm3",
    "lb/ft2": "kg/m2",
    "degF": "degC",
    "BTU/h/ft/degF": "W/m/K",
    "BTU-in/h/ft2/degF": "W/m/K",
    "BTU/lb/degF": "J/kg/K",
    "uin/in/degF": "um/m/K",
    "ksi": "MPa",
    "psi": "MPa",
    "ft/min": "m/min",
    "in/min": "mm/min",
    "in3": "cm3",
    "in3/min": "cm3/min",
    "hp": "kW",
}
_METRIC_TO_INCH = {metric: inch for inch, metric in reversed(_INCH_TO_METRIC.items())} | {
    "GPa": "ksi",
    "g": "lb",
    "cm": "in",
    "kg/m3": "lb/in3",
}

# How a unit stands at the end of a column name.
SUFFIXES = {
    "_in": "in",
    "_mm": "mm",
    "_in2": "in2",
    "_mm2": "mm2",
    "_per_inch": "1/in",
    "_pitches": "pitches",
    "_thicknesses": "thicknesses",
    "_hp_min_per_in3": "hp·min/in3",
    "_um": "um",
    "_deg": "deg",
    "_ft_per_min": "ft/min",
    "_pct": "%",
    "_lb_per_ft2": "lb/ft2",
    "_kg_per_m2": "kg/m2",
    "_lb_per_in3": "lb/in3",
    "_g_per_cm3": "g/cm3",
    "_degF": "degF",
    "_degC": "degC",
}


def column_unit(column: str) -> str | None:
    """The unit code that a column name ends in: `diameter_in` gives `in`; None where it has none."""
    found = max((s for s in SUFFIXES if column.endswith(s)), key=len, default=None)
    return SUFFIXES[found] if found else None


def column_subject(column: str) -> str:
    """A column name without its unit: `diameter_max_in` gives `diameter_max`."""
    found = max((s for s in SUFFIXES if column.endswith(s)), key=len, default="")
    return column[: len(column) - len(found)]


def read_unit(text: str) -> str:
    """Unit code of a unit as written: `inches` gives `in`, `°F` gives `degF`.

    Raises NotUnderstood. "mil" is refused: it means a thou in one shop and a millimetre in another.
    """
    if text in UNITS:
        return text
    word = " ".join(text.lower().split())
    if word in SPELLINGS:
        return SPELLINGS[word]
    if word in ("mil", "mils"):
        raise NotUnderstood(
            f'"{text}" means a thousandth of an inch to some and a millimetre to others', ["thou", "mm"]
        )
    import difflib

    near = dict.fromkeys(SPELLINGS[w] for w in difflib.get_close_matches(word, SPELLINGS, 4, 0.5))
    raise NotUnderstood(f'"{text}" is not a unit known here', near or ["in", "mm", "lb", "kg", "degF", "degC"])


def convert(value: Fraction, unit: str, to: str) -> Fraction:
    """`value` in `unit` expressed in `to`, exactly. Raises NotUnderstood if they measure different things."""
    old, new = UNITS[unit], UNITS[to]
    if old.dimension != new.dimension:
        same = [u.code for u in UNITS.values() if u.dimension == old.dimension and u is not old]
        raise NotUnderstood(f"{unit} is a {old.dimension}, {to} a {new.dimension}", same)
    return (value * old.factor + old.offset - new.offset) / new.factor


def counterpart(unit: str, value: Fraction | float = 0) -> str | None:
    """The unit of the other system: in gives mm, degC gives degF; None where both use the same.

    Stress of 1000 ksi and more is an elastic modulus and goes to GPa.
    """
    if unit == "ksi" and abs(value) >= 1000:
        return "GPa"
    return _INCH_TO_METRIC.get(unit) or _METRIC_TO_INCH.get(unit)


def inch_or_mm(unit: str) -> str:
    """The unit that a shop works in where a length is given in `unit`: `in` for feet and thou, `mm` for m and cm."""
    return "in" if is_inch(unit) else "mm"


def is_inch(unit: str) -> bool:
    """Whether a unit belongs to the inch-pound system."""
    return unit in _INCH_TO_METRIC


def from_pint(unit) -> str:
    """Our code of a unit of pint's, or its own short spelling."""
    registry = pint_registry()
    codes = {registry.Unit(one.pint): code for code, one in UNITS.items()}
    return codes.get(unit) or f"{unit:~C}"


def pint_registry():
    """pint's application registry with the shop's own units added once (thou, surface_foot, copper_ounce).

    A copper ounce is the thickness of sheet that weighs an ounce a square foot: 0.00135 in, as in the trade's
    16 oz = 0.0216 in.
    """
    import pint

    registry = pint.get_application_registry()
    for name, definition in (("thou", "0.001 inch"), ("surface_foot", "foot"), ("copper_ounce", "0.00135 inch")):
        if name not in registry:
            registry.define(f"{name} = {definition}")
    return registry
