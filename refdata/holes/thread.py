"""The question `thread`: what a thread is, by its designation."""

import re
from fractions import Fraction

from refdata.core import numbers, store
from refdata.core.errors import NotFound, NotUnderstood
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import Reader, Readings, ScrewSize, read_screw_size
from refdata.core.results import Result

from .clearance import table_label
from .tolerances import unified_limits

_SERIES = {
    "unc": "UNC", "unf": "UNF", "unef": "UNEF", "coarse": "UNC", "fine": "UNF", "extra fine": "UNEF", "bsw": "BSW",
    "whitworth": "BSW", "whit": "BSW", "bsf": "BSF", "un": None,
}  # fmt: skip
_SERIES |= {f"{n}{dash}un": f"{n}-UN" for n in (4, 6, 8, 12, 16, 20) for dash in ("", "-")}
_WORDS = "|".join(sorted(map(re.escape, _SERIES), key=len, reverse=True))
_BA = r"(?i)(?:no\.?\s*)?(\d{1,2})\s*\.?\s*b\.?a\.?$|b\.?a\.?\s*(\d{1,2})$"
_AS_THREAD = ("1/4-20", "1/4 UNC", "#8-32", "M6", "M10x1", "2BA", "1/4 BSW")


class ThreadName:
    """A thread as written: its screw size, with the series and the pitch or threads per inch where said."""

    __slots__ = ("label", "pitch", "series", "size")

    def __init__(self, label: str, size: ScrewSize | None, series: str | None, pitch: str):
        self.label, self.size, self.series, self.pitch = label, size, series, pitch

    @property
    def metric(self) -> bool:
        return self.size is None or self.size.system == "metric"

    def __str__(self) -> str:
        if self.size is None:
            return self.label
        return " ".join(filter(None, (str(self.size), self.series)))


def read_thread(text: str) -> ThreadName | Readings:
    """A thread as written: `1/4-20`, `1/4 UNC`, `#8-32`, `M6`, `M10x1`, `2BA`, `1/4 BSW`. Raises NotUnderstood."""
    words = " ".join(numbers.plain(text).split())
    if match := re.match(_BA, words):
        label = f"{int(match[1] or match[2])}BA"
        return ThreadName(label, None, "BA", "")
    words = re.sub(r"(?i)\s*(?:tpi|threads? per inch)\b", "", words)
    match = re.search(rf"(?i)(?:^|(?<=[\s\d\"]))({_WORDS})(?=\s|$)", words)
    series = _SERIES[match[1].lower()] if match else None
    bare = f"{words[: match.start()]} {words[match.end() :]}".strip(" -") if match else words
    # `1/4 20`, `1/4 x 20`, `M10 1.25`: the pitch may stand apart
    bare = re.sub(r"(?i)^(m?[#\d./\"-]+)\s*(?:x|\s)\s*(\d+(?:\.\d+)?)$", lambda m: _joined(*m.groups()), bare)
    try:
        size = read_screw_size(bare)
    except NotUnderstood as problem:
        raise NotUnderstood(problem.message.replace("screw size", "thread"), _AS_THREAD) from None
    if isinstance(size, Readings):
        return Readings(size.ask, (_named(one, series) for one in size.values))
    return _named(size, series)


def _joined(size: str, pitch: str) -> str:
    return f"{size}x{pitch}" if size[:1] in "mM" else f"{size}-{pitch}"


def _named(size: ScrewSize, series: str | None) -> ThreadName:
    if size.system == "metric":
        series = {"UNC": "coarse", "UNF": "fine", "UNEF": "fine"}.get(series, series)
    return ThreadName(size.label, size, series, size.thread)


ThreadReader = Reader("thread", read_thread, "thread: 1/4-20, 1/4 UNC, #8-32, M6, M10x1, 2BA, 1/4 BSW", _AS_THREAD)
_CLASSES = ("2A", "2B", "6g", "6H")


def read_class(text: str) -> str:
    """A class of tolerance. In a metric one the case says what it is: 6H is a nut's, 6h a screw's. Raises
    NotUnderstood."""
    word = text.strip()
    if word.upper() in _CLASSES[:2]:
        return word.upper()
    if word not in _CLASSES:
        raise NotUnderstood(
            f'no limits of class "{word}" on file: a capital is a nut, a small letter a screw', _CLASSES
        )
    return word


ToleranceClass = Reader(
    "tolerance class", read_class, "class: 2A or 6g (screw), 2B or 6H (nut)", _CLASSES[:1], _CLASSES
)


class Thread(Result):
    """A thread: its basic diameters and pitch, the stress area of the screw, and the limits of a class if asked for."""

    HEADLINE = "pitch"
    IN_CAPTION = ("designation", "series", "standard", "edition")
    designation: str
    series: str
    standard: str
    edition: str
    major_diameter: Quantity
    pitch: Quantity
    threads_per_inch: Quantity | None
    pitch_diameter: Quantity
    minor_diameter_external: Quantity
    minor_diameter_internal: Quantity
    stress_area: Quantity | None
    tolerance: str | None
    limits: dict | None

    @property
    def caption(self) -> str:
        return f"pitch of {self.designation} ({self.standard})"

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        told = super().lines(units, (*skip, "limits", "tolerance"))
        for name, quantity in (self.limits or {}).items():
            told += [
                (f"{self.tolerance} {name.replace('_', ' ')}", *line[1:]) for line in _shown(name, quantity, units)
            ]
        return told


def _shown(name, quantity, units):
    from refdata.core.results import _lines

    return _lines(name, quantity, units)


@question
def thread(size: ThreadReader, *, tolerance: ToleranceClass = None) -> Thread:
    """Thread by its designation: pitch, diameters, stress area, limits of a class.

    `size` is a designation ("1/4-20", "#8 UNC", "M6", "M10x1", "2BA", "3/8 BSW"); a size alone asks which of its
    threads is meant, except that a metric one alone is the coarse. `tolerance` adds the limits of 2A, 2B, 6g or 6H.
    Figures of the tables, or computed by the form of ISO 68-1 and ASME B1.1 (limits too) where no source seen prints
    them. Raises NotFound, NotUnderstood, Ambiguous.

    >>> import refdata
    >>> refdata.thread("1/4-20").pitch_diameter.value
    0.2175
    """
    found = [_answer(row, tolerance) for row in thread_rows(size)]
    ask = f"Which {size.label} is it: {'; '.join(one.designation for one in found)}?" if len(found) > 1 else None
    return Answers(found, ask)


def thread_rows(name: ThreadName) -> list[store.Record]:
    """The rows of the table of threads that a name may stand for. Raises NotFound."""
    table = "threads_metric" if name.metric else "threads_inch"
    label = name.label if name.size is None else table_label(name.size)
    rows = store.records(table, "t.size = ? OR t.size LIKE ?", label, f"{label}x%")
    if not rows:
        raise NotFound(f"there is no thread {label} in the tables", _sizes_near(name, table))
    fitting = [row for row in rows if _fits(row, name)]
    if not fitting:
        raise NotFound(f"{label} has no thread {name}", [designation(row) for row in rows])
    if name.metric and not name.pitch and not name.series:
        return [row for row in fitting if row["series"] != "fine"] or fitting
    # a pitch that two series share (a 12-UN at a coarse size) is the named series
    return fitting[:1] if name.pitch else fitting


def _fits(row: store.Record, name: ThreadName) -> bool:
    pitch = row.get("pitch_mm") or row.get("threads_per_inch")
    said = not name.pitch or pitch.exact == Fraction(name.pitch)
    return said and name.series in (None, row["series"])


def designation(row: store.Record) -> str:
    """`1/4-20 UNC`, `#8-32 UNC`, `M6`, `M10x1`, `2BA`, `1/4 BSW`."""
    if "pitch_mm" in row:
        return row["size"]
    if row["series"] in ("BSW", "BSF"):
        return f"{row['size']} {row['series']}"
    series = "UN" if row["series"].endswith("-UN") else row["series"]
    return f"{row['size']}-{row['threads_per_inch'].text} {series}"


def _answer(row: store.Record, tolerance: str | None) -> Thread:
    unit = "mm" if "pitch_mm" in row else "in"
    per_inch = row.get("threads_per_inch")
    pitch = row["pitch_mm"] if unit == "mm" else Quantity.computed(1 / per_inch.exact, "in", 4)
    basic = basic_diameters(row)
    figures = {name: row[f"{name}_{unit}"] or basic.get(name) for name in BASIC}
    limits, told = _limits(row, tolerance, unit) if tolerance else (None, [])
    return Thread(
        designation=designation(row), series=row["series"], standard=row["standard"], edition=row["edition"],
        pitch=pitch, threads_per_inch=per_inch, tolerance=tolerance,
        stress_area=row[f"stress_area_{unit}2"] or basic.get("stress_area"), limits=limits, notes=told, **figures,
    )  # fmt: skip


BASIC = ("major_diameter", "pitch_diameter", "minor_diameter_external", "minor_diameter_internal")
_H = 3**0.5 / 2


def basic_diameters(row: store.Record) -> dict[str, Quantity]:
    """Basic figures of a thread computed from its diameter and pitch, by the form of its series."""
    unit = "mm" if "pitch_mm" in row else "in"
    pitch = float(row["pitch_mm"].exact if unit == "mm" else 1 / row["threads_per_inch"].exact)
    major = major_diameter(row)
    if row["series"] in ("BSW", "BSF", "BA"):
        depth = {"BA": 0.6}.get(row["series"], 0.640327) * pitch
        pitch_diameter, external, internal, area = major - depth, major - 2 * depth, major - 2 * depth, None
    else:
        pitch_diameter, internal = major - 0.75 * _H * pitch, major - 1.25 * _H * pitch
        external = major - (17 / 12 if unit == "mm" else 11 / 8) * _H * pitch
        area = 3.141592653589793 / 4 * (major - (13 / 12 * _H if unit == "mm" else 0.9743) * pitch) ** 2
    places = 4 if unit == "in" else 3
    shown = {"major_diameter": major, "pitch_diameter": pitch_diameter, "minor_diameter_external": external,
             "minor_diameter_internal": internal}  # fmt: skip
    found = {name: _figure(value, unit, places) for name, value in shown.items()}
    return found | ({} if area is None else {"stress_area": Quantity.computed(Fraction(area), f"{unit}2", 3)})


def major_diameter(row: store.Record) -> float:
    """Major diameter of a thread in its own unit: as printed, or as its name says."""
    unit = "mm" if "pitch_mm" in row else "in"
    printed = row[f"major_diameter_{unit}"]
    if printed:
        return printed.value
    name = row["size"].partition("x")[0]
    return float(read_screw_size(name).diameter.exact if name[0] in "#M" else numbers.leading_number(name)[0])


def _figure(value: float, unit: str, places: int) -> Quantity:
    text = f"{value:.{places}f}"
    return Quantity(text, unit, exact=Fraction(text))


def _limits(row: store.Record, tolerance: str, unit: str) -> tuple[dict, list[str]]:
    """The printed limits of a class, or for a Unified thread those of the standard's formulas."""
    printed = _held(row, tolerance, unit)
    unified = unit == "in" and row["series"] not in ("BSW", "BSF")
    if unified and tolerance in ("2A", "2B"):
        major, per_inch = major_diameter(row), row["threads_per_inch"].value
        computed = unified_limits(major, per_inch, row["series"], tolerance)
        return {n: printed.get(n) or _figure(v, "in", 4) for n, v in computed.items()}, [
            "limits without a standing are computed by the formulas of ASME B1.1 for one diameter of engagement"
        ]
    if not printed:
        others = ["2A", "2B"] if unified else [one for one in ("6g", "6H") if _held(row, one, unit)]
        raise NotFound(f"no {tolerance} limits of {designation(row)} in the tables", others)
    return printed, []


def _held(row: store.Record, tolerance: str, unit: str) -> dict[str, Quantity]:
    """The limits of a class that the tables hold for a thread, by column name without unit."""
    where, named = "t.size = ? AND t.tolerance_class = ?", (row["size"], tolerance)
    if unit == "in":
        where, named = f"{where} AND t.series = ?", (*named, row["series"])
    for record in store.records(f"thread_limits_{'metric' if unit == 'mm' else 'inch'}", where, *named):
        return {name.removesuffix(f"_{unit}"): q for name, q in record.items() if isinstance(q, Quantity)}
    return {}


def bore_limits(row: store.Record) -> tuple[str, Quantity, Quantity] | None:
    """The usual class of a tapped hole, 6H or 2B, and the least and greatest minor diameter it allows; None where the
    tables hold no limits of the thread. One that is blank there is computed, as `thread` answers it."""
    tolerance, unit = ("6H", "mm") if "pitch_mm" in row else ("2B", "in")
    if not _held(row, tolerance, unit):
        return None
    limits, _ = _limits(row, tolerance, unit)
    least, most = limits.get("minor_diameter_min"), limits.get("minor_diameter_max")
    return (tolerance, least, most) if least and most else None


def _sizes_near(name: ThreadName, table: str) -> list[str]:
    if name.size is None:
        return store.names(table, "size")[-5:]
    wanted = name.size.diameter.to("mm" if name.metric else "in").exact
    apart = {}
    for row in store.records(table):
        if row["series"] != "BA":
            apart[row["size"]] = abs(Fraction(major_diameter(row)) - wanted)
    return sorted(apart, key=apart.get)[:3]
