"""Reading what people write: lengths, quantities, screw sizes, choices.

A Reader stands in a question's annotation (`size: Size`) and serves every door: it reads the text, and says
what may be written when the text cannot be read.
"""

from __future__ import annotations

import re
from fractions import Fraction

from . import numbers, units
from .errors import NotUnderstood, RefdataError
from .quantity import Quantity

LONGEST = 200
MOST_LETTERS = 20_000  # of a list of parts
_DECIMAL_COMMA = r"(?<![\d.,])(\d+),(\d+)(?![\d.,])"


class Readings:
    """Several values that one text may stand for, and what to ask: none of them is guessed."""

    __slots__ = ("ask", "values")

    def __init__(self, ask: str, values):
        self.ask, self.values = ask, tuple(values)


class Reader:
    """How one kind of argument is read: it stands as the annotation of a question's parameter.

    `help` is one line for people, `examples` valid texts, `choices` the words allowed where they are few, `long`
    whether it takes lines of text, `many` whether its option may be given more than once, `comma` what stands between
    several of its kind, where it reads several.
    """

    long = False
    many = False
    comma: str | None = None
    longest = LONGEST

    def __init__(self, name: str, read, help: str, examples=(), choices=None):
        self.name, self._read, self.help = name, read, help
        self.examples, self.choices = tuple(examples), choices

    def __repr__(self) -> str:
        return self.name

    def read(self, given):
        """The value that a text stands for, or Readings where it stands for several. Raises NotUnderstood."""
        text = given if isinstance(given, str) else str(given)
        if not text.strip():
            raise NotUnderstood(f"an empty text is not {a(self.name)}", self.examples)
        if len(text) > self.longest or "\0" in text:
            most = f", which has at most {self.longest} letters"
            raise NotUnderstood(f"that is too long or too strange for {a(self.name)}{most}", self.examples)
        try:
            return self._read(text)
        except NotUnderstood as problem:
            pointed = self._pointed(text.strip())
            if not pointed:
                raise
            raise NotUnderstood(f"{problem.message}: decimals are written with a point", [pointed]) from None

    def _pointed(self, text: str) -> str | None:
        """A text with a point for its decimal comma, where it can then be read."""
        pointed = re.sub(_DECIMAL_COMMA, r"\1.\2", text)
        if self.comma or self.long or pointed == text:
            return None
        try:
            self._read(pointed)
        except RefdataError:
            return None
        return pointed


class ListReader(Reader):
    """A Reader of several, with commas between them."""

    comma = ", "


class LongReader(Reader):
    """A Reader of many lines of text."""

    long = True
    longest = MOST_LETTERS


def choice(name: str, choices: dict[str, str | tuple], help: str) -> Reader:
    """A Reader for one of a few words; `choices` maps each word to its synonyms."""
    words = {word: word for word in choices}
    words |= {synonym: word for word, synonyms in choices.items() for synonym in synonyms}

    def read(text: str) -> str:
        word = " ".join(text.lower().split())
        if word not in words:
            raise NotUnderstood(f'"{text.strip()}" is not {a(name)}', nearest(word, words, list(choices)))
        return words[word]

    return Reader(name, read, help, examples=list(choices)[:3], choices=list(choices))


def a(name: str) -> str:
    """A name with its article: `a screw size`, `an angle`."""
    return f"{'an' if name[0] in 'aeio' else 'a'} {name}"


def nearest(word: str, among, otherwise=(), most: int = 5) -> list[str]:
    """The names closest in spelling to `word`, or `otherwise` when none is close."""
    import difflib

    # names whose length or letters cannot reach a likeness of 0.6 are left out before difflib looks at them
    size, letters = len(word), set(word)
    alike = []
    for name in among:
        shared = 0.3 * (len(name) + size)  # characters that the two must have in common
        if min(len(name), size) >= shared and len(letters.intersection(name)) >= len(letters) - size + shared:
            alike.append(name)
    return difflib.get_close_matches(word, alike, most, 0.6) or list(otherwise)


# --- lengths ---------------------------------------------------------------------------------------------

_AS_LENGTH = ("1/8 in", "0.125", "3 mm", "5 thou")


def read_length(text: str) -> Quantity | Readings:
    """A length as written: `1/8"`, `.125`, `3 mm`, `1-1/4`, `5 thou`.

    Fractions and decimals with a point are inches; a bare whole number may be inches or millimetres, so both
    come back. Raises NotUnderstood.
    """
    words = numbers.plain(text)
    found = numbers.leading_number(words)
    if not found:
        raise NotUnderstood(f'"{text.strip()}" is not a length', _AS_LENGTH)
    value, written, rest = found
    rest = rest.strip()
    if re.fullmatch(r"(ga|gauge|gage)\b.*", rest, re.I):
        raise NotUnderstood(f'"{text.strip()}" is a gauge number: ask gauge {written} with its metal first', _AS_LENGTH)
    if not rest:
        if "/" not in written and "." not in written and value:
            return Readings(f"Is that {written} mm or {written} in?", (Quantity(written, u) for u in ("mm", "in")))
        rest = "in"
    if re.fullmatch(r"-\s*\d{1,2}(\s*un[cfs]?)?", rest, re.I):
        raise NotUnderstood(
            f'"{text.strip()}" is a thread, not a length: its diameter is {written} in', [f"{written} in"]
        )
    unit = units.read_unit(rest)
    if units.UNITS[unit].dimension != "length":
        raise NotUnderstood(f'"{text.strip()}" is a {units.UNITS[unit].dimension}, not a length', _AS_LENGTH)
    return Quantity(written, unit, exact=value)


def above(found: Quantity | Readings, text: str, examples=_AS_LENGTH, zero: bool = False) -> Quantity | Readings:
    """`found`, if it is above nothing, or with `zero` not below it. Raises NotUnderstood."""
    for one in found.values if isinstance(found, Readings) else (found,):
        if one.exact < 0 and zero:
            raise NotUnderstood(f"{text.strip()} is below nothing: it must be zero or more", examples)
        if one.exact <= 0 and not zero:
            raise NotUnderstood(f"{text.strip()} is not above nothing: it must be more than zero", examples)
    return found


def read_above(text: str) -> Quantity | Readings:
    """A length above nothing. Raises NotUnderstood."""
    return above(read_length(text), text)


def read_from_zero(text: str) -> Quantity | Readings:
    """A length, or none at all. Raises NotUnderstood."""
    return above(read_length(text), text, zero=True)


def _possible(found: Quantity, text: str) -> Quantity:
    """`found`, if it is no temperature below absolute zero. Raises NotUnderstood."""
    unit = units.UNITS[found.unit]
    if unit.dimension == "temperature" and found.exact * unit.factor + unit.offset < 0:
        raise NotUnderstood(f"{text.strip()}: nothing is colder than -273.15 °C, -459.67 °F", ["20 C", "68 F"])
    return found


def read_quantity(text: str) -> Quantity | Readings:
    """A number with any unit of the tables: `0.307 lb/in3`, `1630 F`, `3/16 in`. Raises NotUnderstood."""
    found = numbers.leading_number(numbers.plain(text))
    if not found or found[2][:1].isdigit():
        raise NotUnderstood(
            f'"{text.strip()}" does not start with a number of at most 15 digits',
            ["3/16 in", "1630 degF", "0.307 lb/in3"],
        )
    value, written, rest = found
    if rest.strip():
        return _possible(Quantity(written, units.read_unit(rest.strip()), exact=value), text)
    return read_length(text)


def amount(name: str, unit: str, help: str, least: str, most: str, examples=()) -> Reader:
    """A Reader for a plain number in one unit, which may be left out: `82`, `82 deg`, `75 %`."""

    def read(text: str) -> Quantity:
        found = numbers.leading_number(numbers.plain(text))
        rest = found[2].strip() if found else ""
        if not found or (rest and units.SPELLINGS.get(rest.lower()) != unit):
            raise NotUnderstood(f'"{text.strip()}" is not {a(name)}', examples)
        if not Fraction(least) <= found[0] <= Fraction(most):
            raise NotUnderstood(f"{name} {text.strip()} is not between {least} and {most}", examples)
        return Quantity(found[1], unit, exact=found[0])

    return Reader(name, read, help, examples)


def measured(name: str, dimension: str, help: str, examples, bare: str | None = None, zero: bool = False) -> Reader:
    """A Reader for a number with a unit of one dimension: `100 ft/min`, `680 C`; `bare` is the unit of a bare
    number. It must be above nothing, or with `zero` not below it; a temperature not below absolute zero."""

    def read(text: str) -> Quantity:
        found = numbers.leading_number(numbers.plain(text))
        rest = found[2].strip() if found else ""
        if not found or not (rest or bare):
            raise NotUnderstood(f'"{text.strip()}" is not {a(name)} with its unit', examples)
        unit = units.read_unit(rest) if rest else bare
        if units.UNITS[unit].dimension != dimension:
            raise NotUnderstood(f'"{text.strip()}" is {a(units.UNITS[unit].dimension)}, not {a(name)}', examples)
        one = _possible(Quantity(found[1], unit, exact=found[0]), text)
        return one if dimension == "temperature" else above(one, text, examples, zero)

    return Reader(name, read, help, examples)


def factor(name: str, help: str) -> Reader:
    """A Reader for a plain factor, 0 to 100: `1.5`, `1/2`."""

    def read(text: str) -> numbers.Printed:
        try:
            value = numbers.Printed(text)
        except ValueError:
            raise NotUnderstood(f'"{text.strip()}" is not {a(name)}', ["1.5", "1/2"]) from None
        if not 0 <= value <= 100:
            raise NotUnderstood(f"{name} {text.strip()} is not between 0 and 100", ["1.5", "1/2"])
        return value

    return Reader(name, read, help, ("1.5", "1/2"))


def count(name: str, help: str, most: int) -> Reader:
    """A Reader for a whole number from 1 to `most`."""

    def read(text: str) -> int:
        word = text.strip()
        if not (word.isascii() and word.isdigit() and len(word) < 10 and 1 <= int(word) <= most):
            raise NotUnderstood(f'"{word}" is not {a(name)} from 1 to {most}', ["1", "4", str(most)])
        return int(word)

    return Reader(name, read, help, ("4",))


# --- screw sizes -----------------------------------------------------------------------------------------


class ScrewSize:
    """A screw size as read: `system` is number, inch or metric; `diameter` its nominal diameter.

    `label` is the way the tables write it (`#6`, `1/4`, `M4`), `thread` what stood after it (`32`, `0.7`) or "".
    """

    __slots__ = ("diameter", "label", "system", "thread")

    def __init__(self, system: str, label: str, diameter: Quantity, thread: str = ""):
        self.system, self.label, self.diameter, self.thread = system, label, diameter, thread

    def __str__(self) -> str:
        if not self.thread:
            return self.label
        return f"{self.label}x{self.thread}" if self.system == "metric" else f"{self.label}-{self.thread}"


_AS_SCREW = ("#6", "6-32", "1/4", "1/4-20", "M4", "M4x0.7")
# patterns are compiled by re when first used: a cold command line needs one or two of them
_KIND = r"(?i)\s+(?:(?:machine|wood|cap|socket|flat|head|countersunk)\s+)*(?:screws?|bolts?)$"
_SERIES = r"(?i)\s*(unc|unf|unef|un|unr|unj)?\s*(-?\s*[1-3][ab])?$"
_METRIC = r"(?i)m\s*(\d{1,3}(?:\.\d{1,2})?)\s*(?:[x*-]\s*(\d{0,2}(?:\.\d{1,3})?|\d))?\s*(?:-\s*\d[a-h](?:\d[a-h])?)?$"
_NUMBERED = r"(?i)(?:#|no\.?|number|nr\.?)\s*(0{1,4}|[1-9]\d?)(?:\s*-\s*(\d{1,2}))?$"
_THREADED = r"(0|[1-9]\d?)\s*-\s*(\d{1,2})$"
_ONE_INCH_THREADS = ("8", "12", "14", "16", "20", "28")
_NUMBER_ONE_THREADS = ("64", "72")


def read_screw_size(text: str) -> ScrewSize | Readings:
    """A screw size as written: `#6`, `no. 6`, `6`, `6-32`, `1/4-20`, `.250`, `1-1/4`, `M4`, `M4x0.7`.

    A bare whole number 0 to 14 is the number size, except that 1 gives both #1 and 1 in. Fractions and
    decimals with a point are inches; metric needs its M. Raises NotUnderstood.
    """
    words = re.sub(_SERIES, "", re.sub(_KIND, "", numbers.plain(text)))
    if match := re.match(_METRIC, words):
        written = match[1]
        bare = (
            numbers.show(Fraction(written), numbers.significant(written)).rstrip("0").rstrip(".")
            if "." in written
            else written
        )
        return ScrewSize("metric", f"M{bare.lstrip('0') or '0'}", Quantity(written, "mm"), match[2] or "")
    if match := re.match(_NUMBERED, words):
        return _number_size(match[1], match[2] or "", text)
    if re.fullmatch(r"0|[1-9]\d?", words):
        if words == "1":
            return Readings(
                "Is 1 the number size #1 or one inch?", (_number_size("1", "", text), _inch_size("1", Fraction(1), ""))
            )
        if int(words) > 14:
            raise NotUnderstood(f'"{words}" is not a screw size: metric needs its M', _AS_SCREW)
        return _number_size(words, "", text)
    if match := re.match(_THREADED, words):
        if match[1] == "1" and match[2] in _ONE_INCH_THREADS:
            return _inch_size("1", Fraction(1), match[2])
        if match[1] != "1" or match[2] in _NUMBER_ONE_THREADS:
            return _number_size(match[1], match[2], text)
        raise NotUnderstood(f'"{text.strip()}" is #1 or 1 in with a thread that neither has', ["1-64", "1-72", "1-8"])
    return _read_inch_size(words, text)


def _number_size(written: str, thread: str, text: str) -> ScrewSize:
    number = int(written) or 1 - len(written)  # 0, then 00, 000 and 0000, one number less each
    if number > 24:
        raise NotUnderstood(f'"{text.strip()}" is not a screw size', _AS_SCREW)
    diameter = Fraction(60 + 13 * number, 1000)
    return ScrewSize("number", f"#{written}", Quantity.computed(diameter, "in", 4), thread)


def _inch_size(written: str, value: Fraction, thread: str) -> ScrewSize:
    whole, rest = divmod(value, 1)
    if value.denominator in (1, 2, 4, 8, 16, 32, 64):
        label = "-".join(str(part) for part in (whole, rest) if part)
    else:
        label = numbers.show(value, numbers.significant(written))
    return ScrewSize("inch", label, Quantity(written, "in", exact=value), thread)


def _read_inch_size(words: str, text: str) -> ScrewSize:
    found = numbers.leading_number(words)
    if not found or found[0] <= 0:
        raise NotUnderstood(f'"{text.strip()}" is not a screw size', _AS_SCREW)
    value, written, rest = found
    match = re.fullmatch(r"""\s*(in|inch|inches|"|'')?\s*(?:-\s*(\d{1,2}))?""", rest, re.I)
    if not match:
        if re.fullmatch(r"\s*mm.*", rest, re.I):
            raise NotUnderstood(f'"{text.strip()}": metric screw sizes need their M', [f"M{written}"])
        raise NotUnderstood(f'"{text.strip()}" is not a screw size', _AS_SCREW)
    return _inch_size(written, value, match[2] or "")


# --- the annotations -------------------------------------------------------------------------------------

Text = Reader("text", str.strip, "any words")
Word = Reader("name", lambda text: " ".join(text.split()), "a name as people say it")
Metal = Reader(
    "metal", lambda text: " ".join(text.split()), "metal: naval brass, C36000, 6061", ("naval brass", "C36000")
)
Size = Reader("screw size", read_screw_size, "screw size: #6, 6-32, 1/4-20, M4", _AS_SCREW)
Length = Reader("length", read_length, "length: 1/8 in, .125, 3 mm, 5 thou", _AS_LENGTH)
Angle = amount("angle", "deg", "included angle in degrees: 82, 90, 118", "1", "179", ("82", "90", "118"))
Above = Reader("length", read_above, "length: 1/8 in, .125, 3 mm, 5 thou", _AS_LENGTH)
FromZero = Reader("length", read_from_zero, "length, nothing allowed: 0 in, 5 thou, 0.2 mm", _AS_LENGTH)
Mass = measured("mass", "mass", "mass: 0.5 kg, 120 g, 1.1 lb", ("120 g", "1.1 lb"))
Measure = Reader("quantity", read_quantity, "number and unit: 3/16 in, 1630 degF", ("3/16 in", "1630 degF"))
UnitCode = Reader("unit", units.read_unit, "unit: in, mm, thou, lb, kg, degF, ...", ("in", "mm"))
