"""Tempers: a code of the standards and the words of the trade for one and the same."""

from __future__ import annotations

import re

from refdata.core import store

from .families import COPPER, FAMILIES

_FRACTIONS = {
    "eighth": "1/8", "quarter": "1/4", "half": "1/2", "three 1/4": "3/4", "⅛": "1/8", "¼": "1/4", "½": "1/2",
    "¾": "3/4", "full hard": "hard", "4/4 hard": "hard",
}  # fmt: skip


def plain(words: str) -> str:
    """The words of a temper as this module compares them: `Half-Hard` and `½ hard` are `1/2 hard`."""
    told = " ".join(words.lower().replace("-", " ").split())
    for said, fraction in _FRACTIONS.items():
        told = told.replace(said, fraction)
    return told


def words(code: str, family: str) -> str | None:
    """What a code stands for in a family of metal: `1/2 hard` of H02 in brass; None where it is no code of it."""
    base = FAMILIES[family].base
    return _codes().get(("copper alloys" if base == COPPER else base, code.upper()))


_CODE = re.compile(r"[THOMFW][A-Z]?\d{0,5}[A-Z]?", re.I)
# a temper stress relieved by stretching, compressing or both is the same for its strength: T651 for T6
_RELIEVED = re.compile(r"5[124][01]?")


def _one_code(one: str, other: str, family: str) -> bool:
    """Whether two codes are one temper, but for stress relief; O in copper alloys is any of their annealed ones."""
    short, long = sorted((one.upper(), other.upper()), key=len)
    if short == "O" and FAMILIES[family].base == COPPER:
        return long.startswith("O")
    rest = long.removeprefix(short)
    return short == long or (rest != long and short[0] == "T" and _RELIEVED.fullmatch(rest) is not None)


def same(have: str, wanted: str, family: str) -> bool:
    """Whether a temper is the one wanted: the same code (`T651` for `T6`), or another word for it (`H02` for `half
    hard`). A degree of hardness is met only by the same degree, other words also by those that add to them
    (`as cast` by `as sand cast`)."""
    if have.lower() == wanted.lower():
        return True
    if _CODE.fullmatch(have) and _CODE.fullmatch(wanted):
        return _one_code(have, wanted, family)
    told, asked = words(have, family) or have, words(wanted, family)
    if asked:
        return plain(told) == plain(asked)
    wished = plain(wanted).split()
    clauses = [plain(clause).split() for clause in re.split(r"[,;]", told)]
    if wished[-1:] in (["hard"], ["spring"]):
        return wished in clauses
    return any(_in_order(wished, clause) for clause in clauses)


def on_file(uns: str) -> list[str]:
    """The tempers that an alloy has figures for."""
    tables = ("alloy_strengths", "alloy_properties", "bend_radii", "alloy_ratings")
    union = " UNION ".join(f"SELECT temper FROM {table} WHERE uns = ?1" for table in tables)
    found = store.select(f"SELECT temper FROM ({union}) WHERE temper IS NOT NULL ORDER BY temper", uns)
    return [temper for (temper,) in found]


def known(uns: str, wanted: str) -> bool:
    """Whether a temper is one of an alloy: on file for it, a code of its metal, or a word for a hardness."""
    family = store.select("SELECT family FROM alloys WHERE uns = ?", uns)[0][0]
    return bool(
        words(wanted, family)
        or plain(wanted).split()[-1:] in (["hard"], ["spring"], ["annealed"], ["soft"], ["drawn"], ["rolled"])
        or any(same(have, wanted, family) for have in on_file(uns))
        or store.select("SELECT 1 FROM heat_treatments WHERE uns = ? AND product = ?", uns, wanted.upper())
    )


def _in_order(some: list[str], whole: list[str]) -> bool:
    rest = iter(whole)
    return bool(some) and all(word in rest for word in some)


def _codes() -> dict[tuple[str, str], str]:
    """The table of tempers, read once."""
    global _known
    if _known is None:
        rows = store.select("SELECT metal, code, words FROM tempers")
        _known = {(metal, code): told for metal, code, told in rows}
    return _known


_known: dict[tuple[str, str], str] | None = None
