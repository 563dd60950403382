"""What an alloy does, gathered from the tables: strength by temper, ratings, heat treatment, bending, colour,
corrosion, and the limits of law that its composition meets."""

from __future__ import annotations

from fractions import Fraction

from refdata.core import store
from refdata.core.quantity import Quantity
from refdata.core.results import Told, side_by_side
from refdata.core.units import UNITS

from . import tempers
from .cautions import calls_for_caution

STRENGTHS = ("tensile_strength", "yield_strength", "shear_strength", "elongation", "hardness")
LISTS = ("heat_treatments", "bend_radii", "ratings", "colours", "colour_matches", "corrosion", "limits")
_WORDS = {"temper", "form", "section", "basis", "scale", "standard"}


def gather(uns: str, family: str, temper: str | None, most: dict[str, float]) -> dict[str, list]:
    """The lists STRENGTHS and LISTS of one alloy; with `temper` only what holds for that temper or for any."""

    def rows(table: str, order: str = "") -> list[store.Record]:
        found = store.records(table, "t.uns = ?", uns)
        return [r for r in found if not (temper and r.get("temper")) or tempers.same(r["temper"], temper, family)]

    told: dict[str, list] = {name: [] for name in (*STRENGTHS, *LISTS)}
    for row in rows("alloy_strengths"):
        held = {n: row[n] for n in _WORDS if row[n]}
        code = tempers.words(row["temper"] or "", family)
        told[row["property"]].append(row["value"].qualified(held | ({"temper_words": code} if code else {})))
    told["heat_treatments"] = [
        _plain(row, "treatment", "product", "time")
        | {"from": row["temperature_from"], "to": row["temperature_to"]}
        for row in rows("heat_treatments")
    ]  # fmt: skip
    told["bend_radii"] = [_bend(row) for row in rows("bend_radii")]
    told["ratings"] = [_plain(row, "process", "rating", "scale", "temper", "source") for row in rows("alloy_ratings")]
    told["colours"] = [_plain(row, "state", "colour", "form", "source") for row in rows("alloy_colours")]
    told["colour_matches"] = [_plain(row, "form", "match_uns", "quality", "source") for row in rows("colour_matches")]
    told["corrosion"] = [_plain(row, "hazard", "rating", "source") for row in rows("alloy_corrosion")]
    told["limits"] = limits(family, most)
    return told


def _plain(row: store.Record, *columns: str) -> dict:
    return {column: row[column] for column in columns if row[column] is not None}


def _bend(row: store.Record) -> dict:
    thickness = next((_thickness(row[f"thickness_{u}"], u) for u in ("in", "mm") if row[f"thickness_{u}"]), None)
    told = _plain(row, "temper", "direction") | {"angle": f"{row['angle_deg']:g} deg" if row["angle_deg"] else None}
    if thickness:
        told["thickness"] = thickness
    return told | {"from": row["radius_from_thicknesses"], "to": row["radius_to_thicknesses"]}


def _thickness(value: float, unit: str) -> Quantity:
    """A thickness as the shop writes it: 1/64 in, 0.040 in, 3 mm."""
    parts = Fraction(value)
    fraction = unit == "in" and parts.denominator in (4, 8, 16, 32, 64, 2)
    return Quantity(str(parts) if fraction else f"{value:g}", unit, exact=parts)


def limits(family: str, most: dict[str, float]) -> list[dict]:
    """The limits of law that an alloy of a family may pass, whose elements may reach `most` per cent; of a rule with
    several limits (an exemption), all, each with `passes`. Limits of the air are told of elements that call for a
    caution."""
    found = []
    for row in store.records("alloy_limits"):
        holds = most.get(row["element"], 0)
        if (row["metals"] and family not in row["metals"].split("; ")) or not holds:
            continue
        if not _is_share(row) and not calls_for_caution(row["element"], holds, family):
            continue
        passes = not _is_share(row) or holds > row["limit"].to("%").value
        found.append(
            _plain(row, "subject", "jurisdiction", "year", "element", "applies_to", "rule")
            | {"limit": row["limit"], "may_hold": Quantity(f"{holds:g}", "%"), "passes": passes}
        )
    met = {_law(one) for one in found if one["passes"]}
    return [one for one in found if _law(one) in met]


def _is_share(row) -> bool:
    return UNITS[row["limit"].unit].dimension == "ratio"


def _law(one: dict) -> tuple:
    return one["subject"], one["jurisdiction"], one["element"]


MOST_LINES = 12


def lines(told: dict[str, list], units: str) -> list[tuple[str, ...]]:
    """The lists for people, a line for each temper, treatment, process and so on."""
    strengths, bends = _strengths(told, units), _bends(told["bend_radii"], units)
    return [
        *_cut(strengths, "strengths"),
        *((one["treatment"], *_span(one, units), _aside(one, "product", "time")) for one in told["heat_treatments"]),
        *_cut(bends, "bends"),
        *(("ratings", words) for words in _ratings(told["ratings"])),
        *((f"colour {one['state']}", one["colour"], "", _aside(one, "form")) for one in told["colours"]),
        *(
            (f"colour match, {one['form']}", one["match_uns"], "", _aside(one, "quality"))
            for one in told["colour_matches"]
        ),
        *((one["hazard"], one["rating"]) for one in told["corrosion"]),
        *(("limit", words) for words in _limits(told["limits"])),
    ]


def _cut(told: list[tuple[str, ...]], name: str) -> list[tuple[str, ...]]:
    """The first lines, and how to see the others."""
    rest = len(told) - MOST_LINES
    if rest < 2:
        return told
    return [*told[:MOST_LINES], (f"more {name}", f"{rest} lines: name a temper, or take the JSON")]


def _strengths(told, units: str) -> list[tuple[str, ...]]:
    """One line for each temper, form and section, typical values before limits; a code is explained once."""
    groups: dict[tuple, list[Told]] = {}
    for name in STRENGTHS:
        for q in told[name]:
            held = q.qualifiers
            section = held.get("section")
            specimen = f" ({section})" if section and section.endswith("specimen") else ""  # says how it was measured
            of_metal = {**held, "section": None} if specimen else held
            key = tuple(of_metal.get(n) for n in ("temper", "temper_words", "form", "section", "basis"))
            figure, other = side_by_side(q, units)
            word = {"hardness": held.get("scale", ""), "elongation": "elongation"}.get(name, name.partition("_")[0])
            over = f" {held['scale']}" if name == "elongation" and "scale" in held else ""  # in 2 in, in 50 mm
            also = (" (", other, ")") if other else (over, specimen)
            groups.setdefault(key, []).append(Told.joined(f"{word} ", figure, *also))
    ordered = sorted(groups.items(), key=lambda group: group[0][-1] != "typical")
    told, explained = [], set()
    for (temper, code, *held), figures in ordered:
        told.append((temper or "strength", _worded(None if temper in explained else code, *held, figures)))
        explained.add(temper)
    return told


def _worded(code: str | None, form: str | None, section: str | None, basis: str, figures: list[Told]) -> Told:
    held = [code, " ".join(filter(None, (form, section))), basis]
    return Told.joined(f"{', '.join(filter(None, held))}: ", Told.listed(figures))


def _bends(bends: list[dict], units: str) -> list[tuple[str, ...]]:
    """One line for each temper, angle and direction, the radius by thickness."""
    groups: dict[tuple, list[Told]] = {}
    for one in bends:
        key = (one.get("temper") or "", one["angle"] or "", one["direction"])
        low, high = (Told.of(one[end].figure, one[end]) if one[end] else None for end in ("from", "to"))
        radius = (low, " to ", high) if low and low != high else (high,)
        at = f"t at {side_by_side(one['thickness'], units)[0]}" if "thickness" in one else "t"
        groups.setdefault(key, []).append(Told.joined(*radius, at))
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
    told = Told(figure.rpartition(" ")[0])
    told.parts = tuple((told, cell) for _, cell in figure.parts)
    return told


def _aside(one: dict, *names: str) -> str:
    return ", ".join(one[name] for name in names if one.get(name))


def _limits(told: list[dict]) -> list[Told]:
    """One line for each subject, place and element: `Pb may exceed 0.25 %, pipe, fittings (...)`."""
    groups: dict[tuple, list[dict]] = {}
    for one in told:
        groups.setdefault((one["subject"], one["jurisdiction"], one["element"]), []).append(one)
    return [
        Told.joined(f"{subject}, {place}: {element} ", Told.listed([_limit(one) for one in some], "; "))
        for (subject, place, element), some in groups.items()
    ]


def _limit(one: dict) -> Told:
    verdict = ("may exceed " if one["passes"] else "stays within ") if _is_share(one) else ""
    figure = Told.of(str(one["limit"]), one["limit"])
    return Told.joined(verdict, figure, f", {one['applies_to']} ({one['rule']}, {one['year']})")
