"""What the metal of the plate means at the drill press."""

from refdata.alloys.cautions import strongest
from refdata.core.errors import Ambiguous

_GRABS = ("copper", "brass", "bronze", "nickel silver", "cupronickel")
SPINDLE = (
    "Drilling: clamp the plate on a backing board, sheet grabs the drill as it breaks through and spins; no gloves,"
    " loose sleeves or rings at a turning spindle; eye protection."
)
BRASS = (
    "Brass and its kin grab a keen edge: dub the cutting edges of drill and countersink (stone a small flat along them)"
    " or use tools ground for brass."
)


def metal_named(name: str) -> tuple[str, str, tuple[str, ...]]:
    """A metal's own name, its family and its cautions; a word for several alloys stands for all of them."""
    from refdata.alloys.alloy import alloy

    try:
        found = [alloy(name)]
    except Ambiguous as several:
        found = several.candidates
    told = strongest(text for one in found for text in one.cautions)
    one = found[0]
    return (f"{one.uns} {one.name}" if len(found) == 1 else name.strip()), one.family, tuple(told)


def cautions(family: str, of_metal: tuple[str, ...]) -> list[str]:
    """The cautions of drilling a plate of a family of metal."""
    return [SPINDLE, *([BRASS] if family in _GRABS else []), *of_metal]
