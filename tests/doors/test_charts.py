"""Wall charts: one page, to the paper's size, figures that can be read at one metre and stand in the tables."""

import io
import re
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

import refdata
from refdata.core import store
from refdata.doors.charts import PAPERS, TITLES, make
from refdata.doors.charts.paper import CAPITAL, SIZES
from refdata.doors.command import main

TEN_MINUTES_OF_ARC_AT_ONE_METRE = 2.9  # mm


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", TITLES)
def test_one_page_of_the_right_size_with_the_data_version(name, paper):
    page, *more = PdfReader(io.BytesIO(make(name, paper))).pages
    assert not more
    sides = {round(float(side) * 25.4 / 72, 1) for side in (page.mediabox.width, page.mediabox.height)}
    assert sides == set(SIZES[paper])
    assert f"data version {store.data_version()}" in page.extract_text()


@pytest.mark.parametrize("name", TITLES)
def test_figures_are_large_enough_and_nothing_leaves_the_paper(name):
    root = ElementTree.fromstring(make(name, "letter", "svg"))
    width, height = (float(root.get(side).removesuffix("mm")) for side in ("width", "height"))
    texts = [node for node in root.iter() if node.tag.endswith("}text")]
    figures = [node for node in texts if re.fullmatch(r"[#A-Z]*[\d./–-]+\*?", node.text or "")]
    assert len(figures) > 50
    assert min(float(node.get("font-size")) for node in figures) * CAPITAL >= TEN_MINUTES_OF_ARC_AT_ONE_METRE
    for node in texts:
        assert 0 < float(node.get("x")) < width and 0 < float(node.get("y")) < height


def test_the_chart_says_what_the_questions_say():
    text = PdfReader(io.BytesIO(make("clearance"))).pages[0].extract_text()
    hole = refdata.clearance("1/2", fit="loose")
    assert f"{hole.diameter.value:.3f}" in text
    assert refdata.tap("1/2-13")[0].drill in text
    gauges = PdfReader(io.BytesIO(make("gauges"))).pages[0].extract_text()
    assert f"{refdata.gauge('18 ga brass').thickness.value:.4f}"[1:] in gauges


def test_grades_stand_in_the_order_of_their_grain():
    root = ElementTree.fromstring(make("grit", "letter", "svg"))
    turned = [node for node in root.iter() if node.get("transform") and node.text.startswith("P")]
    places = {node.text: float(node.get("x")) for node in turned}
    order = [row["grade"] for row in store.records("abrasive_grades", "t.system = 'fepa-p'")]
    order.sort(key=lambda grade: -refdata.grit(grade).median_grain.value)
    assert sorted(places, key=places.get) == [grade for grade in order if grade in places]


def test_the_same_bytes_twice():
    assert make("heads") == make("heads")


def test_the_command_writes_the_file_or_nothing(tmp_path, capsys):
    out = tmp_path / "holes.pdf"
    assert main(["chart", "clearance", "--paper", "a4", "--out", str(out)]) == 0
    assert out.read_bytes().startswith(b"%PDF")
    for wrong, says in (
        (["chart", "bolts"], "there is no chart"),
        (["chart", "grit", "--paper", "napkin", "--out", str(tmp_path / "x.pdf")], "is not a paper"),
        (["chart", "grit", "--out", str(tmp_path / "x.png")], "neither in .pdf nor in .svg"),
        (["chart", "grit", "--out", str(tmp_path / "no" / "x.pdf")], "cannot write"),
    ):
        assert main(wrong) == 2
        assert says in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["holes.pdf"]
