"""`spindle`, `passes`, `stops`, `match`. Sources of the checks stand beside them."""

import math
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import refdata
from refdata.machining.match import expected_range


def test_speed_from_surface_speed():
    """12 V/(pi D), as machinists' manuals have it: 80 ft/min and 0.5 in are 611 rpm."""
    assert refdata.spindle("1/2 in", in_="brass", surface="80 ft/min").speed.value == pytest.approx(611.15, abs=0.05)
    metric = refdata.spindle("10 mm", in_="brass", surface="30 m/min").speed.value
    assert metric == pytest.approx(1000 * 30 / (math.pi * 10), rel=1e-9)


def test_the_low_end_of_the_range_and_the_speed_that_the_machine_has():
    """NAVEDTRA 14345: brass, HSS drills, 200 to 300 ft/min."""
    free = refdata.spindle("1/4 in", in_="C36000")
    assert (free.advised_from.value, free.advised_to.value) == (200, 300)
    assert free.surface_speed.value == pytest.approx(200)
    owned = refdata.spindle("1/4 in", in_="C36000", machine="290, 500, 870, 1450, 2500")
    assert owned.speed.value == 2500 < free.speed.value
    assert owned.surface_speed.value == pytest.approx(math.pi * 0.25 * 2500 / 12)


def test_advice_on_brass_is_for_the_free_cutting_kinds():
    """Common practice of copper-alloy handbooks: HSS drills in naval and silicon bronze at some 0.6 of the speed in
    free-cutting brass, in phosphor bronze at some 0.3."""
    speed = {uns: refdata.spindle("1/4 in", in_=uns).surface_speed.value for uns in ("C36000", "C46400", "C51000")}
    assert [round(v) for v in speed.values()] == [200, 120, 60]
    assert any("machinability 30 %" in note for note in refdata.spindle("1/4 in", in_="C46400").notes)
    assert any("free-cutting kinds" in note for note in refdata.spindle("1/4 in", in_="brass").notes)
    assert refdata.spindle("1/4 in", in_="C46400", surface="80 ft/min").surface_speed.value == pytest.approx(80)


def test_the_slowest_speed_of_a_machine_is_taken_where_it_is_still_advised():
    """Stainless, HSS drills: 30 to 40 ft/min; 1/2 in at 290 rpm is 38."""
    one = refdata.spindle("1/2 in", in_="316", machine="290, 500, 870")
    assert one.speed.value == 290 and one.surface_speed.value < one.advised_to.value
    with pytest.raises(refdata.Refused, match="slowest speed of 500 rpm"):
        refdata.spindle("1/2 in", in_="316", machine="500, 870")


def test_what_would_burn_or_break_is_said():
    assert any("will burn" in note for note in refdata.spindle("1/4 in", in_="C36000", surface="5000 ft/min").notes)
    assert any("pitch" in note for note in refdata.spindle("6 mm", in_="brass", operation="tap").notes)
    with pytest.raises(refdata.Refused, match="wider than the cutter"):
        refdata.spindle("1/2 in", in_="6061", operation="mill", flutes="2", width="3/4 in", depth="0.1 in")


def test_feed_rate_removal_and_power():
    """F = n z fz, Q = ae ap F, P = Kp Q, by hand."""
    one = refdata.spindle(
        "1/2 in",
        in_="brass",
        operation="mill",
        flutes="2",
        surface="157.08 ft/min",
        chip="0.003 in",
        width="1/2 in",
        depth="0.1 in",
    )
    assert one.feed.value == pytest.approx(1200 * 2 * 0.003, rel=1e-4)
    assert one.removal_rate.value == pytest.approx(0.05 * 7.2, rel=1e-4)
    assert one.power.value == pytest.approx(0.8 * 0.36, rel=1e-3)  # Kp 0.8 for brass, unit horsepower table


def test_the_power_constant_of_plain_carbon_steel():
    """Machinery's Handbook, power constants: plain carbon steel of 140 to 160 HB 0.74 hp/(in3/min), 2.02 W s/mm3; 1
    hp min/in3 is 2.7303 W s/mm3 (745.7 x 60/16387)."""
    rows = [
        r
        for r in refdata.table("cutting_power")
        if r["metal"] == "carbon steel" and r["condition"] == "plain, 140-160 HB"
    ]
    assert [r["power_constant_hp_min_per_in3"] for r in rows] == [0.74]
    assert pytest.approx(2.02, abs=0.005) == 0.74 * 745.7 * 60 / 16387.064


def test_common_practice_in_brass():
    """Common practice, no source: a wide range of feeds, and a slower spindle than the book where chips fly."""
    one = refdata.spindle("3/8 in", in_="brass", operation="mill", machine="290, 600")
    assert one.speed.value == 600
    assert any("wide range of feeds" in note and "slower spindle" in note for note in one.notes)


@given(st.integers(1, 400), st.integers(1, 120), st.integers(0, 9))
@settings(max_examples=200, deadline=None)
def test_passes_reach_the_depth_in_equal_steps_of_at_most_the_step(depth, step, floor):
    if floor >= depth:
        return
    one = refdata.passes(f"{depth / 1000} in", step=f"{step / 1000} in", cutter="3/8 in", floor=f"{floor / 1000} in")
    depths = [0, *(q.value for q in one.depths)]
    assert depths[-1] == pytest.approx(depth / 1000)
    assert all(
        0 < b - a <= step / 1000 + 1e-9 or b - a == pytest.approx(floor / 1000) for a, b in zip(depths, depths[1:])
    )


def test_the_last_pass_takes_about_five_thousandths():
    """Common practice: 0.005 in a side for one clean-up pass; the corner keeps the cutter's radius."""
    one = refdata.passes("1/4 in", step="0.1 in", cutter="0.3725 in")
    assert one.allowance.value == 0.005
    assert one.corner_radius.value == pytest.approx(0.18625)


def test_a_pocket_too_deep_for_its_cutter_is_not_finished_in_one_pass():
    """Common practice: an ordinary end mill reaches some three to four of its widths."""
    deep = refdata.passes("1 in", step="0.05 in", cutter="1/8 in").notes
    shallow = refdata.passes("1/4 in", step="0.05 in", cutter="1/8 in").notes
    assert "in several depths" in deep[0] and any("8.0 times as deep" in note for note in deep)
    assert "one pass at full depth" in shallow[0] and len(shallow) == 1


def test_stops_for_a_pocket():
    """By hand: 1.250 x 0.750 with a slot of 0.3725: 0.8775 and 0.3775; a hundredth less in roughing."""
    one = refdata.stops("1.250 in", width="0.750 in", cutter="0.3725 in", wall_x="0.5 in")
    assert (one.travel_x.value, one.travel_y.value) == (0.8775, 0.3775)
    assert one.travel_x.exact - one.roughing_x.exact == 2 * one.spacer.exact
    assert one.first_x.value == pytest.approx(0.5 + 0.3725 / 2)


@given(st.integers(300, 5000), st.integers(300, 5000), st.integers(50, 300))
@settings(max_examples=100, deadline=None)
def test_the_cutter_between_the_stops_cuts_the_pocket(long, wide, slot):
    one = refdata.stops(f"{long / 1000} in", width=f"{wide / 1000} in", cutter=f"{slot / 1000} in", allowance="0 in")
    assert one.first_x.exact * 2 + one.travel_x.exact == one.travel_x.exact + one.corner_radius.exact * 2
    assert float(one.travel_x.exact + 2 * one.corner_radius.exact) == pytest.approx(long / 1000)


@pytest.mark.parametrize(("number", "d2"), [(2, 1.128), (4, 2.059), (8, 2.847), (12, 3.258), (24, 3.895)])
def test_the_range_that_n_parts_are_expected_to_show(number, d2):
    """d2 of ISO 7870-2 and ASTM E2587, to the printed thousandth."""
    assert expected_range(number) == pytest.approx(d2, abs=0.0006)


SET = "part, length, hole\nA, 2.001, 0.250\nB, 2.003, 0.251\nC, 2.012, 0.249\nD, 2.002, 0.243\n"


def test_a_set_the_odd_one_and_what_to_rework():
    length, hole = refdata.match(SET, unit="in", sigma="0.002 in")
    assert (length.range.value, length.odd_one) == (pytest.approx(0.011), "C")
    assert (length.rework, length.toward.value) == (["C"], 2.001)
    assert (hole.rework, hole.toward.value) == (["D"], 0.251)
    assert length.expected_range.value == pytest.approx(2.059 * 0.002, rel=0.001)
    words = [text.text for text in ElementTree.fromstring(length.drawing).iter("{http://www.w3.org/2000/svg}text")]
    assert "C" in words


def test_a_set_is_read_from_a_file_at_the_command_line(tmp_path, capsys):
    from refdata.doors.command import main

    (tmp_path / "set.csv").write_text(SET, encoding="utf-8")
    assert main(["match", f"@{tmp_path / 'set.csv'}", "--unit", "in"]) == 0
    assert "odd one out" in capsys.readouterr().out
    assert main(["match", f"@{tmp_path / 'none.csv'}", "--unit", "in"]) == 2


GOOD = {
    "spindle": {"diameter": "1/2 in", "in_": "brass"},
    "passes": {"depth": "1/4 in", "step": "0.1 in", "cutter": "3/8 in"},
    "stops": {"length": "1.25 in", "width": "0.75 in", "cutter": "0.3725 in"},
    "match": {"parts": SET, "unit": "in"},
}
CLUMSY = {
    "spindle": [
        ({"diameter": "0 in"}, "above nothing"),
        ({"diameter": "big"}, "not a length"),
        ({"in_": "unobtainium"}, "no alloy"),
        ({"operation": "chew"}, "is not an operation"),
        ({"tool": "stone"}, "tool material"),
        ({"surface": "80"}, "with its unit"),
        ({"surface": "80 rpm"}, "not a surface speed"),
        ({"machine": "fast"}, "spindle speed"),
        ({"machine": "90000"}, "slowest speed"),
        ({"operation": "mill", "in_": "sterling silver"}, "no alloy|no speed"),
        ({"flutes": "0"}, "number of flutes"),
        ({"operation": "countersink"}, "no speed to countersink"),
        ({"surface": "-3 ft/min"}, "not above nothing"),
        ({"chip": "-0.001 in"}, "not above nothing"),
        ({"depth": "-1 in"}, "not above nothing"),
        ({"in_": "6061", "tool": "carbide"}, "nearest: drill with HSS, mill with carbide"),
    ],
    "passes": [
        ({"depth": "0 in"}, "above nothing"),
        ({"step": "0 in"}, "above nothing"),
        ({"floor": "1 in"}, "more than the pocket"),
        ({"step": "0.0001 in"}, "no way to work"),
        ({"cutter": None}, "needs its cutter"),
        ({"depth": "deep"}, "not a length"),
        ({"allowance": "-1 in"}, "below nothing"),
        ({"allowance": "2 in"}, "more than a cutter of 3/8 in takes"),
        ({"step": "1"}, r"Is that \S+ mm or"),
        ({"cutter": "3 kg"}, "not a length"),
        ({"depth": " "}, "empty"),
    ],
    "stops": [
        ({"cutter": "1 in"}, "wider than the pocket"),
        ({"allowance": "0.2 in"}, "no travel for roughing"),
        ({"length": "0 in"}, "above nothing"),
        ({"wall_x": "-1 in"}, "below nothing"),
        ({"width": None}, "needs its width"),
        ({"cutter": "3/8 mill"}, "unit"),
        ({"length": "1 2 3"}, "unit|length"),
        ({"cutter": "#8"}, "not a length"),
        ({"wall_y": "near"}, "not a length"),
        ({"length": "M6"}, "not a length"),
    ],
    "match": [
        ({"parts": "banana"}, "at least two parts"),
        ({"parts": "part, length; A, 2.001"}, "at least two parts"),
        ({"parts": "part, length; A, 2; B, two"}, "is not a measure"),
        ({"parts": "part, length; A, 2; B"}, "line 3 has 1 cells"),
        ({"parts": "part, length, length; A, 1, 2; B, 1, 2"}, "name of its own"),
        ({"unit": "cubits"}, "is not a unit"),
        ({"unit": None}, "needs its unit"),
        ({"eye": "sharp"}, "not a length"),
        ({"sigma": "2 lb"}, "not a length"),
        ({"parts": "x" * 30_000}, "at most 20000 letters"),
        ({"parts": ""}, "empty"),
        ({"eye": "-5 mm"}, "below nothing"),
        ({"sigma": "-5 mm"}, "not above nothing"),
    ],
}


@pytest.mark.parametrize(("name", "change", "says"), [(n, c, s) for n, some in CLUMSY.items() for c, s in some])
def test_clumsy_or_impossible_gets_one_clear_line(one_clear_line, name, change, says):
    one_clear_line(name, GOOD[name] | change, says)
