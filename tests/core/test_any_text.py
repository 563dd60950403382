"""Five thousand random strings into every question: an answer or our own error, never anything else."""

import random
import string

import pytest

from refdata.core.errors import RefdataError
from refdata.core.questions import QUESTIONS, load

COUNT = 5_000
PIECES = [
    *"0123456789#/.-\"'x×½⅛°µ, ", *string.ascii_letters, *string.punctuation, "\t", "\n", "\0", "é", "漢", "🔩",
    "\u202e", "#6", "1/4", "M4", "18 ga", "brass", "C360", "mm", " in", "AWG", "316", "oz", "NaN", "inf", "1e9", "--",
    "%s", "None", "' OR 1=1 --", "\" OR \"\"=\"", "*", "NEAR(", "9" * 30, "-1", "0/0", "M0", "T6", "annealed", "memory",
    "gauges",
]  # fmt: skip


def texts(seed: str, pieces):
    chance = random.Random(seed)
    for _ in range(COUNT):
        yield "".join(chance.choices(pieces, k=chance.randint(0, 6)))


# what some questions cannot do without, though no one kind of them needs all of it
GIVEN = {
    "pattern": {"holes": "3", "pitch": "1 in", "diameter": "2 in", "columns": "2", "rows": "2"},
    "compare": {"second": "C36000", "third": "C46400", "fourth": "304"},
    "identify": {"length": "1 in", "diameter": "26 mm"},
    "nest": {"length": "100 in", "width": "100 in"},
    "weight": {"width": "6 in", "thickness": "1/8 in"},
}


@pytest.mark.parametrize("name", QUESTIONS)
def test_any_text_gets_an_answer_or_our_own_error(name):
    question = load(name).question
    first, *others = question.parameters
    positional = [p.name for p in others if not p.option]
    needed = [p for p in others if p.option and p.required]
    options = [p for p in others if p.option and not p.required]
    chance = random.Random(name)
    answered = 0
    for text in texts(name, [*PIECES, *first.reader.examples]):
        given = {first.name: text} | {parameter: chance.choice(PIECES) for parameter in positional}
        given |= {p.name: chance.choice([*PIECES[-8:], *p.reader.examples * 10]) for p in needed} | GIVEN.get(name, {})
        if options and chance.random() < 0.6:
            option = chance.choice(options)
            given[option.name] = chance.choice([*PIECES[-8:], *option.reader.examples, *(option.reader.choices or ())])
        try:
            question.answers(**given)
            answered += 1
        except RefdataError as problem:
            assert problem.message.isprintable()
    assert answered > 0
