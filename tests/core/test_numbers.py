from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from refdata.core.errors import NotUnderstood
from refdata.core.numbers import Printed, exact_fraction, half_place, show, significant


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("0.040", Fraction(1, 25)),
        (".04", Fraction(1, 25)),
        ("1/8", Fraction(1, 8)),
        ("1-1/4", Fraction(5, 4)),
        ("1 1/4", Fraction(5, 4)),
        ("1¼", Fraction(5, 4)),
        ("½", Fraction(1, 2)),
        ("3⁄16", Fraction(3, 16)),
        ("14,000", Fraction(14_000)),
        ("-5", Fraction(-5)),
    ],
)
def test_numbers_as_people_write_them(written, value):
    assert exact_fraction(written) == value


@pytest.mark.parametrize("nonsense", ["", "x", "1/0", "1.2.3", "--1", "1/2/3", "0,149"])
def test_what_is_not_a_number_is_refused(nonsense):
    with pytest.raises(NotUnderstood):
        exact_fraction(nonsense)


@given(st.integers(0, 20), st.integers(1, 63))
def test_a_mixed_number_reads_the_same_in_every_spelling(whole, top):
    value = whole + Fraction(top, 64)
    spellings = [f"{whole}-{top}/64", f"{whole} {top}/64", str(float(value))]
    assert {exact_fraction(text) for text in spellings} == {value}


@given(st.decimals("0.0001", "99999", places=4))
def test_a_printed_figure_keeps_its_text_and_its_exact_value(figure):
    printed = Printed(str(figure))
    assert printed.text == str(figure)
    assert printed == Fraction(str(figure))


@given(st.fractions("1/10000", 100_000), st.integers(3, 8))
def test_showing_rounds_to_the_figures_asked_for(value, figures):
    shown = Fraction(show(value, figures))
    assert abs(shown - value) <= value * Fraction(6, 10**figures)


def test_half_a_unit_of_the_last_printed_place():
    assert half_place("0.170") == Fraction(1, 2000)
    assert half_place("1630") == Fraction(1, 2)
    assert half_place("9/32") == 0


def test_no_more_figures_than_the_source_supports_and_never_fewer_than_three():
    assert [significant(text) for text in ("0.170", "0.0403", "1981", "14000", "4.5", "67")] == [3, 3, 4, 3, 3, 3]


def test_a_cube_of_fifteen_digits_is_shown_whole():
    assert show(Fraction(999_999_999_999_999) ** 3, 4).startswith("9999999999999970")
