"""The question `gauge`: thickness of a gauge number, and the gauge nearest to a thickness."""

from refdata.core import store
from refdata.core.errors import NotFound, NotUnderstood
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import Above, Reader, choice, nearest
from refdata.core.results import Result
from refdata.core.units import convert

from .labels import Gauge, GaugeLabel, gauge_number

SYSTEMS = {
    "manufacturers": ("msg", "manufacturers standard", "manufacturers' standard"),
    "galvanized": ("gsg", "galvanised"),
    "us-standard": ("usg", "uss", "us standard", "stainless"),
    "brown-sharpe": ("awg", "b&s", "bs", "brown & sharpe", "american wire gauge", "brown and sharpe"),
    "birmingham": ("bwg", "stubs", "stubs iron wire"),
    "imperial": ("swg", "british standard", "imperial standard"),
    "washburn-moen": ("w&m", "steel wire gauge", "washburn & moen"),
    "zinc": ("zinc gauge",),
    "copper-ounce": ("oz", "ounce", "ounces", "copper ounce"),
}
System = choice("gauge system", SYSTEMS, "gauge system: " + ", ".join(SYSTEMS))
Form = choice(
    "form", {"sheet": ("plate", "strip"), "wire": ("rod",), "tube": ("pipe", "tubing")}, "form: sheet, wire or tube"
)
_METAL_WORDS = {
    "aluminum": "aluminium", "galvanised steel": "galvanized steel", "galvanized": "galvanized steel",
    "galvanised": "galvanized steel", "galv": "galvanized steel",
    "stainless": "stainless steel", "ss": "stainless steel",
    "mild steel": "steel", "carbon steel": "steel", "cold rolled steel": "steel", "hot rolled steel": "steel",
    "german silver": "nickel silver", "crs": "steel", "naval brass": "brass", "sterling": "silver",
    "sterling silver": "silver",
}  # fmt: skip
ASK_METAL = "Which metal is it, and is it sheet, wire or tube?"


def read_metal(text: str) -> str:
    """A metal as people say it: `brass`, `aluminum`, `stainless`. Raises NotUnderstood."""
    word = " ".join(text.lower().split())
    word = _METAL_WORDS.get(word, word)
    known = [row[0] for row in store.select("SELECT DISTINCT metal FROM gauge_uses ORDER BY metal")]
    if word not in known:
        raise NotUnderstood(f'no gauge system is on record for "{text.strip()}"', nearest(word, known, known))
    return word


Metal = Reader("metal", read_metal, "metal: brass, copper, aluminium, steel, ...", ("brass", "steel"))


class GaugeThickness(Result):
    """Thickness of a gauge number in one system; `deviation` is the gauge less the thickness asked for."""

    HEADLINE = "thickness"
    IN_CAPTION = ("gauge", "system", "metals", "form")
    gauge: str
    system: str
    metals: list
    form: str | None
    thickness: Quantity
    deviation: Quantity | None
    tolerance: list

    @property
    def caption(self) -> str:
        number = f"{self.gauge} {'oz' if self.system == 'copper-ounce' else 'gauge'}"
        return f"{number} {self.system}: {', '.join(self.metals)} {self.form or ''}".rstrip()


@question
def gauge(
    number: Gauge = None,
    *,
    metal: Metal = None,
    system: System = None,
    form: Form = None,
    thickness: Above = None,
) -> GaugeThickness | list[GaugeThickness]:
    """Thickness of a gauge number, or the gauges nearest to a thickness.

    `number` is a gauge ("18", "18 ga brass", "16 oz"), `metal` and `form` choose the system in use for them, or
    `system` names it; instead of `number`, `thickness` is a length. A metal alone means sheet in US practice.
    Without metal and system every system answers and the metal is asked for. Raises NotFound, Ambiguous.

    >>> import refdata
    >>> refdata.gauge("18", metal="brass").thickness.value
    0.0403
    """
    number = number or GaugeLabel("")
    metal = _agreed("metal", metal, read_metal(number.metal) if number.metal else None)
    system, form = _agreed("system", system, number.system), _agreed("form", form, number.form)
    if bool(number.label) == (thickness is not None):
        raise NotUnderstood(
            "gauge needs a gauge number or a thickness, and not both", ["18 --metal brass", "--thickness .040"]
        )
    systems, notes, ask = _systems(metal, system, form)
    if thickness is not None:
        found = [one for name in systems for one in _nearest(name, thickness, metal, form, notes)]
        return Answers(found, ask, listed=True)
    found = [one for name in systems for one in _numbered(name, number.label, metal, form, notes)]
    if not found:
        raise _unknown(number.label, systems)
    return Answers(found, ask if len(found) > 1 else None)


def _agreed(name: str, given: str | None, beside: str | None) -> str | None:
    """What an option gives, or what stood beside the number. Raises NotUnderstood where they differ."""
    if given and beside and given != beside:
        raise NotUnderstood(f"the {name} is {beside} beside the number, but {given} was given too", [beside, given])
    return given or beside


def _systems(metal: str | None, system: str | None, form: str | None) -> tuple[list[str], tuple, str | None]:
    """The systems meant, what was assumed, and what to ask if several are."""
    uses = store.select("SELECT system, metal, form, practice, usual FROM gauge_uses ORDER BY rowid")
    if system:
        odd = metal and metal not in {use[1] for use in uses if use[0] == system}
        return [system], (f"the {system} gauge is not on record for {metal}",) if odd else (), None
    if not metal:
        # ounces are no gauge number: they answer when "oz" is said
        told = [use[0] for use in uses if not form or use[2] == form]
        return [name for name in SYSTEMS if name in told and name != "copper-ounce"], (), ASK_METAL
    here = [use for use in uses if use[1] == metal and use[2] == (form or "sheet")]
    wanted = form or "sheet"
    if not here:
        forms = sorted({use[2] for use in uses if use[1] == metal})
        if form:
            raise NotFound(f"no gauge system is on record for {metal} {form}", [f"{metal} {f}" for f in forms])
        here, wanted = [use for use in uses if use[1] == metal], " or ".join(forms)
    us = [use for use in here if use[3] == "US"] or here
    usual = [use for use in us if use[4]] or us
    names = list(dict.fromkeys(use[0] for use in usual))
    notes = () if form else (f"{metal} alone means {wanted} in {usual[0][3]} practice",)
    return names, notes, "Which gauge system is meant?" if len(names) > 1 else None


def _numbered(system: str, label: str, metal, form, notes) -> list[GaugeThickness]:
    rows = store.records("gauges", "t.system = ? AND t.gauge = ?", system, label)
    return [_answer(row, metal, form, notes) for row in rows]


def _answer(row: store.Record, metal, form, notes, deviation=None) -> GaugeThickness:
    uses = store.select("SELECT metal, form FROM gauge_uses WHERE system = ? ORDER BY rowid", row["system"])
    metals = list(dict.fromkeys(use[0] for use in uses if not form or use[1] == form))
    if metal in metals:
        metals = [metal]
    forms = {use[1] for use in uses if use[0] in metals}
    if not form and (len(forms) == 1 or (metal and "sheet" in forms)):
        form = "sheet" if "sheet" in forms else forms.pop()
    return GaugeThickness(
        gauge=row["gauge"], system=row["system"], metals=metals, form=form, thickness=row["thickness_in"],
        deviation=deviation, tolerance=_tolerances(row, metal, form), notes=notes,
    )  # fmt: skip


def _tolerances(row: store.Record, metal: str | None, form: str | None) -> list[Quantity]:
    """Published rolling tolerances of this thickness, each with the standard that it holds for."""
    if not metal or form != "sheet":
        return []
    thickness = row["thickness_in"].value
    found = store.records(
        "sheet_tolerances",
        "t.metal = ? AND ((t.system = ? AND t.gauge = ?) OR (t.gauge IS NULL AND t.thickness_from_in <= ?"
        " AND t.thickness_to_in >= ?))",
        metal, row["system"], row["gauge"], thickness, thickness,
    )  # fmt: skip
    return [one["tolerance_in"].qualified({"standard": one["standard"]}) for one in found]


def _nearest(system: str, asked: Quantity, metal, form, notes) -> list[GaugeThickness]:
    """The gauge of exactly this thickness, else the nearest thinner and the nearest thicker one, the nearer first."""
    wanted = float(convert(asked.exact, asked.unit, "in"))
    found = []
    for side, order in (("=", "ASC"), ("<", "DESC"), (">", "ASC")):
        rows = store.records(
            "gauges",
            "t.key = (SELECT key FROM gauges WHERE system = ?"
            f" AND thickness_in {side} ? ORDER BY thickness_in {order} LIMIT 1)",
            system,
            wanted,
        )
        for row in rows:
            found.append(_answer(row, metal, form, notes, row["thickness_in"].less(asked)))
        if side == "=" and rows:
            break
    return sorted(found, key=lambda one: abs(one.deviation.exact))


def _unknown(label: str, systems: list[str]) -> NotFound:
    marks = ", ".join("?" * len(systems))
    rows = store.select(f"SELECT gauge FROM gauges WHERE system IN ({marks}) ORDER BY rowid", *systems)
    known = list(dict.fromkeys(row[0] for row in rows))
    where = f"{systems[0]} runs from {known[0]} to {known[-1]}" if len(systems) == 1 else "no system has it"
    near = sorted(known, key=lambda one: abs(gauge_number(one) - gauge_number(label)))
    return NotFound(f"there is no gauge {label}: {where}", near[:2])


def thicknesses(
    labels, *, metal: str | None = None, system: str | None = None, form: str | None = None, unit: str = "in"
):
    """Thickness of many gauge labels at once: a list of floats in `unit`, in the order given.

    `labels` is any iterable of text; each different one is looked up once. Raises NotFound, NotUnderstood, Ambiguous.

    >>> import refdata
    >>> refdata.thicknesses(["18", "20 ga"], metal="brass")
    [0.0403, 0.032]
    """
    if isinstance(labels, str):
        raise NotUnderstood(f'"{labels}" is one label: thicknesses takes a list of them', [f'["{labels}"]'])
    labels = labels if isinstance(labels, (list, tuple)) else list(labels)
    options = {"metal": metal, "system": system, "form": form}
    known = {label: gauge(label, **options).thickness.to(unit).value for label in set(labels)}
    return [known[label] for label in labels]
