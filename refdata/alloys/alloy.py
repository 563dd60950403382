"""The question `alloy`: what a name means, and the properties of the metal."""

import re

from refdata.core import store
from refdata.core.errors import Ambiguous, NotFound
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import Reader, Readings, Word, nearest
from refdata.core.results import Result, bracketed

from .cautions import cautions

SINGLE = ("density", "solidus", "liquidus", "elastic_modulus")
LISTED = ("thermal_conductivity", "thermal_expansion", "machinability", "electrical_conductivity", "specific_heat")
_FAMILY_WORDS = {
    "copper": ("copper",), "brass": ("brass",), "bronze": ("bronze",),
    "nickel silver": ("nickel silver", "german silver"),
    "aluminium": ("aluminium", "aluminum"), "carbon steel": ("carbon steel", "mild steel", "steel"),
    "alloy steel": ("alloy steel", "steel"), "stainless steel": ("stainless steel", "stainless", "steel"),
    "tool steel": ("tool steel", "steel"), "cupronickel": ("cupronickel", "copper nickel", "cupro nickel"),
    "titanium": ("titanium",), "zinc": ("zinc",), "silver": ("silver",),
    "magnesium": ("magnesium",), "nickel alloy": ("nickel alloy",),
}  # fmt: skip
_SYSTEM_WORDS = ("uns", "aisi", "sae", "aa", "cda", "type", "grade", "alloy", "en", "bs", "jis", "w.nr.", "din")
# Temper words and codes that may follow a name: T6, O, H02, H32, annealed, ...
_TEMPER = re.compile(
    r"^(?P<name>.+?)(?:-|\s+|\s*,\s*)(?P<temper>[THOMFW]\d{0,4}|O|F|annealed|half hard|hard|soft)$", re.I
)


class Alloy(Result):
    """An alloy. Conductivity, expansion, machinability come as lists, each figure with what it holds for; an
    element that is not in `composition` is not specified, which is not the same as absent."""

    HEADLINE = "density"
    IN_CAPTION = ("uns", "name", "family")
    uns: str
    name: str
    family: str
    density: Quantity | None
    solidus: Quantity | None
    liquidus: Quantity | None
    elastic_modulus: Quantity | None
    thermal_conductivity: list
    thermal_expansion: list
    machinability: list
    electrical_conductivity: list
    specific_heat: list
    composition: dict
    also: list

    @property
    def caption(self) -> str:
        return f"{self.uns} {self.name} ({self.family})"

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        told = super().lines(units, (*skip, "composition", "also"))
        told += [(element, _limits(amounts), "", _weakest(amounts)) for element, amounts in self.composition.items()]
        return [*told, ("also called", ", ".join(self.also))]


@question
def alloy(name: Word, *, temper: Word = None) -> Alloy:
    """An alloy by any of its names: composition, density, melting range, conductivity and the rest.

    `name` is what people say ("C360", "360 brass", "naval brass", "A96061-T6", "4140 annealed"); `temper` keeps to
    figures for that temper or for any. A name that several alloys carry gives them all and asks. Raises NotFound
    with the nearest names, Ambiguous.

    >>> import refdata
    >>> refdata.alloy("C360").density
    <0.307 lb/in³ · ... · ...>
    """
    found, within = _resolve(name)
    results = [_answer(uns, relation, temper or within) for uns, relation in found.items()]
    ask = f'Which alloy called "{name}" is meant?' if len(results) > 1 else None
    return Answers(results, ask)


def _resolve(name: str) -> tuple[dict[str, tuple], str | None]:
    """UNS numbers that a name stands for, with the relation, and the temper if it was part of the name."""
    for bare, families in [(name, None), *_without_family(name)]:
        split = _TEMPER.match(bare)
        for words, temper in [(bare, None), *([(split["name"], split["temper"])] if split else [])]:
            carriers = _carriers(words)
            fitting = {uns: relation for uns, relation in carriers.items() if not families or _family(uns) in families}
            if fitting:
                return fitting, temper
            if carriers:
                raise _wrong_family(name, words, carriers, families)
    members = _begun(name) or _members(name)
    if members:
        return members, None
    raise NotFound(f'no alloy in the tables is called "{name}"', _near(name))


def _begun(name: str) -> dict[str, tuple]:
    """The alloys whose own name begins so, up to its comma: `phosphor bronze` of `phosphor bronze, 5% A`."""
    wanted = plain_name(name)
    rows = store.select("SELECT uns, name FROM alloys WHERE name LIKE '%,%' ORDER BY uns")
    return {uns: ("exact", None) for uns, own in rows if plain_name(own.partition(",")[0]) == wanted}


def _members(name: str) -> dict[str, tuple]:
    """All alloys of a family, when the name is a family's: `brass`, `stainless`."""
    word = " ".join(name.lower().split())
    families = [family for family, said in _FAMILY_WORDS.items() if word in said]
    marks = ", ".join("?" * len(families))
    rows = store.select(f"SELECT uns FROM alloys WHERE family IN ({marks}) ORDER BY uns", *families)
    return {uns: ("exact", None) for (uns,) in rows}


def plain_name(name: str) -> str:
    """A name without case, spaces, hyphens and system words: `AISI 304` and `type 304` give `304`."""
    words = name.lower().replace("-", " ").replace("_", " ").replace("aluminium", "aluminum").split()
    while len(words) > 1 and words[0].rstrip(":") in _SYSTEM_WORDS:
        words = words[1:]
    return "".join(words)


def _carriers(name: str) -> dict[str, tuple]:
    wanted = plain_name(name)
    return {uns: (relation, differs) for uns, relation, differs in _index().get(wanted, ())}


def _index() -> dict[str, list]:
    """Names as plain_name writes them, to (uns, relation, what differs); read once."""
    global _names
    if _names is None:
        found: dict[str, list] = {}
        rows = store.select("SELECT name, uns, relation, differs FROM alloy_names ORDER BY relation, rowid")
        rows += store.select(
            "SELECT uns, uns, 'exact', NULL FROM alloys UNION ALL SELECT name, uns, 'exact', NULL FROM alloys"
        )
        # UNS numbers of copper alloys are the three-digit ones of the trade and two noughts: C36000 is C360 and 360
        for (uns,) in store.select("SELECT uns FROM alloys WHERE uns GLOB 'C???00'"):
            rows += [(uns[:4], uns, "exact", None), (uns[1:4], uns, "exact", None)]
        for name, *entry in rows:
            known = found.setdefault(plain_name(name), [])
            if entry[0] not in [one[0] for one in known]:
                known.append(tuple(entry))
        _names = found
    return _names


_names: dict[str, list] | None = None


def _family(uns: str) -> str:
    return store.select("SELECT family FROM alloys WHERE uns = ?", uns)[0][0]


def _without_family(name: str) -> list[tuple[str, list[str]]]:
    """A name with a family word taken off its end or start, and the families that the word means."""
    low, found = f" {name.lower()} ", []
    words = sorted({word for words in _FAMILY_WORDS.values() for word in words}, key=len, reverse=True)
    for word in words:
        if f" {word} " in low and low.strip() != word:
            bare = low.replace(f" {word} ", " ").strip()
            found.append((bare, [family for family, said in _FAMILY_WORDS.items() if word in said]))
    return found


def _wrong_family(name: str, bare: str, carriers: dict, family: list[str]) -> NotFound:
    told = "; ".join(f"{bare} is {_article(_family(uns))} (UNS {uns})" for uns in carriers)
    marks = ", ".join("?" * len(family))
    names = store.select(
        f"SELECT n.name, n.uns, a.name FROM alloy_names n JOIN alloys a USING (uns) WHERE a.family IN ({marks})"
        " AND n.relation = 'exact'",
        *family,
    )
    close = nearest(bare, [row[0] for row in names], [], 3)
    meant = dict.fromkeys(f"{n} ({alloy} {uns})" for c in close for n, uns, alloy in names if n == c)
    return NotFound(f'there is no "{name}": {told}', list(meant) or _near(name))


def _article(family: str) -> str:
    return f"{'an' if family[0] in 'aeiou' else 'a'} {family}"


def _near(name: str) -> list[str]:
    """The known names nearest in spelling, with the alloy each stands for; a letter for a digit is the nearest slip."""
    plain = plain_name(name)
    digits = plain.translate(str.maketrans("oil", "011"))
    begun = [known for known in _index() if len(plain) > 3 and known.startswith(plain)][:2]
    close = [digits] * (digits in _index()) + begun + nearest(plain, _index(), [], 4)
    return [f"{uns} {_title(uns)}" for uns in dict.fromkeys(e[0] for c in close for e in _index()[c])]


def _title(uns: str) -> str:
    return store.select("SELECT name FROM alloys WHERE uns = ?", uns)[0][0]


def _answer(uns: str, relation: tuple, temper: str | None) -> Alloy:
    row = store.records("alloys", "t.uns = ?", uns)[0]
    figures: dict[str, list[Quantity]] = {}
    for record in store.records("alloy_properties", "t.uns = ?", uns):
        if temper is None or record["temper"] is None or _same_temper(record["temper"], temper):
            figures.setdefault(record["property"], []).append(_qualified(record))
    parts = store.records("alloy_compositions", "t.uns = ?", uns)
    composition = {part["element"]: _amounts(part) for part in parts}
    notes = [row["note"]] if row["note"] else []
    if relation[0] != "exact":
        notes.append(f"{relation[0]} name only{f': {relation[1]}' if relation[1] else ''}")
    names = store.select(
        "SELECT DISTINCT name FROM alloy_names WHERE uns = ? AND relation = 'exact' ORDER BY rowid", uns
    )
    return Alloy(
        uns=uns, name=row["name"], family=row["family"], composition=composition,
        also=[name for (name,) in names if name != uns], cautions=cautions(row["family"], _most(parts)), notes=notes,
        cited=[row["source"], *(part["source"] for part in parts)],
        **{name: figures.get(name, [None])[0] for name in SINGLE}, **{name: figures.get(name, []) for name in LISTED},
    )  # fmt: skip


def _same_temper(have: str, wanted: str) -> bool:
    return have.lower().startswith(wanted.lower()) or wanted.lower().startswith(have.lower())


def _qualified(record: store.Record) -> Quantity:
    q, unit = record["value"], record["range_unit"]
    qualifiers = {name: record[name] for name in ("temper", "scale") if record[name]}
    for name, column in (("from", "range_from"), ("to", "range_to")):
        if record[column] is not None:
            qualifiers[name] = Quantity(f"{record[column]:g}", unit, q.source, q.standing)
    return Quantity(q.text, q.unit, q.source, q.standing, q.cell, qualifiers, None, q.value)


def _amounts(part: store.Record) -> dict:
    amounts = {name: part[f"{name}_pct"] for name in ("min", "max", "nominal")}
    return amounts | ({"remainder": True} if part["remainder"] else {})


def _limits(amounts: dict) -> str:
    """Composition limits in words: `60.0 to 63.0 %`, `at most 0.35 %`, `remainder`."""
    low, high, nominal = (amounts[name].figure if amounts[name] else None for name in ("min", "max", "nominal"))
    said = f"{low} to {high} %" if low and high else f"at least {low} %" if low else f"at most {high} %" if high else ""
    said = said or ("remainder" if amounts.get("remainder") else "")
    return f"{said}{', ' if said else ''}nominal {nominal} %" if nominal else said


def _weakest(amounts: dict) -> str:
    """The least standing among the limits of an element, in brackets."""
    order = ("formula", "independent", "agreed", "single", "practice", "memory")
    return bracketed(max((q.standing for q in amounts.values() if q and q is not True), key=order.index, default=None))


def _most(parts: list[store.Record]) -> dict[str, float]:
    """The most of each element that the alloy may hold; the remainder counts as all of it."""
    return {
        part["element"]: max(
            100.0 if part["remainder"] else 0.0,
            *(part[column].value if part[column] else 0.0 for column in ("min_pct", "max_pct", "nominal_pct")),
        )
        for part in parts
    }


def read_one(text: str) -> str | Readings:
    """The UNS number that a name stands for, or all that carry it."""
    try:
        return alloy(text).uns
    except Ambiguous as several:
        return Readings(several.ask, [one.uns for one in several.candidates])


OneAlloy = Reader("metal", read_one, "metal by any of its names: naval brass, C36000, 6061", ("naval brass", "C36000"))
