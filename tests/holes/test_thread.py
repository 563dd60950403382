"""`thread` and `tap`. Sources of the checks stand beside them."""

import math

import pytest

import refdata
from refdata.core import store


@pytest.mark.parametrize(
    "said",
    ["1/4-20", "1/4 UNC", "1/4-20 UNC", "1/4 x 20", "1/4 20 tpi", "1/4-20 UNC-2A", ".250-20", "1/4 coarse", '1/4"-20'],
)
def test_threads_as_people_say_them(said):
    assert refdata.thread(said).designation == "1/4-20 UNC"


@pytest.mark.parametrize(
    ("said", "designation"),
    [
        ("#8-32", "#8-32 UNC"), ("8-36", "#8-36 UNF"), ("no. 10 fine", "#10-32 UNF"), ("1/2 UNEF", "1/2-28 UNEF"),
        ("M6", "M6"), ("m6 x 1", "M6"), ("M10x1", "M10x1"), ("M10 1.25", "M10x1.25"), ("2BA", "2BA"), ("2 BA", "2BA"),
        ("B.A. 4", "4BA"), ("1/4 whitworth", "1/4 BSW"), ("3/8 BSF", "3/8 BSF"),
    ],
)  # fmt: skip
def test_threads_of_every_system(said, designation):
    assert refdata.thread(said).designation == designation


def test_a_size_alone_asks_which_thread_but_a_metric_one_is_coarse():
    with pytest.raises(refdata.Ambiguous, match="1/4-20 UNC; 1/4-28 UNF"):
        refdata.thread("1/4")
    assert refdata.thread("M8").pitch.value == 1.25


@pytest.mark.parametrize(
    ("said", "nearest"),
    [
        ("6-33", "#6-32"),
        ("1/4-21", "1/4-20 UNC"),
        ("M6x0.9", "M6"),
        ("M6.5", "M6"),
        ("99BA", "BA"),
        ("1/4 BA", None),
        ("banana", None),
    ],
)
def test_a_thread_that_is_none_names_the_nearest(said, nearest):
    with pytest.raises(refdata.NotFound) as told:
        refdata.thread(said)
    assert nearest is None or any(nearest in one for one in told.value.nearest)


@pytest.mark.parametrize(
    ("size", "pitch_diameter", "external", "internal"),
    [("#8-32", 0.1437, 0.1268, 0.1302), ("1/2-13", 0.4500, 0.4084, 0.4167), ("1-8", 0.9188, 0.8512, 0.8647)],
)
def test_unified_figures(size, pitch_diameter, external, internal):
    """ASME B1.1, Machinery's Handbook, 31st ed., p. 1978, Table 4a; 1-8: ASME B1.1 as TR Fastenings prints it."""
    one = refdata.thread(size)
    assert one.pitch_diameter.value == pitch_diameter
    assert one.minor_diameter_external.value == external
    assert one.minor_diameter_internal.value == pytest.approx(internal, abs=0.00006)


def test_every_unified_pitch_and_minor_diameter_follows_the_form_of_iso_68_1():
    """H = sqrt(3)/2 P; pitch diameter D - 3/4 H, internal minor diameter D - 5/4 H (ISO 68-1, ASME B1.1)."""
    tested = 0
    for row in refdata.table("threads_inch"):
        if row["series"] in ("BSW", "BSF") or row["major_diameter_in"] is None:
            continue
        height = math.sqrt(3) / 2 / row["threads_per_inch"]
        for column, depth in (("pitch_diameter_in", 3 / 4), ("minor_diameter_internal_in", 5 / 4)):
            if row[column] is not None:
                assert row[column] == pytest.approx(row["major_diameter_in"] - depth * height, abs=0.000055)
                tested += 1
    assert tested > 150


def test_every_metric_diameter_follows_the_form_of_iso_68_1():
    """d2 = d - 3/4 H, D1 = d - 5/4 H, d3 = d - 17/12 H, H = sqrt(3)/2 P (ISO 68-1, ISO 724), to the printed
    micrometre; BA by BS 93: depth 0.6 P."""
    tested = 0
    depths = {"pitch_diameter_mm": 3 / 4, "minor_diameter_internal_mm": 5 / 4, "minor_diameter_external_mm": 17 / 12}
    for row in refdata.table("threads_metric"):
        for column, part in depths.items():
            if row[column] is None or row["series"] == "BA":
                continue
            depth = part * math.sqrt(3) / 2 * row["pitch_mm"]
            assert row[column] == pytest.approx(row["major_diameter_mm"] - depth, abs=0.0011), (row["size"], column)
            tested += 1
        if row["series"] == "BA":
            assert row["pitch_diameter_mm"] == pytest.approx(
                row["major_diameter_mm"] - 0.6 * row["pitch_mm"], abs=0.0026
            )
    assert tested > 180


def test_limits_of_a_class():
    """ASME B1.1: 1/4-20 UNC 2A 0.2489 to 0.2408 major, 0.2164 to 0.2127 pitch; 2B minor 0.196 to 0.207 (as printed in
    many reprints, the rows of the table name theirs)."""
    screw, nut = (refdata.thread("1/4-20", tolerance=one).limits for one in ("2A", "2B"))
    assert (screw["major_diameter_max"].value, screw["major_diameter_min"].value) == (0.2489, 0.2408)
    assert (screw["pitch_diameter_max"].value, screw["pitch_diameter_min"].value) == (0.2164, 0.2127)
    assert (nut["minor_diameter_min"].value, nut["minor_diameter_max"].value) == (0.196, 0.207)


@pytest.mark.parametrize(
    ("size", "drill", "usual", "external", "overlap"),
    [
        ("1/4-20", "#7", 75, 80, 91),
        ("M6", "5 mm", 77, 82, 92),
        ("#8-32", "#29", 69, 73, 83),
        ("M10", "8.5 mm", 77, 82, 92),
    ],
)
def test_percent_of_thread_by_three_definitions(size, drill, usual, external, overlap):
    """1/4-20 with No. 7: 75.44 % in a tap maker's worked example (1.299 P); M10 with 8.5 mm: 92.4 % (1.0825 P, Yamawa
    2022, p. 992); the others worked by hand."""
    told = refdata.tap(size, drill=drill).engagement
    assert [round(told[name].value) for name in ("1.2990 P", "1.2269 P", "1.0825 P")] == [usual, external, overlap]


def test_the_charts_percents_are_ours_by_their_definition():
    """Machinery's Handbook, 31st ed., p. 2155, Table 2 (1.299 P) and Yamawa 2022 (1.0825 P), within two points."""
    tested = 0
    for row in refdata.table("tap_engagements"):
        ours = refdata.tap(row["thread"], drill=row["drill"]).engagement[row["definition"]].value
        assert ours == pytest.approx(row["engagement_pct"], abs=2.1), (row["thread"], row["drill"])
        tested += 1
    assert tested > 40


def test_the_drills_of_75_percent_charts_are_among_ours():
    """Charts of `75 % thread` name a drill that stands among our five for 75 %, for nearly every coarse thread."""
    rows = store.select(
        "SELECT DISTINCT thread, drill FROM tap_drills WHERE kind = 'cut' AND remark LIKE '%75 %' AND thread LIKE '%-%'"
        " AND source = 'thread-screw-chart'"
    )
    assert len(rows) > 15
    missing = [
        (t, d) for t, d in rows if d not in [one.drill for one in refdata.tap(t, set="fractional, number, letter")]
    ]
    assert len(missing) <= len(rows) / 10, missing


def test_a_tap_drill_for_the_metal_and_for_a_blind_hole():
    soft, hard = refdata.tap("1/4-20", in_="C36000")[0], refdata.tap("1/4-20", in_="316 stainless")[0]
    assert hard.diameter.value > soft.diameter.value
    blind = refdata.tap("1/4-20", drill="#7", depth="1/2 in", lead="bottoming")
    assert blind.drill_depth.value == pytest.approx(0.5 + 2 * 0.05)
    assert blind.point.value == pytest.approx(0.201 * 0.3004, abs=0.0005)


def test_a_forming_tap_has_a_larger_hole():
    """Vergnano, forming taps: hole = pitch diameter + P/5, M6 5.55 mm, 1/4-20 0.2275 in."""
    assert refdata.tap("1/4-20", kind="form")[0].diameter.value == pytest.approx(0.2275, abs=0.001)
    assert refdata.tap("M6", kind="form")[0].diameter.value == pytest.approx(5.55, abs=0.06)


def test_at_most_five_drills():
    assert all(len(refdata.tap(size)) <= 5 for size in ("1/4-20", "M6", "2BA", "#0-80", "1-8"))


@pytest.mark.parametrize(("drill", "says"), [("1/4", "leaves no thread"), ("#30", "smaller than the root")])
def test_a_drill_that_cannot_be_is_refused(drill, says):
    with pytest.raises(refdata.Refused, match=says):
        refdata.tap("1/4-20", drill=drill)


@pytest.mark.parametrize(
    ("size", "tolerance", "least", "most"),
    [("M10", "6H", 8.376, 8.676), ("M6", "6H", 4.917, 5.153), ("1/4-20", "2B", 0.196, 0.207)],
)
def test_a_drill_for_stainless_stays_within_the_class(size, tolerance, least, most):
    """Limits of thread_limits_metric and thread_limits_inch; 50 % of stainless leads over all three."""
    limits = refdata.thread(size, tolerance=tolerance).limits
    assert (limits["minor_diameter_min"].value, limits["minor_diameter_max"].value) == (least, most)
    found = refdata.tap(size, in_="304")
    assert len(found) == 5 and found[0].within_class and found[0].tolerance == tolerance
    assert [one.within_class for one in found] == [least <= one.diameter.value <= most for one in found]
    assert [one.within_class for one in found] == sorted((one.within_class for one in found), reverse=True)
    assert any("50 % is a hole" in note and f"over {tolerance}" in note for note in found[0].notes)


def test_each_drill_says_whether_it_is_over_or_under_its_class():
    """6H of M6: 4.917 to 5.153 mm (thread_limits_metric)."""
    said = {one.drill: one.headline()[-1] for one in refdata.tap("M6")}
    assert said == {"5 mm": "within 6H", "5.1 mm": "within 6H", "4.9 mm": "0.017 mm under",
                    "5.2 mm": "0.047 mm over", "4.8 mm": "0.117 mm under"}  # fmt: skip
    assert list(said)[:2] == ["5 mm", "5.1 mm"]
    assert "4.917 to 5.153 mm" in refdata.tap("M6")[0].notes[0]
    named = refdata.tap("1/4-20", drill="7/32")  # 0.21875 in, over the 0.2070 in of 2B (thread_limits_inch)
    assert named.headline()[-1] == "0.0118 in over" and named.within_class is False


def test_an_engagement_that_is_asked_for_is_still_shown_behind_the_class():
    """M10: 50 % of 1.2990 P is 10 - 0.5 x 1.299 x 1.5 = 9.03 mm, over 6H (8.676 mm, thread_limits_metric)."""
    found = refdata.tap("M10", engagement="50")
    assert [one.drill for one in found] == ["8.6 mm", "8.5 mm", "8.4 mm", "9 mm", "9.1 mm"]


def test_where_no_drill_of_the_set_is_within_the_class_it_is_said():
    """2B of #8-32: 0.1300 to 0.1390 in (thread_limits_inch); 1/8 in is under, 9/64 in over."""
    found = refdata.tap("#8-32", set="fractional")
    assert not any(one.within_class for one in found)
    assert any("no drill of that set lies within 2B" in note for note in found[0].notes)


@pytest.mark.parametrize("asked", [{"size": "2BA"}, {"size": "1-3/8-8"}, {"size": "M6", "kind": "form"}])
def test_no_class_is_named_where_none_is_known_or_the_metal_flows(asked):
    """The tables of limits hold neither BA nor 1-3/8-8; a forming tap makes its own bore."""
    for one in refdata.tap(**asked):
        assert one.within_class is None and one.tolerance is None


@pytest.mark.parametrize("asked", [{"size": "1/4"}, {"size": "3/8"}, {"size": "M6"}, {"size": "M6", "kind": "form"}])
def test_each_line_of_drills_has_a_cell_for_each_column_of_its_header(asked):
    from refdata.core.questions import load

    found = load("tap").question.answers(**asked).results
    assert all(len(one.HEADER) == len(one.headline()) for one in found)
    headers = [one.HEADER for one in found]
    assert len(set(headers)) == sum(a != b for a, b in zip([None, *headers], headers)), "a table is not broken in two"


@pytest.mark.parametrize("said", ["6h", "6G", "4h", "2C"])
def test_the_case_of_a_class_is_its_meaning(said):
    """ISO 965-1: capitals are internal threads, small letters external ones."""
    with pytest.raises(refdata.NotUnderstood, match="a capital is a nut"):
        refdata.thread("M6", tolerance=said)
    assert refdata.thread("1/4-20", tolerance="2b").tolerance == "2B"
