"""Twenty thousand random strings into every question: an answer or our own error, never anything else."""

import random
import string

import pytest

from refdata.core.errors import RefdataError
from refdata.core.questions import QUESTIONS, load

COUNT = 20_000
PIECES = [
    *"0123456789#/.-\"'x×½⅛°µ, ", *string.ascii_letters, *string.punctuation, "\t", "\n", "\0", "é", "漢", "🔩",
    "\u202e", "#6", "1/4", "M4", "18 ga", "brass", "C360", "mm", " in", "AWG", "316", "oz", "NaN", "inf", "1e9", "--",
    "%s", "None", "' OR 1=1 --", "\" OR \"\"=\"", "*", "NEAR(", "9" * 30, "-1", "0/0", "M0", "T6", "annealed", "memory",
    "gauges",
]  # fmt: skip


def texts(seed: str):
    chance = random.Random(seed)
    for _ in range(COUNT):
        yield "".join(chance.choices(PIECES, k=chance.randint(0, 6)))


@pytest.mark.parametrize("name", QUESTIONS)
def test_any_text_gets_an_answer_or_our_own_error(name):
    question = load(name).question
    positional = [p.name for p in question.parameters if not p.option]
    options = [p.name for p in question.parameters if p.option]
    chance = random.Random(name)
    answered = 0
    for text in texts(name):
        given = dict.fromkeys(positional[:1], text)
        given |= {parameter: chance.choice(PIECES) for parameter in positional[1:]}
        if options and chance.random() < 0.3:
            given[chance.choice(options)] = chance.choice(PIECES)
        try:
            question.answers(**given)
            answered += 1
        except RefdataError as problem:
            assert problem.message.isprintable()
    assert answered > 0
