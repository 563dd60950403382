"""What can go wrong, said in one line: what was asked, what is wrong, the nearest valid choices."""

from __future__ import annotations

MOST_TOLD = 12


class RefdataError(Exception):
    """Any error of ours. `message` is one line; `nearest` lists valid choices close to what was asked."""

    def __init__(self, message: str, nearest=()):
        self.message = " ".join("".join(c if c.isprintable() else " " for c in message).split())
        self.nearest = list(nearest)
        super().__init__(message, self.nearest)

    def __str__(self) -> str:
        if not self.nearest:
            return self.message
        return f"{self.message}; nearest: {', '.join(map(str, self.nearest))}"


class NotFound(RefdataError, LookupError):
    """Nothing in the tables answers to what was asked."""


class NotUnderstood(NotFound, ValueError):
    """The words of the question could not be read: a size, a unit, a choice, a missing or stray argument."""


class Refused(RefdataError, ValueError, LookupError):
    """Understood, but the work cannot be done so. `nearest` holds what can be done instead."""

    def __str__(self) -> str:
        return f"{self.message}; instead: {'; or '.join(self.nearest)}" if self.nearest else self.message


class Ambiguous(RefdataError, LookupError):
    """Several readings, none of them guessed. `candidates` holds the answers, `ask` says what is missing."""

    def __init__(self, ask: str, candidates):
        self.ask = ask
        self.candidates = list(candidates)
        super().__init__(ask)

    def __str__(self) -> str:
        first = "; ".join(c.caption for c in self.candidates[:MOST_TOLD])
        more = f"; and {len(self.candidates) - MOST_TOLD} more" if len(self.candidates) > MOST_TOLD else ""
        return f"{self.ask} {len(self.candidates)} readings: {first}{more}"


class NoDatabase(RefdataError, FileNotFoundError):
    """The built database is not where it should be."""
