"""The question `convert`: a number from one unit to another, exactly."""

from . import numbers
from .quantity import Quantity
from .questions import question
from .reading import Measure, UnitCode
from .results import Result
from .units import convert as convert_exactly


class Conversion(Result):
    """A converted quantity: what was given and what it is in the unit asked for."""

    HEADLINE = "result"
    IN_CAPTION = ("given",)
    result: Quantity
    given: Quantity

    @property
    def caption(self) -> str:
        return f"is {self.given}"


@question
def convert(value: Measure, unit: UnitCode) -> Conversion:
    """A quantity in another unit, converted exactly and rounded once.

    `value` is a number with its unit ("3/16 in", "1630 F", "0.307 lb/in3"; a fraction or a decimal point alone
    means inches), `unit` the unit wanted. Raises NotUnderstood. Factors: NIST SP 811.

    >>> import refdata
    >>> refdata.convert("3/16 in", "mm").result.value
    4.7625
    """
    exact = convert_exactly(value.exact, value.unit, unit)
    figures = max(6, numbers.significant(value.text))
    text = numbers.show(exact, figures)
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return Conversion(result=Quantity(text, unit, exact=exact), given=value)
