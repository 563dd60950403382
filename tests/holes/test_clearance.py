"""Clearance holes. Checked by hand against ASME B18.2.8-1999 and ISO 273:1979 as reprinted (sources in the tables)."""

import pytest

import refdata
from refdata.core import store


def test_the_hole_for_a_number_6_screw():
    hole = refdata.clearance("#6")
    assert (hole.diameter.value, hole.diameter.unit, hole.drill, hole.fit) == (0.17, "in", "#18", "normal")
    assert hole.diameter.to("mm").value == 4.318
    assert (hole.standard, hole.edition) == ("ASME B18.2.8", "1999 (R2017)")


@pytest.mark.parametrize(
    ("size", "fit", "diameter"),
    # Machinery's Handbook, 31st ed., p. 1741, Table 1a, loose columns; p. 1743 for the metric drills of Table 3b
    [("#0", "loose", 0.094), ("#8", "loose", 0.213), ("1/4", "loose", 0.297), ("1/2", "loose", 0.609),
     ("1-1/2", "loose", 1.734)],
)  # fmt: skip
def test_inch_holes_of_the_handbook(size, fit, diameter):
    assert refdata.clearance(size, fit=fit).diameter.value == diameter


@pytest.mark.parametrize(
    ("size", "fine", "medium", "coarse"),
    # ISO 273:1979 as reprinted in JIS B 1001:1985, annex table
    [("M1.6", 1.7, 1.8, 2.0), ("M4", 4.3, 4.5, 4.8), ("M6", 6.4, 6.6, 7.0), ("M12", 13.0, 13.5, 14.5),
     ("M20", 21.0, 22.0, 24.0), ("M64", 66.0, 70.0, 74.0)],
)  # fmt: skip
def test_metric_holes(size, fine, medium, coarse):
    assert [refdata.clearance(size, fit=fit).diameter.value for fit in ("fine", "medium", "coarse")] == [
        fine, medium, coarse,
    ]  # fmt: skip


def test_a_metric_hole_names_its_drill_where_one_is_made():
    assert refdata.clearance("M4").drill == "4.5 mm"


def test_all_fits_at_once():
    assert [hole.fit for hole in refdata.clearance("1/4", fit="all")] == ["close", "normal", "loose"]


@pytest.mark.parametrize("text", ["#6", "6-32", "no. 6", ".138", "0.138 in"])
def test_one_screw_in_many_words(text):
    assert refdata.clearance(text).size == "#6"


def test_a_size_that_no_standard_lists_names_its_neighbours():
    with pytest.raises(refdata.NotFound) as caught:
        refdata.clearance("0.145")
    assert caught.value.nearest == ["#7", "#6"]
    with pytest.raises(refdata.NotFound) as caught:
        refdata.clearance("M11")
    assert caught.value.nearest == ["M10", "M12"]
    with pytest.raises(refdata.NotFound) as caught:
        refdata.clearance("#13")
    assert caught.value.nearest == ["1/4", "#10"]


@pytest.mark.parametrize("size, hole, shank", [("#12", "7/32", 0.216), ("#14", "1/4", 0.242)])
def test_a_size_that_only_wood_screws_have_takes_the_hole_of_their_shank(size, hole, shank):
    """ASME B18.2.8 has no #12 nor #14. Source of the holes: the shank column of the wood-screw charts of practice;
    of the shanks: 0.060 + 0.013 n in."""
    found = refdata.clearance(size)
    assert (found.drill, found.fit, found.diameter.standing) == (hole, "shank", "practice")
    assert shank < found.diameter.value < shank + 0.01
    assert "the standards give no clearance hole" in found.notes[0]
    plan = refdata.hole(size, for_="wood-screw", in_="C46400", thickness="1/4 in")
    assert plan.hole == found.diameter and set(found.notes) <= set(plan.notes)
    assert set(found.notes) <= set(refdata.countersink(size, standard="B18.6.1").notes)


def test_the_drill_makes_the_hole_in_every_row():
    """The drill's own diameter is the printed smallest hole, to the half thousandth that the standard rounds by."""
    rows = store.select(
        "SELECT c.size, c.fit, c.diameter_in, d.diameter_in FROM clearance_inch c"
        " JOIN drills_inch d ON d.name = c.drill"
    )
    assert len(rows) == 66
    assert [row for row in rows if abs(row[2] - row[3]) > 0.00051] == []


def test_a_looser_fit_is_a_larger_hole():
    for table, column in (("clearance_inch", "diameter_in"), ("clearance_metric", "diameter_mm")):
        rows = store.select(f"SELECT size, fit, {column} FROM {table}")
        holes = {(size, fit): value for size, fit, value in rows}
        for size in {row[0] for row in rows}:
            assert holes[size, "close"] < holes[size, "normal"] < holes[size, "loose"]


def test_the_tables_are_complete_over_their_range():
    inch = store.names("clearance_inch", "size")
    assert inch[0] == "#0" and inch[-1] == "1-1/2" and len(inch) == 22
    metric = store.names("clearance_metric", "size")
    assert metric[0] == "M1.6" and metric[-1] == "M64" and len(metric) == 32
