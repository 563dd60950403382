"""The addresses of ours: the JSON of the contract, forms, the search box, pages about one thing, CSV, charts."""

from __future__ import annotations

from asyncio import to_thread as elsewhere  # a long answer must not hold up the others
from urllib.parse import unquote

from datasette import Response
from datasette.utils import tilde_decode

from refdata.core import questions
from refdata.core.errors import NotUnderstood, RefdataError
from refdata.core.results import side_by_side
from refdata.doors import charts, export, saying

from . import openapi, subjects
from .answer import linked, shown


async def answer(request):
    """One question; 200 with the envelope, 400 with the error in the same words as everywhere."""
    try:
        declared = questions.load(request.url_vars["question"]).question
        given = _parameters(request)
        units = questions.check_units(given.pop("units", "published"))
        return Response.json(await elsewhere(lambda: questions.envelope(declared, declared.answers(**given), units)))
    except RefdataError as problem:
        return Response.json(questions.error(problem), status=400)


async def drawing(request):
    """The drawing of one answer (`answer=2` of several, else the first) as SVG; 400 with the reason where there is
    none."""
    try:
        declared = questions.load(request.url_vars["question"]).question
        given = _parameters(request)
        at = given.pop("answer", "1")
        found = await elsewhere(lambda: declared.answers(**given))
        drawings = [getattr(one, "drawing", None) for one in found.results]
        if not (at.isascii() and at.isdigit() and 0 < int(at) <= len(drawings)) or drawings[int(at) - 1] is None:
            raise NotUnderstood(f"{declared.name} has no drawing of answer {at}")
        return Response(drawings[int(at) - 1], content_type="image/svg+xml; charset=utf-8")
    except RefdataError as problem:
        return Response.text(str(problem), status=400)


async def page(request, datasette):
    """The form of one question, and its answer once it is asked; 400 with the reason where it cannot be answered."""
    try:
        declared = questions.load(request.url_vars["question"]).question
    except RefdataError as problem:
        return Response.text(str(problem), status=404)
    told = {"asked": declared, "given": {}, "found": None, "problem": None}
    try:
        told["given"] = given = _parameters(request)
        if given:
            told["found"] = await elsewhere(lambda: shown(declared, given, declared.answers(**given)))
    except RefdataError as problem:
        told["problem"] = str(problem)
    return await _html(datasette, request, "question.html", told, 400 if told["problem"] else 200)


async def home(request, datasette):
    """The search box, everything that can be asked, and the tables."""
    return await _html(datasette, request, "index.html", {"metadata": datasette.metadata() or {}})


async def say(request, datasette):
    """The search box: what was said, answered on a card for each reading; 400 where nothing answers."""
    said = " ".join(request.args.get("say", "").split())
    if not said:
        return Response.redirect("/")
    told = {"said": said, "cards": [], "rows": [], "problem": None}
    try:
        found = await elsewhere(saying.read, said)
        if found[0].question.name == "find":
            told["rows"] = found[0].found.results
        else:
            told["cards"] = await elsewhere(lambda: [shown(*one) for one in found])
    except RefdataError as problem:
        told["problem"] = problem
    return await _html(datasette, request, "said.html", told, 400 if told["problem"] else 200)


async def on(request, datasette):
    """The pages about an alloy, a screw size, a gauge system, a grade; without a member the list of them."""
    kind, member = request.url_vars["kind"], tilde_decode(unquote(request.url_vars.get("member") or ""))
    told = {"kind": kind, "member": member, "cards": [], "gauges": [], "groups": {}}
    try:
        told["subject"] = subjects.subject(kind)
        if not member:
            told["groups"] = told["subject"].members()
        elif kind == "gauge":
            told["gauges"] = [_gauge(row) for row in subjects.gauges(member)]
        else:
            told["cards"] = subjects.answers(kind, member)
        told["says"] = told["subject"].says(member)
    except RefdataError as problem:
        told = {"said": member or kind, "cards": [], "rows": [], "problem": problem}
        return await _html(datasette, request, "said.html", told, 404)
    return await _html(datasette, request, "subject.html", told)


def _gauge(row) -> dict:
    thickness = row["thickness_in"]
    return {
        "gauge": row["gauge"],
        "standing": thickness.standing,
        "shown": [linked(words) for words in side_by_side(thickness)],
    }


async def csv(request):
    """A whole table as CSV, figures as printed."""
    try:
        text = export.csv_text(request.url_vars["table"])
    except RefdataError as problem:
        return Response.text(str(problem), status=404)
    return Response(text, content_type="text/csv; charset=utf-8")


async def chart(request):
    """A wall chart as PDF or SVG; `paper` is letter or a4."""
    try:
        name, kind = request.url_vars["chart"], request.url_vars["kind"]
        made = await elsewhere(charts.make, name, _parameters(request).get("paper", "letter"), kind)
    except RefdataError as problem:
        return Response.text(str(problem), status=404)
    types = {"pdf": "application/pdf", "svg": "image/svg+xml; charset=utf-8"}
    return Response(made, content_type=types[kind])


async def description():
    """The OpenAPI description of this interface."""
    return Response.json(openapi.document())


async def _html(datasette, request, template: str, told: dict, status: int = 200):
    return Response.html(await datasette.render_template(template, told, request=request), status=status)


async def index(request):
    """The questions, with the parameters of each."""
    known = [questions.load(name).question for name in questions.QUESTIONS]
    return Response.json(
        {
            "questions": [
                {
                    "name": one.name,
                    "summary": one.summary,
                    "parameters": [
                        {"name": p.name, "required": p.required, "reads": p.reader.help, "choices": p.reader.choices}
                        for p in one.parameters
                    ],
                }
                for one in known
            ]
        }
    )


def _parameters(request) -> dict[str, str]:
    given = {}
    for name in request.args:
        values = request.args.getlist(name)
        if len(values) > 1:
            raise NotUnderstood(f'"{name}" was given {len(values)} times')
        given[name] = values[0]
    return {name: value for name, value in given.items() if value.strip()}
