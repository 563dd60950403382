"""`pattern`: coordinates, dial moves and the distances to check."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import refdata

thous = st.integers(1, 20_000).map(lambda n: f"{n / 1000:.3f} in")
hundredths = st.integers(1, 50_000).map(lambda n: f"{n / 100:.2f} mm")


@given(
    st.one_of(st.tuples(thous, thous, thous), st.tuples(hundredths, hundredths, hundredths)),
    st.integers(2, 40), st.integers(-360, 360), st.sampled_from(["row", "circle"]),
)  # fmt: skip
@settings(max_examples=200, deadline=None)
def test_the_moves_add_up_to_the_coordinates(lengths, holes, start, kind):
    x, y, size = lengths
    sized = {"pitch": size} if kind == "row" else {"diameter": size, "start": str(start)}
    plan = refdata.pattern(kind, x=x, y=y, holes=str(holes), **sized)
    at_x = at_y = 0
    for one in plan:
        at_x, at_y = at_x + one.move_x.exact, at_y + one.move_y.exact
        assert (at_x, at_y) == (one.x.exact, one.y.exact)


@given(thous, st.integers(2, 60))
@settings(max_examples=100, deadline=None)
def test_the_holes_of_a_circle_lie_on_it_evenly(diameter, holes):
    plan = refdata.pattern("circle", x="30 in", y="30 in", holes=str(holes), diameter=diameter)
    across = float(diameter.split()[0])
    chord = across * math.sin(math.pi / holes)
    for one in plan:
        assert math.dist((one.x.value, one.y.value), (30, 30)) == pytest.approx(across / 2, abs=0.001)
    for one in plan[1:]:
        assert one.from_last.value == pytest.approx(chord, abs=0.002)


def test_the_diagonals_of_a_rectangle_agree():
    plan = refdata.pattern("rectangle", x="10 mm", y="12 mm", columns="2", rows="2", pitch="30 mm", pitch_y="40 mm")
    assert plan[3].from_first.value == 50  # 3-4-5
    assert plan[2].from_last.value == 50


def test_an_edge_finder_stands_half_its_tip_before_the_edge():
    first = refdata.pattern("row", x="1/2 in", y="3/8 in", holes="2", pitch="1 in", tip="0.200 in")[0]
    assert (first.x.value, first.move_x.value, first.move_y.value) == (0.5, 0.6, 0.475)


def test_play_is_told_of_where_a_move_goes_back():
    there = refdata.pattern("row", x="1 in", y="1 in", holes="3", pitch="1 in")
    back = refdata.pattern("circle", x="1 in", y="1 in", holes="4", diameter="1 in")
    assert not any("play" in note for note in there[0].notes)
    assert any("play" in note for note in back[0].notes)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"kind": "circle", "x": "1 in", "y": "1 in"}, "needs its holes and diameter"),
        ({"kind": "row", "x": "1 in", "y": "1 in", "holes": "3"}, "needs its pitch"),
        ({"kind": "spiral", "x": "1 in", "y": "1 in"}, "is not a pattern"),
        ({"kind": "row", "x": "1 in", "y": "1 in", "holes": "0", "pitch": "1 in"}, "is not a number of holes"),
        ({"kind": "row", "x": "1 in", "y": "1 in", "holes": "2.5", "pitch": "1 in"}, "is not a number of holes"),
        ({"kind": "row", "x": "1 lb", "y": "1 in", "holes": "2", "pitch": "1 in"}, "not a length"),
        ({"kind": "row", "y": "1 in", "holes": "2", "pitch": "1 in"}, 'needs "x", a length'),
    ],
)
def test_what_is_missing_is_named(given, says):
    with pytest.raises(refdata.NotUnderstood, match=says):
        refdata.pattern(**given)


def test_holes_off_the_part_are_told():
    told = refdata.pattern("circle", x="5 mm", y="5 mm", holes=4, diameter="20 mm")[0].notes
    assert any("beyond a datum edge" in note for note in told)
    assert not any("beyond" in n for n in refdata.pattern("row", x="0", y="5 mm", holes=2, pitch="10 mm")[0].notes)


def test_more_holes_than_anyone_reads_are_refused():
    with pytest.raises(refdata.Refused, match="900 holes"):
        refdata.pattern("rectangle", x="1 in", y="1 in", columns=30, rows=30, pitch="1 in")
