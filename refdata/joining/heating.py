"""The questions `growth` and `heat`: what heat does to a length and a gap, and how long it takes to get there."""

from refdata.alloys.alloy import Alloy, OneAlloy, alloy
from refdata.alloys.cautions import strongest
from refdata.alloys.composition import sensitizes
from refdata.core.errors import NotFound, NotUnderstood, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Above, FromZero, Mass, measured
from refdata.core.results import Result
from refdata.core.units import convert, inch_or_mm

Temperature = measured("temperature", "temperature", "temperature: 680 C, 1250 F", ("680 C", "1250 F"))
Power = measured("power", "power", "power: 1.5 kW", ("1.5 kW", "5000 BTU/h"))
Area = measured("area", "area", "area: 200 cm2, 31 in2", ("200 cm2", "31 in2"))
SpecificHeat = measured("specific heat", "specific heat", "specific heat: 380 J/kg/K", ("380 J/kg/K",))
OXY_FUEL = (
    "Oxy-fuel and torches: no oil on oxygen fittings, flashback arrestors, bottles upright and chained, shaded goggles,"
    " a fire watch for half an hour after; nothing that burns within reach.",
    "Fumes: brazing heat drives off zinc, and cadmium from old or unmarked filler, which kills: know the filler,"
    " extract or work in moving air. Fluoride flux burns skin and eyes: gloves, rinse at once.",
    "Cleaning: acetone vapour lights far from its rag, none near a flame; pickling acid: goggles, gloves, acid into"
    " water and never the other way. Makers' sheets and local rules come first.",
    "Closed hollow parts burst when heated: vent them first. Never quench a hollow or a mixed part: steam,"
    " cracks, warp.",
)
# where chromium carbides form at the edges of the grains, degC: common practice
_SENSITIZES = (425, 860)
_STEFAN_BOLTZMANN, _EMISSIVITY, _CONVECTION, _ROOM = 5.670374419e-8, 0.6, 15.0, 293.15


class Growth(Result):
    """Change of a length by heat, the expansion used with its own range, and for a joint the gap at heat."""

    HEADLINE = "change"
    IN_CAPTION = ("metal",)
    metal: str
    length: Quantity
    change: Quantity
    expansion: Quantity
    inner_metal: str | None
    inner_expansion: Quantity | None
    gap_cold: Quantity | None
    gap_hot: Quantity | None

    @property
    def caption(self) -> str:
        return f"growth of {self.length} of {self.metal}"


@question
def growth(
    in_: OneAlloy,
    *,
    length: Above,
    from_: Temperature,
    to: Temperature,
    around: OneAlloy = None,
    gap: FromZero = None,
) -> Growth:
    """Length change by heat, and the hot gap of one part around another.

    `in` is the metal, of a `length` (or, for a joint, the diameter of the hole); `from` and `to` temperatures; with
    `around`, the metal of the part inside, and the cold diametral `gap`, the gap at heat is told. dL = alpha L dT;
    hot gap = cold gap + D (alpha outer - alpha inner) dT. Raises NotFound, Refused.

    >>> import refdata
    >>> refdata.growth("C36000", length="10 in", from_="68 F", to="572 F").change
    <0.0575 in · computed>
    """
    low, high = (float(convert(q.exact, q.unit, "degC")) for q in (from_, to))
    for said in filter(None, (in_, around)):
        _still_solid(said, to if high >= low else from_)
    name, alpha, told = _expansion(in_, low, high)
    unit = inch_or_mm(length.unit)
    long, rise = float(length.to(unit).exact), high - low
    change = alpha.to("um/m/K").value * 1e-6 * long * rise
    inner = hot = None
    if around or gap:
        told.append("gaps are diametral, hole less pin: twice the clearance at each side")
        if not (around and gap):
            raise NotUnderstood(
                "a joint needs the metal inside, --around, and the cold --gap", ["--around C36000 --gap '0.002 in'"]
            )
        inner, other, more = _expansion(around, low, high)
        told += more
        hot = float(gap.to(unit).exact) + change - other.to("um/m/K").value * 1e-6 * long * rise
        if hot <= 0:
            told.append("the gap closes before that heat: the filler cannot run in and the outer part may split")
    return Growth(
        metal=name, length=length, change=_fine(change, unit), expansion=alpha, inner_metal=inner,
        inner_expansion=other if around else None, gap_cold=gap, gap_hot=None if hot is None else _fine(hot, unit),
        notes=told, cautions=[*_of_metals(in_, around), *(OXY_FUEL if max(low, high) > 400 else ())],
    )  # fmt: skip


def _of_metals(*named: str | None) -> list[str]:
    return strongest(text for name in named if name for text in alloy(name).cautions)


def _still_solid(said: str, hottest: Quantity) -> None:
    """Raises Refused where the metal begins to melt at or below a temperature."""
    one = alloy(said)
    if one.solidus and hottest.to("degC").exact >= one.solidus.to("degC").exact:
        raise Refused(
            f"{one.name} begins to melt at {one.solidus}, not above {hottest}",
            ["a filler that melts lower", "a lower heat"],
        )


def _fine(value: float, unit: str) -> Quantity:
    from fractions import Fraction

    return Quantity(f"{value:.{4 if unit == 'in' else 3}f}", unit, exact=Fraction(value))


def _expansion(said: str, low: float, high: float) -> tuple[str, Quantity, list[str]]:
    """The mean coefficient whose range comes nearest to the one asked for, and what is to be said of it."""
    one = alloy(said)
    if not one.thermal_expansion:
        raise NotFound(f"the tables give no expansion for {one.name}", ["another alloy of its family"])

    def ends(q: Quantity) -> tuple[float, float]:
        return tuple(float(convert(q.qualifiers[n].exact, q.qualifiers[n].unit, "degC")) for n in ("from", "to"))

    best = min(one.thermal_expansion, key=lambda q: abs(ends(q)[0] - min(low, high)) + abs(ends(q)[1] - max(low, high)))
    first, last = ends(best)
    told = [f"{one.name}: mean expansion of {first:.0f} to {last:.0f} °C"]
    if max(low, high) > last + 25:
        told[0] += f"; above {last:.0f} °C it grows faster than this, so the true change is larger"
    return f"{one.uns} {one.name}", best, told


class Heat(Result):
    """Energy to heat a part, the loss at heat, and the time with a net power."""

    HEADLINE = "energy"
    IN_CAPTION = ("metal",)
    metal: str
    mass: Quantity
    energy: Quantity
    specific_heat: Quantity
    loss: Quantity | None
    time: Quantity | None

    @property
    def caption(self) -> str:
        return f"to heat {self.mass} of {self.metal}"


@question
def heat(
    in_: OneAlloy, *, mass: Mass, to: Temperature, from_: Temperature = "20 C", area: Area = None, power: Power = None,
    specific_heat: SpecificHeat = None,
) -> Heat:  # fmt: skip
    """Energy to bring a part to heat, its loss there, whether and when a flame reaches it.

    `power` is what goes into the part, for a torch a third of its flame at best; `area` the part's surface. Q = m c
    dT; loss by radiation (emissivity 0.6) and convection (15 W/m2 K) at heat; time with the mean loss, half of it.
    Specific heat of the tables, at room temperature: hot metal takes some more. Raises NotFound, Refused,
    NotUnderstood.

    >>> import refdata
    >>> refdata.heat("C36000", mass="0.5 kg", to="680 C").energy
    <124 kJ · computed>
    """
    one = alloy(in_)
    c = specific_heat or next(iter(one.specific_heat), None)
    if c is None:
        raise NotFound(f"the tables give no specific heat for {one.name}", ["--specific-heat '380 J/kg/K'"])
    start, end = (float(convert(q.exact, q.unit, "degC")) for q in (from_, to))
    if end <= start:
        raise NotUnderstood(f"{to} is not hotter than {from_}", ["--to '680 C'"])
    _still_solid(in_, to)
    kilograms = float(convert(mass.exact, mass.unit, "kg"))
    joules = kilograms * float(convert(c.exact, c.unit, "J/kg/K")) * (end - start)
    loss = None if area is None else _loss(float(convert(area.exact, area.unit, "cm2")) / 1e4, end + 273.15)
    told = [*_near_melting(one, to), *one.notes, *_sensitized(one, end)]
    time = None
    if power is not None:
        watts = float(convert(power.exact, power.unit, "kW")) * 1000
        if loss is not None and loss >= watts:
            raise Refused(
                f"at {to} the part loses {loss / 1000:.2f} kW, the flame brings {watts / 1000:.2f}:"
                " it never gets there",
                ["a larger flame", "fire bricks around the part", "a smaller heated area"],
            )
        seconds = joules / (watts - (loss or 0) / 2)
        time = Quantity.computed(seconds / 60, "min", 2)
        told.append(
            "time with the mean of no loss and the loss at heat" if loss is not None else "time without any loss"
        )
    return Heat(
        metal=f"{one.uns} {one.name}", mass=mass, energy=Quantity.computed(joules / 1000, "kJ", 3), specific_heat=c,
        loss=None if loss is None else Quantity.computed(loss / 1000, "kW", 2), time=time, notes=told,
        cautions=[*OXY_FUEL, *one.cautions],
    )  # fmt: skip


_HOT_SHORT = 50  # degC below the solidus that no torch keeps to


def _near_melting(one: Alloy, to: Quantity) -> list[str]:
    left = one.solidus and float(one.solidus.to("degC").exact - to.to("degC").exact)
    if left is None or left >= _HOT_SHORT:
        return []
    return [f"only {left:.0f} °C below the point where it begins to melt: hot-short, and nearer than a torch can hold"]


def _sensitized(one: Alloy, end: float) -> list[str]:
    """What is to be said of an austenitic stainless steel that holds carbon free to take its chromium."""
    if not sensitizes(one.family, one.composition) or end < _SENSITIZES[0]:
        return []
    low, high = _SENSITIZES
    return [
        f"between {low} and {high} °C carbides take the chromium from the edges of the grains, which then rust: be"
        " quick through it, or take a grade of at most 0.03 % carbon"
    ]


def _loss(square_metres: float, kelvin: float) -> float:
    """Watts lost at heat by radiation and convection."""
    radiated = _EMISSIVITY * _STEFAN_BOLTZMANN * (kelvin**4 - _ROOM**4)
    return square_metres * (radiated + _CONVECTION * (kelvin - _ROOM))
