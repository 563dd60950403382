"""What the metal of the plate means at the drill press."""

from refdata.alloys.families import COPPER, FAMILIES

SPINDLE = (
    "Drilling: clamp the plate on a backing board, sheet grabs the drill as it breaks through and spins; no gloves,"
    " loose sleeves or rings at a turning spindle; eye protection."
)
BRASS = (
    "Brass and leaded bronze grab a keen edge: dub the cutting edges of drill and countersink (stone a small flat along"
    " them) or use tools ground for brass."
)
TOUGH = (
    "Copper and unleaded bronze want a keen edge and a steady feed: a drill that rubs work-hardens them and may bind as"
    " it breaks through."
)


def cautions(family: str, of_metal: tuple[str, ...]) -> list[str]:
    """The cautions of drilling a plate of a family of metal."""
    leaded = any(text.startswith("Lead") for text in of_metal)
    if family == "brass" or (leaded and FAMILIES[family].base == COPPER):
        return [SPINDLE, BRASS, *of_metal]
    return [SPINDLE, *([TOUGH] if FAMILIES[family].base == COPPER else []), *of_metal]
