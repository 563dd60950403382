"""The pages in a real browser (Debian's Chromium through Selenium), at desk and at phone width.

Without Chromium these tests are skipped, unless REFDATA_BROWSER=required.
"""

import base64
import importlib.util
import io
import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest
from pypdf import PdfReader

CHROMIUM = shutil.which("chromium")
DRIVER = shutil.which("chromedriver")
REQUIRED = os.environ.get("REFDATA_BROWSER") == "required"
pytestmark = pytest.mark.skipif(
    not REQUIRED and not (CHROMIUM and DRIVER), reason="no Chromium here: apt-get install chromium chromium-driver"
)
FLAGS = [
    *("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
]
PAGES = {
    "home": "/",
    "table": "/refdata/clearance_inch",
    "row": "/refdata/clearance_inch/ASME~20B18~2E2~2E8~201999~20~28R2017~29~20~236~20normal",
    "query": "/refdata/clearance?size=%236",
    "figure": "/refdata/figure?table_name=gauges&row_key=manufacturers+10&column_name=thickness_in",
    "tables": "/refdata",
    "hole": "/-/refdata/hole?size=%238&for=wood-screw&in=C46400&thickness=1/8+in&edge=5/16+in",
    "nest": "/-/refdata/nest?parts=12+of+4+x+1-1/2+in&length=24+in&width=12+in&kerf=0.04+in",
    "match": "/-/refdata/match?parts=part,length;A,2.001;B,2.003;C,2.012&unit=in",
    "said": "/-/refdata?say=18+ga+brass",
    "ambiguous": "/-/refdata?say=360",
    "nothing": "/-/refdata?say=banana",
    "alloy": "/-/refdata/on/alloy/C36000",
    "alloys": "/-/refdata/on/alloy",
    "screw": "/-/refdata/on/screw/~238",
    "gauge": "/-/refdata/on/gauge/brown-sharpe",
    "gauges": "/-/refdata/on/gauge",
    "screws": "/-/refdata/on/screw",
    "grades": "/-/refdata/on/grade",
    "grade": "/-/refdata/on/grade/P400",
    "compare": "/-/refdata/compare?first=C36000&second=C46400&third=316",
    "form": "/-/refdata/weight",
}
# our own pages, without Datasette's parts, which axe finds fault with on its own
OURS = [name for name, path in PAGES.items() if path == "/" or path.startswith("/-/refdata")]
# answered with 400 and a page that says why
REFUSED = ("nothing",)


@pytest.fixture(scope="module")
def site():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    server = subprocess.Popen(
        [sys.executable, "-m", "refdata", "serve", "--port", str(port)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    address = f"http://127.0.0.1:{port}"
    for _ in range(100):
        try:
            urllib.request.urlopen(f"{address}/-/refdata.json", timeout=1)
            break
        except OSError:
            assert server.poll() is None, "the server ended"
            time.sleep(0.2)
    yield address
    server.terminate()
    server.wait(10)


def browser(width: int, profile):
    from selenium import webdriver
    from selenium.webdriver.chrome.service import Service

    assert CHROMIUM and DRIVER, "Chromium and its driver are required here"
    options = webdriver.ChromeOptions()
    options.binary_location = CHROMIUM
    for flag in [*FLAGS, f"--window-size={max(width, 500)},900", f"--user-data-dir={profile}"]:
        options.add_argument(flag)
    if width < 500:
        metrics = {"width": width, "height": 844, "pixelRatio": 1.0}
        options.add_experimental_option("mobileEmulation", {"deviceMetrics": metrics})
    return webdriver.Chrome(options=options, service=Service(DRIVER))


@pytest.fixture(scope="module", params=[1280, 390], ids=["desk", "phone"])
def page(request, site, tmp_path_factory):
    driver = browser(request.param, tmp_path_factory.mktemp("profile"))

    def open_(path):
        driver.get(site + path)
        return driver

    yield open_
    driver.quit()


def text(driver) -> str:
    return driver.execute_script("return document.body.innerText")


def shows(driver, words: str) -> bool:
    """Whether the page comes to show these words, within ten seconds."""
    until = time.monotonic() + 10
    while time.monotonic() < until:
        if words in text(driver):
            return True
        time.sleep(0.1)
    return False


@pytest.mark.parametrize("name", PAGES)
def test_no_page_scrolls_sideways_and_none_breaks(page, name):
    driver = page(PAGES[name])
    wide, shown = driver.execute_script("return [document.documentElement.scrollWidth, window.innerWidth]")
    assert wide <= shown
    assert "Traceback" not in text(driver)
    assert "Check against the standard" in text(driver)
    severe = [entry for entry in driver.get_log("browser") if entry["level"] == "SEVERE"]
    assert name in REFUSED or [entry for entry in severe if "favicon" not in entry["message"]] == []


@pytest.mark.parametrize(
    ("asked", "large", "told"),
    [
        ("8-32 clearance", "0.196 in", "#9"),
        ("18 ga brass", "0.0403 in", "brown-sharpe"),
        ("C46400", "0.304", "naval brass"),
    ],
)
def test_the_three_daily_questions_from_the_search_box(page, asked, large, told):
    driver = page("/")
    box = driver.find_element("name", "say")
    box.send_keys(asked)
    box.submit()
    assert shows(driver, told)
    figure = driver.find_element("css selector", ".big .figures")
    assert large in figure.text
    assert float(figure.value_of_css_property("font-size").removesuffix("px")) >= 32
    assert driver.find_element("css selector", ".big .other").text


def test_an_ambiguous_question_shows_every_reading_and_asks(page):
    driver = page("/-/refdata?say=360")
    assert "which is meant?" in text(driver)
    assert {card.get_attribute("aria-label") for card in driver.find_elements("css selector", ".card")} == {
        "Alloy",
        "Grit",
    }
    assert "Which 360 is it" in text(driver)


def test_an_answer_leads_to_its_source_and_its_json(page):
    driver = page("/-/refdata?say=8-32+clearance")
    driver.find_element("css selector", ".big a.figure").click()
    assert shows(driver, "Who says so")
    driver = page("/-/refdata?say=8-32+clearance")
    driver.find_element("css selector", ".as-json a").click()
    assert shows(driver, '"data_version"')


def test_alloys_side_by_side(page):
    driver = page("/-/refdata/compare?first=C36000&second=C46400")
    assert "differs" in text(driver)
    assert "Caution. Lead (up to 3 %)" in text(driver)


def test_by_keyboard_alone(page):
    from selenium.webdriver.common.keys import Keys

    driver = page("/")
    active = driver.switch_to.active_element
    active.send_keys("/")
    assert driver.switch_to.active_element.get_attribute("id") == "say"
    driver.switch_to.active_element.send_keys("P400", Keys.ENTER)
    assert shows(driver, "median grain by sedimentation")  # words that only the answer's page has
    driver.switch_to.active_element.send_keys(Keys.TAB)
    skip = driver.switch_to.active_element
    assert skip.text == "Skip to the answer" and skip.rect["x"] >= 0
    for _ in range(6):
        driver.switch_to.active_element.send_keys(Keys.TAB)
        focused = driver.switch_to.active_element
        outline = focused.value_of_css_property("outline-style"), focused.value_of_css_property("outline-width")
        assert outline[0] != "none" and outline[1] != "0px", focused.get_attribute("outerHTML")


def test_what_was_asked_is_at_hand_on_the_home_page(page):
    page("/-/refdata?say=18+ga+brass")
    driver = page("/")
    assert "18 ga brass" in [link.text for link in driver.find_elements("css selector", "#recent a")]


def test_dark_where_the_machine_is_dark(page):
    driver = page("/")
    light = driver.find_element("tag name", "body").value_of_css_property("background-color")
    scheme = {"features": [{"name": "prefers-color-scheme", "value": "dark"}]}
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", scheme)
    driver = page("/-/refdata?say=8-32+clearance")
    dark = driver.find_element("tag name", "body").value_of_css_property("background-color")
    assert _brightness(dark) < 60 < 200 < _brightness(light)
    found = faults(driver)
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})
    assert found == []


def _brightness(colour: str) -> float:
    numbers = [float(part) for part in colour[colour.index("(") + 1 : -1].split(",")[:3]]
    return sum(numbers) / 3


def test_an_answer_prints_on_one_page(page):
    driver = page("/-/refdata?say=8-32+clearance")
    pages = PdfReader(io.BytesIO(base64.b64decode(driver.print_page()))).pages
    assert len(pages) == 1
    assert "0.196 in" in pages[0].extract_text()


def faults(driver) -> list[str]:
    """What axe-core finds serious on the page, by the rules of WCAG 2.2 A and AA."""
    folder = importlib.util.find_spec("axe_playwright_python").submodule_search_locations[0]
    driver.execute_script(Path(folder, "axe.min.js").read_text(encoding="utf-8"))
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
    found = driver.execute_async_script(
        "axe.run({runOnly: arguments[0]}).then(arguments[arguments.length - 1])", tags
    )  # fmt: skip
    return [
        f"{one['id']}: {node['html'][:120]}"
        for one in found["violations"]
        if one["impact"] in ("serious", "critical")
        for node in one["nodes"]
    ]


@pytest.mark.parametrize("name", OURS)
def test_axe_finds_nothing_serious(page, name):
    if not REQUIRED and importlib.util.find_spec("axe_playwright_python") is None:
        pytest.skip("axe-core is not here: the README's second command brings it")
    assert faults(page(PAGES[name])) == []


@pytest.mark.parametrize("name", OURS)
def test_targets_are_large_enough_for_a_thumb(page, name):
    """WCAG 2.2, 2.5.8: 24 by 24 CSS pixels; links within a sentence are exempt."""
    driver = page(PAGES[name])
    small = driver.execute_script(
        "return [...document.querySelectorAll('button, input, select, .chips a, .say button, .card h2 a, .as-json a')]"
        ".map(e => [e.outerHTML.slice(0, 80), e.getBoundingClientRect()])"
        ".filter(([_, r]) => r.width > 0 && (r.width < 24 || r.height < 24)).map(([h]) => h)"
    )
    assert small == []


def test_a_number_leads_to_who_says_so_in_one_step(page):
    driver = page("/refdata/gauges?system=manufacturers&gauge=10")
    driver.find_element("css selector", "a.figure").click()
    assert shows(driver, "Who says so")
    assert shows(driver, "Misprint in the handbook")


def test_blanks_are_dashes_and_headings_have_units(page):
    driver = page("/refdata/clearance_inch")
    assert "–" in {cell.text for cell in driver.find_elements("css selector", "td .blank")}
    headings = {cell.get_attribute("data-heading") for cell in driver.find_elements("css selector", "td")}
    assert {"diameter (in)", "diameter max (in)", "where in the source"} <= headings


def test_figures_stand_aligned_at_the_desk(page):
    driver = page("/refdata/drills_inch")
    if driver.execute_script("return window.innerWidth") > 576:
        cells = driver.find_elements("css selector", "td.figures")[:20]
        right = {round(cell.rect["x"] + cell.rect["width"]) for cell in cells}
        assert len(right) == 1
        assert {cell.value_of_css_property("text-align") for cell in cells} == {"right"}


def test_a_question_is_asked_in_its_form_and_answered_with_its_drawing(page):
    driver = page("/-/refdata/hole")
    for name, said in (("size", "#8"), ("in", "naval brass, uninhibited"), ("thickness", "1/8 in")):
        driver.find_element("name", name).send_keys(said)
    driver.find_element("xpath", "//select[@name='for']/option[text()='wood-screw']").click()
    driver.find_element("css selector", "form.ask button").click()
    assert shows(driver, "0.078 in")
    drawing = driver.find_element("css selector", "img.drawing")
    assert driver.execute_script("return arguments[0].complete && arguments[0].naturalWidth > 0", drawing)
