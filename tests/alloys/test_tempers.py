"""Tempers: the code of the standard and the words of the trade reach the same figures."""

import pytest

import refdata
from refdata.alloys import tempers
from refdata.core import store


def typical_tensile(name: str, **how) -> list[float]:
    return [q.value for q in refdata.alloy(name, **how).tensile_strength if q.qualifiers["basis"] == "typical"]


@pytest.mark.parametrize("said", ["half hard", "Half-Hard", "1/2 hard", "½ hard", "half  hard"])
def test_half_hard_is_h02(said):
    assert typical_tensile("C26000", temper=said) == typical_tensile("C26000", temper="H02") != []


def test_temper_may_follow_the_name():
    assert typical_tensile("C260 half hard") == typical_tensile("C26000", temper="H02")
    assert typical_tensile("cartridge brass extra spring") == typical_tensile("C26000", temper="H10")
    assert typical_tensile("3003 half hard") == typical_tensile("3003-H14")


def test_a_degree_of_hardness_is_no_other():
    held = {q.qualifiers["temper"] for q in refdata.alloy("C26000", temper="hard").tensile_strength}
    assert "H04" in held and not held & {"H02", "H06", "H08", "1/2 hard", "extra hard"}
    held = {q.qualifiers["temper"] for q in refdata.alloy("C26000", temper="spring").tensile_strength}
    assert "H08" in held and "H10" not in held


def test_other_words_take_what_adds_to_them():
    held = {q.qualifiers["temper"] for q in refdata.alloy("C93200", temper="as cast").tensile_strength}
    assert {"M01", "M02", "M07"} <= held
    held = {q.qualifiers["temper"] for q in refdata.alloy("C36000", temper="annealed").tensile_strength}
    assert held == {"O60"}


def test_figures_say_what_their_code_stands_for():
    told = {
        q.qualifiers.get("temper"): q.qualifiers.get("temper_words") for q in refdata.alloy("C46400").tensile_strength
    }
    assert told["H02"] == "1/2 hard" and told["O60"] == "soft annealed"


@pytest.mark.parametrize("metal, code, words", store.select("SELECT metal, code, words FROM tempers"))
def test_every_code_is_met_by_its_own_words(metal, code, words):
    family = {"copper alloys": "brass", "stainless": "stainless steel"}.get(metal, metal)
    assert tempers.same(code, code.lower(), family)
    assert tempers.same(code, words.split(",")[0], family)


def test_codes_belong_to_their_metal():
    assert tempers.words("H14", "aluminium") == "1/2 hard, strain-hardened"
    assert tempers.words("H14", "brass") == "super spring"
    assert tempers.words("H14", "carbon steel") is None


@pytest.mark.parametrize("name", ["C26000 T6", "6061 H02", "5052-H99"])
def test_a_temper_that_a_metal_does_not_have_is_refused(name):
    with pytest.raises(refdata.NotFound, match="has no temper"):
        refdata.alloy(name)


def test_a_temper_that_one_property_lacks_keeps_the_density_of_the_metal():
    assert str(refdata.alloy("C17200 TH04").density) == "0.302 lb/in³"


def test_ageing_by_its_condition():
    assert [str(q) for q in refdata.alloy("17-4 H900").tensile_strength] == ["1400 MPa"]
