"""What people say in one breath ("8-32 clearance", "18 ga brass", "P400", "360", "3/16 in"), to the questions that
answer it.

A word of the trade names the question; without one, every question that understands the words answers, and none of
them is guessed.
"""

from __future__ import annotations

import re
import shlex
from typing import NamedTuple

from refdata.core.errors import NotFound, NotUnderstood, RefdataError
from refdata.core.questions import QUESTIONS, Answers, Question, load
from refdata.core.reading import LONGEST, read_quantity
from refdata.core.units import counterpart


class Said(NamedTuple):
    """One reading: the question, its arguments as text, and its answers."""

    question: Question
    given: dict[str, str]
    found: Answers


_EXAMPLES = ("8-32 clearance", "18 ga brass", "P400", "C360", "3/16 in")
_FILLER = r"\b(what|is|the|a|an|of|for|size|please|need|hole|holes|screw|screws|bolt|drill)\b|\?"
# words of the trade to the question that they name; the longer first, as `tap drill` is no drill
_CUES = (
    ("tap", r"\btap(?:ping|ped)?\s+(?:drills?|holes?)\b|\btaps?\b|\bdrill\s+(?:size\s+)?(?:for|to)\s+tap(?:ping)?\b"),
    ("clearance", r"\bclearance\b|\bthrough[\s-]holes?\b|\bholes?\s+for\b|\b(?:close|normal|loose)\s+fit\b"),
    ("countersink", r"\bcountersinks?\b|\bcsk\b"),
    ("thread", r"\bthreads?\b|\bpitch\b|\bunc\b|\bunf\b"),
    ("screw", r"\bheads?\b"),
    ("drill", r"\bdrills?(?:\s+bits?)?\b"),
    ("grit", r"\bgrits?\b|\bgrain\b|\bsandpaper\b|\babrasive\b"),
    ("gauge", r"\bthickness\b|\bhow\s+thick\b"),
    ("alloy", r"\balloy\b|\bdensity\b|\bmelting(?:\s+(?:point|range))?\b|\bcomposition\b|\bhardness\b|\bstrength\b"),
)
_FITS = r"\b(close|normal|loose|fine|medium|coarse)(?:\s+fit)?\b"
_TO_UNIT = re.compile(r"^(?P<value>.+?)\s+(?:in|to|into|as)\s+(?P<unit>\S+)$", re.I)


def read(said: str) -> list[Said]:
    """The readings of what was said, the likeliest first. Raises NotUnderstood, or NotFound with what is near."""
    words = " ".join(said.split())
    if not words:
        raise NotUnderstood("nothing was asked", _EXAMPLES)
    if len(words) > LONGEST:
        raise NotUnderstood("that is too long for one question")
    asked = _as_command(words)
    if asked:
        return [asked]
    named = _named(words)
    if named:
        return named
    found = [one for call in _without_cue(words) if (one := _try(*call)) and _is_near(one)]
    if found:
        return found
    return [_found(words)]


def _as_command(words: str) -> Said | None:
    """A question in the words of the command line: `clearance "M4" --fit all`, `alloy C46400`."""
    name, _, rest = words.partition(" ")
    if name not in QUESTIONS:
        return None
    try:
        parts = shlex.split(rest)
    except ValueError:  # a quotation that does not end
        return None
    places, given = [p.name for p in load(name).question.parameters if not p.option], {}
    plain: list[str] = []
    while parts:
        part = parts.pop(0)
        if part.startswith("--") and parts:
            given[part.removeprefix("--").replace("-", "_")] = parts.pop(0)
        else:
            plain.append(part)
    surplus = max(len(plain) - len(places), 0) + 1
    plain = [" ".join(plain[:surplus]), *plain[surplus:]] if plain else []
    return _answered(name, dict(zip(places, plain)) | given)


def _named(words: str) -> list[Said]:
    """The question that a word of the trade names, asked with the rest of the words; its error where it fails."""
    for name, cue in _CUES:
        if not re.search(cue, words, re.I):
            continue
        rest = re.sub(cue, " ", words, flags=re.I)
        options = {}
        if name == "tap" and (metal := re.search(r"\bin\s+(?!mm|inch)([a-z].*)$", rest, re.I)):
            options["in"], rest = metal[1], rest[: metal.start()]
        if name == "clearance" and (fit := re.search(_FITS, words, re.I)):
            options["fit"], rest = fit[1], re.sub(_FITS, " ", rest, flags=re.I)
        rest = " ".join(re.sub(_FILLER, " ", rest, flags=re.I).split())
        # `82 degree countersink`, `#8 flat head`: what is left must be understood, else the words may name something
        if rest and (one := _try(name, rest, options)):
            return [one]
    return []


def _without_cue(words: str) -> list[tuple[str, str, dict]]:
    calls = []
    if match := _TO_UNIT.match(words):
        calls += [("convert", match["value"], {"unit": match["unit"]}), ("grit", match["value"], {})]
    screws, others = ("clearance", "tap", "drill"), ("gauge", "alloy", "grit")
    # a # or a fraction is the way to write a screw or a drill, a bare number that of the others
    order = (*screws, *others) if re.search(r"#|\d-\d|\d/\d", words) else (*others, *screws)
    calls += [(name, words, {}) for name in order]
    try:
        one = read_quantity(words)
        other = counterpart(one.unit, one.exact)
        calls.insert(0, ("convert", words, {"unit": other}))
    except (RefdataError, AttributeError):  # no quantity, or one that may be of two units
        pass
    return calls


def _try(name: str, text: str, options: dict) -> Said | None:
    first = load(name).question.parameters[0].name
    return _answered(name, {first: text} | {k: v for k, v in options.items() if v is not None})


def _answered(name: str, given: dict[str, str]) -> Said | None:
    declared = load(name).question
    try:
        found = declared.answers(**given)
    except RefdataError:
        return None
    return Said(declared, given, found)


def _is_near(said: Said) -> bool:
    """Whether a drill that was not asked for by name comes near the diameter that was said."""
    if said.question.name != "drill":
        return True
    return any(
        one.deviation is None or abs(one.deviation.exact) <= one.diameter.exact / 50 for one in said.found.results
    )


def _found(words: str) -> Said:
    """Rows of any table that carry the words; a family of questions where the words name one. Raises NotFound."""
    try:
        return Said(load("find").question, {"text": words}, load("find").question.answers(words))
    except NotFound as problem:
        from difflib import get_close_matches

        asked = [name for word in words.lower().split() for name in get_close_matches(word, QUESTIONS, 1, 0.8)]
        # not the little words of a sentence: "how", "is", "of"
        carried = [word for word in problem.nearest if word in words and (len(word) > 3 or re.search(r"\d", word))]
        raise NotFound(f'nothing here answers to "{words}"', [*asked, *carried] or _EXAMPLES) from None
