"""What can hurt, by rule from the composition of an alloy. The words are the usual cautions; the maker's safety
data sheet, local rules and licensed practice come first."""

from __future__ import annotations

import re
from typing import NamedTuple


class Rule(NamedTuple):
    """An element that calls for a caution when an alloy may hold more of it than `over` per cent."""

    element: str
    over: float
    families: tuple[str, ...]
    text: str


LAST = "see the maker's safety data sheet and local rules"
ANY: tuple[str, ...] = ()

RULES = (
    Rule(
        "Pb", 0.1, ANY,
        "Lead (up to {most:g} %): no eating or smoking at the bench, wash hands, keep dust down and never blow it"
        " about, extract fume when hot; not for drinking-water or food parts unless the local limit allows it",
    ),
    Rule(
        "Zn", 1.0, ANY,
        "Zinc: heated to brazing, welding or melting heat it boils off as white fume that causes metal fume fever;"
        " extract at the source or work in moving air",
    ),
    Rule(
        "Be", 0.01, ANY,
        "Beryllium: dust and fume can cause incurable lung disease; do not grind, sand, buff, weld or melt it without"
        " the controls that the law of your place asks for",
    ),
    Rule(
        "Cd", 0.01, ANY,
        "Cadmium: fume from heating can kill within days of one exposure; do not heat it in an ordinary shop",
    ),
    Rule(
        "Ni", 0.5, ANY,
        "Nickel: parts that touch skin for long may cause allergy, and several jurisdictions limit its release;"
        " grinding dust and welding fume are suspect carcinogens",
    ),
    Rule(
        "Cr", 4.0, ("stainless steel", "tool steel", "nickel alloy"),
        "Chromium: welding, brazing or cutting this metal hot gives fume with hexavalent chromium, a carcinogen;"
        " extract it at the source",
    ),
    Rule(
        "Al", 50.0, ANY,
        "Aluminium: fine dust burns and explodes; collect it apart from steel dust and sparks, never dry in one"
        " collector with steel, and put out no metal fire with water",
    ),
    Rule(
        "Mg", 50.0, ANY,
        "Magnesium: chips and dust catch fire and burn fiercely; sharp tools, no water on it, a metal-fire"
        " extinguisher at hand",
    ),
    Rule(
        "Ti", 50.0, ANY,
        "Titanium: fine chips and dust catch fire; flood the cut, clear chips often, a metal-fire extinguisher at hand",
    ),
)  # fmt: skip


# what a family is made of, where a composition does not say that it is the rest
_BASES = {"aluminium": "Al", "magnesium": "Mg", "titanium": "Ti", "zinc": "Zn", "nickel alloy": "Ni"}


def cautions(family: str, most: dict[str, float]) -> list[str]:
    """The cautions of an alloy of `family` whose elements may reach `most` per cent by mass."""
    base = _BASES.get(family)
    most = {base: 100.0} | most if base else most
    return [
        f"{rule.text.format(most=most[rule.element])}; {LAST}."
        for rule in RULES
        if _calls(rule, most.get(rule.element, 0), family)
    ]


def calls_for_caution(element: str, holds: float, family: str) -> bool:
    """Whether so many per cent of an element in an alloy of `family` call for a caution."""
    return any(rule.element == element and _calls(rule, holds, family) for rule in RULES)


def _calls(rule: Rule, holds: float, family: str) -> bool:
    return holds > rule.over and (not rule.families or family in rule.families)


def strongest(texts) -> list[str]:
    """The cautions of several alloys, of each element the one that speaks of the most of it."""
    told: dict[str, str] = {}
    for text in texts:
        element = text.split()[0].rstrip(":")
        told[element] = max(told.get(element, ""), text, key=_most)
    return list(told.values())


def _most(caution: str) -> float:
    told = re.search(r"up to ([\d.]+) %", caution)
    return float(told[1]) if told else 0.0 if caution else -1.0
