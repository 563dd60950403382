"""An answer as a page shows it: the figures large, each leading to who says so, then what stands beside them."""

from __future__ import annotations

import re
from typing import NamedTuple
from urllib.parse import urlencode

from markupsafe import Markup

from refdata.core import questions
from refdata.core.questions import Answers, Question
from refdata.core.results import Result, by_header, once, shop_figure, side_by_side

from .cells import figure_address

PATH = "/-/refdata"


class Big(NamedTuple):
    """The figure of one answer in large type, or its caption where it has none."""

    figure: Markup | str
    other: str
    standing: str
    caption: str


class Shown(NamedTuple):
    """One answer, ready for the template `_answer.html`."""

    name: str
    title: str
    page: str
    json: str
    ask: str | None
    big: list[Big]
    tables: list[tuple[tuple[str, ...], list[list[Markup]]]]
    details: list[list[Markup]]
    notes: list[str]
    cautions: list[str]
    cautions_first: bool
    differ: list[str]
    sources: list
    drawings: list[dict]


def page_of(name: str, given: dict[str, str]) -> str:
    """The address of a question with its arguments."""
    return f"{PATH}/{name}?{urlencode(given)}" if given else f"{PATH}/{name}"


def shown(declared: Question, given: dict[str, str], found: Answers) -> Shown:
    """What a page shows of the answers to one question."""
    results, asked = found.results, urlencode(given)
    header = results[0].HEADER
    sources = {source.id: source for result in results if result.SOURCE_LINE for source in result.sources}
    path = f"{PATH}/{declared.name}"
    return Shown(
        name=declared.name,
        title=declared.name.replace("-", " ").capitalize(),
        page=page_of(declared.name, given),
        json=f"{path}.json?{asked}",
        ask=found.ask,
        big=[] if header else [_big(result) for result in results],
        tables=[
            (head, [[linked(cell) for cell in one.headline()] for one in some]) for head, some in by_header(results)
        ]
        if header
        else [],
        details=_details(results[0]) if len(results) == 1 else [],
        notes=once(results, "notes"),
        cautions=once(results, "cautions"),
        cautions_first=results[0].CAUTIONS_FIRST,
        differ=[questions.difference(one, results) for one in questions.disagreements(results)[:12]],
        sources=list(sources.values()),
        drawings=[
            _drawing(one, f"{path}.svg?{asked}&answer={at}")
            for at, one in enumerate(results, 1)
            if getattr(one, "drawing", None)
        ],
    )


def _drawing(result: Result, address: str) -> dict:
    """A drawing with its size, so that the page keeps its place."""
    width, height = re.search(r'viewBox="0 0 (\d+) (\d+)"', result.drawing).groups()
    return {"address": address, "caption": result.caption, "width": width, "height": height}


def _big(result: Result) -> Big:
    quantity = getattr(result, result.HEADLINE) if result.HEADLINE else None
    if quantity is None:
        return Big("", "", "", result.caption)
    figure, other = side_by_side(quantity)
    return Big(linked(figure), shop_figure(other), quantity.standing or "computed", result.caption)


def _details(result: Result) -> list[list[Markup]]:
    skip = (*result.IN_CAPTION, *([result.HEADLINE] if result.HEADLINE else []))
    return [[linked(cell) for cell in line] for line in result.lines("both", skip)]


def linked(words: str) -> Markup:
    """Words in the shop's figures; those about a cell of the tables lead to who says so."""
    parts = getattr(words, "parts", ()) or ((words, None),)
    return Markup("").join(
        Markup('<a class="figure" href="{}">{}</a>').format(figure_address(*cell), shop_figure(said)) if cell else said
        for said, cell in parts
    )
