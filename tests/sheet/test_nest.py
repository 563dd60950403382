"""`nest`: no overlap, kerf and margins kept, not worse than row by row, by geometry of its own."""

import random

import pytest

import refdata
from refdata.sheet import nest as nesting

CUTS = ("edge-to-edge", "free")


def order(chance):
    sheet = (chance.randint(200, 1200), chance.randint(200, 1200))
    parts = [
        (chance.randint(1, 6), chance.randint(10, min(sheet) - 60), chance.randint(10, min(sheet) // 2))
        for _ in range(chance.randint(1, 5))
    ]
    return sheet, parts, chance.randint(0, 50) / 10, chance.randint(0, 20)


def ask(sheet, parts, kerf, margin, cuts="free", turn="yes"):
    said = "; ".join(f"{n} of {a} x {b} mm" for n, a, b in parts)
    return refdata.nest(
        said,
        length=f"{sheet[0]} mm",
        width=f"{sheet[1]} mm",
        kerf=f"{kerf} mm",
        margin=f"{margin} mm",
        cuts=cuts,
        turn=turn,
        sheets="60",
    )


@pytest.mark.parametrize("seed", range(500))
def test_five_hundred_random_orders(seed):
    chance = random.Random(seed)
    sheet, parts, kerf, margin = order(chance)
    plan = ask(sheet, parts, kerf, margin, CUTS[seed % 2], chance.choice(("yes", "no")))
    boxes = [(p["sheet"], *(p[n].value for n in ("x", "y", "length", "width"))) for p in plan.places]
    wanted = sorted(tuple(sorted((a, b))) for n, a, b in parts for _ in range(n))
    assert sorted(tuple(sorted(box[3:])) for box in boxes) == [tuple(map(float, one)) for one in wanted]
    for at, (on, x, y, long, wide) in enumerate(boxes):
        assert min(x, y) >= margin - 1e-9
        assert x + long <= sheet[0] - margin + 1e-9 and y + wide <= sheet[1] - margin + 1e-9
        for other in boxes[:at]:
            gap = max(other[1] - x - long, x - other[1] - other[3], other[2] - y - wide, y - other[2] - other[4])
            assert other[0] != on or gap >= kerf - 1e-9


def row_by_row(sheet, parts, kerf, margin) -> int:
    """Sheets that a shop uses that lays rows, the widest parts first, long side along the sheet where it fits."""
    room = [side - 2 * margin for side in sheet]
    laid = []
    for number, *size in parts:
        long, wide = max(size), min(size)
        laid += [(long, wide) if long <= room[0] and wide <= room[1] else (wide, long)] * number
    sheets, x, y, high = 1, 0.0, 0.0, 0.0
    for long, wide in sorted(laid, key=lambda one: (-one[1], -one[0])):
        if x + long > room[0] + 1e-9:
            x, y, high = 0.0, y + high + kerf, 0.0
        if y + wide > room[1] + 1e-9:
            sheets, x, y, high = sheets + 1, 0.0, 0.0, 0.0
        x, high = x + long + kerf, max(high, wide)
    return sheets


def test_at_least_as_good_as_row_by_row_in_95_of_100():
    chance, better = random.Random(1), 0
    for _ in range(100):
        sheet, parts, kerf, margin = order(chance)
        plan = ask(sheet, parts, kerf, margin)
        better += plan.sheets <= row_by_row(sheet, parts, kerf, margin)
    assert better >= 95


def test_edge_to_edge_layouts_can_be_sheared():
    """Some straight cut runs from edge to edge between the parts, and so on within each side of it."""

    def sheared(boxes) -> bool:
        if len(boxes) <= 1:
            return True
        for axis in (0, 1):
            for cut in {box[axis] + box[axis + 2] for box in boxes}:
                first = [box for box in boxes if box[axis] + box[axis + 2] <= cut]
                rest = [box for box in boxes if box[axis] >= cut]
                if first and rest and len(first) + len(rest) == len(boxes) and sheared(first) and sheared(rest):
                    return True
        return False

    for seed in range(40):
        sheet, parts, kerf, margin = order(random.Random(seed))
        plan = ask(sheet, parts, kerf, margin, "edge-to-edge")
        for number in range(1, plan.sheets + 1):
            on = [p for p in plan.places if p["sheet"] == number]
            assert sheared([tuple(round(p[n].value * 100) for n in ("x", "y", "length", "width")) for p in on])


def test_a_layout_that_overlaps_would_be_caught():
    with pytest.raises(AssertionError, match="overlap"):
        nesting.check([(0, 0, 0, 10, 10), (0, 9, 0, 10, 10)], [(10, 10), (10, 10)], (100, 100), True)
    with pytest.raises(AssertionError, match="outside"):
        nesting.check([(0, 95, 0, 10, 10)], [(10, 10)], (100, 100), True)


def test_the_yield_of_a_strip_of_the_press_tool_books():
    """Part 10 x 27 mm, web 1.25 x 1.5 mm: pitch 11.875 mm, strip 30.75 mm, 73.9 % (worked example of press-tool
    texts); a strip of twenty has one web more at its end."""
    number, pitch = 20, 11.875
    strip = number * pitch + 1.875
    plan = refdata.nest(
        f"{number} of 10 x 27 mm",
        length=f"{strip + 0.01} mm",
        width="30.76 mm",
        kerf="1.875 mm",
        margin="1.875 mm",
        turn="no",
    )
    assert plan.sheets == 1
    assert plan.sheet_yield.value * strip / (number * pitch) == pytest.approx(73.9, abs=0.1)


def test_the_yield_of_a_full_sheet():
    """Nine parts of 3.96 in with 0.04 in kerf lie on a 12 in sheet less one kerf: area 9 x 3.96^2 / 144."""
    plan = refdata.nest("9 of 3.96 x 3.96 in", length="11.96 in", width="11.96 in", kerf="0.04 in")
    assert plan.sheets == 1
    assert plan.sheet_yield.value == pytest.approx(100 * 9 * 3.96**2 / 11.96**2, abs=0.01)
    assert plan.drawing.startswith("<svg")


def test_a_long_list_of_parts():
    """More than a line of text, and more sizes than free packing lays in good time."""
    said = "; ".join(f"{n} x {n + 7} mm" for n in range(20, 320))
    plan = refdata.nest(said, length="2000 mm", width="1000 mm", kerf="1 mm", sheets="40")
    assert len(said) > 200 and plan.placed == 300


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"parts": "banana"}, "is not a part"),
        ({"parts": "4 of 3 x 2"}, "needs its unit"),
        ({"parts": "0 of 3 x 2 in"}, "number of parts from 1 to 1000"),
        ({"parts": "1000000 of 1 x 1 in"}, "number of parts from 1 to 1000"),
        ({"parts": "1.5 of 1 x 1 in"}, "not a unit"),
        ({"parts": "3 in x 2 mm"}, "the same for all"),
        ({"parts": "1 x 1 in; " * 3000}, "at most 20000 letters"),
        ({"parts": "9999 of 3 x 2 in"}, "number of parts from 1 to 1000"),
        ({"parts": "800 of 3 x 2 in; 800 of 1 x 1 in"}, "parts can be laid out"),
        ({"parts": "1 of 30 x 2 in"}, "does not fit the sheet"),
        ({"parts": "1 of 3 x 2 in; 1 of 5 x 6 mm"}, "the same for all"),
        ({"kerf": "-1 in"}, "below nothing"),
        ({"margin": "6 in"}, "does not fit"),
        ({"sheets": "1", "parts": "90 of 3 x 3 in"}, "do not fit on 1 sheet;"),
        ({"cuts": "magic"}, "is not a cuts"),
        ({"turn": "maybe"}, "is not a turning"),
        ({"length": "0 in"}, "not above nothing"),
    ],
)
def test_clumsy_or_impossible_gets_one_clear_line(one_clear_line, change, says):
    asked = {"parts": "4 of 3 x 2 in", "length": "12 in", "width": "12 in", "kerf": "0.04 in"}
    one_clear_line("nest", asked | change, says)
