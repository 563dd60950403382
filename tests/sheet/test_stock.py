"""`weight`, `pieces`, `register`. Sources of the checks stand beside them."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import refdata


@pytest.mark.parametrize(
    ("shape", "sizes", "pounds"),
    [
        ("plate", {"length": "12 in", "width": "12 in", "thickness": "1/4 in"}, 36 * 0.307),
        ("round", {"length": "12 in", "diameter": "1 in"}, math.pi / 4 * 12 * 0.307),
        ("hex", {"length": "12 in", "flats": "1 in"}, 0.8660254 * 12 * 0.307),
        ("square", {"length": "12 in", "width": "1 in"}, 12 * 0.307),
        ("tube", {"length": "12 in", "diameter": "1 in", "wall": "0.065 in"}, math.pi * 0.935 * 0.065 * 12 * 0.307),
        ("angle", {"length": "12 in", "width": "1 in", "leg": "1 in", "thickness": "1/8 in"}, 1.875 / 8 * 12 * 0.307),
    ],
)
def test_each_shape_by_hand(shape, sizes, pounds):
    """Density of C36000 0.307 lb/in3 (mill's sheet); a foot of 1 in round brass rod is 2.89 lb in stock lists."""
    assert refdata.weight(shape, in_="C36000", **sizes).weight.value == pytest.approx(pounds, rel=1e-6)


def test_a_square_foot_of_quarter_inch_steel_is_near_the_rolled_plate_of_the_handbooks():
    """40.8 lb/ft2 for each inch of plate (AISC, ASTM A6 reckons 490 lb/ft3): a quarter of an inch is 10.2 lb."""
    one = refdata.weight("plate", in_="1018", length="12 in", width="12 in", thickness="1/4 in")
    assert one.weight.value == pytest.approx(10.2, rel=0.01)


def test_the_wall_of_a_tube_by_gauge():
    """16 gauge tube is the Birmingham gauge, 0.065 in (Building Construction, part 3)."""
    sizes = {"in_": "C26000", "length": "12 in", "diameter": "1 in"}
    by_gauge = refdata.weight("tube", wall="16 ga", **sizes)
    assert by_gauge.thickness.value == 0.065
    assert by_gauge.weight.value == refdata.weight("tube", wall="0.065 in", **sizes).weight.value


def test_sheet_by_gauge_holes_and_pieces_in_both_systems():
    sheet = refdata.weight("sheet", in_="C46400", length="1000 mm", width="500 mm", thickness="18 ga")
    assert sheet.weight.unit == "kg"
    assert sheet.weight.value == pytest.approx(100 * 50 * 0.0403 * 2.54 * sheet.density.to("g/cm3").value / 1000)
    whole, bored = (
        refdata.weight("plate", in_="C36000", length="4 in", width="4 in", thickness="1/4 in", pieces="4", **holes)
        for holes in ({}, {"holes": "4", "hole": "1/2 in"})
    )
    assert whole.weight.value - bored.weight.value == pytest.approx(4 * 4 * math.pi / 16 * 0.25 * 0.307)


@pytest.mark.parametrize(
    ("metal", "thickness"),
    [("1018", 0.0598), ("304", 0.0625), ("6061", 0.0508), ("C11000", 0.0508), ("C26000", 0.0508)],
)
def test_a_gauge_is_read_in_the_system_of_the_metal_s_family(metal, thickness):
    """16 gauge: manufacturers' standard for steel, the law of 1893 for stainless, Brown and Sharpe for the rest."""
    one = refdata.weight("sheet", in_=metal, length="12 in", width="12 in", thickness="16 ga")
    assert one.thickness.value == thickness


def test_a_metal_s_name_that_several_alloys_carry_asks():
    with pytest.raises(refdata.Ambiguous, match="Which alloy") as told:
        refdata.weight("round", in_="phosphor bronze", length="12 in", diameter="1 in")
    assert len(told.value.candidates) == len({one.metal for one in told.value.candidates}) > 1


@pytest.mark.parametrize(("kerf", "number"), [("0.045 in", 10), ("0.065 in", 9)])
def test_pieces_from_a_bar_worked_by_hand(kerf, number):
    """36 in bar, 3.5 in pieces, 0.25 in trim at both ends: 35.5 in holds 10 x 3.5 + 9 x 0.045 but not with 0.065."""
    assert refdata.pieces("36 in", piece="3.5 in", kerf=kerf, trim="0.25 in").per_bar == number


@given(st.integers(100, 5000), st.integers(1, 900), st.integers(0, 60), st.integers(0, 40))
@settings(max_examples=200, deadline=None)
def test_the_pieces_and_their_kerfs_fill_the_bar_and_one_more_does_not(bar, piece, kerf, trim):
    asked = {"piece": f"{piece} mm", "kerf": f"{kerf / 10} mm", "trim": f"{trim} mm"}
    if bar - 2 * trim < piece:
        with pytest.raises(refdata.Refused):
            refdata.pieces(f"{bar} mm", **asked)
        return
    one = refdata.pieces(f"{bar} mm", **asked)
    used = one.per_bar * piece + (one.per_bar - 1) * kerf / 10 + 2 * trim
    assert used <= bar + 1e-9
    assert used + piece + kerf / 10 > bar
    assert one.left.value == pytest.approx(bar - used)


def test_a_second_blank_in_the_first_one_s_place():
    """By hand: 6 in outline, web 0.25 and kerf 0.04 on both sides, slip 0.01."""
    one = refdata.register("6 in", width="4 in", margin="1/4 in", kerf="0.040 in")
    assert (one.blank_length.value, one.blank_width.value, one.fence_x.value) == pytest.approx((6.59, 4.59, -0.29))


CLUMSY = {
    "weight": [
        ({"shape": "blob"}, "is not a shape"),
        ({"length": "12 lb"}, "not a length"),
        ({"length": "12"}, r"Is that \S+ mm or"),
        ({"width": None}, "needs its width"),
        ({"in_": "unobtainium"}, "no alloy"),
        ({"pieces": "0"}, "number of pieces"),
        ({"pieces": "many"}, "number of pieces"),
        ({"holes": "3"}, "number and their diameter"),
        ({"holes": "99", "hole": "5 in"}, "more metal than there is"),
        ({"thickness": "0 in"}, "above nothing"),
        ({"length": "-3 in"}, "above nothing"),
        ({"thickness": "99 ga"}, "99"),
        ({"thickness": "18.9 ga"}, "is not a gauge number"),
        ({"thickness": "18 ga steel"}, "the metal is steel beside the number, but brass"),
        ({"holes": "4", "hole": "-1 in"}, "not above nothing"),
        ({"width": "6 in", "holes": "1", "hole": "6 in"}, "as large as the plate"),
        ({"shape": "sheet", "diameter": "1 in"}, "a plate has no diameter"),
        ({"shape": "angle", "width": None}, "an angle needs its width and leg"),
    ],
    "pieces": [
        ({"bar": "2 in"}, "too short"),
        ({"bar": "banana"}, "not a length"),
        ({"piece": "0 in"}, "above nothing"),
        ({"kerf": "-1 in"}, "below nothing"),
        ({"trim": "20 in"}, "too short"),
        ({"wanted": "1.5"}, "number of pieces"),
        ({"wanted": "-4"}, "number of pieces"),
        ({"kerf": None}, "needs its kerf"),
        ({"piece": "3 ga"}, "gauge number"),
        ({"piece": "9" * 300}, "too long"),
    ],
    "register": [
        ({"length": "0 in"}, "above nothing"),
        ({"margin": "-1 in"}, "below nothing"),
        ({"width": None}, "needs its width"),
        ({"kerf": "thin"}, "not a length"),
        ({"slip": "3 C"}, "not a length"),
        ({"length": ""}, "empty"),
        ({"square": "x"}, "not a length"),
        ({"margin": None}, "needs its margin"),
        ({"kerf": "1 2 3"}, "unit|length"),
        ({"colour": "red"}, "no option"),
    ],
}
GOOD = {
    "weight": {"shape": "plate", "in_": "C36000", "length": "12 in", "width": "6 in", "thickness": "1/8 in"},
    "pieces": {"bar": "36 in", "piece": "3.5 in", "kerf": "0.045 in"},
    "register": {"length": "6 in", "width": "4 in", "margin": "1/4 in", "kerf": "0.04 in"},
}


@pytest.mark.parametrize(("name", "change", "says"), [(n, c, s) for n, some in CLUMSY.items() for c, s in some])
def test_clumsy_or_impossible_gets_one_clear_line(one_clear_line, name, change, says):
    one_clear_line(name, GOOD[name] | change, says)
