"""The pages in a real browser (Debian's Chromium through Selenium), at desk and at phone width.

Without Chromium these tests are skipped, unless REFDATA_BROWSER=required.
"""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request

import pytest

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
}


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
    assert [entry for entry in severe if "favicon" not in entry["message"]] == []


def test_the_three_daily_questions_from_the_home_page(page):
    for field, asked, told in (("size", "#6", "#18"), ("gauge", "18", "0.0403"), ("name", "naval brass", "C46400")):
        driver = page("/")
        box = driver.find_element("name", field)
        box.send_keys(asked)
        box.submit()
        assert shows(driver, told)


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
    driver.find_element("css selector", "form.ask input[type=submit]").click()
    assert shows(driver, "0.078 in")
    drawing = driver.find_element("css selector", "img.drawing")
    assert driver.execute_script("return arguments[0].complete && arguments[0].naturalWidth > 0", drawing)
