"""`ladder` and `wheel`. Sources of the checks stand beside them."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import refdata
from refdata.doors.command import main

WHEEL = "grinding wheel"
SHOP = "120, 220, 320, 400, 600, 800, 1000, 2000, rouge"


def test_a_ladder_to_a_mirror_on_brass():
    """Common practice: wet-or-dry from 120 up to 1000, then 2000, then red rouge; 220 may follow 120."""
    one = refdata.ladder("120", to="rouge", have=SHOP, in_="brass")
    assert one.too_long == []
    assert [step["grade"] for step in one.sequence][:2] == ["P120", "P220"]
    assert [step["grade"] for step in one.sequence][-2:] == ["P2000", "rouge"]
    every = refdata.ladder("120", to="rouge", have=SHOP, most="1.9")
    assert every.too_long == []


def test_a_jump_from_120_to_1000_is_flagged():
    one = refdata.ladder("120", to="1000", have="120, 1000")
    assert len(one.too_long) == 1 and "P120 to P1000" in one.too_long[0]
    assert refdata.ladder("120", to="rouge", have="120, 220, rouge").too_long


def test_a_number_that_several_systems_share_is_asked_about_and_not_guessed():
    with pytest.raises(refdata.Ambiguous, match="F70"):
        refdata.ladder("70", to="P400")
    assert refdata.ladder("70", to="P400", system="fepa-f").sequence[0]["grade"] == "F70"


@given(
    st.lists(
        st.sampled_from([60, 80, 120, 180, 220, 240, 320, 400, 600, 800, 1000, 1200, 2000]), min_size=1, unique=True
    )
)
@settings(max_examples=100, deadline=None)
def test_a_ladder_only_goes_finer_and_says_where_a_step_is_too_long(papers):
    one = refdata.ladder("P60", to="P2000", have=", ".join(f"P{grade}" for grade in papers))
    grains = [step["grain"].value for step in one.sequence]
    assert grains == sorted(grains, reverse=True) and len(set(grains)) == len(grains)
    assert grains[-1] == refdata.grit("P2000").median_grain.value
    assert sum(a / b > 2.2001 for a, b in zip(grains, grains[1:])) == len(one.too_long)


@pytest.mark.parametrize(("diameter", "rpm", "speed"), [("8 in", "3450", 7226), ("4 in", "800", 838)])
def test_the_speed_of_a_wheel(diameter, rpm, speed):
    """pi D n/12, ft/min: 8 in at 3450 rpm is 7226 (tables of wheel makers)."""
    assert refdata.wheel(diameter, speed=rpm).surface_speed.value == pytest.approx(speed, abs=0.6)


def test_never_above_the_marked_maximum_and_cautions_first(capsys):
    with pytest.raises(refdata.Refused, match="marked maximum"):
        refdata.wheel("8 in", speed="3450 rpm", marked="3000 rpm")
    assert main(["wheel", "8 in", "--speed", "3450"]) == 0
    assert capsys.readouterr().out.startswith("Caution.")
    one = refdata.wheel("8 in", speed="3450 rpm", in_="C46400")
    assert "grabs" in one.cautions[0]
    assert one.fitting_speed.value == pytest.approx(12 * 7500 / (8 * math.pi), rel=1e-9)
    assert any("faster than" in note for note in refdata.wheel("10 in", speed="3450 rpm").notes)


def test_a_wheel_that_is_too_fast_leads_with_it_and_with_the_caution_of_its_own_work(capsys):
    """pi x 14 in x 3450 rpm / 12 = 12645 ft/min; table wheel_speeds, grinding wheel: 6000 ft/min at most."""
    most = max(row["speed_max_ft_per_min"] for row in refdata.table("wheel_speeds") if row["operation"] == WHEEL)
    one = refdata.wheel("14 in", speed="3450 rpm", operation="grind")
    times = f"{math.pi * 14 * 3450 / 12 / most:.1f} times"
    assert times == "2.1 times" and one.caption.startswith(f"TOO FAST: {times} what is advised: do not run it so")
    assert one.cautions[0].startswith("TOO FAST") and one.cautions[1].startswith("Grinding")
    assert not any("Buffing" in text for text in one.cautions)
    assert main(["wheel", "14 in", "--speed", "3450 rpm", "--operation", "grind"]) == 0
    assert capsys.readouterr().out.startswith("Caution. TOO FAST")


def test_faster_than_one_source_but_not_than_another_is_not_called_too_fast():
    """Table wheel_speeds, buffing: one source to 7500 ft/min, another to 17000; 10 in at 3450 rpm is 9032 ft/min."""
    one = refdata.wheel("10 in", speed="3450 rpm")
    assert "TOO FAST" not in " ".join([one.caption, *one.cautions]) and one.caption.startswith("faster than advised")
    assert "17000" in " ".join(one.notes)
    assert refdata.wheel("8 in", speed="3450 rpm").caption == "surface speed, buffing"
    # one source alone does not make twice the advised speed right
    assert refdata.wheel("14 in", speed="4500 rpm", operation="buffing").cautions[0].startswith("TOO FAST: 2.2 times")


def test_the_mark_on_the_wheel_goes_before_advice_on_wheels_in_general():
    """An 8 in bench grinder runs at 3450 rpm with wheels marked 3600 (common practice): 7226 against 6000 ft/min."""
    one = refdata.wheel("8 in", speed="3450 rpm", operation="grind", marked="3600 rpm")
    assert "TOO FAST" not in " ".join([one.caption, *one.cautions]) and "own mark" in one.caption
    bare = refdata.wheel("8 in", speed="3450 rpm", operation="grind")
    assert bare.cautions[0].startswith("TOO FAST") and "--marked" in bare.cautions[0]


@pytest.mark.parametrize("operation", sorted({row["operation"] for row in refdata.table("wheel_speeds")}))
def test_every_work_of_a_wheel_has_the_caution_of_its_own(operation):
    first = refdata.wheel("1 in", speed="1000 rpm", operation=operation).cautions[0]
    assert first.lower().startswith(operation.split()[0].rstrip(",")[:5])


def test_magnesium_is_never_sanded_wet():
    """Common practice, and the caution of the metal: no water on it, wet fines give off hydrogen."""
    one = refdata.ladder("120", to="400", in_="AZ31B")
    assert one.wet_or_dry.startswith("dry") and "no water" in one.wet_or_dry and "hydrogen" in one.wet_or_dry
    assert "rinse" not in one.wet_or_dry
    with pytest.raises(refdata.Refused, match="not sanded wet"):
        refdata.ladder("120", to="400", in_="AZ31B", wet="wet")


@pytest.mark.parametrize(("metal", "family"), [("6061", "aluminium"), ("Ti-6Al-4V", "titanium")])
def test_wet_fines_of_light_metal_are_not_kept(metal, family):
    """Common practice: wet fines of aluminium and titanium give off hydrogen; no ordinary vacuum cleaner when dry."""
    assert f"wet fines of {family} give off hydrogen" in refdata.ladder("120", to="400", in_=metal).wet_or_dry
    assert "no ordinary vacuum" in refdata.ladder("120", to="400", in_=metal, wet="dry").wet_or_dry
    assert "hydrogen" not in refdata.ladder("120", to="400", in_="brass").wet_or_dry


@pytest.mark.parametrize(
    "asked",
    [
        ["ladder", "120", "--to", "rouge", "--in", "C17200"],
        ["wheel", "6 in", "--speed", "3450 rpm", "--operation", "buffing", "--in", "C17200"],
        ["wheel", "14 in", "--speed", "3450 rpm", "--operation", "grind", "--in", "C17200"],
    ],
)
def test_beryllium_comes_before_all(asked, capsys):
    """C17200 holds up to 2 % beryllium (table alloy_compositions)."""
    assert main(asked) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert told.startswith("Caution. Beryllium: its dust")
    assert "Before anything is sanded, ground or buffed: an enclosed, extracted set-up" in told[:300]
    assert not refdata.ladder("120", to="rouge", in_="C36000").CAUTIONS_FIRST


GOOD = {"ladder": {"start": "P120", "to": "P400"}, "wheel": {"diameter": "8 in", "speed": "3450 rpm"}}
CLUMSY = {
    "ladder": [
        ({"start": "rough"}, "not a grade"),
        ({"to": "shiny"}, "not a grade"),
        ({"to": "P80"}, "is not finer"),
        ({"to": "P120"}, "is not finer"),
        ({"have": "sandpaper"}, "not a grade"),
        ({"have": ","}, "forty papers"),
        ({"most": "big"}, "is not a largest step"),
        ({"system": "emery"}, "grading system"),
        ({"start": "P399"}, "no grade"),
        ({"to": None}, 'needs "to", a grade wanted'),
        ({"wet": "damp"}, "wet or dry"),
        ({"wet": "wet", "in_": "AZ31B"}, "not sanded wet"),
        ({"in_": "cheese"}, "no alloy"),
    ],
    "wheel": [
        ({"diameter": "0 in"}, "above nothing"),
        ({"speed": "0"}, "above nothing"),
        ({"speed": "fast"}, "with its unit"),
        ({"speed": "30 mm"}, "not a speed in turns"),
        ({"operation": "juggling"}, "no work of a wheel"),
        ({"marked": "1000"}, "above the wheel's marked"),
        ({"diameter": "8"}, r"Is that \S+ mm or"),
        ({"speed": None}, "needs its speed"),
        ({"in_": "cheese"}, "no alloy"),
        ({"diameter": "P120"}, "not a length"),
    ],
}


@pytest.mark.parametrize(("name", "change", "says"), [(n, c, s) for n, some in CLUMSY.items() for c, s in some])
def test_clumsy_or_impossible_gets_one_clear_line(one_clear_line, name, change, says):
    one_clear_line(name, GOOD[name] | change, says)
