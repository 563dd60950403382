import pytest
from hypothesis import given
from hypothesis import strategies as st

import refdata
from refdata.core import store
from refdata.sheet.gauge import SYSTEMS
from refdata.sheet.rows import gauge_number


@pytest.mark.parametrize(
    ("number", "metal", "form", "system", "inches"),
    # 15 U.S.C. 206 for us-standard; ASTM B258 for brown-sharpe; Machinery's Handbook 31, p. 2702 on which is for what
    [("18", "brass", None, "brown-sharpe", 0.0403), ("18", "steel", None, "manufacturers", 0.0478),
     ("18", "galvanized steel", None, "galvanized", 0.0516), ("18", "stainless steel", None, "us-standard", 0.0500),
     ("18", "copper", "tube", "birmingham", 0.049), ("18", "steel", "wire", "washburn-moen", 0.0475),
     ("9", "zinc", None, "zinc", 0.018), ("16 oz", "copper", None, "copper-ounce", 0.0216),
     ("20", "aluminum", None, "brown-sharpe", 0.0320), ("16", "copper", None, "brown-sharpe", 0.0508)],
)  # fmt: skip
def test_the_gauge_that_the_metal_goes_by(number, metal, form, system, inches):
    found = refdata.gauge(number, metal=metal, form=form) if form else refdata.gauge(number, metal=metal)
    assert (found.system, found.thickness.value) == (system, inches)


def test_a_metal_alone_means_sheet_in_us_practice_and_the_answer_says_so():
    assert refdata.gauge("18", metal="brass").notes == ("brass alone means sheet in US practice",)
    assert refdata.gauge("18", metal="brass", form="wire").notes == ()


@pytest.mark.parametrize("text", ["18 ga brass", "18 gauge brass", "18ga brass", "18 brass sheet", "#18 brass"])
def test_all_in_one_breath(text):
    assert refdata.gauge(text).thickness.value == 0.0403


def test_without_a_metal_every_system_answers_and_the_metal_is_asked_for():
    told = refdata.ask("gauge", "18")
    assert {answer["system"] for answer in told["answers"]} == set(SYSTEMS) - {"copper-ounce"}
    assert told["ask"] == "Which metal is it, and is it sheet, wire or tube?"
    with pytest.raises(refdata.Ambiguous):
        refdata.gauge(18)


def test_a_form_alone_narrows_the_systems():
    assert refdata.gauge("12 gauge tube").system == "birmingham"
    told = refdata.ask("gauge", "12", form="wire")
    assert {answer["system"] for answer in told["answers"]} == {
        "brown-sharpe",
        "birmingham",
        "imperial",
        "washburn-moen",
    }
    assert told["ask"]


def test_a_system_that_is_not_for_the_metal_says_so():
    odd = refdata.gauge("18", metal="brass", system="zinc")
    assert odd.metals == ["zinc"]
    assert odd.notes == ("the zinc gauge is not on record for brass",)


def test_a_thickness_leads_to_its_gauge():
    (exact,) = refdata.gauge(thickness=".0403", metal="brass")
    assert (exact.gauge, exact.deviation.value) == ("18", 0)
    thicker, thinner = refdata.gauge(thickness="0.040 in", metal="brass")
    assert (thinner.gauge, thicker.gauge) == ("19", "18")
    assert thinner.deviation.value < 0 < thicker.deviation.value


@pytest.mark.parametrize(
    ("thickness", "metal", "gauges"),
    [("0.064 in", "brass", ["14", "15"]), ("0.058 in", "brass", ["15", "14"]), ("1 mm", "steel", ["19", "20"])],
)
def test_the_nearest_gauge_comes_first(thickness, metal, gauges):
    assert [one.gauge for one in refdata.gauge(thickness=thickness, metal=metal)] == gauges


def test_a_published_tolerance_comes_with_its_standard():
    tolerance = refdata.gauge("18", metal="steel").tolerance
    assert {str(one) for one in tolerance} == {"0.005 in", "0.004 in"}
    assert all(one.qualifiers["standard"] for one in tolerance)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ({"number": "99", "metal": "brass"}, "there is no gauge 99: brown-sharpe runs from 6/0 to 50"),
        ({"number": "18", "metal": "cheese"}, 'no gauge system is on record for "cheese"'),
        ({"number": "18", "metal": "brass", "form": "tubes"}, '"tubes" is not a form; nearest: tube'),
        ({"number": "18", "system": "furlong"}, '"furlong" is not a gauge system'),
        ({"number": "18.9", "metal": "brass"}, '"18.9" is not a gauge number'),
        ({"number": "18 1/2", "metal": "brass"}, "is not a gauge number"),
        ({"number": "0.5", "metal": "brass"}, "is not a gauge number"),
        ({"number": "18 ga x 3", "metal": "brass"}, 'no gauge system is on record for "x 3"'),
        ({"number": "18 ga steel", "metal": "brass"}, "the metal is steel beside the number, but brass"),
        ({"number": "18 AWG", "system": "zinc"}, "the system is brown-sharpe beside the number, but zinc"),
        ({"number": "18 ga wire", "metal": "brass", "form": "sheet"}, "the form is wire beside the number"),
        ({"number": "30", "metal": "zinc"}, "zinc runs from 1 to 28; nearest: 28, 27"),
        ({"thickness": "-1 mm", "metal": "steel"}, "not above nothing"),
        ({"thickness": "0 in", "metal": "steel"}, "not above nothing"),
        ({}, "gauge needs a gauge number or a thickness"),
        ({"number": "18", "thickness": ".04", "metal": "brass"}, "and not both"),
        ({"thickness": "5 lb", "metal": "brass"}, "is a mass, not a length"),
    ],
)
def test_errors_in_one_line(arguments, says):
    with pytest.raises(refdata.NotFound) as caught:
        refdata.gauge(**arguments)
    assert says in str(caught.value)


def test_zinc_and_copper_run_the_other_way():
    for system in SYSTEMS:
        rows = store.select("SELECT gauge, thickness_in FROM gauges WHERE system = ?", system)
        thickness = [value for _, value in sorted(rows, key=lambda row: gauge_number(row[0]))]
        grows = system in ("zinc", "copper-ounce")
        assert thickness == sorted(thickness, reverse=not grows), system


@given(st.lists(st.sampled_from(["18", "20 ga", "#22", "3/0", "000"]), max_size=30))
def test_many_labels_at_once_are_the_same_as_one_by_one(labels):
    one_by_one = [refdata.gauge(label, metal="brass").thickness.to("mm").value for label in labels]
    assert refdata.thicknesses(labels, metal="brass", unit="mm") == one_by_one


def test_one_label_is_not_a_list_of_its_letters():
    with pytest.raises(refdata.NotUnderstood, match=r'"18" is one label.*\["18"\]'):
        refdata.thicknesses("18", metal="brass")


def test_values_from_memory_say_so():
    assert refdata.alloy("C75200").solidus.standing == "memory"
    assert refdata.gauge("20", metal="zinc").thickness.standing != "memory"
