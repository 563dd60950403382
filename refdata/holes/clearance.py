"""The question `clearance`: the hole that a screw passes through."""

from refdata.core import store
from refdata.core.errors import NotFound
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import ScrewSize, Size, choice
from refdata.core.results import Result

Fit = choice(
    "fit",
    {"close": ("fine",), "normal": ("medium", "standard"), "loose": ("coarse", "free"), "all": ()},
    "fit of the hole: close, normal, loose or all (fine, medium, coarse mean the same)",
)


OneFit = choice(
    "fit",
    {"close": ("fine",), "normal": ("medium", "standard"), "loose": ("coarse", "free")},
    "fit: close, normal, loose",
)


class Clearance(Result):
    """A clearance hole: smallest diameter, largest where published, and the drill that makes it."""

    HEADLINE = "diameter"
    IN_CAPTION = ("size", "standard", "edition", "fit")
    size: str
    standard: str
    edition: str
    fit: str
    diameter: Quantity
    diameter_max: Quantity | None
    drill: str | None

    @property
    def caption(self) -> str:
        hole = "shank hole" if self.fit == "shank" else "clearance hole"
        fit = "" if self.fit == "shank" else f", {self.fit} fit"
        return f"{hole} for {self.size}{fit} ({self.standard}, {self.edition})"


@question
def clearance(size: Size, *, fit: Fit = "normal") -> Clearance:
    """Clearance hole for a screw, with the drill that makes it.

    `size` is a screw size ("#6", "6-32", "1/4-20", "M4"), `fit` close, normal, loose or all; no fit means normal.
    Diameters are those of the standard named: inch ASME B18.2.8, metric ISO 273. A number size that the standard leaves
    out (#12, #14) has the shank hole of wood screws, of no fit, and says so. Raises NotFound, Ambiguous.

    >>> import refdata
    >>> refdata.clearance("M4", fit="medium").diameter.value
    4.5
    """
    label = table_label(size)
    table, diameter = (
        ("clearance_metric", "diameter_mm") if size.system == "metric" else ("clearance_inch", "diameter_in")
    )
    if fit == "all":
        rows = store.records(table, "t.size = ?", label)
    else:
        rows = store.records(table, "t.size = ? AND t.fit = ?", label, fit)
    if not rows:
        return _shank_hole(size, table)
    found = [_answer(row, diameter) for row in rows]
    return found if fit == "all" else found[0]


def _answer(row: store.Record, diameter: str) -> Clearance:
    drill = row.get("drill") or _metric_drill(row[diameter])
    cited = tuple(filter(None, (row.get("drill_source"),)))
    return Clearance(
        size=row["size"], standard=row["standard"], edition=row["edition"], fit=row["fit"], diameter=row[diameter],
        diameter_max=row.get("diameter_max_in"), drill=drill, cited=cited,
    )  # fmt: skip


def _shank_hole(size: ScrewSize, table: str) -> Clearance:
    """The hole that practice drills for the shank of a wood screw, where no standard has a clearance hole. Raises
    NotFound."""
    none = f"the standards give no clearance hole for {size.label}"
    rows = store.records("wood_screws", "t.practice = 'US' AND t.size = ? AND t.shank_hole IS NOT NULL", size.label)
    if not rows:
        raise NotFound(none, _neighbours(size, table))
    drill, source = rows[0]["shank_hole"], rows[0].source
    return Clearance(
        size=size.label, standard="US practice for wood screws", edition="undated", fit="shank",
        diameter=Quantity(drill, "in", source, "practice"), diameter_max=None, drill=drill,
        notes=[f"{none}: this is the hole for the shank of a wood screw, close on it; a plate that must line up with"
               " other holes wants a larger one"],
    )  # fmt: skip


def screw_hole(size: ScrewSize, fit: str = "normal") -> tuple[Quantity, list[str]]:
    """The clearance hole of a fit, and the note that it was taken. Raises NotFound."""
    found = clearance(size, fit=fit)
    hole = f"{found.fit} {'hole' if found.fit == 'shank' else 'clearance hole'}"
    return found.diameter, [f"through the {hole} ({found.standard}), since no hole was given", *found.notes]


def _metric_drill(hole: Quantity) -> str | None:
    """The metric drill of just this diameter, where one is made."""
    made = store.select("SELECT name FROM drills_metric WHERE diameter_mm = ?", hole.value) if hole.unit == "mm" else []
    return f"{made[0][0]} mm" if made else None


def _check_thread(size: ScrewSize) -> None:
    """Raises NotFound where a size is not made with the thread that is said: a number size has those of the tables, the
    others none that is coarser than the coarsest, nor twice as fine as the finest inch thread."""
    if not size.thread:
        return
    metric = size.system == "metric"
    column, joint = ("pitch_mm", "x") if metric else ("threads_per_inch", "-")
    table = "threads_metric" if metric else "threads_inch"
    made = [pitch for (pitch,) in store.select(f"SELECT {column} FROM {table} WHERE size = ?", size.label)]
    said = float(size.thread)
    if metric:
        known = said <= max(made, default=said)
    elif size.system == "number":
        known = not made or said in made
    else:
        known = min(made, default=said) <= said <= 2 * max(made, default=said)
    if not known:
        raise NotFound(
            f"{size.label} has no thread {size}", [f"{size.label}{joint}{pitch:g}" for pitch in dict.fromkeys(made)]
        )


def table_label(size: ScrewSize) -> str:
    """The way the tables write a screw size: a decimal inch size is looked up by its diameter, and the threads of a
    number size are known. Raises NotFound."""
    _check_thread(size)
    if size.system != "inch" or "." not in size.label:
        return size.label
    same = store.select("SELECT size FROM screws_inch WHERE major_diameter_in = ?", size.diameter.value)
    if same:
        return same[0][0]
    close = store.select(
        "SELECT size FROM screws_inch ORDER BY abs(major_diameter_in - ?) LIMIT 2", size.diameter.value
    )
    raise NotFound(f"no screw has a major diameter of {size.diameter}", [row[0] for row in close])


def _neighbours(size: ScrewSize, table: str) -> list[str]:
    """The sizes of the table next to this one in diameter."""
    screws, major = (
        ("screws_metric", "major_diameter_mm") if size.system == "metric" else ("screws_inch", "major_diameter_in")
    )
    rows = store.select(
        f"SELECT size FROM {screws} WHERE size IN (SELECT size FROM {table}) ORDER BY abs({major} - ?) LIMIT 2",
        size.diameter.value,
    )
    return [row[0] for row in rows]
