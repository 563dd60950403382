"""The JSON of the contract over HTTP: /-/refdata/QUESTION.json?size=%236&fit=normal."""

from __future__ import annotations

from datasette import Response

from refdata.core import questions
from refdata.core.errors import NotUnderstood, RefdataError


async def answer(request):
    """One question; 200 with the envelope, 400 with the error in the same words as everywhere."""
    try:
        declared = questions.load(request.url_vars["question"]).question
        given = _parameters(request)
        units = questions.check_units(given.pop("units", "published"))
        return Response.json(questions.envelope(declared, declared.answers(**given), units))
    except RefdataError as problem:
        return Response.json(questions.error(problem), status=400)


async def drawing(request):
    """The drawing of one answer (`answer=2` of several, else the first) as SVG; 400 with the reason where there is
    none."""
    try:
        declared = questions.load(request.url_vars["question"]).question
        given = _parameters(request)
        at = given.pop("answer", "1")
        drawings = [getattr(one, "drawing", None) for one in declared.answers(**given).results]
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
    shown = {"asked": declared, "given": {}, "found": None, "problem": None}
    try:
        shown["given"] = given = _parameters(request)
        if given:
            shown |= _answered(declared, declared.answers(**given), request.query_string)
    except RefdataError as problem:
        shown["problem"] = str(problem)
    told = await datasette.render_template("question.html", shown, request=request)
    return Response.html(told, status=400 if shown["problem"] else 200)


def _answered(declared, found, query: str) -> dict:
    """What the page of an answer shows."""
    results = found.results
    each = {
        name: list(dict.fromkeys(one for result in results for one in getattr(result, name)))
        for name in ("notes", "cautions")
    }
    sources = {source.id: source for result in results for source in result.sources}
    path = f"/-/refdata/{declared.name}"
    return {
        "found": found, "header": results[0].HEADER, "notes": each["notes"], "told": each["cautions"],
        "differ": questions.disagreements(results), "sources": list(sources.values()),
        "drawings": [
            f"{path}.svg?{query}&answer={at}" for at, one in enumerate(results, 1) if getattr(one, "drawing", None)
        ],
        "as_json": f"{path}.json?{query}",
    }  # fmt: skip


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
