"""The contract with callers: one envelope, whatever the door."""

import json
import pickle

import pint
import pytest
from conftest import EVERY_QUESTION

import refdata
from refdata.core.questions import QUESTIONS, load


def ask_example(name, **options):
    arguments, given = EVERY_QUESTION[name]
    return refdata.ask(name, *arguments, **given, **options)


def test_every_question_is_tried_here():
    assert set(EVERY_QUESTION) == set(QUESTIONS)


@pytest.mark.parametrize("name", QUESTIONS)
def test_the_envelope_has_the_keys_of_the_contract(name):
    told = ask_example(name)
    assert list(told) == [
        "question", "asked", "answers", "ask", "cautions", "sources", "data_version", "disagreements",
    ]  # fmt: skip
    assert told["question"] == name
    assert told["answers"]
    assert told["ask"] is None
    json.dumps(told)


@pytest.mark.parametrize("name", QUESTIONS)
def test_every_source_that_an_answer_names_is_described(name):
    told = ask_example(name, units="both")
    named = set()

    def walk(value):
        if isinstance(value, dict):
            if "standing" in value:
                named.add(value["source"])
            for part in value.values():
                walk(part)
        elif isinstance(value, list):
            for part in value:
                walk(part)

    walk(told["answers"])
    assert named <= set(told["sources"])


@pytest.mark.parametrize("name", QUESTIONS)
def test_a_question_says_what_it_is_in_a_docstring_with_an_example(name):
    text = load(name).__doc__
    assert text.splitlines()[0].endswith(".")
    assert ">>>" in text
    assert "Raises" in text


def test_units_of_the_answer():
    def diameter(units):
        return refdata.ask("clearance", "#6", units=units)["answers"][0]["diameter"]

    assert (diameter("published")["value"], diameter("published")["unit"]) == (0.17, "in")
    assert (diameter("metric")["value"], diameter("metric")["unit"]) == (4.318, "mm")
    assert diameter("both")["other"] == {"value": 4.318, "unit": "mm"}
    metric_screw = refdata.ask("clearance", "M4", units="inch")["answers"][0]["diameter"]
    assert metric_screw["value"] == pytest.approx(4.5 / 25.4)


def test_computed_quantities_say_so_and_have_no_standing():
    told = refdata.ask("convert", "3/16 in", "mm")["answers"][0]["result"]
    assert told == {"value": 4.7625, "unit": "mm", "source": "computed"}


def test_several_readings_come_back_with_what_to_ask():
    told = refdata.ask("clearance", "1")
    assert told["ask"] == "Is 1 the number size #1 or one inch?"
    assert [answer["size"] for answer in told["answers"]] == ["#1", "1"]
    with pytest.raises(refdata.Ambiguous) as caught:
        refdata.clearance("1")
    assert [one.size for one in caught.value.candidates] == ["#1", "1"]
    assert caught.value.ask == told["ask"]


def test_errors_are_lookup_errors_with_the_nearest_choices():
    for wrong in (
        lambda: refdata.clearance("banana"),
        lambda: refdata.clearance("#6", fit="snug"),
        lambda: refdata.clearance(),
        lambda: refdata.clearance("#6", "close"),
        lambda: refdata.clearance("#6", fitt="close"),
        lambda: refdata.ask("clearnce", "#6"),
        lambda: refdata.ask("clearance", "#6", units="furlongs"),
        lambda: refdata.table("clearence_inch"),
    ):
        with pytest.raises(LookupError) as caught:
            wrong()
        assert isinstance(caught.value, refdata.NotFound)
        assert "\n" not in str(caught.value)
    with pytest.raises(refdata.NotFound) as caught:
        refdata.ask("clearnce", "#6")
    assert caught.value.nearest == ["clearance"]


def test_a_list_is_the_callers_own():
    first = refdata.clearance("#6", fit="all")
    first.clear()
    assert len(refdata.clearance("#6", fit="all")) == 3


def test_an_answer_is_read_only_and_shows_itself():
    hole = refdata.clearance("#6")
    with pytest.raises(AttributeError):
        hole.fit = "close"
    assert "clearance hole for #6" in hole._repr_html_()
    assert repr(hole).startswith("Clearance(size='#6'")
    assert hole.sources and all(source.title for source in hole.sources)


def test_nobody_spoils_the_answer_that_the_next_caller_gets():
    brass = refdata.alloy("C36000")
    for spoil in (brass.composition.clear, brass.machinability.clear, brass.composition["Pb"].popitem):
        with pytest.raises(TypeError, match="read only"):
            spoil()
    with pytest.raises(TypeError, match="read only"):
        brass.machinability[0].qualifiers["scale"] = "another"
    assert pickle.loads(pickle.dumps(brass.composition)) == brass.composition == refdata.alloy("C36000").composition


def test_an_answer_does_not_depend_on_what_was_asked_before():
    """10 in and 254 mm are equal quantities, their answers are in their own units."""
    hot = {"from_": "68 F", "to": "572 F"}
    inch, metric = (refdata.growth("C36000", length=refdata.Quantity(*q), **hot) for q in (("10", "in"), ("254", "mm")))
    assert (inch.change.unit, metric.change.unit) == ("in", "mm")
    assert metric.change == refdata.growth("C36000", length="254 mm", **hot).change


def test_lists_floats_and_pint_quantities_are_read_as_they_would_be_written():
    assert refdata.spindle("1/2 in", in_="C360", machine=[290, 500, 870]).speed.value == 870
    where = ["density < 8.5 g/cm3", "lead <= 0.1 %"]
    assert refdata.alloys(family="brass", where=where) == refdata.alloys(family="brass", where="; ".join(where))
    papers = ["P120", "P180", "P240", "P320", "P400"]
    assert refdata.ladder("P120", to="P400", have=papers).caption == "P120 > P240 > P400"
    registry = pint.get_application_registry()
    hot = refdata.heat("C36000", mass=0.5 * registry.kg, to=registry.Quantity(680, "degC"))
    assert hot.energy == refdata.heat("C36000", mass="0.5 kg", to="680 C").energy
    assert refdata.convert(8.5 * registry.Unit("g/cm**3"), "lb/in3").result.value == pytest.approx(0.30708, abs=1e-4)
    assert refdata.weight("round", in_="C36000", diameter=0.00001 * registry.m, length="1 m").weight.value > 0


def test_a_table_by_something_that_is_no_name():
    with pytest.raises(refdata.NotUnderstood, match='no table "None"'):
        refdata.table(None)


def test_a_quantity_from_python_is_held_to_the_same_bounds_as_text():
    length = refdata.drill("#7").diameter
    assert refdata.spindle(length, operation="drill", in_="C36000").diameter is length
    for wrong, says in (("0 in", "above nothing"), ("-3 mm", "above nothing"), ("5 lb", "is a mass")):
        figure, unit = wrong.split()
        with pytest.raises(refdata.NotUnderstood, match=says):
            refdata.weight("round", in_="C36000", diameter="1 in", length=refdata.Quantity(figure, unit))


def test_where_sources_differ_the_answer_says_so():
    told = refdata.ask("clearance", "M12")["disagreements"]
    assert [one["key"] for one in told] == ["diameter"]
    assert told[0]["served"]["value"] == 13.5
    assert {value["value"] for value in told[0]["values"]} == {13.5, 14.0}
    assert told[0]["reason"]


def test_tables_for_scripts():
    import pandas

    drills = refdata.table("drills_inch")
    assert drills.units == {"diameter_in": "in"}
    assert {source.id for source in drills.sources} == {row["source"] for row in drills}
    frame = drills.to_pandas()
    assert isinstance(frame, pandas.DataFrame)
    assert frame.attrs["units"] == {"diameter_in": "in"}
    assert len(frame) == len(drills)


@pytest.mark.parametrize("odd", [["#6"], {"size": "#6"}, object(), b"#6", 6.5, True, ""])
def test_odd_arguments_get_our_own_error(odd):
    with pytest.raises(refdata.NotFound):
        refdata.clearance(odd)


def test_values_of_ours_may_be_passed_in_place_of_text():
    hole = refdata.clearance("#6").diameter
    assert [drill.name for drill in refdata.drill(hole)] == [drill.name for drill in refdata.drill("0.170 in")]
    assert refdata.convert(hole, "mm").result.value == 4.318
