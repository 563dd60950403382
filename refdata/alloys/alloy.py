"""The question `alloy`: what a name means, what the metal is and what it does."""

from refdata.core import store
from refdata.core.errors import Ambiguous, NotFound
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import Reader, Readings, Word
from refdata.core.results import Result

from . import composition as parts_of
from . import service, tempers, wording
from .cautions import cautions, strongest
from .families import FAMILIES
from .families import said as families_said
from .naming import resolve, title, traps

SINGLE = ("density", "solidus", "liquidus", "elastic_modulus")
LISTED = ("thermal_conductivity", "thermal_expansion", "machinability", "electrical_conductivity", "specific_heat")


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
    tensile_strength: list
    yield_strength: list
    shear_strength: list
    elongation: list
    hardness: list
    heat_treatments: list
    bend_radii: list
    ratings: list
    colours: list
    colour_matches: list
    corrosion: list
    limits: list
    names: list

    @property
    def caption(self) -> str:
        near = ", only near what was asked" if any(note.startswith("near name only") for note in self.notes) else ""
        return f"{self.uns} {self.name} ({self.family}: {parts_of.brief(self.composition)}){near}"

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        lists = (*service.STRENGTHS, *service.LISTS)
        told = [
            (element, parts_of.limits(amounts), "", parts_of.weakest(amounts))
            for element, amounts in self.composition.items()
        ]
        told += super().lines(units, (*skip, *lists, "composition"))
        return told + wording.lines({name: getattr(self, name) for name in lists}, units)


@question
def alloy(name: Word, *, temper: Word = None) -> Alloy:
    """An alloy by any of its names: composition, density, melting range, strength, ratings and more.

    `name` is what people say ("C360", "360 brass", "naval brass", "A96061-T6", "4140 annealed"); `temper` keeps to
    figures for that temper or for any. A name that several alloys carry gives them all and asks; where it is exact for
    one and near for others, the note names those. Raises NotFound with the nearest names, Ambiguous.

    >>> import refdata
    >>> refdata.alloy("C360").density
    <0.307 lb/in³ · ... · ...>
    """
    found, within = resolve(name)
    wanted = temper or within
    fitting = {uns: relation for uns, relation in found.items() if not wanted or tempers.known(uns, wanted)}
    if not fitting:
        uns = next(iter(found))
        raise NotFound(f'{uns} {title(uns)} has no temper "{wanted}" on file', tempers.on_file(uns)[:8])
    results = [_answer(name, uns, relation, wanted) for uns, relation in fitting.items()]
    ask = f'Which alloy called "{name}" is meant?' if len(results) > 1 else None
    return Answers(results, ask)


def _answer(name: str, uns: str, relation: tuple, temper: str | None) -> Alloy:
    row = store.records("alloys", "t.uns = ?", uns)[0]
    figures: dict[str, list[Quantity]] = {}
    held = store.records("alloy_properties", "t.uns = ?", uns)
    for record in held:
        if temper is None or record["temper"] is None or tempers.same(record["temper"], temper, row["family"]):
            figures.setdefault(record["property"], []).append(_qualified(record))
    for record in held:  # a density or melting point seen for one temper is better than none for another
        if record["property"] in SINGLE and record["property"] not in figures:
            figures[record["property"]] = [_qualified(record)]
    parts = store.records("alloy_compositions", "t.uns = ?", uns)
    most = parts_of.most(parts)
    served = service.gather(uns, row["family"], temper, most)
    notes = [*_notes(row, relation), *traps(name, uns, row["family"])]
    if temper and not any(served[one] for one in service.STRENGTHS):
        notes.append(
            f"no strength on file for {temper}; there is for: {', '.join(tempers.on_file(uns)) or 'no temper'}"
        )
    words = (one["source"] for name in ("ratings", "colours", "colour_matches", "corrosion") for one in served[name])
    return Alloy(
        uns=uns, name=row["name"], family=row["family"],
        composition={part["element"]: parts_of.amounts(part) for part in parts},
        cautions=cautions(row["family"], most),
        notes=notes,
        cited=[row["source"], *(part["source"] for part in parts), *words],
        **{name: figures.get(name, [None])[0] for name in SINGLE}, **{name: figures.get(name, []) for name in LISTED},
        **served,
    )  # fmt: skip


def _notes(row: store.Record, relation: tuple) -> list[str]:
    notes = [row["note"]] if row["note"] else []
    kind, differs, *near = relation
    if kind != "exact":
        notes.append(f"{kind} name only{f': {differs}' if differs else ''}")
    elif differs:
        notes.append(differs)
    if near:
        notes.append("near by this name, but not the same: " + ", ".join(f"{uns} {title(uns)}" for uns in near))
    return notes


def _qualified(record: store.Record) -> Quantity:
    q, unit = record["value"], record["range_unit"]
    qualifiers = {name: record[name] for name in ("temper", "scale") if record[name]}
    for name, column in (("from", "range_from"), ("to", "range_to")):
        if record[column] is not None:
            qualifiers[name] = Quantity(f"{record[column]:g}", unit, q.source, q.standing)
    return q.qualified(qualifiers)


def read_one(text: str) -> str | Readings:
    """The UNS number that a name stands for, or all that carry it."""
    try:
        return alloy(text).uns
    except Ambiguous as several:
        return Readings(several.ask, [one.uns for one in several.candidates])


def read_at_temper(text: str) -> str | Readings:
    """The UNS number that a name stands for, with the temper if one stands in it: `A96061 T6`."""
    read, temper = read_one(text), resolve(text)[1]
    if temper is None:
        return read
    if isinstance(read, Readings):
        return Readings(read.ask, [f"{uns} {temper}" for uns in read.values])
    return f"{read} {temper}"


AtTemper = Reader(
    "metal",
    read_at_temper,
    "metal by any of its names, with a temper or not: naval brass, 6061-T6",
    ("C36000", "6061-T6"),
)
OneAlloy = Reader("metal", read_one, "metal by any of its names: naval brass, C36000, 6061", ("naval brass", "C36000"))


def metal_named(name: str) -> tuple[str, str, tuple[str, ...]]:
    """A metal's own name, its family and its cautions; a word for several alloys stands for all of them. Raises
    Ambiguous where a number is that of several metals (630 of a stainless steel and a bronze)."""
    try:
        found = [alloy(name)]
    except Ambiguous as several:
        found = several.candidates
        if len({FAMILIES[one.family].base for one in found}) > 1 and not families_said(name.strip().lower()):
            raise
    told = strongest(text for one in found for text in one.cautions)
    one = found[0]
    return (f"{one.uns} {one.name}" if len(found) == 1 else name.strip()), one.family, tuple(told)
