"""The Datasette plugin, asked in process: the JSON of the contract, the pages, the canned queries."""

import asyncio
import html
import re

import pytest
import yaml
from conftest import EVERY_QUESTION
from datasette.app import Datasette
from datasette.utils import tilde_encode

import refdata
from refdata.core import store
from refdata.core.questions import QUESTIONS, load
from refdata.doors.browser import cells, subjects
from refdata.doors.serve import SETTINGS, metadata

M12_NORMAL = {
    "table_name": "clearance_metric",
    "row_key": "ISO 273 1979 M12 normal",
    "column_name": "diameter_mm",
}
WORDS = yaml.safe_load(metadata().read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def get():
    settings = {"allow_download": False, "allow_csv_stream": False, "suggest_facets": False}
    assert set(settings) <= set(SETTINGS)
    site = Datasette([], immutables=[store.PATH], metadata=WORDS, settings=settings)

    def fetch(path, **parameters):
        return asyncio.run(site.client.get(path, params=parameters, follow_redirects=True))

    return fetch


def test_json_over_http_is_the_same_envelope(get):
    response = get("/-/refdata/clearance.json", size="#6", fit="normal")
    assert response.status_code == 200
    assert response.json() == refdata.ask("clearance", "#6", fit="normal")
    assert (
        get("/-/refdata/alloy.json", name="C36000", units="metric").json()["answers"][0]["density"]["unit"] == "g/cm3"
    )


def test_several_readings_are_200_with_what_to_ask(get):
    response = get("/-/refdata/gauge.json", number="18")
    assert response.status_code == 200
    assert response.json()["ask"]


@pytest.mark.parametrize(
    ("path", "parameters", "says"),
    [
        ("/-/refdata/clearance.json", {"size": "banana"}, "is not a screw size"),
        ("/-/refdata/clearance.json", {}, "clearance needs its size"),
        ("/-/refdata/clearance.json", {"size": "#6", "colour": "red"}, 'has no option "colour"'),
        ("/-/refdata/clearance.json", {"size": ["#6", "#8"]}, "was given 2 times"),
        ("/-/refdata/clearance.json", {"size": "#6", "units": "cubits"}, "is not a choice of units"),
        ("/-/refdata/clearnce.json", {"size": "#6"}, 'there is no question "clearnce"'),
    ],
)
def test_what_is_not_understood_is_400_in_the_same_words(get, path, parameters, says):
    response = get(path, **parameters)
    assert response.status_code == 400
    assert says in response.json()["error"]["message"]
    assert "nearest" in response.json()["error"]


def test_the_index_names_every_question_and_its_parameters(get):
    told = get("/-/refdata.json").json()["questions"]
    assert [one["name"] for one in told] == list(QUESTIONS)
    assert [p["name"] for p in told[0]["parameters"]] == ["size", "fit"]


def test_every_table_and_row_page_opens_with_plain_headings(get):
    for name in store.tables():
        page = get(f"/refdata/{name}")
        assert page.status_code == 200
        assert WORDS["databases"]["refdata"]["tables"][name]["title"] in page.text
        assert "<th" in page.text
        assert not re.search(r"<th[^>]*>[^<]*_in\b", page.text)
    assert "diameter (in)" in get("/refdata/clearance_inch").text
    assert "–</span>" in get("/refdata/clearance_inch").text


@pytest.mark.parametrize("kind", subjects.SUBJECTS)
def test_every_page_about_one_thing_opens(get, kind):
    listed = get(f"/-/refdata/on/{kind}")
    assert listed.status_code == 200
    for group in subjects.SUBJECTS[kind].members().values():
        for member, says in group[::6]:
            page = get(f"/-/refdata/on/{kind}/{tilde_encode(member)}")
            assert page.status_code == 200 and says in html.unescape(page.text), member


def test_a_figure_is_shown_as_printed_and_leads_to_who_says_so(get):
    page = get("/refdata/gauges", system="brown-sharpe", gauge="20").text
    link = re.search(r'<a class="figure [a-z]+" href="([^"]+)"[^>]*>0\.0320</a>', page)
    told = get(link[1].replace("&amp;", "&")).text
    assert "served" in told and "agrees" in told


@pytest.mark.parametrize(
    ("query", "parameters", "holds"),
    [
        ("clearance", {"size": "#6"}, {"0.17", "#18"}),
        ("clearance", {"size": "m4"}, {"4.5", "0.1772"}),
        ("thickness", {"gauge": "18"}, {"0.0403", "0.0478", "brass sheet (US)"}),
        ("alloy", {"name": "naval brass"}, {"C46400", "0.304"}),
        ("figure", M12_NORMAL, {"13.5", "differs", "agrees", "tested", "is larger than the screw"}),
        ("screw", {"size": "#8"}, {"ASME B18.3", "0.359", "9.12", "0.312"}),
        ("grit", {"grade": "400"}, {"P400", "F400", "sedimentation", "cami"}),
        ("grit", {"grade": "p400"}, {"P400"}),
        ("trust", {}, {"clearance_inch", "/refdata/to_confirm?table=gauges"}),
        ("to_confirm", {"table": "alloy_properties"}, {"single"}),
    ],
)  # fmt: skip
def test_canned_queries(get, query, parameters, holds):
    page = get(f"/refdata/{query}", **parameters)
    assert page.status_code == 200
    assert [words for words in holds if words not in page.text] == []


@pytest.mark.parametrize(
    ("query", "parameters", "shown", "leads_to"),
    [
        ("clearance", {"size": "#6"}, "0.17", "column_name=diameter_in"),
        ("clearance", {"size": "#6"}, "4.318", "column_name=diameter_in"),
        ("thickness", {"gauge": "18"}, "0.0403", "row_key=brown-sharpe+18"),
        ("alloy", {"name": "C36000"}, "0.307", "row_key=C36000+density"),
        ("screw", {"size": "#8"}, "9.12", "column_name=head_diameter_sharp_in"),
        ("grit", {"grade": "P400"}, "35", "column_name=median_grain_um"),
    ],
)
def test_every_number_of_a_query_leads_to_who_says_so(get, query, parameters, shown, leads_to):
    page = get(f"/refdata/{query}", **parameters).text
    link = re.search(rf'<a class="figure [a-z]+" href="([^"]+)"[^>]*>{re.escape(shown)}</a>', page)
    assert link and leads_to in link[1]
    assert "served" in get(link[1].replace("&amp;", "&")).text


def test_disagreements_are_open_to_the_reader(get):
    page = get("/refdata/differences").text
    assert f"{len(store.select('SELECT 1 FROM disagreements'))} rows" in page
    assert re.search(r'<a href="/refdata/figure\?table_name=clearance_metric[^"]*">13\.5</a>', page)
    assert "/refdata/differences" in get("/").text
    told = get("/-/refdata/trust.json", table="clearance_metric").json()["answers"][0]
    assert len(told["disagreements"]) == told["disputed"] == 6


def test_no_alloy_is_shown_without_its_cautions(get):
    for page in (
        get("/refdata/alloys/C36000"),
        get("/refdata/alloy", name="C36000"),
        get("/refdata/alloy_properties/C36000~20density"),
    ):
        assert "Lead (up to 3 %)" in page.text and "Zinc: heated" in page.text, page.url
    assert "Caution." in get("/refdata/alloy_compositions").text
    assert "Caution." not in get("/refdata/gauges").text


def test_sql_functions_are_there(get):
    told = get("/refdata.json", sql="select in_unit(0.17, 'in', 'mm') as mm", _shape="array").json()
    assert told == [{"mm": 4.318}]


def test_the_file_is_read_only_and_stays_here(get):
    assert get("/refdata.db").status_code in (403, 404)
    for statement in ("delete from alloys", "drop table alloys", "attach 'x' as y"):
        assert get("/refdata.json", sql=statement).status_code == 400


def test_pages_hold_no_script_from_a_field(get):
    attack = "<script>alert(1)</script>"
    for page in (get("/refdata/alloy", name=attack), get("/refdata/alloys", name=attack), get(f"/refdata/{attack}")):
        assert attack not in page.text


def test_addresses_in_a_locator_are_links_and_nothing_else_is_html(get):
    page = get("/refdata/clearance_inch").text
    assert '<a href="https://online.flippingbook.com/view/954046886/284" rel="noreferrer noopener">' in page
    assert "&lt;a href" not in page
    odd = str(cells._linked('<b>see</b> http://x.example/<i> & "more"'))
    assert odd == (
        '&lt;b&gt;see&lt;/b&gt; <a href="http://x.example/&lt;i&gt;" rel="noreferrer noopener">'
        "http://x.example/&lt;i&gt;</a> &amp; &#34;more&#34;"
    )


def test_metadata_names_only_what_exists_and_all_of_it():
    said = WORDS["databases"]["refdata"]["tables"]
    assert set(said) == set(store.tables())
    for name, words in said.items():
        columns = {row[0] for row in store.select("SELECT name FROM pragma_table_info(?)", name)}
        assert set(words["columns"]) | {"key"} == columns | {"key"}
        assert set(words.get("facets", [])) <= columns


def test_home_asks_in_ones_own_words(get):
    page = get("/").text
    assert '<form class="say" action="/-/refdata" method="get" role="search">' in page
    for words in ("8-32 clearance", "18 ga brass", "C360"):
        assert words in page
    assert store.data_version() in page
    assert "Check against the standard" in page


@pytest.mark.parametrize("name", QUESTIONS)
def test_every_question_has_its_form_made_from_its_declaration(get, name):
    page = get(f"/-/refdata/{name}")
    assert page.status_code == 200
    for parameter in load(name).question.parameters:
        assert f'name="{parameter.name}"' in page.text
    assert f'href="/-/refdata/{name}"' in get("/").text


def test_a_plan_of_a_hole_in_its_form_with_its_drawing(get):
    asked = {"size": "#8", "for": "wood-screw", "in": "C46400", "thickness": "1/8 in", "edge": "5/16 in"}
    page = get("/-/refdata/hole", **asked)
    assert page.status_code == 200
    for words in ("0.078 in", "dub the cutting edges", "/-/refdata/hole.svg?", "The same answer as JSON"):
        assert words in page.text
    drawing = get("/-/refdata/hole.svg", **asked)
    assert drawing.headers["content-type"].startswith("image/svg+xml")
    assert drawing.text.startswith("<svg")
    assert get("/-/refdata/clearance.svg", size="#6").status_code == 400


def test_a_form_that_cannot_be_answered_says_why(get):
    page = get("/-/refdata/hole", size="#8", **{"for": "wood-screw", "in": "brass", "thickness": "1/16 in"})
    assert page.status_code == 400
    assert "too thin for the #8 head" in page.text and "a plate of at least" in page.text
    assert (
        "<script>"
        not in get("/-/refdata/clearance", size="<script>alert(1)</script>")
        .text.partition("<main")[2]
        .partition("</main")[0]
    )
    assert get("/-/refdata/clearnce").status_code == 404
    assert "Which #8 is it" in get("/-/refdata/screw", size="#8").text


@pytest.mark.parametrize("name", QUESTIONS)
def test_every_question_is_answered_in_its_form_and_as_json(get, name):
    arguments, options = EVERY_QUESTION[name]
    names = [parameter.name for parameter in load(name).question.parameters]
    asked = dict(zip(names, arguments)) | options
    page = get(f"/-/refdata/{name}", **asked)
    assert page.status_code == 200
    assert not asked or "The same answer as JSON" in page.text
    assert get(f"/-/refdata/{name}.json", **asked).json()["answers"]
