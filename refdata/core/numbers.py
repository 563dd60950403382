"""Numbers as people and tables write them, kept exactly: decimals, fractions, mixed numbers."""

from __future__ import annotations

import re
from fractions import Fraction

from .errors import NotUnderstood

_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_NUMBER = r"""(?x)(?P<sign>[+-]?)
    (?: (?:(?P<whole>\d{1,9})[ -]+)? (?P<top>\d{1,9}) \s*/\s* (?P<bottom>\d{1,9})
      | (?P<decimal>[1-9]\d{0,2}(?:,\d{3})+(?:\.\d*)?(?!\d) | \d{1,15}(?:\.\d{0,15})? | \.\d{1,15}) )"""


def plain(text: str) -> str:
    """Text with unicode fractions, slashes, dashes and multiplication signs in plain characters."""
    text = text.strip()
    if text.isascii():
        return text
    for written, meant in (("⁄", "/"), ("∕", "/"), ("–", "-"), ("−", "-"), ("×", "x")):
        text = text.replace(written, meant)
    vulgar = f"([0-9]?)[ -]?([{''.join(_VULGAR)}])"
    return re.sub(vulgar, lambda m: f"{m[1]}{'-' if m[1] else ''}{_VULGAR[m[2]]}", text)


def leading_number(text: str) -> tuple[Fraction, str, str] | None:
    """The exact number at the start of `text`, its own characters and the rest; None if there is none.

    Reads `0.040`, `.04`, `1/8`, `1-1/4`, `1 1/4`, `14,000`.
    """
    match = re.match(_NUMBER, text)
    if not match:
        return None
    if match["top"]:
        if int(match["bottom"]) == 0:
            return None
        value = int(match["whole"] or 0) + Fraction(int(match["top"]), int(match["bottom"]))
    else:
        value = Fraction(match["decimal"].replace(",", ""))
    return (-value if match["sign"] == "-" else value), match[0], text[match.end() :]


class Printed(Fraction):
    """A figure of a table: an exact fraction that remembers how it was printed, in `text`."""

    __slots__ = ("text",)

    def __new__(cls, text: str):
        found = leading_number(plain(text))
        if not found or found[2].strip():
            raise ValueError(f'"{text}" is not a number')
        self = super().__new__(cls, found[0])
        self.text = text.strip()
        return self

    @property
    def rounding(self) -> Fraction:
        """Half a unit of the last printed place; nothing for a fraction, which is exact."""
        return half_place(self.text)

    def __repr__(self) -> str:
        return f"Printed({self.text!r})"


def half_place(text: str) -> Fraction:
    """Half a unit in the last printed place: `0.170` gives 1/2000, `1630` gives 1/2, `9/32` gives 0."""
    if "/" in text:
        return Fraction(0)
    places = len(text.partition(".")[2])
    return Fraction(1, 2 * 10**places)


def significant(text: str) -> int:
    """Significant figures that a printed decimal supports, never fewer than three; four for a fraction."""
    if "/" in text:
        return 4
    digits = text.lstrip("+-").replace(",", "")
    if "." not in digits:
        digits = digits.rstrip("0")
    return max(3, len(digits.replace(".", "").lstrip("0")))


def show(value: Fraction | float, figures: int = 4) -> str:
    """Plain decimal text with so many significant figures, trailing zeros kept: `show(4.318, 3)` is "4.32"."""
    from decimal import ROUND_HALF_UP, Decimal, localcontext

    if not value:
        return "0"
    with localcontext(prec=60):  # a cube of fifteen digits is shown whole
        exact = Decimal(value.numerator) / Decimal(value.denominator) if isinstance(value, Fraction) else Decimal(value)
        place = exact.adjusted() + 1 - figures
        rounded = exact.quantize(Decimal(1).scaleb(min(place, 0)), ROUND_HALF_UP)
        if rounded.adjusted() > exact.adjusted() and place < 0:
            rounded = rounded.quantize(Decimal(1).scaleb(place + 1))
    return format(rounded, "f")


def exact_fraction(text: str) -> Fraction:
    """Exact value of a number as written. Raises NotUnderstood."""
    found = leading_number(plain(text))
    if not found or found[2].strip():
        raise NotUnderstood(f'"{text}" is not a number', ["0.125", "1/8", "1-1/4"])
    return found[0]
