"""What the row models of all rooms share. Used by build_db only: this module imports pydantic.

A table is a pydantic model of one CSV line. A column name ends in its unit; the `key` columns name the row; the
other Figure columns are the table's typed figures, each of which becomes a cell with a standing.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache, cached_property
from types import NoneType
from typing import Annotated, Any, ClassVar, Literal, NamedTuple, get_args, get_origin

from annotated_types import Ge, Gt, Le
from pydantic import AfterValidator, BaseModel, ConfigDict, PlainValidator, StringConstraints

from .numbers import Printed
from .rules import Refers
from .units import column_unit

Text = Annotated[str, StringConstraints(min_length=1)]


def _figure(text) -> Printed:
    if text is None:
        raise ValueError("is blank, and every row of this table needs it")
    return text if isinstance(text, Printed) else Printed(text)


Figure = Annotated[Printed, PlainValidator(_figure)]
Positive = Annotated[Figure, Gt(0)]
Percent = Annotated[Figure, Ge(0), Le(100)]


def _uns(text: str) -> str:
    if not (len(text) == 6 and text[0].isalpha() and text[0].isupper() and text[1:].isascii() and text[1:].isdigit()):
        raise ValueError(f'"{text}" is not a UNS number: a capital letter and five digits, as C36000')
    return text


Uns = Annotated[Text, AfterValidator(_uns)]


class Row(BaseModel):
    """A CSV line. A model sets `table` and `key`, and may set the rest.

    `nature`: `defined` by a standard, `measured`, or `words`. `qualifiers`: numeric columns that belong to the key
    in meaning (a temperature range). `places`: the decimals to which a standard states a column, for sources that
    drop trailing zeros. `labels`: columns that people search by. `bare`: a row may hold names
    only, no figure. `ask`: the question that answers
    for a row, with column names in braces. `rules`: the cross-row rules of rules.py; `ruled_within`: the columns whose
    rows they hold against each other, where that is not the whole table.
    """

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)

    table: ClassVar[str]
    key: ClassVar[tuple[str, ...]]
    nature: ClassVar[Literal["defined", "measured", "words"]] = "defined"
    qualifiers: ClassVar[tuple[str, ...]] = ()
    places: ClassVar[dict[str, int]] = {}
    labels: ClassVar[tuple[str, ...]] = ()
    bare: ClassVar[bool] = False
    ask: ClassVar[str | None] = None
    rules: ClassVar[tuple[Any, ...]] = ()
    ruled_within: ClassVar[tuple[str, ...]] = ()

    @cached_property
    def row_key(self) -> str:
        """The key columns in one text; blanks are left out."""
        parts = (getattr(self, column) for column in self.key)
        return " ".join(part.text if isinstance(part, Printed) else str(part) for part in parts if part is not None)

    def unit_of(self, column: str) -> str | None:
        """Unit of a figure: that of its column name, or the row's own where the table is long."""
        return column_unit(column)

    def rounding(self, column: str) -> Fraction:
        """Half a unit of the last place that the figure is stated to."""
        own = getattr(self, column).rounding
        return min(own, Fraction(1, 2 * 10 ** self.places[column])) if column in self.places else own

    def agreement(self, column: str) -> Fraction:
        """How far a witness may lie off beyond its rounding, in the figure's unit; nothing for a defined figure."""
        return Fraction(0)


class Sourced(Row):
    """A row of figures or words that names the source in which it was seen."""

    source: Text
    locator: Text


class Column(NamedTuple):
    """A column of a table as the database needs it."""

    name: str
    type: type
    required: bool
    choices: tuple[str, ...]
    limits: tuple[str, ...]


_LIMITS = ((Gt, ">", "gt"), (Ge, ">=", "ge"), (Le, "<=", "le"))


@cache
def columns(model: type[Row]) -> tuple[Column, ...]:
    """The columns of a model in its order, its source and locator last."""
    told = [_column(name, field) for name, field in model.model_fields.items()]
    return tuple(sorted(told, key=lambda column: column.name in Sourced.model_fields and issubclass(model, Sourced)))


def _column(name: str, field) -> Column:
    annotation, metadata, required = field.annotation, list(field.metadata), field.is_required()
    if NoneType in get_args(annotation):
        annotation = next(part for part in get_args(annotation) if part is not NoneType)
    if get_origin(annotation) is Annotated:
        annotation, *more = get_args(annotation)
        metadata += more
    choices = get_args(annotation) if get_origin(annotation) is Literal else ()
    base = str if choices else annotation
    limits = tuple(
        f"{sign} {getattr(part, field)}" for part in metadata for kind, sign, field in _LIMITS if isinstance(part, kind)
    )
    return Column(name, base, required, choices, limits)


@cache
def figures(model: type[Row]) -> tuple[str, ...]:
    """Names of the columns that hold typed figures; key columns and qualifiers are names, not figures."""
    skip = (*model.key, *model.qualifiers)
    return tuple(column.name for column in columns(model) if column.type is Printed and column.name not in skip)


Kind = Literal["standard", "handbook", "association", "maker", "dataset", "package", "formula", "practice", "memory"]


class SourceRow(Row):
    """A published source. `ancestor` is the source whose figures it repeats, if any."""

    table = "sources"
    key = ("id",)
    nature = "words"
    labels = ("id", "title")
    ask = "source {id}"
    rules = (Refers("ancestor", "sources", "id"),)

    id: Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9.-]*$")]
    title: Text
    edition: Text | None = None
    year: Text | None = None
    publisher: Text | None = None
    kind: Kind
    ancestor: Text | None = None
    address: Text | None = None
    note: Text | None = None
