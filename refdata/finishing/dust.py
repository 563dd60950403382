"""What the dust of a metal and the work of a wheel ask for: the usual cautions of the trade, and whether a metal may be
sanded wet. Makers' safety data sheets and local rules come first."""

from refdata.core.errors import Refused

DUST = (
    "Dust: extract and wear a mask; aluminium, magnesium and titanium dust burns and explodes, never steel and"
    " aluminium in one collector; silica in blast media ruins lungs; see the maker's sheets and local rules."
)
BERYLLIUM = (
    "Beryllium: its dust ruins lungs for good. Before anything is sanded, ground or buffed: an enclosed, extracted"
    " set-up, and the rules of your place; without them no abrasive touches a metal that holds or may hold it."
)
MARKED = "A wheel never runs above its marked maximum; stand aside for the first minute."
_GRABS = (
    "the wheel grabs edges and throws the part; hold it below the centre line with the edge trailing, never gloves or"
    " loose sleeves, no thin strip or chain; eye protection, dust extracted, no one in the plane of the wheel."
)
# by the first word of the operation in the table of wheel speeds
OF_WORK = {
    "buffing": f"Buffing: {_GRABS}",
    "polishing": f"Polishing: {_GRABS}",
    "satin": f"Satin finishing: {_GRABS}",
    "flap": f"Flap wheel: {_GRABS}",
    "grinding": "Grinding: a wheel that bursts kills; ring it before mounting, guard on, rest close to the wheel, never"
    " grind on its side; a wheel for steel loads with soft metal; face shield, dust extracted, no gloves, no one in the"
    " plane of the wheel.",
    "wire": "Wire wheel: broken wires fly and stick; face shield, thick apron, no gloves or loose sleeves; hold the"
    " part below the centre line, no thin edge into the wheel; dust extracted, no one in the plane of the wheel.",
}
_HYDROGEN = "wet fines of {} give off hydrogen"
_DRY = "dry: vacuum between grits"
_DRY_THAT_BURNS = "dry: brush off between grits, no ordinary vacuum cleaner; keep the dust of {} apart and little of it"
_WET = "wet: rinse part and paper between grits, one coarse grain undoes an hour"


def holds_beryllium(cautions) -> bool:
    """Whether the cautions of a metal speak of beryllium."""
    return any(text.startswith("Beryllium") for text in cautions)


def of_metal(cautions: tuple[str, ...]) -> tuple[list[str], list[str]]:
    """The cautions of a metal in two parts: what must be read before all others, and the rest."""
    if not holds_beryllium(cautions):
        return [], list(cautions)
    first = [text for text in cautions if text.startswith("Beryllium")]
    return [BERYLLIUM, *first], [text for text in cautions if text not in first]


def of_work(operation: str) -> list[str]:
    """The cautions of a wheel at an operation of the table of wheel speeds."""
    return [OF_WORK[operation.replace(",", "").split()[0]], MARKED]


def wet_or_dry(wet: str | None, family: str | None) -> str:
    """How a metal is kept clean between grits; wet unless it may not be, or dry is asked for. Raises Refused."""
    hydrogen = _HYDROGEN.format(family)
    if family == "magnesium":
        if wet == "wet":
            raise Refused(f"magnesium is not sanded wet: {hydrogen}, which burns and explodes", ["--wet dry"])
        return f"{_DRY_THAT_BURNS.format(family)}; mineral oil if a lubricant is wanted; no water: {hydrogen}"
    burns = family in ("aluminium", "titanium")
    if wet == "dry":
        return _DRY_THAT_BURNS.format(family) if burns else _DRY
    return f"{_WET}; {hydrogen}: rinse them away, never keep them in a closed can" if burns else _WET
