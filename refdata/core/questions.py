"""The index of questions, and how one declaration serves every door.

A question is a plain function with a Reader in each annotation. Parameters before `*` are positional, the others
are options; a default of None may be left out. It returns a result, a list (asked for) or Answers.
"""

from __future__ import annotations

import importlib
from functools import lru_cache, update_wrapper

from . import store
from .errors import Ambiguous, NotUnderstood
from .quantity import Quantity
from .reading import Readings, ScrewSize, a, nearest
from .results import Result, once
from .units import from_pint

QUESTIONS = {
    "clearance": "refdata.holes.clearance:clearance",
    "drill": "refdata.holes.drill:drill",
    "screw": "refdata.holes.screw:screw",
    "countersink": "refdata.holes.countersink:countersink",
    "ball-seat": "refdata.holes.ball_seat:ball_seat",
    "thread": "refdata.holes.thread:thread",
    "tap": "refdata.holes.tap:tap",
    "hole": "refdata.holes.hole:hole",
    "pattern": "refdata.holes.pattern:pattern",
    "gauge": "refdata.sheet.gauge:gauge",
    "weight": "refdata.sheet.stock:weight",
    "pieces": "refdata.sheet.stock:pieces",
    "register": "refdata.sheet.register:register",
    "nest": "refdata.sheet.nest:nest",
    "alloy": "refdata.alloys.alloy:alloy",
    "alloys": "refdata.alloys.choosing:alloys",
    "compare": "refdata.alloys.comparing:compare",
    "identify": "refdata.alloys.identify:identify",
    "substitute": "refdata.alloys.comparing:substitute",
    "grit": "refdata.abrasives.grit:grit",
    "spindle": "refdata.machining.spindle:spindle",
    "passes": "refdata.machining.spindle:passes",
    "stops": "refdata.machining.stops:stops",
    "match": "refdata.machining.match:match",
    "growth": "refdata.joining.heating:growth",
    "heat": "refdata.joining.heating:heat",
    "lap": "refdata.joining.brazing:lap",
    "filler-quantity": "refdata.joining.brazing:filler_quantity",
    "ladder": "refdata.finishing.ladder:ladder",
    "wheel": "refdata.finishing.wheel:wheel",
    "convert": "refdata.core.converting:convert",
    "find": "refdata.core.finding:find",
    "source": "refdata.core.citing:source",
    "trust": "refdata.core.trusting:trust",
}


class Answers:
    """What a question found. `ask` says what is missing when the results are several readings of it;
    `listed` is true when a list was asked for."""

    __slots__ = ("ask", "asked", "listed", "results")

    def __init__(self, results, ask: str | None = None, listed: bool = False):
        self.results: list[Result] = list(results)
        self.ask, self.listed = ask, listed
        self.asked: dict[str, str] = {}

    def one(self):
        """The one result, or the tuple that was asked for. Raises Ambiguous."""
        if self.ask:
            raise Ambiguous(self.ask, self.results)
        return tuple(self.results) if self.listed else self.results[0]


class Parameter:
    """One argument of a question: its name, its Reader, whether it is an option, whether it may be left out.

    `name` is what people write; `argument` the function's own word, with a _ after it where Python has taken the name
    (`for_`, `in_`).
    """

    __slots__ = ("argument", "default", "name", "option", "reader", "required")

    def __init__(self, argument, reader, option, default, required):
        self.argument, self.name, self.reader, self.option = argument, argument.rstrip("_"), reader, option
        self.default, self.required = default, required


# more readings than a person would look through are asked about, not answered
MOST_READINGS, MOST_LISTS, MOST_NEAREST = 60, 6, 8


class Question:
    """A question as declared by its function."""

    def __init__(self, function):
        self.name, self.function = function.__name__.replace("_", "-"), function
        code = function.__code__
        defaults = dict(zip(reversed(code.co_varnames[: code.co_argcount]), reversed(function.__defaults__ or ())))
        defaults |= function.__kwdefaults__ or {}
        self.parameters = [
            Parameter(
                name, function.__annotations__[name], at >= code.co_argcount, defaults.get(name), name not in defaults
            )
            for at, name in enumerate(code.co_varnames[: code.co_argcount + code.co_kwonlyargcount])
        ]
        self.summary = (function.__doc__ or "").partition("\n")[0]

    def answers(self, *arguments, **options) -> Answers:
        """Read the arguments and answer. Raises NotFound, NotUnderstood."""
        given = self._bind(arguments, options)
        asked, readings, calls, choices = {}, [], [{}], []
        for parameter in self.parameters:
            value = given.get(parameter.name, parameter.default)
            if value is None:
                if parameter.required:
                    raise NotUnderstood(f"{self.name} needs {_needed(parameter)}", parameter.reader.examples)
                continue
            value = _read(parameter.reader, value)
            if isinstance(value, Readings):
                readings.append(value.ask)
                choices += value.values[:MOST_NEAREST]
                if len(calls) * len(value.values) > MOST_READINGS:
                    raise NotUnderstood(f"{' '.join(readings)} That is too many readings at once", choices)
                calls = [call | {parameter.argument: one} for call in calls for one in value.values]
                asked[parameter.name] = str(given[parameter.name])
            else:
                calls = [call | {parameter.argument: value} for call in calls]
                asked[parameter.name] = str(value)
        found = self._answer(calls, readings, choices)
        found.asked = asked
        return found

    def _bind(self, arguments, options) -> dict:
        places = [p.name for p in self.parameters if not p.option]
        if len(arguments) > len(places):
            raise NotUnderstood(f"{self.name} takes at most {len(places)} of these: {', '.join(places)}")
        given = dict(zip(places, arguments))
        known = {p.name for p in self.parameters}
        for word, value in options.items():
            name = word.rstrip("_")
            if name not in known:
                raise NotUnderstood(f'{self.name} has no option "{name}"', nearest(name, known, sorted(known)))
            if name in given:
                raise NotUnderstood(f"{self.name} was given its {name} twice")
            given[name] = value
        return given

    def _answer(self, calls, readings, choices) -> Answers:
        found, failure = [], None
        for call in calls:
            try:
                found.append(_as_answers(self.function(**call)))
            except LookupError as error:
                failure = failure or error
            if len(calls) > MOST_LISTS and found and found[-1].listed:
                raise NotUnderstood(f"{' '.join(readings)} A list for each of them is too much at once", choices)
        if not found:
            raise failure
        ask = " ".join(dict.fromkeys([*readings, *(a.ask for a in found if a.ask)])) if len(found) > 1 else found[0].ask
        return Answers([r for a in found for r in a.results], ask or None, any(a.listed for a in found))


def _needed(parameter: Parameter) -> str:
    """What is missing, in words: `its length`, or of a word that says nothing alone, `"in", a metal`."""
    name, kind = parameter.name, parameter.reader.name
    return f'"{name}", {a(kind)}' if name in ("for", "from", "in", "to", "x", "y") else f"its {name}"


def _read(reader, given):
    """What a reader makes of an argument. A Quantity is held to the same bounds as text, and keeps its exact value;
    a screw size is read already: its label may stand for two (1 is #1 or one inch)."""
    if isinstance(given, ScrewSize):
        return given
    found = reader.read(_as_text(given, reader.comma))
    return given if isinstance(given, Quantity) and isinstance(found, Quantity) else found


def _as_text(given, comma: str | None = None) -> str:
    """What a caller in Python passes, as it would be written: a Quantity, pint's too, a float; a list where several are
    read, with `comma` between them."""
    if isinstance(given, Quantity):
        return f"{given.text} {given.unit}"
    if comma and isinstance(given, (list, tuple)):
        return comma.join(map(_as_text, given))
    if isinstance(given, float):
        from decimal import Decimal

        return f"{Decimal(repr(given)):f}"
    if hasattr(given, "magnitude"):
        return f"{_as_text(given.magnitude)} {from_pint(given.units)}"
    return str(given)


def _as_answers(found) -> Answers:
    if isinstance(found, Answers):
        return found
    return Answers(found, listed=True) if isinstance(found, (list, tuple)) else Answers([found])


_PLAIN = frozenset((str, int, float, bool, type(None)))


def question(function):
    """Make a function a question: callers may give text, get exactly one result or a list, and are answered
    from memory the second time."""
    declared = Question(function)

    @lru_cache(maxsize=8192, typed=True)
    def once(*arguments, **options):
        return declared.answers(*arguments, **options).one()

    def ask_one(*arguments, **options):
        # a Quantity is not remembered: 1 in and 25.4 mm are equal, their answers are not; nor is what has no hash
        for given in (*arguments, *options.values()):
            if given.__class__ not in _PLAIN:
                found = declared.answers(*arguments, **options).one()
                break
        else:
            found = once(*arguments, **options)
        return list(found) if type(found) is tuple else found

    update_wrapper(ask_one, function)
    ask_one.question = declared
    return ask_one


def load(name: str):
    """The function that answers a question by name (`ball-seat` or `ball_seat`). Raises NotUnderstood."""
    name = name.replace("_", "-")
    if name not in QUESTIONS:
        raise NotUnderstood(f'there is no question "{name}"', nearest(name, QUESTIONS, QUESTIONS))
    module, _, function = QUESTIONS[name].partition(":")
    return getattr(importlib.import_module(module), function)


def ask(question: str, *arguments, units: str = "published", **options) -> dict:
    """The answer in the envelope of the contract, ready for JSON.

    `question` is a name of QUESTIONS; the other arguments are the question's own, as text. `units` is published,
    inch, metric or both. Raises NotFound or NotUnderstood (both LookupError).

    >>> ask("clearance", "#6")["answers"][0]["diameter"]["value"]
    0.17
    """
    check_units(units)
    declared = load(question).question
    return envelope(declared, declared.answers(*arguments, **options), units)


UNITS = ("published", "inch", "metric", "both")


def check_units(units: str) -> str:
    """`units` if it is one of UNITS. Raises NotUnderstood."""
    if units not in UNITS:
        raise NotUnderstood(f'"{units}" is not a choice of units', UNITS)
    return units


def envelope(declared: Question, found: Answers, units: str = "published") -> dict:
    """Answers as plain values: the one envelope of the command line, Python and HTTP."""
    cited = {source.id: source for result in found.results for source in result.sources}
    return {
        "question": declared.name,
        "asked": found.asked,
        "answers": [result.as_dict(units) for result in found.results],
        "ask": found.ask,
        "cautions": once(found.results, "cautions"),
        "sources": {i: {"title": s.title, "edition": s.edition, "kind": s.kind} for i, s in cited.items()},
        "data_version": store.data_version(),
        "disagreements": disagreements(found.results),
    }


def disagreements(results) -> list[dict]:
    """Where sources differ about a figure of these results: all values, which is served, and why."""
    found = []
    for at, result in enumerate(results):
        for path, quantity in result.quantities():
            if quantity.cell is None:
                continue
            others = store.select(
                "SELECT value, unit, source, reason FROM disagreements"
                " WHERE table_name = ? AND row_key = ? AND column_name = ?",
                *quantity.cell,
            )
            if others:
                served = {"value": quantity.value, "unit": quantity.unit, "source": quantity.source}
                values = [served, *({"value": v, "unit": u, "source": s} for v, u, s, _ in others)]
                reason = "; ".join(dict.fromkeys(row[3].rstrip(".") for row in others))
                found.append({"answer": at, "key": path, "values": values, "served": served, "reason": reason})
    return found


def about(one: dict, results: list) -> str:
    """What a disagreement is about, in words: `limits.0.limit` is limit; one of several answers is
    named: `values.C36000.1` of the line on density is density C36000."""
    parts = [part for part in one["key"].split(".") if not part.isdigit() and part != "values"]
    parts = [part for part in parts if not (part.endswith("s") and part[:-1] in parts)]
    answer = [results[one["answer"]].caption] if len(results) > 1 else []
    return " ".join([*answer, *parts]).replace("_", " ")


def difference(one: dict, results: list) -> str:
    """A disagreement in a sentence or two: what is served, who has what else, and the reason."""
    served, *others = [str(Quantity(f"{v['value']:g}", v["unit"])) for v in one["values"]]
    said = ", ".join(f"{figure} ({v['source']})" for figure, v in zip(others, one["values"][1:]))
    reason = one["reason"]
    return f"Sources differ on {about(one, results)}: {served}, others {said}. {reason[0].upper()}{reason[1:]}."


def error(problem) -> dict:
    """The JSON form of an error."""
    return {"error": {"message": problem.message, "nearest": problem.nearest}}
