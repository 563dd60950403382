"""`hole`: forty plans, their drawings, and what is refused."""

import itertools
from xml.etree import ElementTree

import pytest

import refdata
from refdata.doors.command import main

WOOD = [
    {"size": size, "for_": "wood-screw", "in_": metal, "thickness": thickness, "edge": "1 in", "seat": seat}
    for size, metal, thickness, seat in itertools.product(
        ("#6", "#8", "#10"), ("C46400",), ("1/8 in", "3/16 in", "6 mm"), ("cone", "ball")
    )
]
MACHINE = [
    {"size": size, "for_": "machine-screw", "in_": metal, "thickness": thickness, "seat": seat, "standard": standard}
    for (size, standard), metal, (thickness, seat) in itertools.product(
        (("#10", "B18.3"), ("1/4-20", "B18.3"), ("M4", "ISO 10642"), ("M6", "ISO 7046"), ("M5", "ISO 2009")),
        ("C36000", "6061"),
        (("1/4 in", "cone"), ("10 mm", "ball")),
    )
]
BORED = [
    {
        "size": size,
        "for_": "machine-screw",
        "in_": "6061",
        "thickness": "1/2 in",
        "head": "socket cap",
        "seat": "counterbore",
    }
    for size in ("#10", "1/4", "M5")
]
RAISED = [
    {"size": size, "for_": "machine-screw", "in_": "brass", "thickness": "2 mm", "head": head, "standard": standard}
    for size, head, standard in (
        ("M4", "pan slotted", "ISO 1580"),
        ("M5", "socket cap", "ISO 4762"),
        ("#8", "pan slotted", "B18.6.3"),
    )
]
PLANS = [*WOOD, *MACHINE, *BORED, *RAISED]


def test_there_are_forty():
    assert len(PLANS) >= 40


@pytest.mark.parametrize(
    "given", PLANS, ids=lambda g: f"{g['size']} {g['thickness']} {g.get('seat', g.get('head'))} {g['in_']}"
)
def test_a_plan_is_whole_and_its_figures_agree(given):
    plan = refdata.hole(**given)
    thickness = plan.thickness.to(plan.hole.unit).value
    order = [step["do"] for step in plan.steps]
    assert order[:4] == ["mark", "centre", "drill", "deburr"]
    assert order.index("try the screw") > order.index("deburr")
    assert plan.travel.value > thickness
    if plan.seat_depth is not None:
        assert plan.seat_depth.value + plan.land.value == pytest.approx(thickness)
        assert plan.hole.value < plan.head_diameter.value <= plan.surface_diameter.value + 1e-9
        assert order[4] in ("countersink", "ball seat", "counterbore")
    assert any("no gloves" in caution for caution in plan.cautions)
    assert any("grab" in caution for caution in plan.cautions)  # the sheet, and with brass the edge
    drawing = ElementTree.fromstring(plan.drawing)
    words = [text.text for text in drawing.iter("{http://www.w3.org/2000/svg}text")]
    assert any("thickness" in word for word in words) and any("hole" in word for word in words)


def test_the_hole_of_the_yard_s_cleat_plate(capsys):
    """Checked by hand: hole 0.196, sharp head 0.332, depth (0.332 - 0.196)/(2 tan 41) = 0.078, land 0.125 - 0.078 =
    0.047, web 0.3125 - 0.166 = 0.146."""
    asked = [
        "hole",
        "#8",
        "--for",
        "wood-screw",
        "--head",
        "flat",
        "--in",
        "C46400",
        "--thickness",
        "1/8 in",
        "--edge",
        "5/16 in",
    ]
    assert main(asked) == 0
    told = capsys.readouterr().out
    assert told.startswith("0.196 in")
    for words in ("0.078 in", "land", "0.047 in", "0.146 in", "countersink, 82 degrees", "dub the cutting edges"):
        assert words in told
    assert "<svg" not in told


@pytest.mark.parametrize(
    ("given", "says", "instead"),
    [
        ({"thickness": "1/16 in"}, r"too thin for the #8 head: its seat is 0.078 in", "a plate of at least 0.10"),
        (
            {"thickness": "1/8 in", "edge": "1/4 in"},
            "0.044 in .* too near the edge: 1.5 diameters are 0.294 in",
            "--edge 0.294 in",
        ),
        ({"thickness": "3/8 in", "edge": "5/16 in"}, "web beside the seat would be 0.146 in .* short", "--edge 0.35"),
        ({"thickness": "1/8 in", "hole": "3/8 in"}, "lets the #8 head", "washer"),
        ({"thickness": "1/8 in", "seat": "ball", "ball": "1/4 in"}, "no larger than the #8 head", "in"),
    ],
)
def test_five_are_refused_with_the_reason_and_what_can_be_done(given, says, instead):
    with pytest.raises(refdata.Refused, match=says) as told:
        refdata.hole("#8", for_="wood-screw", in_="C46400", **given)
    assert any(instead in way for way in told.value.nearest)


def test_common_practice_is_an_option():
    near = {"for_": "wood-screw", "in_": "C46400", "thickness": "1/8 in", "edge": "1/4 in"}
    assert refdata.hole("#8", **near, least_edge="1").web.value == pytest.approx(0.25 - 0.166)
    thin = refdata.hole("#8", for_="wood-screw", in_="C46400", thickness="0.1 in")
    assert any("land" in note and "less than" in note for note in thin.notes)


@pytest.mark.parametrize(
    ("size", "given", "says"),
    [
        ("M4", {"for_": "wood-screw", "in_": "brass", "thickness": "3 mm"}, "by number"),
        ("#8", {"for_": "wood-screw", "in_": "unobtainium", "thickness": "3 mm"}, "no alloy"),
        ("#8", {"for_": "wood-screw", "in_": "brass"}, "needs its thickness"),
        ("#8", {"for_": "wood-screw", "in_": "brass", "thickness": "0 in"}, "not above nothing"),
        ("#8", {"for_": "wood-screw", "in_": "brass", "thickness": "-3 mm"}, "not above nothing"),
        ("#8", {"for_": "wood-screw", "in_": "brass", "thickness": "3 mm", "below": "-1 mm"}, "below nothing"),
        ("#8", {"for_": "wood-screw", "in_": "brass", "thickness": "3 mm", "fit": "all"}, "is not a fit"),
        ("#8", {"for_": "rivet", "in_": "brass", "thickness": "3 mm"}, "is not a purpose"),
        ("#8", {"for_": "wood-screw", "in_": "brass", "thickness": "18 ga"}, "gauge number"),
        (
            "#8",
            {"for_": "wood-screw", "in_": "brass", "thickness": "3 mm", "least_edge": "much"},
            "is not a least edge",
        ),
        ("#8", {"for_": "wood-screw", "in_": "brass", "thickness": "3 mm", "head": "fancy"}, "no table of heads"),
    ],
)
def test_what_is_not_understood_gets_one_line(size, given, says):
    with pytest.raises(refdata.NotFound, match=says) as told:
        refdata.hole(size, **given)
    assert "\n" not in str(told.value)


def test_the_drawing_is_written_whole_or_not_at_all(tmp_path, capsys):
    asked = ["hole", "#8", "--for", "wood-screw", "--in", "C46400", "--thickness", "1/8 in", "--drawing"]
    assert main([*asked, str(tmp_path / "cleat.svg")]) == 0
    assert ElementTree.parse(tmp_path / "cleat.svg").getroot().tag.endswith("svg")
    assert main([*asked, str(tmp_path / "none" / "cleat.svg")]) == 2
    assert main(["clearance", "#6", "--drawing", str(tmp_path / "x.svg")]) == 2
    assert [one.name for one in tmp_path.iterdir()] == ["cleat.svg"]


def test_an_oval_head_lies_in_a_countersink_too():
    plan = refdata.hole("#8", for_="machine-screw", in_="C46400", thickness="1/4 in", head="oval", standard="B18.6.3")
    assert plan.seat == "cone of 82 degrees"
    assert [step["do"] for step in plan.steps].count("countersink") == 1
