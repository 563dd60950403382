"""Conversion is exact. Outside check: pint, a general library of units, for every pair of units."""

from fractions import Fraction
from itertools import permutations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from refdata.core.errors import NotUnderstood
from refdata.core.quantity import Quantity
from refdata.core.units import SPELLINGS, UNITS, column_unit, convert, counterpart, pint_registry, read_unit

PAIRS = [(a, b) for a, b in permutations(UNITS.values(), 2) if a.dimension == b.dimension]


@pytest.mark.parametrize(("old", "new"), PAIRS, ids=[f"{a.code}->{b.code}" for a, b in PAIRS])
def test_every_conversion_agrees_with_pint(old, new):
    registry = pint_registry()
    ours = float(convert(Fraction(37, 10), old.code, new.code))
    assert ours == pytest.approx(registry.Quantity(3.7, old.pint).to(new.pint).magnitude, rel=1e-12)


@given(st.fractions(-(10**6), 10**6), st.sampled_from(PAIRS))
def test_there_and_back_is_exactly_the_same(value, pair):
    old, new = pair
    assert convert(convert(value, old.code, new.code), new.code, old.code) == value


def test_defined_factors_are_exact():
    assert convert(Fraction(1), "in", "mm") == Fraction(254, 10)
    assert convert(Fraction(1), "lb", "kg") == Fraction(45359237, 100000000)
    assert convert(Fraction(212), "degF", "degC") == 100


def test_unlike_units_do_not_convert():
    with pytest.raises(NotUnderstood, match="in is a length, kg a mass"):
        convert(Fraction(1), "in", "kg")


def test_every_spelling_leads_to_a_unit_and_mil_is_not_guessed():
    assert {read_unit(word) for word in SPELLINGS} == set(UNITS)
    with pytest.raises(NotUnderstood, match="thousandth of an inch to some and a millimetre to others"):
        read_unit("mil")


def test_the_other_system():
    assert [counterpart(unit) for unit in ("in", "mm", "degF", "lb/in3", "um")] == ["mm", "in", "degC", "g/cm3", None]
    assert counterpart("ksi", 58) == "MPa"
    assert counterpart("ksi", 14_000) == "GPa"


def test_units_stand_in_column_names():
    assert column_unit("diameter_max_in") == "in"
    assert column_unit("density_g_per_cm3") == "g/cm3"
    assert column_unit("fit") is None


def test_quantities_mix_with_the_callers_own_pint_quantities():
    own = pint.get_application_registry()
    total = Quantity("0.170", "in").quantity + own.Quantity(1, "millimeter")
    assert total.to("millimeter").magnitude == pytest.approx(5.318)


def test_the_shops_own_units():
    own = pint_registry()
    # 16 oz copper is 0.0216 in: Copper Development Association, Copper in Architecture, Table 1.1.3
    assert own.Quantity(16, "copper_ounce").to("inch").magnitude == pytest.approx(0.0216)
    assert own.Quantity(80, "surface_foot/minute").to("meter/minute").magnitude == pytest.approx(24.384)


@pytest.mark.parametrize(
    ("text", "unit", "to", "shown"),
    [
        ("0.170", "in", "mm", "4.32 mm"),
        ("0.307", "lb/in3", "g/cm3", "8.50 g/cm³"),
        ("1630", "degF", "degC", "888 °C"),
        ("67", "BTU/h/ft/degF", "W/m/K", "116 W/m·K"),
        ("14000", "ksi", "GPa", "96.5 GPa"),
        ("11.4", "uin/in/degF", "um/m/K", "20.5 µm/m·K"),
        ("4.5", "mm", "in", "0.177 in"),
        ("0.005", "in", "thou", "5.00 thou"),
    ],
)
def test_a_conversion_shows_what_the_source_supports(text, unit, to, shown):
    assert str(Quantity(text, unit).to(to)) == shown


def test_a_quantity_cannot_be_changed_and_compares_by_what_it_measures():
    hole = Quantity("4.318", "mm")
    with pytest.raises(AttributeError):
        hole.value = 5
    assert hole == Quantity("0.17", "in")
    assert hash(hole) == hash(Quantity("0.17", "in"))
    assert hole != Quantity("4.318", "lb")
