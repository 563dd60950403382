"""Attacks on every field of every question: an answer or a refusal, never a failure, and nothing comes back as code."""

import pytest
from conftest import EVERY_QUESTION
from test_guard import asker

from refdata.core import store
from refdata.core.questions import QUESTIONS, load

ATTACKS = {
    "sql": "'; DROP TABLE alloys; --",
    "sql union": "x' UNION SELECT sql FROM sqlite_master --",
    "sql like": "%' OR '1'='1",
    "script": "<script>alert(1)</script>",
    "attribute": '" autofocus onfocus="alert(1)',
    "template": "{{ 7 * 191 }}{% include '/etc/passwd' %}",
    "path": "../../../../etc/passwd",
    "file": "@/etc/passwd",
    "control": "a\r\nSet-Cookie: x=1\x00\x1b[31m",
    "deep": "(" * 4000,
    "huge": "9" * 9000,
    "far": "999999999999999 ft",
    "fine": "0.000000000000001 in",
    "many": "999999999999999",
    "exponent": "1e999999999",
    "fraction": "1/0",
    "unicode": "\ufeff\u202e١٢٣ ½\U0001f529",
}


@pytest.fixture(scope="module")
def ask():
    return asker("127.0.0.1")


def harmless(answer) -> None:
    assert answer.status_code in (200, 302, 400, 404, 414)
    assert "set-cookie" not in answer.headers
    code = ("<script>alert", '" autofocus', "1337") if "html" in answer.headers.get("content-type", "") else ()
    for dangerous in (*code, "root:", "Traceback", store.PATH):
        assert dangerous not in answer.text


@pytest.mark.parametrize("kind", ATTACKS)
@pytest.mark.parametrize("name", QUESTIONS)
def test_every_field_of_every_question(ask, name, kind):
    from urllib.parse import urlencode

    declared = load(name).question
    arguments, options = EVERY_QUESTION[name]
    good = dict(zip([p.name for p in declared.parameters], arguments)) | options
    for parameter in declared.parameters:
        query = urlencode(good | {parameter.name: ATTACKS[kind]})
        answer = ask(f"/-/refdata/{name}.json?{query}")
        assert answer.status_code in (200, 400)
        assert answer.json()
    first = declared.parameters[0].name
    harmless(ask(f"/-/refdata/{name}?{urlencode({first: ATTACKS[kind]})}"))


@pytest.mark.parametrize("kind", ATTACKS)
def test_the_search_box_and_the_paths(ask, kind):
    from urllib.parse import quote

    attack = quote(ATTACKS[kind], safe="")
    for path in ("/-/refdata?say={}", "/-/refdata/on/alloy/{}", "/-/refdata/on/gauge/{}", "/-/refdata/{}.json",
                 "/-/refdata/tables/{}.csv", "/-/refdata/charts/{}.pdf", "/-/refdata/charts/grit.svg?paper={}",
                 "/refdata/alloy?name={}", "/refdata/{}", "/refdata/alloys/{}"):  # fmt: skip
        harmless(ask(path.format(attack)))


def test_the_tables_are_whole_afterwards(ask):
    assert ask("/-/refdata/alloy.json?name=C36000").status_code == 200


@pytest.mark.parametrize(
    "path",
    [
        "/refdata/gauges?_sort=nothing",
        "/refdata/gauges.json?_sort_desc=nothing",
        "/-/refdata/compare.json?first=brass&second=brass&third=brass&fourth=brass",
    ],
)
def test_what_cannot_be_sorted_or_multiplied_is_refused(ask, path):
    assert ask(path).status_code == 400
