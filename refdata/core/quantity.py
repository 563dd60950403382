"""Light quantities: a figure with its unit, the source in which it was seen and its standing."""

from __future__ import annotations

from fractions import Fraction

from . import numbers, units

# how well a figure is witnessed, best first
STANDINGS = ("formula", "independent", "agreed", "single", "practice", "memory")


def _refuse(self, *_, **__):
    raise TypeError("an answer is read only")


class ReadOnly(dict):
    """A dict of an answer: the next caller gets the same one, so that nobody may change it."""

    __slots__ = ()
    __setitem__ = __delitem__ = __ior__ = clear = pop = popitem = setdefault = update = _refuse

    def __reduce__(self):
        return ReadOnly, (dict(self),)


class ReadOnlyList(list):
    """A list of an answer, which nobody changes."""

    __slots__ = ()
    __setitem__ = __delitem__ = __iadd__ = __imul__ = _refuse
    append = extend = insert = remove = pop = clear = sort = reverse = _refuse

    def __reduce__(self):
        return ReadOnlyList, (list(self),)


_NOTHING = ReadOnly()


class Quantity:
    """A frozen figure of the tables, or one computed from them.

    `value` is the nearest float in `unit`, `text` the figure as printed (for computed ones, as shown), `exact`
    the exact fraction. `source` is a source id, or `computed`; `standing` one word on how well it is witnessed.
    `cell` names the cell it came from (table, key, column); `qualifiers` what it holds for (temper, range).

    >>> Quantity("0.170", "in").to("mm").value
    4.318
    """

    __slots__ = ("_exact", "cell", "qualifiers", "source", "standing", "text", "unit", "value")

    def __init__(
        self, text, unit, source="computed", standing=None, cell=None, qualifiers=None, exact=None, value=None
    ):
        set_ = object.__setattr__
        set_(self, "text", text)
        set_(self, "unit", unit)
        set_(self, "source", source)
        set_(self, "standing", standing)
        set_(self, "cell", cell)
        set_(self, "qualifiers", ReadOnly(qualifiers) if qualifiers else _NOTHING)
        set_(self, "_exact", exact)
        set_(self, "value", float(self.exact) if value is None else value)

    @classmethod
    def computed(cls, exact: Fraction, unit: str, figures: int = 4, qualifiers=None) -> Quantity:
        """A computed quantity, shown with so many significant figures."""
        return cls(numbers.show(exact, figures), unit, exact=Fraction(exact), qualifiers=qualifiers)

    @classmethod
    def length(cls, value: Fraction | float, unit: str) -> Quantity:
        """A computed length in inches or millimetres, shown to the thousandth or the hundredth."""
        exact, places = Fraction(value), 3 if unit == "in" else 2
        # halves go up, as 3.175 mm to 3.18, which a binary float would print as 3.17
        rounded = (abs(exact) * 10**places + Fraction(1, 2)) // 1
        return cls(f"{'-' * (exact < 0 and rounded > 0)}{rounded / 10**places:.{places}f}", unit, exact=exact)

    @classmethod
    def lengths(cls, value: Fraction | float, unit: str) -> tuple[Quantity, Quantity]:
        """A computed length, and the same in the other of inches and millimetres, each to its own places."""
        one, other = cls.length(value, unit), "mm" if unit == "in" else "in"
        return one, cls.length(units.convert(one.exact, unit, other), other)

    def qualified(self, qualifiers: dict) -> Quantity:
        """The same figure with what it holds for."""
        return Quantity(
            self.text, self.unit, self.source, self.standing, self.cell, qualifiers, self._exact, self.value
        )

    def __setattr__(self, name, _):
        raise AttributeError(f"a quantity is read only: {name}")

    def __delattr__(self, name):
        raise AttributeError(f"a quantity is read only: {name}")

    def __reduce__(self):
        return Quantity, (
            self.text, self.unit, self.source, self.standing, self.cell, self.qualifiers, self._exact, self.value
        )  # fmt: skip

    @property
    def exact(self) -> Fraction:
        if self._exact is None:
            try:
                exact = Fraction(self.text)
            except ValueError:
                exact = numbers.exact_fraction(self.text)
            object.__setattr__(self, "_exact", exact)
        return self._exact

    def to(self, unit: str) -> Quantity:
        """The same quantity in another unit (a code or a spelling: "mm", "thou"). Raises NotUnderstood."""
        code = unit if unit in units.UNITS else units.read_unit(unit)
        if code == self.unit:
            return self
        exact = units.convert(self.exact, self.unit, code)
        if units.UNITS[code].dimension == "temperature":
            # degrees are printed to the degree: a conversion adds no places
            shown = f"{float(exact):.{len(self.text.partition('.')[2])}f}"
        else:
            shown = numbers.show(exact, numbers.significant(self.text))
        return Quantity(shown, code, self.source, self.standing, self.cell, self.qualifiers, exact)

    def other(self) -> Quantity | None:
        """The same quantity in the other system (inch or metric); None where both use one unit."""
        unit = units.counterpart(self.unit, self.value)
        return self.to(unit) if unit else None

    def within(self, system: str) -> Quantity:
        """The quantity in a system of units: `published`, `inch` or `metric`."""
        wrong = system != "published" and units.is_inch(self.unit) != (system == "inch")
        return (self.other() or self) if wrong else self

    def less(self, other: Quantity) -> Quantity:
        """This quantity less another of its kind, in this one's unit, to a tenth of a thou or a micrometre."""
        exact = self.exact - units.convert(other.exact, other.unit, self.unit)
        text = f"{float(exact):.{3 if self.unit == 'mm' else 4}f}"
        return Quantity(text, self.unit, exact=exact)

    @property
    def quantity(self):
        """A pint quantity of the application registry, so that it mixes with the caller's own."""
        registry = units.pint_registry()
        return registry.Quantity(self.value, units.UNITS[self.unit].pint)

    def as_dict(self, system: str = "published") -> dict:
        """The JSON form of the contract; `system` is published, inch, metric or both."""
        served = self.within("published" if system == "both" else system)
        form = {"value": served.value, "unit": served.unit, "source": self.source}
        if self.source != "computed":
            form["standing"] = self.standing
        for name, qualifier in self.qualifiers.items():
            form[name] = qualifier.as_dict(system) if isinstance(qualifier, Quantity) else qualifier
        if system == "both":
            other = served.other()
            form["other"] = {"value": other.value, "unit": other.unit} if other else None
        return form

    def __float__(self) -> float:
        return self.value

    def __eq__(self, other) -> bool:
        if not isinstance(other, Quantity):
            return NotImplemented
        same = units.UNITS[self.unit].dimension == units.UNITS[other.unit].dimension
        return same and units.convert(other.exact, other.unit, self.unit) == self.exact

    def __hash__(self) -> int:
        unit = units.UNITS[self.unit]
        return hash((unit.dimension, self.exact * unit.factor + unit.offset))

    @property
    def figure(self) -> str:
        """The figure as printed, with a nought before a leading point."""
        return f"{'0' * self.text.startswith('.')}{self.text}"

    def __str__(self) -> str:
        return f"{self.figure} {units.UNITS[self.unit].symbol}".rstrip()

    def __repr__(self) -> str:
        return f"<{self} · {self.source}{f' · {self.standing}' if self.standing else ''}>"
