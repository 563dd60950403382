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
