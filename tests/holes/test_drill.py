import pytest
from hypothesis import given
from hypothesis import strategies as st

import refdata
from refdata.core import store


@pytest.mark.parametrize(
    ("text", "name", "inches"),
    # ASME B94.11M as reprinted; #7 and F are the tap drills of 1/4-20 and 5/16-18 (Machinery's Handbook 31, p. 2168)
    [("#18", "#18", 0.1695), ("no. 7", "#7", 0.2010), ("F", "F", 0.2570), ("f", "F", 0.2570), ("letter F", "F", 0.2570),
     ("13/64", "13/64", 0.2031), ("#97", "#97", 0.0059), ("Z", "Z", 0.4130), ("1/64", "1/64", 0.0156)],
)  # fmt: skip
def test_drills_by_name(text, name, inches):
    drill = refdata.drill(text)
    assert drill.name == name
    assert drill.diameter.value == pytest.approx(inches, abs=0.00006)


def test_the_sets_are_complete():
    counts = dict(store.select('SELECT "set", count(*) FROM drills_inch GROUP BY 1'))
    assert counts["number"] == 97 and counts["letter"] == 26
    fractions = [row[0] for row in store.select("SELECT diameter_in FROM drills_inch WHERE \"set\" = 'fractional'")]
    missing = [n for n in range(1, 97) if not any(d == pytest.approx(n / 64, abs=0.0006) for d in fractions)]
    assert missing == []


def test_the_nearest_below_and_above():
    below, above = refdata.drill("0.2 in")
    assert (below.name, str(below.deviation)) == ("#8", "-0.0010 in")
    assert (above.name, str(above.deviation)) == ("5.1 mm", "0.020 mm")


def test_one_set_only():
    assert [drill.name for drill in refdata.drill("5.05 mm", set="number")] == ["#9", "#8"]
    assert [drill.name for drill in refdata.drill("5.05 mm", set="metric")] == ["5 mm", "5.1 mm"]


def test_a_diameter_that_a_drill_has_exactly():
    assert [drill.name for drill in refdata.drill("0.2570 in")] == ["F"]


def test_a_bare_number_asks():
    told = refdata.ask("drill", "18")
    assert told["ask"] == "Is 18 the number drill #18 or 18 mm?"


@given(st.integers(10, 1490))
def test_at_most_two_with_nothing_between(thousandths):
    asked = thousandths / 1000
    found = [one.diameter.to("in").value for one in refdata.drill(f"{asked:.3f} in")]
    if asked in found:
        assert set(found) == {asked}
        return
    assert len(found) <= 2
    made = [row[0] for row in store.select("SELECT diameter_in FROM drills_inch")]
    made += [row[0] / 25.4 for row in store.select("SELECT diameter_mm FROM drills_metric")]
    nearest = [max((d for d in made if d < asked), default=None), min((d for d in made if d > asked), default=None)]
    assert found == pytest.approx([d for d in nearest if d is not None])


def test_what_is_not_made_is_said():
    with pytest.raises(refdata.NotFound, match="there is no drill #98"):
        refdata.drill("#98")
    with pytest.raises(refdata.NotFound, match="drill F is of the letter set, not number"):
        refdata.drill("F", set="number")


@pytest.mark.parametrize("name", ["-1 mm", "0", "0 in", "-.201"])
def test_a_drill_has_a_diameter_above_nothing(one_clear_line, name):
    one_clear_line("drill", {"name": name}, "not above nothing")


def test_a_diameter_beyond_all_drills_is_refused_with_what_may_be_meant():
    with pytest.raises(refdata.NotFound, match=r"no drill is near 6.6 in; nearest: 6.6 mm"):
        refdata.drill("6.6")


@pytest.mark.parametrize("size", ["1/4-99", "M4x3", "#6-33", "1/2-4"])
def test_a_screw_has_the_threads_that_are_made(size):
    with pytest.raises(refdata.NotFound, match="has no thread"):
        refdata.clearance(size)
