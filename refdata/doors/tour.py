"""`refdata tour`: the three daily questions of a small yard that makes its own boat fittings (invented), answered."""

from __future__ import annotations

import shlex

STEPS = (
    (
        "A small yard (invented) makes naval-brass cleat plates. A #6 screw must pass through the plate.",
        'clearance "#6"',
    ),
    ("The backing plate is 18 gauge brass. How thick is that?", "gauge 18 --metal brass"),
    ("The order says naval brass. What is it, and what must the shop know?", 'alloy "naval brass"'),
)
NEXT = """Next:
  refdata --help           all questions
  refdata serve            the tables and the same answers in a web browser, at http://127.0.0.1:8001
  refdata gauge 18 --json  for scripts; in Python: import refdata; refdata.gauge("18", metal="brass")"""


def main(arguments: list[str]) -> int:
    """Ask each question as the command line would and print what it answers."""
    from .command import main as command

    for why, asked in STEPS:
        print(f"{why}\n$ refdata {asked}")
        command(shlex.split(asked))
        print()
    print(NEXT)
    return 0
