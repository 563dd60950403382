"""The command line as a person meets it."""

import json
import os
import subprocess
import sys

import pytest
from conftest import EVERY_QUESTION

from refdata.doors.command import main


def answer(capsys, *arguments):
    code = main(list(arguments))
    told = capsys.readouterr()
    return code, told.out, told.err


def as_json(capsys, *arguments):
    code, out, _ = answer(capsys, *arguments, "--json")
    return code, json.loads(out)


def test_number_first_both_units_the_use_and_one_source_line(capsys):
    code, out, _ = answer(capsys, "clearance", "#6")
    lines = out.splitlines()
    assert code == 0
    assert lines[0].split("   ")[:2] == ["0.170 in", "4.32 mm"]
    assert "clearance hole for #6, normal fit" in lines[0]
    assert lines[1].split() == ["drill", "#18"]
    assert lines[2].startswith("Source")


@pytest.mark.parametrize(
    ("arguments", "field", "value", "unit"),
    [
        (["clearance", "#6"], "diameter", 0.17, "in"),
        (["clearance", "#6", "--units", "metric"], "diameter", 4.318, "mm"),
        (["clearance", "M4", "--fit", "medium"], "diameter", 4.5, "mm"),
        (["gauge", "18", "--metal", "brass"], "thickness", 0.0403, "in"),
        (["gauge", "18", "--metal", "steel"], "thickness", 0.0478, "in"),
        (["alloy", "C36000"], "density", 0.307, "lb/in3"),
    ],
)
def test_the_daily_questions_as_json(capsys, arguments, field, value, unit):
    code, told = as_json(capsys, *arguments)
    assert code == 0
    assert (told["answers"][0][field]["value"], told["answers"][0][field]["unit"]) == (value, unit)


def test_density_in_metric(capsys):
    _, told = as_json(capsys, "alloy", "C36000", "--units", "metric")
    assert told["answers"][0]["density"]["value"] == pytest.approx(8.498, abs=0.0005)
    assert "8.50 g/cm³" in answer(capsys, "alloy", "C36000", "--units", "metric")[1]


def test_no_fit_means_normal_and_the_drill_is_named(capsys):
    _, told = as_json(capsys, "clearance", "#6")
    assert (told["answers"][0]["fit"], told["answers"][0]["drill"]) == ("normal", "#18")
    assert told["asked"] == {"size": "#6", "fit": "normal"}


def test_several_readings_exit_3_and_ask(capsys):
    code, out, _ = answer(capsys, "gauge", "18")
    assert code == 3
    assert "Which metal is it" in out
    assert len([line for line in out.splitlines() if " gauge " in line and line[0].isdigit()]) == 8
    assert as_json(capsys, "clearance", "1")[0] == 3


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["clearnce", "#6"], 'there is no question "clearnce"; nearest: clearance'),
        (["clearance"], "clearance needs its size; nearest: #6"),
        (["clearance", "#6", "--fit", "snug"], '"snug" is not a fit; nearest: close, normal, loose, all'),
        (["clearance", "#6", "--fitt", "x"], "unrecognized arguments: --fitt x"),
        (["clearance", "#6", "--units", "cubits"], '"cubits" is not a choice of units'),
        (["alloy", "316 brass"], "316 is a stainless steel (UNS S31600); nearest: 360 (free-cutting brass C36000)"),
        (["convert", "3 in", "kg"], "in is a length, kg a mass"),
        (["serve", "--port", "x"], '"x" is not a port'),
    ],
)
def test_what_is_not_understood_is_one_line_on_stderr_and_exit_2(capsys, arguments, says):
    code, out, err = answer(capsys, *arguments)
    assert (code, out) == (2, "")
    assert says in err
    assert err.count("\n") == 1


def test_an_error_as_json(capsys):
    code, told = as_json(capsys, "clearance", "banana")
    assert code == 2
    assert told["error"]["message"] == '"banana" is not a screw size'
    assert "#6" in told["error"]["nearest"]


def test_words_that_name_no_question_are_asked_of_those_that_understand_them(capsys):
    code, out, _ = answer(capsys, "18", "ga", "brass")
    assert code == 0 and "0.0403 in" in out and out.endswith("Asked: refdata gauge '18 ga brass'\n")
    code, out, _ = answer(capsys, "#29")
    assert code == 3 and "0.1360 in" in out and "Asked: refdata drill '#29'" in out
    code, told = as_json(capsys, "P400")
    assert (code, told["question"]) == (0, "grit")
    code, told = as_json(capsys, "#29")
    assert code == 2 and "drill" in told["error"]["nearest"]
    assert answer(capsys, "qqxqq")[2].startswith('nothing here answers to "qqxqq"; nearest: 8-32')


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ("clearance for m5 bolt", "refdata clearance m5"),
        ("drill for tapping m6 in brass", "refdata tap m6 --in brass"),
        ("clearance 8-32 close", "refdata clearance 8-32 --fit close"),
    ],
)
def test_a_question_named_in_a_sentence_is_answered(capsys, said, asked):
    code, out, _ = answer(capsys, *said.split())
    assert code == 0 and out.endswith(f"Asked: {asked}\n")


def test_a_value_below_nothing_is_no_option(capsys):
    code, out, _ = answer(capsys, "growth", "C36000", "--length", "10 in", "--from", "-40 F", "--to", "68 F")
    assert code == 0 and "0.0123 in" in out


def test_a_near_name_says_so_at_once(capsys):
    first = " ".join(answer(capsys, "alloy", "CW614N")[1].split()[:30])
    assert "only near what was asked" in first


def test_words_need_no_quotes(capsys):
    assert "C46400" in answer(capsys, "alloy", "naval", "brass")[1]
    assert answer(capsys, "convert", "3/16", "in", "mm")[1].startswith("4.7625 mm")


def test_cautions_and_differences_are_told(capsys):
    out = answer(capsys, "alloy", "C36000")[1]
    assert "Caution. Lead (up to 3 %)" in out
    assert "Caution. Zinc" in out
    assert (
        "Sources differ on diameter: 13.5 mm, others 14 mm (bd-warehouse-0.4.0)."
        in answer(capsys, "clearance", "M12")[1]
    )


def test_lines_fit_a_terminal(capsys):
    for arguments in (["alloy", "C36000"], ["gauge", "18"], ["tour"], ["--help"]):
        out = answer(capsys, *arguments)[1]
        assert max(len(line) for line in out.splitlines()) <= 115


def test_the_tour_answers_the_three_daily_questions(capsys):
    code, out, _ = answer(capsys, "tour")
    assert code == 0
    assert "0.170 in   4.32 mm" in out
    assert "0.0403 in   1.02 mm" in out
    assert "C46400 naval brass" in out
    assert "refdata serve" in out


def test_help_lists_every_question(capsys):
    from refdata import QUESTIONS

    out = answer(capsys, "--help")[1]
    assert all(f"  {name} " in out for name in QUESTIONS)
    with pytest.raises(SystemExit) as left:
        main(["gauge", "--help"])
    assert left.value.code == 0


def test_the_cold_path_imports_nothing_heavy():
    heavy = ["click", "pydantic", "pint", "datasette", "rich", "sqlite_utils", "asyncio"]
    heavy += ["inspect", "dataclasses", "typing"]
    script = (
        "import sys; from refdata.doors.command import main; main(['clearance', '#6']);"
        f" print([name for name in {heavy} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_a_broken_pipe_is_not_a_traceback():
    done = subprocess.run(
        f"{sys.executable} -m refdata gauge 18 | true", shell=True, capture_output=True, text=True, env=os.environ
    )
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("name", EVERY_QUESTION)
def test_every_question_is_answered_at_the_command_line(capsys, name):
    arguments, options = EVERY_QUESTION[name]
    given = [part for option, value in options.items() for part in (f"--{option}", value)]
    code, out, err = answer(capsys, name, *arguments, *given)
    assert (code, err) == (0, "")
    assert out.strip()


def test_a_question_that_is_misspelt_in_a_sentence_is_named(capsys):
    told = answer(capsys, "18", "guage", "brass", "how", "thick")[2]
    assert told.endswith("nearest: gauge, 18, brass, thick\n")
