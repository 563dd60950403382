"""The families of metal: what people call them, the colour of a fresh cut, how they hold a magnet, what they stand in
for. Colour and magnet are common practice, wide on purpose: they may only exclude what cannot be."""

from __future__ import annotations

from typing import NamedTuple

COPPER, IRON = "copper base", "iron base"


class Family(NamedTuple):
    """One family. `base` groups families of one base metal; `magnet` is strong, weak or none, where it is the same
    for all members."""

    words: tuple[str, ...]
    colours: tuple[str, ...]
    base: str
    magnet: tuple[str, ...] = ("none",)


FAMILIES = {
    "copper": Family(("copper",), ("red", "yellow"), COPPER),
    "brass": Family(("brass",), ("yellow", "red"), COPPER),
    "bronze": Family(("bronze",), ("yellow", "red"), COPPER, ("none", "weak")),
    "nickel silver": Family(("nickel silver", "german silver"), ("white", "yellow"), COPPER),
    "cupronickel": Family(("cupronickel", "copper nickel", "cupro nickel"), ("white", "red"), COPPER, ("none", "weak")),
    "aluminium": Family(("aluminium", "aluminum", "al"), ("white", "grey"), "aluminium"),
    "carbon steel": Family(("carbon steel", "steel"), ("grey", "white"), IRON, ("strong",)),
    "alloy steel": Family(("alloy steel", "steel"), ("grey", "white"), IRON, ("strong",)),
    "stainless steel": Family(
        ("stainless steel", "stainless", "ss", "steel"), ("white", "grey"), "stainless", ("none", "weak")
    ),
    "tool steel": Family(("tool steel", "steel"), ("grey", "white"), IRON, ("strong",)),
    "cast iron": Family(("cast iron", "iron"), ("grey", "white"), "cast iron", ("strong",)),
    "titanium": Family(("titanium",), ("grey", "white"), "titanium"),
    "zinc": Family(("zinc",), ("white", "grey"), "zinc"),
    "magnesium": Family(("magnesium",), ("white", "grey"), "magnesium"),
    "nickel alloy": Family(("nickel alloy", "nickel"), ("white", "grey"), "nickel", ("none", "weak")),
    "silver": Family(("silver",), ("white",), "silver"),
    "gold": Family(("gold",), ("yellow", "white", "red"), "gold"),
    "pewter": Family(("pewter", "tin"), ("white", "grey"), "tin"),
}
# ferritic, martensitic and precipitation-hardening stainless and pure nickel hold a magnet as steel does
MAGNETIC = (
    "S17400", "S15500", "S13800", "S40900", "S41000", "S41600", "S42000", "S43000", "S43020", "S44002", "S44003",
    "S44004", "S32205", "S31803", "N02200", "N02201",
)  # fmt: skip


def said(word: str) -> list[str]:
    """The families that a word of the trade means."""
    return [name for name, family in FAMILIES.items() if word in family.words]


def only_words(family: str) -> tuple[str, ...]:
    """The words that mean this family and no other."""
    return tuple(word for word in FAMILIES[family].words if said(word) == [family])


def may_look(family: str, uns: str, colour: str | None, magnet: str | None) -> bool:
    """Whether an alloy of a family may show a colour on a fresh cut and hold a magnet so."""
    one = FAMILIES[family]
    held = ("strong", "weak") if uns in MAGNETIC else one.magnet
    return (not colour or colour in one.colours) and (not magnet or magnet in held)
