"""The shape of an answer: a frozen record of quantities and words, with its sources and cautions."""

from __future__ import annotations

from itertools import groupby

from . import sources
from .quantity import Quantity, ReadOnly, ReadOnlyList


def frozen(value):
    """The same lists and dicts, read only."""
    if isinstance(value, dict):
        return ReadOnly({key: frozen(part) for key, part in value.items()})
    if isinstance(value, (list, tuple)):
        return (ReadOnlyList if isinstance(value, list) else tuple)(frozen(part) for part in value)
    return value


class Result:
    """Base of all answers. A subclass lists its fields as annotations, in the order of the contract.

    HEADLINE names the figure that is shown first; `caption` says in words what it is, and holds the fields of
    IN_CAPTION; HEADER names the columns of `headline`. Without SOURCE_LINE people are told no sources at the end: the
    answer is about them. With CAUTIONS_FIRST the cautions stand before the figures. `sources` are the sources of
    every figure, `cautions` what can hurt, `notes` what was assumed."""

    HEADLINE: str | None = None
    IN_CAPTION: tuple[str, ...] = ()
    HEADER: tuple[str, ...] = ()
    SOURCE_LINE = True
    CAUTIONS_FIRST = False
    FIELDS: tuple[str, ...] = ()

    def __init_subclass__(cls):
        cls.FIELDS = tuple(cls.__annotations__)

    def __init__(self, *, cautions=(), notes=(), cited=(), **values):
        unknown = values.keys() - set(self.FIELDS)
        if unknown:
            raise TypeError(f"{type(self).__name__} has no field {', '.join(sorted(unknown))}")
        self.__dict__.update({name: frozen(values.get(name)) for name in self.FIELDS})
        self.__dict__.update(cautions=tuple(cautions), notes=tuple(notes), _cited=tuple(cited))

    def __setattr__(self, name, _):
        raise AttributeError(f"an answer is read only: {name}")

    __delattr__ = __setattr__

    @property
    def caption(self) -> str:
        """What the answer is, in a few words."""
        return " ".join(str(getattr(self, f)) for f in self.FIELDS if isinstance(getattr(self, f), str))

    def headline(self) -> list[str] | None:
        """The first line in columns under HEADER, for an answer that has no one figure to begin with."""
        return None

    def quantities(self):
        """Every figure in the answer, as (path, Quantity): `diameter`, `composition.Cr.max`, `machinability.0`."""
        for field in self.FIELDS:
            yield from _quantities(field, getattr(self, field))

    @property
    def sources(self) -> list[sources.Source]:
        """The sources of the answer, each once."""
        ids = dict.fromkeys([*self._cited, *(q.source for _, q in self.quantities())])
        return [sources.by_id(i) for i in ids if i and i != "computed"]

    def as_dict(self, units: str = "published") -> dict:
        """Plain values as in the JSON of the contract. `units`: published, inch, metric or both."""
        form = {field: _plain(getattr(self, field), units) for field in self.FIELDS}
        if self.notes:
            form["notes"] = list(self.notes)
        return form

    def __eq__(self, other):
        return type(other) is type(self) and all(getattr(self, f) == getattr(other, f) for f in self.FIELDS)

    __hash__ = None  # fields may hold dicts

    def __repr__(self) -> str:
        given = ((field, getattr(self, field)) for field in self.FIELDS)
        shown = ", ".join(f"{field}={value!r}" for field, value in given if value not in (None, [], {}))
        return f"{type(self).__name__}({shown})"

    def _repr_html_(self) -> str:
        from html import escape

        rows = "".join(
            f"<tr><th>{escape(name)}</th>{''.join(f'<td>{escape(part)}</td>' for part in told)}</tr>"
            for name, *told in self.lines()
        )
        cautions = "".join(f"<p><b>Caution:</b> {escape(text)}</p>" for text in self.cautions)
        cited = "; ".join(escape(source.citation) for source in self.sources)
        return f"<table><caption>{escape(self.caption)}</caption>{rows}</table>{cautions}<p><small>{cited}</small></p>"

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        """The fields for people: name and words, or name, figure, the same in the other units or "", and the
        standing with what the figure holds for."""
        shown = (field for field in self.FIELDS if field not in skip)
        return [line for field in shown for line in _lines(field.replace("_", " "), getattr(self, field), units)]


def _quantities(path: str, value):
    if isinstance(value, Quantity):
        yield path, value
        parts = value.qualifiers.items()
    elif isinstance(value, dict):
        parts = value.items()
    elif isinstance(value, (list, tuple)):
        parts = enumerate(value)
    else:
        return
    for name, part in parts:
        yield from _quantities(f"{path}.{name}", part)


def _plain(value, units: str):
    if isinstance(value, Quantity):
        return value.as_dict(units)
    if isinstance(value, dict):
        return {key: _plain(part, units) for key, part in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(part, units) for part in value]
    return value


class Told(str):
    """Words about quantities of the tables. `parts` are the words with the cell that each is about, or None: a page
    can lead from a figure to who says so."""

    parts: tuple[tuple[str, tuple[str, str, str] | None], ...] = ()

    @classmethod
    def of(cls, words: str, quantity: Quantity) -> Told:
        told = cls(words)
        told.parts = ((words, quantity.cell),)
        return told

    @classmethod
    def joined(cls, *pieces: str) -> Told:
        told = cls("".join(pieces))
        told.parts = tuple(part for piece in pieces for part in (getattr(piece, "parts", ()) or ((piece, None),)))
        return told

    @classmethod
    def listed(cls, pieces, comma: str = ", ") -> Told:
        """Pieces with a comma between them."""
        return cls.joined(*[word for piece in pieces for word in (comma, piece)][1:])


def side_by_side(quantity: Quantity, units: str = "both") -> tuple[str, str]:
    """A quantity in words: as published (or in `units`), and in the other system where `units` is both."""
    served = quantity.within("published" if units == "both" else units)
    other = served.other() if units == "both" else None
    return Told.of(str(served), quantity), Told.of(str(other), quantity) if other else ""


def shop_figure(figure: str) -> str:
    """A figure as the shop says it: decimal inches have their thousandths (0.17 in is 0.170 in), and lengths no
    more places than a tool can hold (13/64 is 0.2031 in, not 0.203125 in)."""
    number, _, unit = figure.partition(" ")
    places = len(number.partition(".")[2])
    if unit == "in" and "/" not in number and places < 3:
        return f"{float(number):.3f} in"
    if (unit == "in" and places > 5) or (unit == "mm" and places > 3):
        return f"{float(number):.{4 if unit == 'in' else 3}f} {unit}"
    return figure


def bracketed(standing: str | None) -> str:
    """The standing of a figure as people see it: `[agreed]`, nothing for a computed one."""
    return f"[{standing}]" if standing else ""


def _lines(name: str, value, units: str) -> list[tuple[str, ...]]:
    if value is None or value == [] or value == {}:
        return []
    if isinstance(value, Quantity):
        return [(name, *side_by_side(value, units), _remark(value, units))]
    if isinstance(value, (list, tuple)):
        if all(isinstance(part, str) for part in value):
            return [(name, ", ".join(value))]
        return [line for part in value for line in _lines(name, part, units)]
    if isinstance(value, dict):
        return [(name, "; ".join(f"{key} {part}" for key, part in value.items()))]
    return [(name, str(value))]


def _remark(value: Quantity, units: str) -> str:
    """The standing of a figure and what it holds for, in words: temper, scale, temperature range."""
    told = [str(part) for key, part in value.qualifiers.items() if not isinstance(part, Quantity)]
    ends = [side_by_side(value.qualifiers[key], units) for key in value.qualifiers if key.endswith(("from", "to"))]
    ranges = [_span(dict.fromkeys(side)) for side in zip(*ends) if any(side)]
    if ranges:
        told.append(ranges[0] + (f" ({ranges[1]})" if len(ranges) > 1 else ""))
    return "  ".join(filter(None, (bracketed(value.standing), ", ".join(told))))


def _span(ends) -> str:
    """`68 to 572 °F` of `68 °F` and `572 °F`."""
    *first, last = ends
    return " to ".join([*(end.rpartition(" ")[0] for end in first), last])


def once(results, name: str) -> list[str]:
    """The notes, or the cautions, of several results, each once."""
    return list(dict.fromkeys(text for result in results for text in getattr(result, name)))


def by_header(results: list[Result]) -> list[tuple[tuple[str, ...], list[Result]]]:
    """Results of one header after another: lines of several readings do not stand under each other's columns."""
    return [(header, list(some)) for header, some in groupby(results, key=lambda one: tuple(one.HEADER))]
