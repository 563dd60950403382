"""The same questions as SQL functions: `refdata_clearance('#6')` is the answer as JSON."""

from __future__ import annotations

import json
import sqlite3
from fractions import Fraction

from refdata.core import questions
from refdata.core.errors import RefdataError


def register(connection: sqlite3.Connection) -> None:
    """Add the functions to a connection: `refdata_QUESTION(arguments...)` and `in_unit(value, from, to)`.

    Arguments stand in the order of the question's parameters; NULL leaves one out. An error is JSON too. `in_unit`
    converts a number, and is NULL where it cannot.

    >>> connection = sqlite3.connect(":memory:"); register(connection)
    >>> connection.execute("SELECT in_unit(0.17, 'in', 'mm')").fetchone()
    (4.318,)
    """
    for name in questions.QUESTIONS:
        connection.create_function(f"refdata_{name.replace('-', '_')}", -1, _asker(name), deterministic=True)
    connection.create_function("in_unit", 3, in_unit, deterministic=True)


def _asker(name: str):
    def ask(*arguments):
        try:
            declared = questions.load(name).question
            names = [parameter.name for parameter in declared.parameters]
            if len(arguments) > len(names):
                raise questions.NotUnderstood(f"{name} takes at most {len(names)} arguments: {', '.join(names)}")
            given = {key: str(value) for key, value in zip(names, arguments) if value is not None}
            answer = questions.envelope(declared, declared.answers(**given))
        except RefdataError as problem:
            answer = questions.error(problem)
        return json.dumps(answer, ensure_ascii=False)

    return ask


def in_unit(value, unit, to):
    """A number in another unit: `in_unit(0.17, 'in', 'mm')` is 4.318; None where it cannot be converted."""
    from refdata.core.units import convert, read_unit

    try:
        return float(convert(Fraction(str(value)), read_unit(unit), read_unit(to)))
    except (RefdataError, ValueError, TypeError, AttributeError, OverflowError, ZeroDivisionError):
        return None
