"""The question `nest`: rectangles of several sizes cut from sheets, by edge-to-edge cuts or free."""

import re
from fractions import Fraction

from refdata.core.drawing import Drawing
from refdata.core.errors import NotUnderstood, Refused
from refdata.core.numbers import leading_number, plain
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import Above, FromZero, LongReader, choice, count
from refdata.core.results import Result
from refdata.core.units import convert, read_unit

MOST_PARTS = 1000
# free packing of more parts, or of more sizes, takes seconds and more: edge-to-edge packing is quick
MANY_PARTS, MANY_SIZES = 200, 50
Turn = choice("turning", {"yes": ("turned",), "no": ("grain",)}, "whether parts may be turned by 90 degrees: yes or no")
Cuts = choice(
    "cuts", {"edge-to-edge": ("shear", "saw", "guillotine"), "free": ("jet", "laser", "mill")},
    "cuts: edge-to-edge (shear, saw) or free (jet, laser)",
)  # fmt: skip
Sheets = count("number of sheets", "number of sheets at hand", 200)
Number = count("number of parts", "number of parts", MOST_PARTS)


class Parts(tuple):
    """Rectangles as read: (number, length, width) in inches or millimetres, with the unit."""

    unit: str

    def __str__(self) -> str:
        return "; ".join(f"{n} of {float(a):g} x {float(b):g} {self.unit}" for n, a, b in self)


def read_parts(text: str) -> Parts:
    """Rectangles as written: `4 of 3 x 2 in; 2 of 5-1/2 x 1 in`, `10 of 80 x 40 mm`. Raises NotUnderstood."""
    found, said = [], set()
    for words in filter(None, (" ".join(part.split()) for part in re.split(r"[;\n]", text))):
        match = re.fullmatch(r"(?:(\d+)\s+(?:of|off)\s+)?(.+?)\s*(?:x|by)\s*(.+)", plain(words), re.I)
        sides = [leading_number(side) for side in match.groups()[1:]] if match else [None]
        if not all(side and side[0] > 0 for side in sides):
            raise NotUnderstood(f'"{words}" is not a part', ["4 of 3 x 2 in", "10 of 80 x 40 mm"])
        number = Number.read(match[1] or "1")
        said |= {read_unit(rest.strip()) for _, _, rest in sides if rest.strip()}
        if said not in ({"in"}, {"mm"}):
            raise NotUnderstood(
                f'"{words}" needs its unit, inches or millimetres, the same for all parts', ["3 x 2 in"]
            )
        found.append((number, *(side[0] for side in sides)))
    if not found or sum(number for number, _, _ in found) > MOST_PARTS:
        raise NotUnderstood(f"one to {MOST_PARTS} parts can be laid out", ["4 of 3 x 2 in"])
    parts = Parts(found)
    (parts.unit,) = said
    return parts


PartsReader = LongReader(
    "list of parts", read_parts, "parts: 4 of 3 x 2 in; 2 of 5 x 1 in", ("4 of 3 x 2 in", "10 of 80 x 40 mm")
)


class Nest(Result):
    """A layout: sheets used, yield, where each part lies (sheet, lower left corner, size), what is left over,
    drawing."""

    HEADLINE = "sheet_yield"
    sheets: int
    placed: int
    sheet_yield: Quantity
    places: list
    offcut: dict
    drawing: str

    @property
    def caption(self) -> str:
        return f"of {self.sheets} sheet{'s' * (self.sheets > 1)} used by {self.placed} parts"

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        told = super().lines(units, (*skip, "places", "drawing"))
        named = [
            (f"part {at}", f"sheet {p['sheet']}, at {p['x']}, {p['y']}: {p['length']} x {p['width']}")
            for at, p in enumerate(self.places, 1)
        ]
        return told + named


@question
def nest(
    parts: PartsReader, *, length: Above, width: Above, kerf: FromZero, margin: FromZero = "0 in", turn: Turn = "yes",
    cuts: Cuts = "free", sheets: Sheets = "20",
) -> Nest:  # fmt: skip
    """Layout of rectangular parts on given sheets, with kerf and margin, as few sheets as it finds.

    `parts` as "4 of 3 x 2 in; 2 of 5 x 1 in"; `length` and `width` of a sheet; `kerf` between neighbours, `margin`
    along the sheet's edges; `turn` by 90 degrees or not (grain); `cuts` edge-to-edge or free. Packing by the library
    rectpack and by rows, the better one, checked for overlap here. Yield = area of parts / area of the sheets used.
    Raises NotUnderstood, Refused.

    >>> import refdata
    >>> refdata.nest("4 of 3 x 2 in", length="12 in", width="12 in", kerf="0.04 in").sheets
    1
    """
    unit = parts.unit
    steps = 1000  # the packing works in whole thousandths of an inch or of a millimetre
    flat = {n: round(convert(q.exact, q.unit, unit) * steps) for n, q in
            (("length", length), ("width", width), ("kerf", kerf), ("margin", margin))}  # fmt: skip
    # a part takes its kerf along with it, and the sheet one kerf more
    room = tuple(flat[side] - 2 * flat["margin"] + flat["kerf"] for side in ("length", "width"))
    sizes = [tuple(-(-(side * steps).numerator // (side * steps).denominator) + flat["kerf"] for side in (a, b))
             for number, a, b in parts for _ in range(number)]  # fmt: skip
    for size, (_, a, b) in dict(zip(sizes, _each(parts))).items():
        turned = turn == "yes" and size[1] <= room[0] and size[0] <= room[1]
        if not turned and (size[0] > room[0] or size[1] > room[1]):
            raise Refused(
                f"a part of {float(a):g} x {float(b):g} {unit} does not fit the sheet",
                ["a larger sheet", "a smaller margin"],
            )
    layout = best_layout(sizes, room, turn == "yes", cuts, sheets)
    if layout is None:
        told = f"{len(sizes)} part{'s' * (len(sizes) > 1)} do not fit on {sheets} sheet{'s' * (sheets > 1)}"
        raise Refused(told, ["more sheets: --sheets 50", "a larger sheet"])
    check(layout, sizes, room, turn == "yes")
    return _answer(layout, flat, unit, steps, parts)


def _each(parts: Parts):
    return [part for part in parts for _ in range(part[0])]


def best_layout(sizes, room, turn: bool, cuts: str, sheets: int):
    """The layout with the fewest sheets, then the least length used of the last: (sheet, x, y, long, wide) for each
    part in the order of `sizes`; None if they do not fit."""
    found = [layout for layout in (_rows(sizes, room, turn), *_packed(sizes, room, turn, cuts, sheets)) if layout]
    fitting = [layout for layout in found if max(place[0] for place in layout) < sheets]
    return min(fitting, key=_used, default=None)


def _used(layout) -> tuple[int, int]:
    last = max(place[0] for place in layout)
    return last, max(place[1] + place[3] for place in layout if place[0] == last)


def _packed(sizes, room, turn: bool, cuts: str, sheets: int):
    import rectpack

    ways = (
        (rectpack.GuillotineBssfSas, rectpack.GuillotineBafLas, rectpack.GuillotineBlsfSlas)
        if cuts == "edge-to-edge" or len(sizes) > MANY_PARTS or len(set(sizes)) > MANY_SIZES
        else (rectpack.MaxRectsBssf, rectpack.MaxRectsBaf, rectpack.MaxRectsBl)
    )
    for way in ways:
        packer = rectpack.newPacker(pack_algo=way, rotation=turn, sort_algo=rectpack.SORT_SSIDE)
        for at, (long, wide) in enumerate(sizes):
            packer.add_rect(long, wide, rid=at)
        packer.add_bin(*room, count=sheets)
        packer.pack()
        placed = {rid: (sheet, x, y, long, wide) for sheet, x, y, long, wide, rid in packer.rect_list()}
        yield [placed[at] for at in range(len(sizes))] if len(placed) == len(sizes) else None


def _rows(sizes, room, turn: bool):
    """Row by row, the widest first: what a shop does by hand. Every cut of it runs from edge to edge."""
    places: list = [None] * len(sizes)
    sheet = x = y = high = 0
    laid = [(max(s), min(s)) if turn and max(s) <= room[0] and min(s) <= room[1] else s for s in sizes]
    laid = [s if s[0] <= room[0] and s[1] <= room[1] else (s[1], s[0]) for s in laid]
    for at in sorted(range(len(sizes)), key=lambda at: (-laid[at][1], -laid[at][0])):
        long, wide = laid[at]
        if x + long > room[0]:
            x, y, high = 0, y + high, 0
        if y + wide > room[1]:
            sheet, x, y, high = sheet + 1, 0, 0, 0
        places[at] = (sheet, x, y, long, wide)
        x, high = x + long, max(high, wide)
    return places


def check(layout, sizes, room, turn: bool) -> None:
    """No two parts with their kerf overlap, each lies inside the sheet and has its own size. Raises AssertionError."""
    for at, (sheet, x, y, long, wide) in enumerate(layout):
        if not (x >= 0 and y >= 0 and x + long <= room[0] and y + wide <= room[1]):
            raise AssertionError("a part lies outside the sheet")
        if (long, wide) != tuple(sizes[at]) and not (turn and (wide, long) == tuple(sizes[at])):
            raise AssertionError("a part changed its size")
        for other in layout[:at]:
            apart = other[0] != sheet or other[1] + other[3] <= x or x + long <= other[1]
            if not (apart or other[2] + other[4] <= y or y + wide <= other[2]):
                raise AssertionError("two parts overlap")


def _answer(layout, flat, unit: str, steps: int, parts: Parts) -> Nest:
    used = max(place[0] for place in layout) + 1
    area = sum(number * a * b for number, a, b in parts)
    share = area / (Fraction(flat["length"] * flat["width"], steps**2) * used) * 100
    length = Quantity.length
    moved = [
        (sheet, x + flat["margin"], y + flat["margin"], long - flat["kerf"], wide - flat["kerf"])
        for sheet, x, y, long, wide in layout
    ]
    places = [
        {
            "sheet": sheet + 1,
            **{n: length(Fraction(v, steps), unit) for n, v in zip(("x", "y", "length", "width"), rest)},
        }
        for sheet, *rest in moved
    ]
    free = flat["length"] - max(x + long for sheet, x, y, long, wide in moved if sheet == used - 1) - flat["kerf"]
    offcut = {
        "length": length(Fraction(max(free, 0), steps), unit),
        "width": length(Fraction(flat["width"], steps), unit),
    }
    return Nest(
        sheets=used, placed=len(layout), sheet_yield=Quantity.computed(share, "%", 3), places=places, offcut=offcut,
        drawing=_drawn(moved, used, flat, unit, steps),
        notes=["the offcut is the strip that no part of the last sheet reaches", "a layout found, not proven the best"],
    )  # fmt: skip


def _drawn(moved, used: int, flat, unit: str, steps: int) -> str:
    """The sheets one under the other, at most six."""
    shown, gap = min(used, 6), flat["width"] * 0.08
    tall = shown * flat["width"] + (shown - 1) * gap
    sheet = Drawing(
        f"{len(moved)} parts on {used} sheet{'s' * (used > 1)}", 0, flat["length"], 0, tall, tall=220 * shown
    )
    for at in range(shown):
        top = at * (flat["width"] + gap)
        sheet.shape(_box(0, top, flat["length"], flat["width"]))
        for number, (on, x, y, long, wide) in enumerate(moved, 1):
            if on == at:
                sheet.shape(_box(x, top + y, long, wide), "cut")
                sheet.shape(_box(x, top + y, long, wide), "thin")
                sheet.label(x + long / 2, top + y + wide / 2, str(number))
    sheet.key.append(("", "sheet", f"{flat['length'] / steps:g} x {flat['width'] / steps:g} {unit}"))
    return sheet.finish("Numbers are the parts in the order of the list." + (" Six sheets shown." if used > 6 else ""))


def _box(x, y, long, wide):
    return [(x, y), (x + long, y), (x + long, y + wide), (x, y + wide)]
