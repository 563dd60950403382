import json
import sqlite3

import pytest

from refdata.core.questions import QUESTIONS
from refdata.doors import sql


@pytest.fixture
def connection():
    connection = sqlite3.connect(":memory:")
    sql.register(connection)
    yield connection
    connection.close()


def value(connection, expression):
    return connection.execute(f"SELECT {expression}").fetchone()[0]


def test_a_question_in_sql_is_the_same_envelope(connection):
    told = json.loads(value(connection, "refdata_clearance('#6', 'close')"))
    assert (told["question"], told["answers"][0]["fit"]) == ("clearance", "close")
    thickness = "json_extract(refdata_gauge('18', 'brass'), '$.answers[0].thickness.value')"
    assert value(connection, thickness) == 0.0403


def test_errors_are_json_too(connection):
    told = json.loads(value(connection, "refdata_clearance('banana')"))
    assert "is not a screw size" in told["error"]["message"]
    assert "at most 2 arguments" in value(connection, "refdata_clearance('#6', 'close', 'x')")


@pytest.mark.parametrize("name", QUESTIONS)
def test_every_question_has_its_function_and_never_breaks_a_query(connection, name):
    for arguments in ("", "NULL", "''", "'x', 'y', 'z'", "x'00ff'", "1.5"):
        told = json.loads(value(connection, f"refdata_{name.replace('-', '_')}({arguments})"))
        assert "answers" in told or "error" in told


def test_conversion_in_sql(connection):
    assert value(connection, "in_unit(0.17, 'in', 'mm')") == 4.318
    assert value(connection, "in_unit(0.307, 'lb/in3', 'g/cm3')") == pytest.approx(8.4977, abs=1e-4)
    for nothing in ("in_unit('x', 'in', 'mm')", "in_unit(1, 'in', 'kg')", "in_unit(NULL, 'in', 'mm')"):
        assert value(connection, nothing) is None
