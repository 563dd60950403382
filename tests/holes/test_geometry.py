"""Seats tested by construction: the head is lowered until it touches, point by point, and must come to lie where the
formulas say. None of the formulas is repeated here."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from refdata.holes import geometry

angles = st.sampled_from([60.0, 82.0, 90.0, 100.0, 120.0])
holes = st.floats(0.05, 0.5)
ratios = st.floats(1.3, 2.5)
POINTS = 4000


def lowered(head: float, head_angle: float, floor) -> float:
    """How far the rim of a head stands above the face when it touches: `floor(r)` is the depth of the solid below the
    face at radius r, infinite over the hole. The head is a cone with its rim uppermost."""
    half = math.tan(math.radians(head_angle / 2))
    highest = -math.inf
    for n in range(POINTS + 1):
        r = head / 2 * n / POINTS
        under_rim = (head / 2 - r) / half  # the cone's surface lies so far under its rim
        highest = max(highest, under_rim - floor(r))
    return highest


def cone_floor(mouth, hole, angle):
    half = math.tan(math.radians(angle / 2))

    def floor(r):
        return math.inf if r < hole / 2 - 1e-12 else max(0.0, (mouth / 2 - r) / half)

    return floor


def ball_floor(ball, depth, hole):
    centre = depth - ball / 2

    def floor(r):
        if r < hole / 2 - 1e-12:
            return math.inf
        inside = (ball / 2) ** 2 - r**2
        deep = centre + math.sqrt(inside) if inside > 0 else 0.0
        return max(0.0, deep)

    return floor


@given(holes, ratios, angles, st.floats(0, 0.05))
def test_a_head_lies_as_far_below_as_asked(hole, ratio, angle, below):
    head = hole * ratio
    mouth = geometry.cone_mouth(head, below, angle)
    assert lowered(head, angle, cone_floor(mouth, hole, angle)) == pytest.approx(-below, abs=head / 1000)


@given(holes, ratios, angles, angles, st.floats(0, 0.05))
def test_a_head_in_a_countersink_of_another_angle(hole, ratio, head_angle, angle, below):
    head = hole * ratio
    mouth, bears = geometry.cone_seat(head, head_angle, hole, angle, below)
    assert lowered(head, head_angle, cone_floor(mouth, hole, angle)) == pytest.approx(-below, abs=head / 500)
    assert bears == ("cone" if angle == head_angle else "rim" if head_angle > angle else "hole's edge")


@given(holes, ratios, angles, angles)
def test_how_proud_a_head_stands_in_a_countersink_cut_to_its_own_diameter(hole, ratio, head_angle, angle):
    head = hole * ratio
    told = geometry.stands_proud(head, head_angle, head, hole, angle)
    assert lowered(head, head_angle, cone_floor(head, hole, angle)) == pytest.approx(told, abs=head / 500)


@given(holes, ratios, angles, st.floats(1.01, 3), st.floats(0, 0.05))
def test_a_head_on_a_ball_seat_touches_and_does_not_overlap(hole, ratio, angle, larger, below):
    head = hole * ratio
    ball = head * larger
    depth, touches = geometry.ball_depth(ball, head, angle, hole, below)
    assert lowered(head, angle, ball_floor(ball, depth, hole)) == pytest.approx(-below, abs=head / 200)
    assert touches in ("rim", "hole's edge")


@given(holes, ratios, angles)
def test_flush_depth_grows_with_the_head(hole, ratio, angle):
    smaller, larger = (geometry.cone_depth(hole * r, hole, angle) for r in (ratio, ratio * 1.01))
    assert larger > smaller


@pytest.mark.parametrize(("angle", "part"), [(118, 0.300), (135, 0.207)])
def test_the_point_of_a_drill(angle, part):
    """D/(2 tan(angle/2)): 0.3 D for 118 degrees, the figure of machinists' handbooks."""
    assert geometry.point_length(1, angle) == pytest.approx(part, abs=0.0005)


def test_the_cap_of_a_ball_is_that_of_the_brinell_test():
    """ISO 6506-1: depth of the indent h = (D - sqrt(D2 - d2))/2; ball 10 mm, indent 2.50 mm."""
    assert geometry.cap_depth(10, 2.5) == pytest.approx(0.1588, abs=0.00005)
    assert geometry.cap_width(10, geometry.cap_depth(10, 2.5)) == pytest.approx(2.5)


def test_a_worked_ball_seat():
    """Worked by hand: #8 head 0.312 across, 82 degrees, hole 0.177, ball 3/8: 0.100 deep, 0.332 wide, land 0.047."""
    depth, touches = geometry.ball_depth(0.375, 0.312, 82, 0.177)
    assert (round(depth, 3), touches) == (0.100, "hole's edge")
    assert round(geometry.cap_width(0.375, depth), 3) == 0.332
    assert round(0.125 - (depth - geometry.cap_depth(0.375, 0.177)), 3) == 0.047
