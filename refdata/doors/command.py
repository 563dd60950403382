"""The command line: `refdata QUESTION [ARGUMENTS] [--json] [--units published|inch|metric|both]`.

Exit codes: 0 an answer; 3 several readings, and the last line but the sources asks what is missing; 2 not understood.
"""

from __future__ import annotations

import argparse
import re
import sys
from functools import partial

from refdata.core import questions
from refdata.core.errors import NotUnderstood, RefdataError

OWN = {
    "serve": "open the pages, the tables and the JSON interface in a web browser",
    "chart": "a wall chart of one page as PDF or SVG: clearance, gauges, grit, alloys, heads",
    "export": "all tables as CSV with a data package that tells their units and sources",
    "tour": "a real answer for each of the daily questions, and where to go next",
}

PLACES = {"chart": "charts"}


class Parser(argparse.ArgumentParser):
    """A parser whose errors are ours: one line, exit code 2."""

    def __init__(self, prog: str, **options):
        # a fixed width, since asking the terminal costs an import of a tenth of the whole answer
        super().__init__(prog, formatter_class=partial(argparse.HelpFormatter, width=100), **options)

    def error(self, message: str):
        raise NotUnderstood(f"{self.prog}: {message}")


def run() -> None:
    """Entry point of the `refdata` command."""
    sys.exit(main(sys.argv[1:]))


def main(arguments: list[str]) -> int:
    """Answer one command line; returns the exit code."""
    name, rest = (arguments[0], arguments[1:]) if arguments else ("--help", [])
    try:
        if name in ("-h", "--help", "help"):
            print(_help())
            return 0
        if name == "--version":
            from refdata import __version__

            print(f"refdata {__version__}")
            return 0
        if name in OWN:
            from importlib import import_module

            return import_module(f"refdata.doors.{PLACES.get(name, name)}").main(rest)
        try:
            declared = _load(name)
        except NotUnderstood as unknown:
            return _in_one_breath(arguments, unknown)
        try:
            return _answer(declared, rest)
        except RefdataError as problem:  # `clearance for an M5 bolt`: the words may be understood in another order
            if any(word.startswith("--") for word in rest) or len(rest) < 2:
                raise
            return _in_one_breath(arguments, problem)
    except RefdataError as problem:
        if "--json" in rest:
            import json

            print(json.dumps(questions.error(problem), ensure_ascii=False))
        else:
            print(problem, file=sys.stderr)
        return 2
    except BrokenPipeError:
        sys.stderr.close()
        return 0


def _in_one_breath(arguments: list[str], unknown: NotUnderstood) -> int:
    """Answer words that name no question, or not its arguments alone: `refdata 18 ga brass`. Raises `unknown` where a
    question was named or misspelt, NotUnderstood where nothing answers, and for JSON where several questions do."""
    from . import saying

    words = [word for word in arguments if word != "--json"]
    if not words or any(word.startswith("--") for word in words):
        raise unknown
    from difflib import get_close_matches

    misspelt = get_close_matches(words[0], [*questions.QUESTIONS, *OWN], 1, 0.75)
    try:
        found = saying.read(" ".join(words))
    except RefdataError as nothing:
        raise (unknown if misspelt else nothing) from None
    if misspelt and found[0].question.name == "find":
        raise unknown
    if len(words) < len(arguments):
        if len(found) > 1:
            raise NotUnderstood("several questions answer that: name one", [one.question.name for one in found])
        _print_json(found[0].question, found[0].found, "published")
        return 3 if found[0].found.ask else 0
    from .plain import text

    print("\n\n".join(f"{text(one.found)}\nAsked: {_as_typed(one)}" for one in found))
    return 3 if len(found) > 1 or found[0].found.ask else 0


def _as_typed(said) -> str:
    """The command that asks the same."""
    import shlex

    places = {p.name for p in said.question.parameters if not p.option}
    told = [
        shlex.quote(v) if n in places else f"--{n.replace('_', '-')} {shlex.quote(v)}" for n, v in said.given.items()
    ]
    return " ".join(["refdata", said.question.name, *told])


def _print_json(declared: questions.Question, found: questions.Answers, units: str) -> None:
    import json

    print(json.dumps(questions.envelope(declared, found, units), indent=2, ensure_ascii=False))


def _answer(declared: questions.Question, rest: list[str]) -> int:
    # the names of the options in JSON have _ where the command line has -
    rest = [re.sub(r"^--\w+", lambda option: option[0].replace("_", "-"), word) for word in rest]
    # a value below nothing is no option: --to -40C
    rest = re.sub(r"(--[\w-]+)\0(-\.?\d)", r"\1=\2", "\0".join(rest)).split("\0") if rest else rest
    given = _parser(declared).parse_args(rest)
    positional = [p.name for p in declared.parameters if not p.option]
    words = [_from_file(word) for word in given.words]
    alike = len({p.reader for p in declared.parameters if not p.option}) < len(positional)
    if len(words) > len(positional) > 0 and not alike:
        # `refdata alloy naval brass`, `refdata convert 3/16 in mm`: the first argument may be several words
        surplus = len(words) - len(positional) + 1
        words = [" ".join(words[:surplus]), *words[surplus:]]
    options = {p.name: getattr(given, p.name) for p in declared.parameters if p.option}
    options = {name: "; ".join(value) if isinstance(value, list) else value for name, value in options.items()}
    units = questions.check_units(given.units) if given.units else None
    found = declared.answers(*words, **{name: value for name, value in options.items() if value is not None})
    if given.drawing:
        _draw(found, given.drawing)
    if given.json:
        _print_json(declared, found, units or "published")
    else:
        from .plain import text

        print(text(found, units or "both"))
    return 3 if found.ask else 0


def _from_file(word: str) -> str:
    """`@FILE` stands for what the file holds."""
    if not word.startswith("@") or len(word) == 1:
        return word
    try:
        with open(word[1:], encoding="utf-8-sig") as file:
            return file.read(1_000_000)
    except (OSError, UnicodeDecodeError) as problem:
        raise NotUnderstood(f"cannot read {word[1:]}: {getattr(problem, 'strerror', None) or 'not a text'}") from None


def _draw(found: questions.Answers, file: str) -> None:
    """Write the drawings, each whole or not at all: FILE.svg, or FILE-1.svg, FILE-2.svg for several answers."""
    import os

    drawings = [one.drawing for one in found.results if getattr(one, "drawing", None)]
    if not drawings:
        raise NotUnderstood("there is no drawing of this answer")
    stem, kind = os.path.splitext(file)
    names = [file] if len(drawings) == 1 else [f"{stem}-{at}{kind}" for at in range(1, len(drawings) + 1)]
    for name, drawing in zip(names, drawings):
        try:
            with open(f"{name}.part", "w", encoding="utf-8") as out:
                out.write(drawing)
            os.replace(f"{name}.part", name)
        except OSError as problem:
            raise NotUnderstood(f"cannot write {name}: {problem.strerror}") from None


def _load(name: str) -> questions.Question:
    try:
        return questions.load(name).question
    except NotUnderstood:
        from refdata.core.reading import nearest

        known = [*questions.QUESTIONS, *OWN]
        raise NotUnderstood(f'there is no question "{name}"', nearest(name, known, known)) from None


def _parser(declared: questions.Question) -> argparse.ArgumentParser:
    """The parser of one question, made from its declaration."""
    positional = [p for p in declared.parameters if not p.option]
    shown = " ".join(p.name.upper() if p.required else f"[{p.name.upper()}]" for p in positional)
    parser = Parser(
        f"refdata {declared.name}",
        usage=f"refdata {declared.name} {shown} [options]",
        description=declared.summary,
        epilog="; ".join(f"{p.name.upper()}: {p.reader.help}" for p in positional),
        allow_abbrev=False,
    )
    parser.add_argument("words", nargs="*", help=argparse.SUPPRESS)
    for parameter in declared.parameters:
        if parameter.option:
            name = parameter.name.replace("_", "-")
            parser.add_argument(
                f"--{name}",
                dest=parameter.name,
                metavar=name.upper(),
                help=parameter.reader.help.replace("%", "%%"),
                action="append" if parameter.reader.many else "store",
            )
    parser.add_argument("--json", action="store_true", help="answer as JSON")
    parser.add_argument("--drawing", metavar="FILE.svg", help="write the drawing of the answer, where it has one")
    parser.add_argument("--units", metavar="UNITS", help="published, inch, metric or both")
    return parser


def _help() -> str:
    lines = ["refdata QUESTION [ARGUMENTS] [--json] [--units published|inch|metric|both]", "", "Questions:"]
    lines += [f"  {name:11} {questions.load(name).question.summary}" for name in questions.QUESTIONS]
    lines += ["", "Also:", *(f"  {name:11} {says}" for name, says in OWN.items())]
    lines += [
        "",
        "refdata QUESTION --help tells the arguments of a question; words that name none (refdata 18 ga brass)",
    ]
    return "\n".join([*lines, "are asked of all that understand them."])
