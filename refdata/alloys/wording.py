"""What an alloy does, in lines for people: a line for each temper, treatment, process and so on."""

from __future__ import annotations

from refdata.core.quantity import Quantity
from refdata.core.results import Told, side_by_side

from .service import STRENGTHS, is_share

MOST_LINES = 12
_HAZARDS = {"stress corrosion in ammonia": "ammonia"}


def lines(told: dict[str, list], units: str) -> list[tuple[str, ...]]:
    """The lists for people, a line for each temper, treatment, process and so on."""
    strengths, bends = _strengths(told, units), _bends(told["bend_radii"], units)
    return [
        *_cut(strengths, "strengths"),
        *((one["treatment"], *_span(one, units), _aside(one, "product", "time")) for one in told["heat_treatments"]),
        *_cut(bends, "bends"),
        *(("ratings", words) for words in _ratings(told["ratings"])),
        *((f"colour {one['state']}", one["colour"], "", "") for one in told["colours"]),
        *(
            (f"colour match, {one['form']}", one["match_uns"], "", _aside(one, "quality"))
            for one in told["colour_matches"]
        ),
        *((_HAZARDS.get(h := one["hazard"], h), f"{one['rating']} ({one['source']})") for one in told["corrosion"]),
        *(("limit", words) for words in _limits(told["limits"])),
        *_names(told["names"]),
    ]


def _cut(told: list[tuple[str, ...]], name: str) -> list[tuple[str, ...]]:
    """The first lines, and how to see the others."""
    rest = len(told) - MOST_LINES
    if rest < 2:
        return told
    return [*told[:MOST_LINES], (f"more {name}", f"{rest} lines: name a temper, or take the JSON")]


def _strengths(told, units: str) -> list[tuple[str, ...]]:
    """One line for each temper, form and section, typical values before limits; a code is explained once."""
    typical: dict[tuple, list[Told]] = {}
    limits: dict[tuple, dict[tuple, dict[str, list]]] = {}
    for name in STRENGTHS:
        for q in told[name]:
            place, word, aside = _measured(name, q.qualifiers)
            if q.qualifiers["basis"] == "typical":
                typical.setdefault(place, []).append(Told.joined(word, " ", _both(q, units), aside))
            else:
                ends = limits.setdefault(place, {}).setdefault((word, aside), {"minimum": [], "maximum": []})
                ends[q.qualifiers["basis"]].append(q)
    lines = [(place, "typical", figures) for place, figures in typical.items()]
    lines += [(place, *_bounded(some, units)) for place, some in limits.items()]
    shown, explained = [], set()
    for (temper, code, form, section), basis, figures in lines:
        of = [None if temper in explained else code, " ".join(filter(None, (form, section))), basis]
        shown.append((temper or "strength", Told.joined(f"{', '.join(filter(None, of))}: ", Told.listed(figures))))
        explained.add(temper)
    return shown


def _measured(name: str, held: dict) -> tuple[tuple, str, str]:
    """Of a strength the metal it is of, the word for it, and how it was measured."""
    section = held.get("section")
    specimen = section if section and section.endswith("specimen") else None
    place = tuple(held.get(part) for part in ("temper", "temper_words", "form"))
    word = {"hardness": held.get("scale", ""), "elongation": "elongation"}.get(name, name.partition("_")[0])
    over = f" {held['scale']}" if name == "elongation" and "scale" in held else ""  # in 2 in, in 50 mm
    return (*place, None if specimen else section), word, over + (f" ({specimen})" if specimen else "")


def _both(q: Quantity, units: str) -> Told:
    figure, other = side_by_side(q, units)
    return Told.joined(figure, " (", other, ")") if other else figure


def _bounded(some: dict[tuple, dict[str, list]], units: str) -> tuple[str, list[Told]]:
    """What the limits of one metal are called, and each in words: `tensile 57 to 67 ksi (393 to 462 MPa)`."""
    bases = {basis for ends in some.values() for basis in ends if ends[basis]}
    alone = bases.pop() if len(bases) == 1 else None
    figures = []
    for (word, aside), ends in some.items():
        low, high = ends["minimum"], ends["maximum"]
        if len(low) == len(high) == 1 and low[0].unit == high[0].unit:
            figures.append(Told.joined(word, " ", _range(low[0], high[0], units), aside))
            continue
        for basis, said in (("minimum", "at least "), ("maximum", "at most ")):
            figures += [Told.joined(f"{word} {'' if alone else said}", _both(q, units), aside) for q in ends[basis]]
    return alone or "limits", figures


def _range(low: Quantity, high: Quantity, units: str) -> Told:
    (figure, other), (upper, other_upper) = (side_by_side(q, units) for q in (low, high))
    told = Told.joined(_number(figure), " to ", upper)
    return Told.joined(told, " (", _number(other), " to ", other_upper, ")") if other else told


def _bends(bends: list[dict], units: str) -> list[tuple[str, ...]]:
    """One line for each temper, angle and direction, the radius by thickness."""
    groups: dict[tuple, list[Told]] = {}
    for one in bends:
        key = (one.get("temper") or "", one["angle"] or "", one["direction"])
        at = f"t at {side_by_side(one['thickness'], units)[0]}" if "thickness" in one else "t"
        groups.setdefault(key, []).append(Told.joined(Told.of(one["radius"].figure, one["radius"]), at))
    return [
        (
            " ".join(f"bend {temper} {angle.replace(' deg', '°')}".split()),
            Told.joined("" if direction == "any" else f"{direction}: ", Told.listed(told)),
        )
        for (temper, angle, direction), told in groups.items()
    ]


def _ratings(ratings: list[dict]) -> list[str]:
    """One line for each scale: `brazing excellent, soldering good (who grades, and how)`."""
    scales: dict[str, list[str]] = {}
    for one in ratings:
        temper = f" {one['temper']}" if one.get("temper") else ""
        scales.setdefault(one["scale"], []).append(f"{one['process']}{temper} {one['rating']}")
    return [f"{', '.join(told)} ({scale})" for scale, told in scales.items()]


def _span(one: dict, units: str) -> tuple[str, ...]:
    low, high = (side_by_side(one[end], units) for end in ("from", "to"))
    return tuple(b if a == b else Told.joined(_number(a), " to ", b) for a, b in zip(low, high))


def _number(figure: Told) -> Told:
    """A figure without its unit, still about its cell."""
    told = Told(figure.rpartition(" ")[0] or figure)
    told.parts = tuple((told, cell) for _, cell in figure.parts)
    return told


def _aside(one: dict, *names: str) -> str:
    return ", ".join(one[name] for name in names if one.get(name))


def _limits(told: list[dict]) -> list[Told]:
    """One line for each subject, place and element: `Pb at most 0.25 %, this alloy may hold 3 %: ...`."""
    groups: dict[tuple, list[dict]] = {}
    for one in told:
        groups.setdefault((one["subject"], one["jurisdiction"], one["element"]), []).append(one)
    return [
        Told.joined(f"{subject}, {place}: {element} ", Told.listed([_limit(one) for one in some], "; "))
        for (subject, place, element), some in groups.items()
    ]


def _limit(one: dict) -> Told:
    figure = Told.of(str(one["limit"]), one["limit"])
    scope = f"{one['applies_to']} ({one['rule']}, {one['year']})"
    if not is_share(one):
        return Told.joined(figure, f", {scope}")
    held = f"this alloy may hold {one['may_hold']}" if one["passes"] else "which it keeps"
    return Told.joined("at most ", figure, f", {held}: {scope}")


def _names(told) -> list[tuple[str, str]]:
    """What else the alloy is called, what comes near it in each system and what differs, and what it was called."""
    groups: dict[tuple[str, str], list[str]] = {}
    for one in told:
        where = "the trade" if one["system"] == "trade" else one["system"]
        label = {"exact": "also called", "former": "formerly"}.get(one["relation"], f"near in {where}")
        groups.setdefault((label, one.get("differs", "")), []).append(one["name"])
    order = sorted(groups, key=lambda group: (group[0] != "also called", group[0] == "formerly", group[0]))
    return [(label, ": ".join(filter(None, (", ".join(groups[label, differs]), differs)))) for label, differs in order]
