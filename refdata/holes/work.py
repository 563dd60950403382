"""What the metal of the plate means at the drill press."""

_GRABS = ("copper", "brass", "bronze", "nickel silver", "cupronickel")
SPINDLE = (
    "Drilling: clamp the plate on a backing board, sheet grabs the drill as it breaks through and spins; no gloves,"
    " loose sleeves or rings at a turning spindle; eye protection."
)
BRASS = (
    "Brass and its kin grab a keen edge: dub the cutting edges of drill and countersink (stone a small flat along them)"
    " or use tools ground for brass."
)


def cautions(family: str, of_metal: tuple[str, ...]) -> list[str]:
    """The cautions of drilling a plate of a family of metal."""
    return [SPINDLE, *([BRASS] if family in _GRABS else []), *of_metal]
