"""`growth`, `heat`, `lap`, `filler-quantity`. Sources of the checks stand beside them."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import refdata


def test_growth_with_the_coefficient_of_its_own_range():
    """C36000: 11.4 uin/in/F from 68 to 572 F (mill's sheet): 10 in grow 11.4e-6 x 10 x 504 in."""
    one = refdata.growth("C36000", length="10 in", from_="68 F", to="572 F")
    assert one.change.value == pytest.approx(11.4e-6 * 10 * 504)
    assert any("20 to 300" in note for note in one.notes)
    assert any(
        "grows faster" in note for note in refdata.growth("C36000", length="10 in", from_="20 C", to="700 C").notes
    )


def test_the_gap_of_brass_inside_stainless_closes():
    joint = {"length": "1 in", "from_": "20 C", "to": "700 C", "around": "C46400"}
    one = refdata.growth("316", **joint, gap="0.004 in")
    assert 0 < one.gap_hot.value < one.gap_cold.value
    assert any("closes" in note for note in refdata.growth("316", **joint, gap="0.001 in").notes)
    assert refdata.growth("C46400", **(joint | {"around": "316"}), gap="0.004 in").gap_hot.value > 0.004


def test_energy_loss_and_whether_the_flame_reaches_it():
    """Half a kilogram of brass to 680 C, c 377 J/kg K: 124 kJ. 200 cm2 at 953 K: 0.6 x 5.67e-8 x (953^4 - 293^4) x
    0.02 + 15 x 660 x 0.02 = 0.75 kW (Stefan and Boltzmann; convection of common practice)."""
    one = refdata.heat("C36000", mass="0.5 kg", to="680 C", area="200 cm2", power="1.5 kW")
    assert one.energy.value == pytest.approx(124, abs=1)
    radiated = 0.6 * 5.670374e-8 * (953.15**4 - 293.15**4) * 0.02
    assert one.loss.value == pytest.approx((radiated + 15 * 660 * 0.02) / 1000, rel=1e-6)
    with pytest.raises(refdata.Refused, match="never gets there"):
        refdata.heat("C36000", mass="0.5 kg", to="680 C", area="200 cm2", power="0.5 kW")
    with pytest.raises(refdata.Refused, match="begins to melt"):
        refdata.heat("C36000", mass="0.5 kg", to="950 C")


def test_heat_that_no_torch_can_hold_is_told():
    """C36000 begins to melt at 1630 degF, 888 degC."""
    assert any("8 °C below" in note for note in refdata.heat("C36000", mass="1 kg", to="880 C").notes)
    assert not any("begins to melt" in note for note in refdata.heat("C36000", mass="1 kg", to="680 C").notes)


def test_metres_work_in_millimetres_and_feet_in_inches():
    hot = {"from_": "68 F", "to": "572 F"}
    assert refdata.growth("C36000", length="1 m", **hot).change.unit == "mm"
    assert refdata.growth("C36000", length="10 ft", **hot).change.unit == "in"


def test_heat_says_what_it_does_to_the_metal():
    """Common practice: carbides form in 18-8 held near 425 to 860 degC; less carbon or titanium prevents it."""
    hot = {"mass": "1 kg", "to": "680 C"}
    assert any("hydrogen" in note for note in refdata.heat("C11000", **hot).notes)
    for name, said in (("304", True), ("304L", False), ("321", False), ("430", False), ("C36000", False)):
        assert any("carbides" in note for note in refdata.heat(name, **hot).notes) is said, name
    assert not any("carbides" in note for note in refdata.heat("304", mass="1 kg", to="300 C").notes)


def test_a_lap_as_strong_as_the_member():
    """X = T W/(C L): 70,000 x 0.050/(0.8 x 25,000) = 0.175 in (the worked example of brazing manuals)."""
    assert refdata.lap("0.050 in", strength="70 ksi").overlap.value == pytest.approx(0.175)
    assert refdata.lap("0.050 in", strength="70 ksi").three_thicknesses.value == pytest.approx(0.15)


def test_a_lap_says_what_it_assumed():
    assert any("25 ksi in shear and 80 % of the lap sound" in note for note in refdata.lap(**GOOD["lap"]).notes)
    own = refdata.lap(**GOOD["lap"], filler_shear="30 ksi", quality="0.9")
    assert any("30 ksi in shear and 90 % of the lap sound" in note for note in own.notes)


@given(st.integers(10, 300), st.integers(20, 90), st.integers(15, 60))
@settings(max_examples=100, deadline=None)
def test_the_lap_carries_what_the_sheet_carries(thousandths, strength, shear):
    try:
        one = refdata.lap(f"{thousandths / 1000} in", strength=f"{strength} ksi", filler_shear=f"{shear} ksi")
    except refdata.Refused:
        return
    assert one.overlap.value * shear * 0.8 == pytest.approx(strength * thousandths / 1000)


def test_wire_for_a_joint():
    """Wire holds the volume: pi/4 d^2 length = 2 x 0.25 x 0.003 x 1.5 in3; a fillet of radius r adds (1 - pi/4) r^2."""
    one = refdata.filler_quantity("2 in", lap="0.25 in", gap="0.003 in", wire="1/16 in", joints="4")
    assert one.each.value * math.pi / 4 * 0.0625**2 == pytest.approx(2 * 0.25 * 0.003 * 1.5)
    assert one.wire_length.value == pytest.approx(4 * one.each.value)
    more = refdata.filler_quantity("2 in", lap="0.25 in", gap="0.003 in", wire="1/16 in", fillet="0.05 in")
    assert (more.each.value - one.each.value) * math.pi / 4 * 0.0625**2 == pytest.approx(2 * 0.2146 * 0.05**2, rel=1e-4)


@pytest.mark.parametrize("name", ["growth", "heat", "lap", "filler_quantity"])
def test_none_answers_without_its_cautions(name):
    one = getattr(refdata, name)(**GOOD[name])
    told = " ".join(one.cautions)
    for word in ("zinc", "cadmium", "Fluoride", "hollow", "fire"):
        assert word.lower() in told.lower()


GOOD = {
    "growth": {"in_": "C36000", "length": "10 in", "from_": "20 C", "to": "700 C"},
    "heat": {"in_": "C36000", "mass": "0.5 kg", "to": "680 C"},
    "lap": {"thickness": "0.05 in", "strength": "70 ksi"},
    "filler_quantity": {"length": "2 in", "lap": "0.25 in", "gap": "0.003 in", "wire": "1/16 in"},
}
CLUMSY = {
    "growth": [
        ({"in_": "unobtainium"}, "no alloy"),
        ({"from_": "20"}, "with its unit"),
        ({"to": "hot"}, "with its unit"),
        ({"to": "700 mm"}, "not a temperature"),
        ({"to": "1200 C"}, "begins to melt"),
        ({"from_": "-400 C"}, "colder"),
        ({"to": "-460 F"}, "colder"),
        ({"length": "-10 in"}, "not above nothing"),
        ({"length": None}, "needs its length"),
        ({"around": "316"}, "cold --gap"),
        ({"gap": "0.002 in"}, "metal inside"),
        ({"length": "10"}, r"Is that \S+ mm or"),
        ({"from_": None}, 'needs "from", a temperature'),
        ({"around": "cheese", "gap": "0.002 in"}, "no alloy"),
    ],
    "heat": [
        ({"mass": "0.5"}, "with its unit"),
        ({"mass": "5 in"}, "not a mass"),
        ({"to": "10 C"}, "not hotter"),
        ({"from_": "-400 C"}, "colder"),
        ({"mass": "-1 kg"}, "not above nothing"),
        ({"power": "-1 kW"}, "not above nothing"),
        ({"area": "-30 cm2"}, "not above nothing"),
        ({"power": "1.5"}, "with its unit"),
        ({"area": "200"}, "with its unit"),
        ({"area": "200 cm"}, "not an area"),
        ({"specific_heat": "380 C"}, "not a specific heat"),
        ({"in_": ""}, "empty"),
        ({"to": None}, 'needs "to", a temperature'),
        ({"power": "0.1 kW", "area": "300 cm2"}, "never gets there"),
        ({"to": "1500 C"}, "begins to melt"),
    ],
    "lap": [
        ({"strength": "70"}, "with its unit"),
        ({"strength": "70 mm"}, "not a stress"),
        ({"strength": "0 ksi"}, "above nothing"),
        ({"thickness": "0 in"}, "above nothing"),
        ({"quality": "2"}, "part of the whole"),
        ({"quality": "good"}, "is not a joint quality"),
        ({"filler_shear": "1 ksi"}, "does not run that far"),
        ({"strength": None}, "needs its strength"),
        ({"thickness": "18 ga"}, "gauge number"),
        ({"thickness": "thin"}, "not a length"),
    ],
    "filler_quantity": [
        ({"gap": "0.05 in"}, "too wide"),
        ({"gap": "0 in"}, "above nothing"),
        ({"wire": "0 in"}, "above nothing"),
        ({"length": "0 in"}, "above nothing"),
        ({"fillet": "-1 in"}, "below nothing"),
        ({"joints": "0"}, "number of joints"),
        ({"joints": "some"}, "number of joints"),
        ({"lap": None}, "needs its lap"),
        ({"wire": "thin"}, "not a length"),
        ({"length": "2 C"}, "not a length"),
    ],
}


@pytest.mark.parametrize(("name", "change", "says"), [(n, c, s) for n, some in CLUMSY.items() for c, s in some])
def test_clumsy_or_impossible_gets_one_clear_line(one_clear_line, name, change, says):
    one_clear_line(name, GOOD[name] | change, says)
