import pytest

import refdata


def test_find_leads_from_words_to_rows_and_the_question_to_ask():
    found = refdata.find("naval brass")
    assert {"C46400", "C48500"} <= {one.key for one in found if one.table == "alloys"}
    assert next(one for one in found if one.key == "C46400").ask == "alloy C46400"


@pytest.mark.parametrize(
    ("words", "table"),
    [("#6", "clearance_inch"), ("M4", "clearance_metric"), ("1/4", "drills_inch"), ("CuZn39Pb3", "alloy_names"),
     ("brown-sharpe", "gauge_systems"), ("handbook", "sources"), ("countersink wood", "countersink_angles")],
)  # fmt: skip
def test_find_takes_the_signs_of_the_trade(words, table):
    assert table in {one.table for one in refdata.find(words)}


def test_find_nothing_says_so():
    with pytest.raises(refdata.NotFound, match='nothing in the tables carries "flux capacitor"'):
        refdata.find("flux capacitor")
    with pytest.raises(refdata.NotFound) as caught:
        refdata.find("naval bronze flummox")
    assert caught.value.nearest == ["naval", "bronze"]


def test_find_tells_figures_before_books():
    tables = [one.table for one in refdata.find("countersink")]
    assert "countersink_angles" in tables[:2]
    assert tables == sorted(tables, key=lambda table: table == "sources")


def test_a_source_tells_what_rests_on_it():
    found = refdata.source("bd-warehouse-0.4.0")
    assert found.kind == "package"
    assert found.witnessed > 100
    with pytest.raises(refdata.NotFound) as caught:
        refdata.source("bd-warehouse")
    assert "bd-warehouse-0.4.0" in caught.value.nearest


@pytest.mark.parametrize(
    ("value", "unit", "result"),
    [("3/16 in", "mm", 4.7625), ("1630 F", "degC", 887.7777777777778), ("0.307 lb/in3", "g/cm3", 8.497730746032358),
     ("5 thou", "mm", 0.127), ("1-1/4", "mm", 31.75)],
)  # fmt: skip
def test_convert(value, unit, result):
    assert refdata.convert(value, unit).result.value == result


def test_convert_asks_and_refuses():
    with pytest.raises(refdata.Ambiguous):
        refdata.convert("3", "mm")
    with pytest.raises(refdata.NotFound, match="in is a length, kg a mass"):
        refdata.convert("3 in", "kg")
