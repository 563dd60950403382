"""The wall charts: what each shows, taken from the tables and the questions."""

from __future__ import annotations

from math import log10

from refdata.alloys.alloy import alloy
from refdata.core import store
from refdata.core.errors import RefdataError
from refdata.core.reading import read_screw_size
from refdata.core.results import shop_figure
from refdata.holes.tap import tap

from .paper import FIGURE, HEAD, MARGIN, SMALL, Column, Paper, fitted, table

BLANK = "–"
_ROWS = 22


def _begun(title: str, paper: str, standards: list[str], upright: bool = False) -> tuple[Paper, float, float]:
    """A sheet with its title and its foot; the heights between which the chart stands."""
    sheet = Paper(title, paper, upright)
    sheet.text(MARGIN, MARGIN + 6.2, title, 19, bold=True)
    foot = f"Shop reference data, data version {store.data_version()}. From {', '.join(dict.fromkeys(standards))}."
    warn = "Check against the standard before a part that can hurt someone depends on a figure."
    wide = sheet.width - 2 * MARGIN
    sheet.text(MARGIN, sheet.height - MARGIN - 3.2, fitted(foot, wide, SMALL), SMALL)
    sheet.text(MARGIN, sheet.height - MARGIN, warn, SMALL)
    return sheet, MARGIN + 10.5, sheet.height - MARGIN - 7.5


def _said(quantity) -> str:
    return shop_figure(str(quantity)).rpartition(" ")[0] if quantity is not None else BLANK


def _drill(size: str) -> str:
    """The tap drill nearest 75 per cent, as its set names it."""
    try:
        return tap(size)[0].drill
    except RefdataError:
        return BLANK


def clearance(title: str, paper: str) -> Paper:
    """Clearance holes of three fits, and tap drills at 75 per cent of thread, inch and metric."""
    holes = {"inch": _holes("clearance_inch", "diameter_in"), "metric": _holes("clearance_metric", "diameter_mm")}
    standards = [row["standard"] for table in ("clearance_inch", "clearance_metric") for row in store.records(table)]
    sheet, top, bottom = _begun(
        title, paper, [*dict.fromkeys(standards), "tap drills at 75 % (1.2990 P), by computation"]
    )
    middle = MARGIN + (sheet.width - 2 * MARGIN) * 0.59
    inch = [[size, *fits, *_tapped(size)] for size, fits in list(holes["inch"].items())[:_ROWS]]
    columns = [Column("screw", False, True), Column("close\nin"), Column("normal\nin"), Column("loose\nin")]
    table(
        sheet, MARGIN, top, middle - 4, bottom,
        [*columns, Column("coarse\nper inch"), Column("tap\ndrill", False), Column("fine\nper inch"),
         Column("tap\ndrill", False)],
        inch,
    )  # fmt: skip
    pitches = dict(store.select("SELECT size, pitch_mm FROM threads_metric WHERE series = 'coarse'"))
    metric = [
        [size, *fits, f"{pitches[size]:g}", _drill(size).removesuffix(" mm")]
        for size, fits in holes["metric"].items()
        if size in pitches
    ][:_ROWS]
    columns = [Column("screw", False, True), Column("close\nmm"), Column("normal\nmm"), Column("loose\nmm")]
    right = sheet.width - MARGIN
    table(sheet, middle, top, right, bottom, [*columns, Column("pitch\nmm"), Column("tap drill\nmm")], metric)
    return sheet


def _holes(name: str, diameter: str) -> dict[str, list[str]]:
    """Sizes with the holes of close, normal and loose fit."""
    found: dict[str, dict] = {}
    for row in store.records(name):
        said = _said(row[diameter])
        found.setdefault(row["size"], {})[row["fit"]] = said if "." in said or diameter.endswith("_in") else f"{said}.0"
    major = {"clearance_inch": ("screws_inch", "in"), "clearance_metric": ("screws_metric", "mm")}[name]
    order = dict(store.select(f"SELECT size, major_diameter_{major[1]} FROM {major[0]}"))
    sizes = sorted(found, key=lambda size: order.get(size, 1e9))
    return {size: [found[size].get(fit, BLANK) for fit in ("close", "normal", "loose")] for size in sizes}


def _tapped(size: str) -> list[str]:
    """Threads per inch and tap drill, coarse and fine."""
    told = []
    for series in ("UNC", "UNF"):
        found = store.select("SELECT threads_per_inch FROM threads_inch WHERE size = ? AND series = ?", size, series)
        per_inch = f"{found[0][0]:g}" if found else None
        told += [per_inch, _drill(f"{size}-{per_inch}")] if per_inch else [BLANK, ""]
    return told


_SYSTEMS = ("manufacturers", "galvanized", "us-standard", "brown-sharpe", "imperial", "birmingham", "washburn-moen")
_GAUGES = [*("3/0", "2/0", "0"), *map(str, range(1, 31))]


def gauges(title: str, paper: str) -> Paper:
    """Gauge numbers 3/0 to 30 in seven systems, inches and millimetres."""
    sheet, top, bottom = _begun(title, paper, ["the sources of the tables, gauge by gauge"])
    found = {
        (row["system"], row["gauge"]): row["thickness_in"]
        for row in store.records("gauges")
        if row["thickness_in"] is not None
    }
    columns = [Column("\n\ngauge", False, True)]
    for system in _SYSTEMS:
        columns += [Column(f"{_used_for(system)}\nin", ruled=True), Column("mm")]
    rows = []
    for gauge in _GAUGES:
        told = [found.get((system, gauge)) for system in _SYSTEMS]
        cells = [
            (f"{q.value:.4f}"[1:] if q.value < 1 else _said(q), f"{q.to('mm').value:.2f}") if q else (BLANK, BLANK)
            for q in told
        ]
        rows.append([gauge, *(cell for both in cells for cell in both)])
    table(sheet, MARGIN, top, sheet.width - MARGIN, bottom, columns, rows)
    return sheet


def _used_for(system: str) -> str:
    """What a system is for, on two short lines: its first metal and the others' number, its form and practice."""
    uses = store.select("SELECT metal, form, practice FROM gauge_uses WHERE system = ?", system)
    metals = list(dict.fromkeys(metal.removesuffix(" steel") for metal, _, _ in uses))
    metals.sort(key=lambda metal: metal not in ("brass", "stainless", "steel"))
    forms = list(dict.fromkeys(form for _, form, _ in uses))
    return f"{metals[0]}{' …' if len(metals) > 2 else ''}\n{forms[0]}, {uses[0][2]}"


_LANES = {
    "fepa-p": "FEPA P, coated", "fepa-f": "FEPA F, bonded", "cami": "CAMI, coated, USA", "jis": "JIS",
    "mesh": "sieve mesh",
}  # fmt: skip
_LEAST, _MOST = 1.0, 2000.0


def grit(title: str, paper: str) -> Paper:
    """The grades of each system where their grain stands on one scale of micrometres."""
    sheet, top, bottom = _begun(title, paper, store.names("abrasive_grades", "standard"))
    left, right = MARGIN + 3, sheet.width - MARGIN - 3
    lane = (bottom - top - 9) / len(_LANES)

    def at(grain: float) -> float:
        return right - (log10(grain) - log10(_LEAST)) / (log10(_MOST) - log10(_LEAST)) * (right - left)

    for grain in (2000, 1000, 500, 200, 100, 50, 20, 10, 5, 2, 1):
        sheet.line(at(grain), top + 6, at(grain), bottom, 0.2, 0.82)
        sheet.text(at(grain), top + 4, f"{grain} µm" if grain in (_LEAST, 100) else f"{grain}", FIGURE, _anchor(grain))
    for nth, (system, says) in enumerate(_LANES.items()):
        base = top + 9 + lane * (nth + 1) - 3
        rows = store.records("abrasive_grades", "t.system = ?", system)
        sheet.line(left, base, right, base, 0.5)
        sheet.text(left + 1.5, base - lane + 6.5, says, 13, bold=True)
        _grades(sheet, rows, at, base)
    return sheet


def _anchor(grain: float) -> str:
    return {_LEAST: "end", _MOST: "start"}.get(grain, "middle")


def _grades(sheet: Paper, rows, at, base: float) -> None:
    """Grades over a line, each tied to its grain; where they would touch, a grade stands a little aside or is left out
    of a crowd, never its neighbour's place."""
    pitch, free = FIGURE * 0.3528 + 0.25, -1e9
    shown = [row for row in rows if _LEAST <= row["median_grain_um"].value <= _MOST]
    for row in sorted(shown, key=lambda row: -row["median_grain_um"].value):
        true = at(row["median_grain_um"].value)
        place = max(true, free + pitch)
        sheet.line(true, base, true, base - 1.5, 0.3)
        if place - true > 2 * pitch:
            continue
        sheet.line(true, base - 1.5, place, base - 3.5, 0.2, 0.4)
        sheet.text(place + 1.5, base - 4.2, row["grade"], FIGURE, turned=True)
        free = place


def alloys(title: str, paper: str) -> Paper:
    """The alloys with the most figures confirmed: density, melting range, machinability."""
    told = "the sources that each alloy's page names. Machinability: C36000 = 100, with * AISI 1212 or B1112 = 100"
    sheet, top, bottom = _begun(title, paper, [told], upright=True)
    ranked = store.select(
        "SELECT substr(row_key, 1, 6) AS uns, sum(standing IN ('formula', 'independent', 'agreed')) AS sure FROM cells"
        " WHERE table_name = 'alloy_properties' GROUP BY uns ORDER BY sure DESC, uns"
    )
    chosen = sorted((alloy(uns) for uns, _ in ranked[:_FIT]), key=lambda one: (one.family, one.uns))
    rows = [_at_a_glance(one, sheet) for one in chosen]
    columns = [
        Column("UNS", False, True), Column("what it is", False), Column("density\ng/cm³"), Column("lb/in³"),
        Column("melts\n°C"), Column("°F"), Column("machines\n%"),
    ]  # fmt: skip
    table(sheet, MARGIN, top, sheet.width - MARGIN, bottom, columns, rows)
    return sheet


_FIT = 42


def _at_a_glance(one, sheet: Paper) -> list[str]:
    machines = [q for q in one.machinability if q.qualifiers.get("scale")]
    rating = (
        f"{machines[0].figure}{'' if machines[0].qualifiers['scale'].startswith('C36000') else '*'}"
        if machines
        else BLANK
    )
    ends = [one.solidus, one.liquidus]
    melts = ["–".join(f"{q.to(unit).value:.0f}" for q in ends if q) or BLANK for unit in ("degC", "degF")]
    density = [f"{one.density.to(unit).value:.{places}f}" for unit, places in (("g/cm3", 2), ("lb/in3", 3))]
    name = one.name.partition(",")[0]
    return [one.uns, fitted(name, sheet.width * 0.29), *(density if one.density else [BLANK] * 2), *melts, rating]


_HEADS = (
    ("flat 82, machine (B18.6.3)", "heads_inch", "ASME B18.6.3", "flat 82", "in"),
    ("flat 82, socket (B18.3)", "heads_inch", "ASME B18.3", "flat 82", "in"),
    ("flat 90 (ISO 7046-1)", "heads_metric", "ISO 7046", "flat 90", "mm"),
    ("flat 90, socket (ISO 10642)", "heads_metric", "ISO 10642", "flat 90", "mm"),
)


def heads(title: str, paper: str) -> Paper:
    """Sharp and largest actual diameter and height of flat heads, two inch and two metric standards."""
    sheet, top, bottom = _begun(title, paper, [standard for _, _, standard, _, _ in _HEADS])
    across = (sheet.width - 2 * MARGIN + 4) / len(_HEADS)
    for nth, (says, name, standard, head, unit) in enumerate(_HEADS):
        left = MARGIN + nth * across
        sheet.text(left, top + 3.5, says, HEAD + 0.5, bold=True)
        found = _current(name, standard, head, unit)[: _ROWS + 2]
        shown = [part for part in _PARTS if any(row[f"head_{part}_{unit}"] is not None for row in found)]
        rows = [[row["size"], *(_said(row[f"head_{part}_{unit}"]) for part in shown)] for row in found]
        columns = [Column("size", False, True), *(Column(f"{_PARTS[part]}\n{unit}") for part in shown)]
        table(sheet, left, top + 4.5, left + across - 4, bottom, columns, rows)
    _head_drawn(sheet, sheet.width - MARGIN - across * 0.75, bottom - 34)
    return sheet


_PARTS = {"diameter_sharp": "A", "diameter_max": "B most", "diameter_min": "B least", "height": "H"}


def _head_drawn(sheet: Paper, middle: float, top: float) -> None:
    """A countersunk head with its letters: A the sharp diameter, B the actual one, H the height."""
    sharp, actual, shank, edge, low = 22.0, 18.5, 8.0, 1.8, 14.0
    for side in (-1, 1):
        sheet.line(middle + side * actual, top, middle + side * actual, top + edge, 0.5)
        sheet.line(middle + side * actual, top + edge, middle + side * shank, top + low, 0.5)
        sheet.line(middle + side * actual, top + edge, middle + side * sharp, top - 1.2, 0.2, 0.4)
        sheet.line(middle + side * shank, top + low, middle + side * shank, top + 26, 0.5)
    sheet.line(middle - actual, top, middle + actual, top, 0.5)
    for half, up, letter in ((sharp, 10, "A"), (actual, 4, "B")):
        sheet.line(middle - half, top - up, middle + half, top - up, 0.2)
        for side in (-1, 1):
            sheet.line(middle + side * half, top - up - 1, middle + side * half, top - up + 1, 0.2)
        sheet.text(middle, top - up - 1, f"{letter}  {'sharp' if letter == 'A' else 'actual'}", FIGURE, "middle")
    sheet.line(middle + sharp + 4, top, middle + sharp + 4, top + low, 0.2)
    sheet.text(middle + sharp + 6, top + low / 2 + 1.5, "H", FIGURE)


def _current(name: str, standard: str, head: str, unit: str) -> list[store.Record]:
    """The heads of a standard in force, by size; of two editions of one size the newer."""
    rows = store.records(name, "t.standard = ? AND t.head = ? AND t.status = 'current'", standard, head)
    if standard == "ISO 10642":
        rows = store.records(name, "t.standard = ? AND t.head = ?", standard, head)
    newest: dict[str, store.Record] = {}
    for row in sorted(rows, key=lambda row: row["edition"]):
        if row["standard"] != "ISO 7046" or row["edition"].startswith("1-"):
            newest[row["size"]] = row
    return [newest[size] for size in sorted(newest, key=lambda size: _major(size))]


def _major(size: str) -> float:
    """The nominal diameter of a size; of 1, which is #1 and one inch, the inch (the tables write #1)."""
    read = read_screw_size(size if size != "1" else "1-8")
    return read.diameter.value
