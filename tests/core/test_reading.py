"""Sizes are read the way people write them."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

import refdata
from refdata.core.errors import NotUnderstood
from refdata.core.reading import Above, Readings, count, measured, read_length, read_quantity, read_screw_size
from refdata.sheet.labels import read_gauge_label


@pytest.mark.parametrize(
    ("label", "spellings"),
    [
        (
            "#6",
            [
                "#6",
                "# 6",
                "no. 6",
                "No 6",
                "6",
                "6-32",
                "#6-32",
                "6-40",
                "#6-32 UNC-2A",
                " 6 - 32 ",
                "6-32 machine screw",
                "6-32 flat head machine screw",
            ],
        ),
        ("1/4", ["1/4", "1/4-20", '1/4"', "1/4 in", "0.250", ".250", "0.25 in", "¼", '¼"', "1/4-28 UNF"]),
        ("1-1/4", ["1-1/4", "1 1/4", "1¼", '1-1/4"', "1-1/4-7", "1.25"]),
        ("1", ['1"', "1 in", "1-8", "1.0"]),
        ("#1", ["#1", "1-64", "1-72", "no 1"]),
        ("M4", ["M4", "m4", "M 4", "M4x0.7", "M4 x .7", "M4×0.7", "M4-0.7", "M4x0.7-6g", "M4 bolt"]),
        ("M2.5", ["M2.5", "M2.50", "m2.5x0.45"]),
        ("5/32", ["5/32", "5/32 inch", "0.15625"]),
    ],
)
def test_screw_sizes(label, spellings):
    assert {read_screw_size(text).label for text in spellings} == {label}


def test_a_bare_1_asks():
    assert isinstance(read_screw_size("1"), Readings)
    assert [size.label for size in read_screw_size("1").values] == ["#1", "1"]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("4 mm", "metric screw sizes need their M; nearest: M4"),
        ("16", "metric needs its M"),
        ("banana", "is not a screw size; nearest: #6"),
        ("", "an empty text"),
        ("1-99", "with a thread that neither has"),
        ("#99", "is not a screw size"),
    ],
)
def test_what_is_no_screw_size_says_why(text, says):
    with pytest.raises(NotUnderstood) as caught:
        from refdata.core.reading import Size

        Size.read(text)
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)


@given(st.integers(1, 14))
def test_the_number_size_follows_its_formula(number):
    assert read_screw_size(f"#{number}").diameter.exact == Fraction(60 + 13 * number, 1000)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ('1/8"', "1/8"), ("1/8 in", "1/8"), (".125", "1/8"), ("3/16", "3/16"), ("1-1/4", "5/4"), ('0.040"', "1/25"),
        ("5 thou", "1/200"), ("⅛", "1/8"), ("1 ft", "12"), ("25.4 mm", "1"), ("2.54 cm", "1"), ("1/8″", "1/8"),
    ],
)  # fmt: skip
def test_lengths(text, inches):
    assert read_length(text).to("in").exact == Fraction(inches)


def test_a_bare_whole_length_asks_for_its_unit():
    asked = read_length("3")
    assert asked.ask == "Is that 3 mm or 3 in?"
    assert [str(value) for value in asked.values] == ["3 mm", "3 in"]


def test_a_gauge_is_not_a_length_without_its_metal():
    with pytest.raises(NotUnderstood, match="is a gauge number: ask gauge 18 with its metal"):
        read_length("18 ga")


@given(st.integers(1, 127), st.sampled_from(['"', " in", "", " inch", "″"]))
def test_64ths_read_exactly(top, mark):
    assert read_length(f"{top}/64{mark}").exact == Fraction(top, 64)


def test_quantities_with_any_unit():
    assert str(read_quantity("1630 F").to("degC")) == "888 °C"
    assert read_quantity("0.307 lb/in3").unit == "lb/in3"


@pytest.mark.parametrize(
    ("text", "label", "system", "metal"),
    [
        ("18", "18", None, None), ("18 ga", "18", None, None), ("18ga", "18", None, None), ("#18", "18", None, None),
        ("gauge 18", "18", None, None), ("gauge #18 brass", "18", None, "brass"),
        ("no. 18", "18", None, None), ("18 gauge", "18", None, None), ("18 AWG", "18", "brown-sharpe", None),
        ("000", "3/0", None, None), ("3/0", "3/0", None, None), ("0", "0", None, None),
        ("16 oz", "16", "copper-ounce", None), ("18 ga brass", "18", None, "brass"),
        ("18 gauge sheet brass", "18", None, "brass"), ("18 B&S brass", "18", "brown-sharpe", "brass"),
    ],
)  # fmt: skip
def test_gauge_labels(text, label, system, metal):
    read = read_gauge_label(text)
    assert (read.label, read.system, read.metal) == (label, system, metal)


def test_a_form_beside_a_gauge():
    read = read_gauge_label("16 ga stainless steel tubing")
    assert (read.label, read.metal, read.form) == ("16", "stainless steel", "tube")
    assert read_gauge_label("12 gauge tube").form == "tube"


@pytest.mark.parametrize("text", ["18.9", "18 1/2", "18 /2", "0.5", "-18", "1234"])
def test_what_is_no_gauge_label(text):
    with pytest.raises(NotUnderstood, match="is not a gauge number"):
        read_gauge_label(text)


@pytest.mark.parametrize(("text", "says"), [("-1 in", "not above nothing"), ("0", "not above nothing")])
def test_a_length_above_nothing(text, says):
    with pytest.raises(NotUnderstood, match=says):
        Above.read(text)


def test_a_measure_above_nothing_or_with_leave_from_zero():
    weight = measured("mass", "mass", "", ["1 g"])
    assert weight.read("0.5 kg").value == 0.5
    for text in ("0 g", "-1 g"):
        with pytest.raises(NotUnderstood, match="must be more than zero"):
            weight.read(text)
    off = measured("error", "mass", "", ["1 g"], zero=True)
    assert off.read("0 g").value == 0
    with pytest.raises(NotUnderstood, match="must be zero or more"):
        off.read("-1 g")


@pytest.mark.parametrize("text", ["-500 degC", "-460 F"])
def test_nothing_is_colder_than_absolute_zero(text):
    with pytest.raises(NotUnderstood, match="nothing is colder"):
        read_quantity(text)
    with pytest.raises(NotUnderstood, match="nothing is colder"):
        measured("temperature", "temperature", "", ["20 C"]).read(text)


def test_a_cold_day_and_a_negative_length_are_quantities():
    assert read_quantity("-40 C").to("degF").value == -40
    assert read_quantity("-1 in").value == -1


@pytest.mark.parametrize("text", ["0", "-4", "1.5", "2001", "1" * 12, "000000001" + "9" * 30])
def test_a_count_stays_within_its_limit(text):
    with pytest.raises(NotUnderstood, match="from 1 to 2000"):
        count("number of parts", "", 2000).read(text)


@pytest.mark.parametrize(
    "question, text, meant",
    [
        ("clearance", "M2,5", "M2.5"),
        ("drill", "4,5 mm", "4.5 mm"),
        ("drill", "0,125", "0.125"),
        ("tap", "M6x0,75", "M6x0.75"),
    ],
)
def test_a_decimal_comma_is_told_to_be_a_point(question, text, meant):
    with pytest.raises(refdata.NotUnderstood, match="decimals are written with a point") as caught:
        getattr(refdata, question)(text)
    assert caught.value.nearest == [meant]


def test_a_comma_that_no_point_would_mend_is_not_told_so():
    with pytest.raises(refdata.NotUnderstood) as caught:
        refdata.drill("bit 4,5 wide")
    assert "point" not in caught.value.message
