"""`screw`: heads by standard and edition. Sources of the checks stand beside them."""

import math

import pytest

import refdata
from refdata.core import store


def test_a_size_made_to_several_standards_asks_which():
    with pytest.raises(refdata.Ambiguous, match="Which #8 is it") as asked:
        refdata.screw("#8", head="flat")
    heads = {(one.standard, one.head) for one in asked.value.candidates}
    assert {("ASME B18.6.3", "flat 82"), ("ASME B18.6.3", "flat 100"), ("ASME B18.3", "flat 82")} <= heads


@pytest.mark.parametrize("said", ["B18.3", "asme b18.3", "ASME B18.3"])
def test_standards_as_people_say_them(said):
    assert refdata.screw("1/4-20", standard=said).standard == "ASME B18.3"


@pytest.mark.parametrize(
    "said", ["flat 100", "100", "flat 100 degrees", "Flat-100", "100 deg", "csk 100", "Countersunk 100"]
)
def test_heads_as_people_say_them(said):
    assert refdata.screw("#8", standard="B18.6.3", head=said).angle.value == 100


@pytest.mark.parametrize(
    ("size", "sharp", "least", "height"),
    [("#8", 0.359, 0.311, 0.112), ("1/4", 0.531, 0.480, 0.161), ("1", 1.938, 1.841, 0.540)],
)
def test_socket_flat_heads(size, sharp, least, height):
    """ASME B18.3-2012, Machinery's Handbook, 31st ed., p. 1816, Table 6."""
    head = refdata.screw(size if size != "1" else "1 in", standard="B18.3")
    assert head.head_diameter_sharp.value == sharp
    assert (head.head_diameter_min.value, head.head_height.value) == (least, height)


def test_every_sharp_diameter_and_height_lie_on_one_cone():
    """The height is that of a cone from the sharp edge to the screw, to the printed thousandth (rounded or cut)."""
    rows = [r for r in refdata.table("heads_inch") if r["standard"] == "ASME B18.3" and r["head_diameter_sharp_in"]]
    assert len(rows) > 20
    apart = 0
    for row in rows:
        screw = store.select("SELECT major_diameter_in FROM screws_inch WHERE size = ?", row["size"])
        cone = (row["head_diameter_sharp_in"] - screw[0][0]) / (2 * math.tan(math.radians(82 / 2)))
        apart += not 0 <= cone - row["head_height_in"] + 0.0005 < 0.0015
    assert apart <= 1


def test_a_head_tells_that_there_are_two_diameters():
    assert any("sharp diameter" in note for note in refdata.screw("#8", standard="B18.3").notes)


def test_what_is_not_there_names_what_is():
    with pytest.raises(refdata.NotFound) as told:
        refdata.screw("#8", standard="B18.3", head="flat 100")
    assert any("ASME B18.3" in one for one in told.value.nearest)
    with pytest.raises(refdata.NotUnderstood, match="no table of heads has the standard"):
        refdata.screw("#8", standard="banana")
    with pytest.raises(refdata.NotFound, match="no head for 3-1/2"):
        refdata.screw("3-1/2")
    with pytest.raises(refdata.NotFound, match="2-1/2 has no such head"):
        refdata.screw("2-1/2")


@pytest.mark.parametrize(("said", "size"), [("#00", "#00"), ("no. 00", "#00"), ("#0000", "#0000")])
def test_the_smallest_number_sizes(said, size):
    assert refdata.screw(said, standard="B18.6.3", head="flat 82").size == size
