"""The OpenAPI description: valid, made from the declarations, and kept by every answer."""

import jsonschema
import openapi_spec_validator
import pytest
import schemathesis
from conftest import EVERY_QUESTION
from hypothesis import HealthCheck, settings

import refdata
from refdata.core.questions import QUESTIONS, load
from refdata.doors.browser.openapi import document
from refdata.doors.serve import site

schema = schemathesis.openapi.from_asgi("/-/refdata/openapi.json", site(names=["testserver"]))
# which names and sizes the tables carry is not for a schema to say: a text of the right shape may still be a 400
NOT_KNOWABLE = [schemathesis.checks.positive_data_acceptance]


def test_it_is_openapi_3_1_and_names_every_question():
    told = document()
    assert told["openapi"] == "3.1.0"
    openapi_spec_validator.validate(told)
    assert list(told["paths"]) == [f"/-/refdata/{name}.json" for name in QUESTIONS]
    for name in QUESTIONS:
        parameters = told["paths"][f"/-/refdata/{name}.json"]["get"]["parameters"]
        assert [p["name"] for p in parameters] == [*(p.name for p in load(name).question.parameters), "units"]


@pytest.mark.parametrize("units", ["published", "both"])
@pytest.mark.parametrize("name", QUESTIONS)
def test_every_answer_has_the_shape_that_is_told(name, units):
    told = document()
    arguments, options = EVERY_QUESTION[name]
    answer = refdata.ask(name, *arguments, **options, units=units)
    operation = told["paths"][f"/-/refdata/{name}.json"]["get"]
    shape = operation["responses"]["200"]["content"]["application/json"]["schema"]
    jsonschema.validate(answer, shape | {"components": told["components"]})


@schema.parametrize()
@settings(max_examples=6, deadline=None, suppress_health_check=list(HealthCheck))
def test_made_up_questions_get_an_answer_or_an_error_of_the_right_shape(case):
    case.call_and_validate(excluded_checks=NOT_KNOWABLE)
