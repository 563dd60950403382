"""What an alloy does, gathered from the tables: strength by temper, ratings, heat treatment, bending, colour,
corrosion, the limits of law that its composition meets, and its names."""

from __future__ import annotations

from fractions import Fraction

from refdata.core import store
from refdata.core.quantity import Quantity
from refdata.core.units import UNITS

from . import tempers
from .cautions import calls_for_caution

STRENGTHS = ("tensile_strength", "yield_strength", "shear_strength", "elongation", "hardness")
LISTS = ("heat_treatments", "bend_radii", "ratings", "colours", "colour_matches", "corrosion", "limits", "names")
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
    told["colours"] = [_plain(row, "state", "colour", "source") for row in rows("alloy_colours")]
    told["colour_matches"] = [_plain(row, "form", "match_uns", "quality", "source") for row in rows("colour_matches")]
    told["corrosion"] = [_plain(row, "hazard", "rating", "source") for row in rows("alloy_corrosion")]
    told["limits"] = limits(family, most)
    told["names"] = [
        _plain(row, "name", "system", "relation", "differs") for row in rows("alloy_names") if row["name"] != uns
    ]
    return told


def _plain(row: store.Record, *columns: str) -> dict:
    return {column: row[column] for column in columns if row[column] is not None}


def _bend(row: store.Record) -> dict:
    thickness = next((_thickness(row[f"thickness_{u}"], u) for u in ("in", "mm") if row[f"thickness_{u}"]), None)
    told = _plain(row, "temper", "direction") | {"angle": f"{row['angle_deg']:g} deg" if row["angle_deg"] else None}
    if thickness:
        told["thickness"] = thickness
    return told | {"radius": row["radius_thicknesses"]}


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
        if not is_share(row) and not calls_for_caution(row["element"], holds, family):
            continue
        passes = not is_share(row) or holds > row["limit"].to("%").value
        found.append(
            _plain(row, "subject", "jurisdiction", "year", "element", "applies_to", "rule")
            | {"limit": row["limit"], "may_hold": Quantity(f"{holds:g}", "%"), "passes": passes}
        )
    met = {_law(one) for one in found if one["passes"]}
    return [one for one in found if _law(one) in met]


def is_share(row) -> bool:
    return UNITS[row["limit"].unit].dimension == "ratio"


def _law(one: dict) -> tuple:
    return one["subject"], one["jurisdiction"], one["element"]
