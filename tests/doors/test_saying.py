"""What people say in one breath, and the questions that answer it."""

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from refdata.core.errors import RefdataError
from refdata.doors.saying import read


@pytest.mark.parametrize(
    ("said", "question", "given_"),
    [
        ("8-32 clearance", "clearance", {"size": "8-32"}),
        ("clearance hole for a #6 screw", "clearance", {"size": "#6"}),
        ("loose fit M6 clearance", "clearance", {"size": "M6", "fit": "loose"}),
        ("18 ga brass", "gauge", {"number": "18 ga brass"}),
        ("P400", "grit", {"grade": "P400"}),
        ("p400 in microns", "grit", {"grade": "p400"}),
        ("8-32 close fit", "clearance", {"size": "8-32", "fit": "close"}),
        ("how thick is 16 gauge stainless", "gauge", {"number": "16 gauge stainless"}),
        ("what drill for 10-32 tap in brass", "tap", {"size": "10-32", "in": "brass"}),
        ("melting point of C360", "alloy", {"name": "C360"}),
        ("tap drill 1/4-20", "tap", {"size": "1/4-20"}),
        ("drill for tapping M6", "tap", {"size": "M6"}),
        ("drill 7/64", "drill", {"name": "7/64"}),
        ("naval brass", "alloy", {"name": "naval brass"}),
        ("density of C360", "alloy", {"name": "C360"}),
        ("6061-T6", "alloy", {"name": "6061-T6"}),
        ("5 thou", "convert", {"value": "5 thou", "unit": "mm"}),
        ("1630 F", "convert", {"value": "1630 F", "unit": "degC"}),
        ('clearance "M4" --fit close', "clearance", {"size": "M4", "fit": "close"}),
        (
            "weight plate --in C464 --length '2 in' --width '1 in' --thickness '1/8 in'",
            "weight",
            {"shape": "plate", "in": "C464", "length": "2 in", "width": "1 in", "thickness": "1/8 in"},
        ),
        ("3/16 in in mm", "convert", {"value": "3/16 in", "unit": "mm"}),
    ],
)
def test_one_clear_reading(said, question, given_):
    found = read(said)
    assert [one.question.name for one in found] == [question]
    assert found[0].given == given_


@pytest.mark.parametrize(
    ("said", "questions"),
    [
        ("360", {"alloy", "grit"}),  # a brass, and an abrasive of four systems
        ("400", {"alloy", "grit"}),
        ("#6", {"clearance", "tap", "drill", "gauge", "grit"}),
        ("18", {"gauge", "grit", "drill"}),
        ("3/16 in", {"convert", "drill", "tap"}),
        ("M4", {"clearance", "tap"}),
    ],
)
def test_several_readings_are_all_told(said, questions):
    assert {one.question.name for one in read(said)} == questions


def test_a_screw_comes_first_where_a_sign_says_so():
    assert read("#6")[0].question.name == "clearance"
    assert read("18")[0].question.name == "gauge"


def test_words_that_no_question_reads_are_looked_for():
    found = read("ISO 273")
    assert found[0].question.name == "find"
    assert all("273" in f"{one.text}{one.label}" for one in found[0].found.results)


@pytest.mark.parametrize("said", ["", "   ", "banana", "x" * 500, "%%%"])
def test_what_nothing_answers_is_said_in_one_line(said):
    with pytest.raises(RefdataError) as told:
        read(said)
    assert "\n" not in str(told.value)


@given(st.text(max_size=60))
def test_any_text_gets_readings_or_our_own_error(said):
    with contextlib.suppress(RefdataError):
        assert read(said)
