"""What an alloy is made of: limits in words, middle amounts, the most of each element."""

from __future__ import annotations

from refdata.core import store
from refdata.core.quantity import STANDINGS, Quantity
from refdata.core.results import Told, bracketed


def amounts(part: store.Record) -> dict:
    """The limits of one element, as min, max and nominal; `remainder` where it makes up the rest."""
    told = {name: part[f"{name}_pct"] for name in ("min", "max", "nominal")}
    return told | ({"remainder": True} if part["remainder"] else {})


def limits(amounts: dict) -> Told:
    """Composition limits in words: `60.0 to 63.0 %`, `at most 0.35 %`, `remainder`."""
    ends = (amounts[name] for name in ("min", "max", "nominal"))
    low, high, nominal = (Told.of(end.figure, end) if end else None for end in ends)
    if low and high:
        said = (low, " to ", high, " %")
    elif low or high:
        said = ("at least " if low else "at most ", low or high, " %")
    else:
        said = ("remainder",) if amounts.get("remainder") else ()
    return Told.joined(*said, *((", nominal " if said else "nominal ", nominal, " %") if nominal else ()))


def weakest(amounts: dict) -> str:
    """The least standing among the limits of an element, in brackets."""
    told = (q.standing for q in amounts.values() if q and q is not True)
    return bracketed(max(told, key=STANDINGS.index, default=None))


def most(parts: list[store.Record]) -> dict[str, float]:
    """The most of each element that the alloy may hold; the remainder counts as all of it."""
    return {
        part["element"]: max(
            100.0 if part["remainder"] else 0.0,
            *(part[column].value if part[column] else 0.0 for column in ("min_pct", "max_pct", "nominal_pct")),
        )
        for part in parts
    }


def sensitizes(family: str, composition: dict[str, dict]) -> bool | None:
    """Whether an austenitic stainless steel holds carbon, over 0.03 % and bound by neither titanium nor niobium, that
    takes the chromium from the edges of its grains in the heat of a weld; None for another metal."""

    def highest(element: str) -> float:
        return max((q.value for q in composition.get(element, {}).values() if isinstance(q, Quantity)), default=0)

    if family != "stainless steel" or highest("Ni") < 6:
        return None
    return highest("C") > 0.03 and not {"Ti", "Nb"} & composition.keys()


def middle(composition: dict[str, dict]) -> dict[str, float]:
    """The middle amount of each element, per cent; the remainder is what is left."""
    found, rest = {}, None
    for symbol, told in composition.items():
        if symbol.startswith("others"):
            continue
        ends = [told[n].value for n in ("min", "max") if told[n]]
        if told["nominal"]:
            found[symbol] = told["nominal"].value
        elif len(ends) == 2 or (ends and told["min"]):
            found[symbol] = sum(ends) / len(ends)
        elif ends:
            found[symbol] = ends[0] / 2
        elif told.get("remainder"):
            rest = symbol
    if rest:
        found[rest] = max(100 - sum(found.values()), 0)
    return found


def brief(composition: dict[str, dict]) -> str:
    """The elements of at least half a per cent, most first: `Cu 62, Zn 35, Pb 2.8`."""
    told = sorted(middle(composition).items(), key=lambda part: -part[1])
    return ", ".join(f"{symbol} {amount:.{0 if amount >= 10 else 1}f}" for symbol, amount in told if amount >= 0.5)
