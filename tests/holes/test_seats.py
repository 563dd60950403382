"""`countersink` and `ball-seat`: the geometry is tested by construction in test_geometry.py, here the questions."""

import math

import pytest

import refdata


def test_the_height_of_a_head_is_its_depth_in_a_hole_of_the_screw_s_own_diameter():
    """ASME B18.3 prints the height of the cone down to the screw: #8 0.112, 1/4 0.161 (Machinery's Handbook 31, p.
    1816)."""
    for size, screw, height in (("#8", "0.164 in", 0.112), ("1/4", "0.250 in", 0.161)):
        assert refdata.countersink(size, standard="B18.3", hole=screw).depth.value == pytest.approx(height, abs=0.0008)


def test_several_standards_ask_and_no_hole_means_the_normal_clearance():
    with pytest.raises(refdata.Ambiguous, match="Which #8"):
        refdata.countersink("#8")
    one = refdata.countersink("#8", standard="B18.3")
    assert one.hole.value == refdata.clearance("#8").diameter.value
    assert any("clearance" in note for note in one.notes)


@pytest.mark.parametrize(("size", "sharp", "actual"), [("M5", 10.4, 9.3), ("M6", 12.6, 11.3), ("M8", 17.3, 15.8)])
@pytest.mark.parametrize("standard", ["ISO 2009", "ISO 7046", "ISO 7721", "ISO 7047"])
def test_a_head_of_one_cone_lies_flush_in_one_seat_whatever_the_standard_prints(size, sharp, actual, standard):
    """ISO 7047 as Fuller Fasteners print it: theoretical head 12.6, largest actual 11.3, height 3.3 of M6, and so on;
    the rim is blunt: cut to the actual head, the screw stands proud by half the difference at 90 degrees."""
    one = refdata.countersink(size, standard=standard, head="oval" if standard == "ISO 7047" else "flat")
    assert one.surface_diameter.value == pytest.approx(sharp, abs=0.005)
    assert one.head_used.startswith("sharp")
    if one.depth_actual:
        assert one.surface_diameter_actual.value == actual
        proud = one.depth.value - one.depth_actual.value
        assert proud == pytest.approx((sharp - actual) / 2, abs=0.005)
        assert any(f"{proud:.2f} mm proud" in note for note in one.notes)


def test_a_machine_screw_lies_flush_at_its_sharp_diameter():
    """ASME B18.6.3 before 2010: sharp 0.332 for #8; the edition of 2013 prints 0.312 and the height 0.100, which is
    that of the sharp cone of 80 degrees."""
    one = refdata.countersink("#8", standard="B18.6.3", head="flat 82")
    assert (one.surface_diameter.value, one.surface_diameter_actual.value) == (0.332, 0.312)
    assert refdata.countersink("#8", standard="B18.6.3", head="oval").surface_diameter.value == 0.332
    assert refdata.countersink("M5", standard="DIN 963").surface_diameter.value == pytest.approx(10.0)  # 5 + 2 x 2.5


def test_below_the_face():
    flush, sunk = (refdata.countersink("M5", standard="ISO 7046", below=below) for below in ("0 mm", "0.5 mm"))
    assert sunk.surface_diameter.value - flush.surface_diameter.value == pytest.approx(1.0)  # 90 degrees: 2 x 0.5
    assert sunk.depth.value - flush.depth.value == pytest.approx(0.5)


@pytest.mark.parametrize(("angle", "bears"), [("82", "cone"), ("90", "hole's edge"), ("60", "rim")])
def test_the_wrong_angle_says_where_the_head_bears(angle, bears):
    assert refdata.countersink("#8", standard="B18.3", angle=angle).bears_on == bears


def test_a_ball_seat_names_the_smallest_ball_that_is_larger_than_the_head():
    seat = refdata.ball_seat("#8", standard="B18.6.3", head="flat 82")
    assert seat.ball.value > seat.head_diameter.value
    balls = [
        row["diameter_in"] for row in refdata.table("cutters") if row["kind"] == "ball burr" and row["diameter_in"]
    ]
    assert not [ball for ball in balls if seat.head_diameter.value < ball < seat.ball.value]


def test_a_face_that_curves_away_needs_a_deeper_seat():
    flat, round_ = (
        refdata.ball_seat("#8", standard="B18.3", ball="1/2 in", hole="0.177 in", **more)
        for more in ({}, {"radius": "1 in"})
    )
    fall = 1 - math.sqrt(1 - (0.359 / 2) ** 2)
    assert round_.depth.value - flat.depth.value == pytest.approx(fall, abs=1e-9)


@pytest.mark.parametrize(
    ("ask", "says"),
    [
        (lambda: refdata.ball_seat("#8", standard="B18.3", ball="5/16 in"), "no larger than the #8 head"),
        (lambda: refdata.ball_seat("#8", standard="B18.3", ball="1/2 in", hole="3/8 in"), "lets the #8 head"),
        (lambda: refdata.ball_seat("#8", standard="B18.3", ball="1/2 in", thickness="1/16 in"), "leaves no land"),
        (lambda: refdata.ball_seat("#8", standard="B18.3", ball="1/2 in", radius="0.1 in"), "narrower than the head"),
        (lambda: refdata.countersink("#8", standard="B18.3", hole="1/2 in"), "lets the #8 head"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can(ask, says):
    with pytest.raises(refdata.Refused, match=says) as told:
        ask()
    assert told.value.nearest
    assert "; instead: " in str(told.value)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"angle": "200"}, "not between 1 and 179"),
        ({"angle": "wide"}, "not an angle"),
        ({"below": "1"}, "Is that 1 mm or 1 in"),
    ],
)
def test_bad_options_get_one_line(given, says):
    with pytest.raises((refdata.NotUnderstood, refdata.Ambiguous), match=says):
        refdata.countersink("#8", standard="B18.3", **given)
