"""The question `register`: a second blank cut in the place of the first on a cutting bed."""

from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Above, FromZero
from refdata.core.results import Result
from refdata.core.units import inch_or_mm


class Register(Result):
    """Where the fences go, measured from the outline's lower left corner, and the least blank that is safe there."""

    HEADLINE = "blank_length"
    fence_x: Quantity
    fence_y: Quantity
    blank_length: Quantity
    blank_width: Quantity

    @property
    def caption(self) -> str:
        return "least length of the blank"


@question
def register(
    length: Above, *, width: Above, margin: FromZero, kerf: FromZero, slip: FromZero = "0.010 in",
    square: FromZero = "0 in",
) -> Register:  # fmt: skip
    """Fences for blanks cut one after the other in one place, and the least oversize a blank needs.

    `length` and `width` are the part's outline, `margin` the web that must stay outside it, `kerf` the cut's width,
    `slip` how far a blank may lie from the fence (ten thousandths is common practice), `square` how far its corner
    may be out of square. The cut runs outside the outline: fence = margin + kerf from the outline; blank = outline +
    2 (margin + kerf) + slip + square. Raises NotUnderstood.

    >>> import refdata
    >>> refdata.register("6 in", width="4 in", margin="1/4 in", kerf="0.040 in").blank_length
    <6.590 in · computed>
    """
    unit = inch_or_mm(length.unit)
    long, wide, web, cut, play, skew = (q.to(unit).exact for q in (length, width, margin, kerf, slip, square))
    over = 2 * (web + cut) + play + skew
    fence = Quantity.length(-(web + cut), unit)
    return Register(
        fence_x=fence, fence_y=fence, blank_length=Quantity.length(long + over, unit),
        blank_width=Quantity.length(wide + over, unit),
        notes=["fences stand left of the first outline's corner and below it", "check the fence on scrap first"],
    )  # fmt: skip
