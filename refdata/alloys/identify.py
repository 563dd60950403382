"""The question `identify`: a piece on the bench, to the alloys that its weight, size, colour and magnet do not
exclude."""

from math import ceil, floor, pi

from refdata.core.errors import NotFound, NotUnderstood, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Above, FromZero, Mass, choice, measured
from refdata.core.results import Result
from refdata.core.units import convert

from .cautions import strongest
from .choosing import every_alloy
from .families import may_look

MassError = measured("mass error", "mass", "error of the scale: 0.1 g", ("0.1 g",), zero=True)
Colour = choice(
    "colour", {"red": ("copper", "pink"), "yellow": ("gold", "brassy", "brown"), "white": ("silver",),
               "grey": ("gray", "steel")},
    "fresh filed colour: red, yellow, white or grey",
)  # fmt: skip
Magnet = choice("magnet", {"strong": ("yes", "sticks"), "weak": (), "none": ("no",)}, "magnet: strong, weak or none")
WATER = 0.998  # g/cm3 at 20 degC
SPREAD = 0.01  # a piece's density may lie so far off the published one: composition limits, pores, plating
MOST_ERROR = 0.5  # a density that may be half as much again tells nothing
TESTS = (
    ({"copper", "brass", "bronze"}, "file a corner beside a known piece: copper is red, brass yellow, bronze between"),
    ({"stainless steel", "nickel silver", "cupronickel"}, "grind a corner: of these only stainless throws sparks"),
    ({"aluminium", "zinc", "magnesium"}, "weigh it again in water, to a tenth of a gram: the three are far apart"),
    ({"carbon steel", "alloy steel", "tool steel", "stainless steel"}, "sparks on the wheel beside a known piece"),
)


class Identified(Result):
    """The alloys that what was measured does not exclude, the families told apart, and the next test to make."""

    HEADLINE = "density"
    density: Quantity
    density_from: Quantity
    density_to: Quantity
    families: list
    not_excluded: list
    next_test: str | None

    @property
    def caption(self) -> str:
        return f"density of the piece; {len(self.not_excluded)} alloys not excluded"


@question
def identify(
    mass: Mass, *, in_water: Mass = None, length: Above = None, width: Above = None, thickness: Above = None,
    diameter: Above = None, mass_error: MassError = "0.1 g", size_error: FromZero = "0.1 mm", colour: Colour = None,
    magnet: Magnet = None,
) -> Identified:  # fmt: skip
    """Alloys that weight and size, or weight in water, colour and magnet do not exclude.

    Size is length, width and thickness of a plate, or length and diameter of a round; `size_error` is that of each
    measure. In water, density = mass / (mass - mass in water) x 0.998 g/cm3. A piece may differ by 1 % from the
    published density. Colour and magnet exclude only what cannot be (common practice). No proof: a mill's paper or an
    analysis is. Raises NotFound, Refused, NotUnderstood.

    >>> import refdata
    >>> "brass" in refdata.identify("301 g", in_water="265.7 g", colour="yellow").families
    True
    """
    grams = float(convert(mass.exact, mass.unit, "g"))
    density, error = _density(grams, in_water, length, width, thickness, diameter, mass_error, size_error)
    if error >= MOST_ERROR:
        raise Refused(
            f"the density would be uncertain by {error * 100:.0f} %",
            ["weigh a larger piece", "use a finer scale" if in_water is not None else "measure finer"],
        )
    low, high = density * (1 - error - SPREAD), density * (1 + error + SPREAD)
    left = [
        one for one in every_alloy()
        if one.density is None or low <= float(convert(one.density.exact, one.density.unit, "g/cm3")) <= high
    ]  # fmt: skip
    left = [one for one in left if may_look(one.family, one.uns, colour, magnet)]
    if not any(one.density for one in left):
        raise NotFound(
            f"no metal of the tables has a density of {ceil(low * 1000) / 1000:.3f} to {floor(high * 1000) / 1000:.3f}"
            " g/cm3 and looks so",
            ["measure again"],
        )
    weighed = [one for one in left if one.density]
    families = sorted({one.family for one in weighed})
    unweighed = [one.name for one in left if not one.density]
    return Identified(
        density=_grams(density), density_from=_grams(low), density_to=_grams(high), families=families,
        not_excluded=[f"{one.uns} {one.name}" for one in weighed], next_test=_next(set(families)),
        cautions=strongest(text for one in weighed for text in one.cautions),
        cited=dict.fromkeys(one.density.source for one in weighed),
        notes=[*([f"without a density in the tables, so not judged: {', '.join(unweighed)}"] if unweighed else []),
               "what is not excluded is not proven: a mill's paper or an analysis is"],
    )  # fmt: skip


def _grams(value: float) -> Quantity:
    from fractions import Fraction

    return Quantity(f"{value:.2f}", "g/cm3", exact=Fraction(value))


def _density(grams, in_water, length, width, thickness, diameter, mass_error, size_error) -> tuple[float, float]:
    """Density in g/cm3 and its relative uncertainty."""
    off = float(convert(mass_error.exact, mass_error.unit, "g"))
    if in_water is not None:
        lost = grams - float(convert(in_water.exact, in_water.unit, "g"))
        if not 0 < lost < grams:
            raise NotUnderstood(
                "a piece weighs less in water than in air, and more than nothing", ["--in-water '265 g'"]
            )
        return grams / lost * WATER, off / grams + 2 * off / lost
    given = {"length": length, "width": width, "thickness": thickness, "diameter": diameter}
    size = {name: float(q.to("cm").exact) for name, q in given.items() if q is not None}
    each = {name: float(size_error.to("cm").exact) / value for name, value in size.items()}
    if set(size) == {"length", "diameter"}:
        volume = pi / 4 * size["diameter"] ** 2 * size["length"]
        return grams / volume, off / grams + each["length"] + 2 * each["diameter"]
    if set(size) == {"length", "width", "thickness"}:
        return grams / (size["length"] * size["width"] * size["thickness"]), off / grams + sum(each.values())
    raise NotUnderstood(
        "a piece needs its mass in water, or length, width and thickness, or length and diameter",
        [
            "--in-water '265 g'",
            "--length '3 in' --width '1 in' --thickness '1/4 in'",
            "--length '3 in' --diameter '1 in'",
        ],
    )


def _next(families: set[str]) -> str | None:
    return next((test for some, test in TESTS if len(some & families) > 1), None)
