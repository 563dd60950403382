"""What an alloy does: strength by temper, bending, colour, corrosion, the limits of law."""

import pytest

import refdata
from refdata.alloys.composition import middle
from refdata.alloys.service import limits
from refdata.core import store


def of(quantities, **held):
    """The figures that hold for a temper, form, basis and so on."""
    return [q.value for q in quantities if held.items() <= q.qualifiers.items()]


def test_free_cutting_brass_half_hard_rod():
    """Copper association's typical figures of C36000 H02 rod of 1 in: 58 ksi, 45 ksi, 25 % in 2 in, HRB 78."""
    brass = refdata.alloy("C36000", temper="H02")
    held = {"form": "rod", "section": "1 in", "basis": "typical"}
    assert of(brass.tensile_strength, **held) == [58]
    assert of(brass.yield_strength, **held) == [45]
    assert of(brass.elongation, **held) == [25]
    assert of(brass.hardness, **held, scale="HRB") == [78]
    assert {q.qualifiers["temper"] for q in brass.tensile_strength} == {"H02"}


def test_the_yield_strength_lies_below_the_tensile():
    for uns in store.names("alloys", "uns"):
        one = refdata.alloy(uns)
        tensile = {_place(q): q.to("MPa").value for q in one.tensile_strength if q.qualifiers["basis"] == "typical"}
        for q in one.yield_strength:
            if q.qualifiers["basis"] == "typical" and _place(q) in tensile:
                assert q.to("MPa").value <= tensile[_place(q)], (uns, q.qualifiers)


def _place(q):
    return tuple(q.qualifiers.get(name) for name in ("temper", "form", "section"))


def test_bends_of_marine_sheet():
    """Aluminum Association, Recommended Minimum Bend Radii for 90-degree cold forming: 5052-H32, 1/8 in, 1-1/2 t."""
    bends = [b for b in refdata.alloy("5052-H32").bend_radii if b["angle"] == "90 deg"]
    eighth = next(b for b in bends if b["thickness"].text == "1/8")
    assert float(eighth["radius"].value) == 1.5
    for unit in ("in", "mm"):  # the American advice goes by inches, the limits of EN 485-2 by millimetres
        radii = [b["radius"].value for b in bends if b["thickness"].unit == unit]
        assert radii == sorted(radii) and len(radii) > 3


@pytest.mark.parametrize(("uns", "word"), [("C28000", "yellow"), ("C22000", "red gold"), ("C74500", "silver")])
def test_the_colour_of_architectural_metal(uns, word):
    colours = refdata.alloy(uns).colours
    assert any(word in one["colour"].lower() for one in colours if one["state"] == "new")
    assert all(one["source"] for one in colours)


def limit(metal, subject, jurisdiction):
    found = [one for one in refdata.alloy(metal).limits if one["subject"] == subject]
    return [one for one in found if one["jurisdiction"] == jurisdiction]


def test_leaded_brass_and_drinking_water():
    """US Safe Drinking Water Act, section 1417: 0.25 % of the wetted surface since 2014."""
    (one,) = limit("C36000", "drinking water", "United States")
    assert (one["limit"].value, one["limit"].unit, one["year"], one["passes"]) == (0.25, "%", "2014", True)
    assert limit("C46400", "drinking water", "United States") == []  # at most 0.20 % of lead


def test_leaded_brass_and_electronics():
    """Directive 2011/65/EU: 0.1 % of lead in homogeneous material; exemption 6(c) allows a copper alloy 4 %."""
    found = {one["limit"].value: one["passes"] for one in limit("C36000", "electronics", "European Union")}
    assert found == {0.1: True, 4: False}
    steel = {one["limit"].value for one in limit("12L14", "electronics", "European Union")}
    assert steel == {0.1, 0.35}


def test_what_touches_the_skin():
    """Regulation (EC) 1907/2006, Annex XVII, entry 27: 0.5 ug/cm2/week, 0.2 for posts in pierced parts."""
    found = limit("C75200", "skin contact", "European Union")
    assert {one["limit"].value for one in found} == {0.5, 0.2}
    assert {one["limit"].unit for one in found} == {"ug/cm2/week"}


def test_the_air_over_beryllium_copper_and_hot_stainless():
    """29 CFR 1910.1024: 0.2 ug/m3 over eight hours; 29 CFR 1910.1026: 5 ug/m3 of hexavalent chromium."""
    assert 0.2 in [one["limit"].value for one in limit("C17200", "workplace air", "United States")]
    assert 5 in [one["limit"].value for one in limit("304", "workplace air", "United States")]
    assert limit("6061", "workplace air", "United States") == []  # a trace of chromium in aluminium is none of that


def test_an_alloy_without_lead_passes_no_limit():
    assert [one for one in limits("copper", {"Cu": 100.0, "P": 0.04}) if one["passes"]] == []


def test_limits_of_one_metal_are_one_line():
    """ASTM A36 (as its reprints have it): plate 58 to 80 ksi, elongation at least 20 % in 8 in and 23 % in 2 in."""
    told = dict(line[:2] for line in refdata.alloy("A36").lines() if line[1].startswith("plate, limits"))
    assert told["strength"].startswith(
        "plate, limits: tensile 58 to 80 ksi (400 to 552 MPa), elongation at least 20 % in 8"
    )


def test_a_range_of_hardness_has_both_ends():
    lines = [line[1] for line in refdata.alloy("1018").lines() if "limits" in line[1]]
    assert lines and all("  " not in words for words in lines)
    assert any("HB 1" in words and " to 1" in words for words in lines)


def test_every_figure_of_a_line_knows_its_cell():
    """Words that stand for a figure lead to who says so; the joined ends of a range too."""
    for line in refdata.alloy("C26000", temper="half hard").lines():
        if "limits: tensile" in line[1]:
            cells = [cell for _, cell in line[1].parts if cell]
            assert len(cells) >= 2


@pytest.mark.parametrize("uns", [row["uns"] for row in refdata.table("alloys") if row["family"] == "brass"])
def test_a_brass_of_much_zinc_is_told_to_dezincify_and_to_crack_in_ammonia(uns):
    """RF Materials: brasses over about 15 % zinc lose it in aggressive water, over 37 % arsenic does not help."""
    one = refdata.alloy(uns)
    zinc = middle(one.composition)["Zn"]
    hazards = [told["hazard"] for told in one.corrosion]
    if zinc > 15.5:
        assert "dezincification" in hazards and "stress corrosion in ammonia" in hazards
    told = " ".join(said["rating"] for said in one.corrosion if said["hazard"] == "dezincification")
    assert ("arsenic cannot stop it" in told) is (zinc > 37)


def test_naval_brass_does_not_read_as_proof_against_the_sea():
    """Uninhibited naval brass: tin slows dezincification, it does not stop it."""
    first, *_ = [told["rating"] for told in refdata.alloy("C46400").corrosion if told["hazard"] == "dezincification"]
    assert "dezincifies" in first
    assert any("cathodic protection" in told["rating"] for told in refdata.alloy("C67500").corrosion)


@pytest.mark.parametrize(
    ("metal", "temper", "others"),
    [("6061", "T6", {"T651"}), ("6061", "T4", {"T451"}), ("5083", "H32", set()), ("2024", "T3", {"T351"})],
)
def test_a_temper_is_met_by_itself_and_stress_relieved_only(metal, temper, others):
    """ANSI H35.1: T6 and T651 differ by stretching alone; T42, T361, H321 are other treatments."""
    found = {q.qualifiers["temper"] for q in refdata.alloy(metal, temper=temper).tensile_strength}
    assert found - {temper} <= others


@pytest.mark.parametrize("said", ["oil quenched", "old", "hot"])
def test_words_are_no_codes(said):
    with pytest.raises(refdata.NotFound, match="has no temper"):
        refdata.alloy("6061", temper=said)


@pytest.mark.parametrize(
    ("metal", "word"), [("319.0", "Aluminium"), ("AZ31B", "Magnesium"), ("N07718", "Chromium"), ("R50400", "Titanium")]
)
def test_the_base_metal_has_its_caution_though_a_composition_does_not_list_it(metal, word):
    assert any(text.startswith(word) for text in refdata.alloy(metal).cautions)
