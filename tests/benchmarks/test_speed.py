"""What is measured, not asserted: run `python -m pytest tests/benchmarks` and read the table.

Each group sets ours beside the yardstick of the same group, in one run on one machine.
"""

import asyncio
import os
import random
import sqlite3
import subprocess
import sys

import pytest
import yaml

import build_db
import refdata
from refdata.core import store
from refdata.doors.serve import metadata

SQL = "SELECT * FROM clearance_inch WHERE size = ? AND fit = ?"
LABELS = random.Random(18).choices(["16", "18", "20 ga", "22 gauge", "#24", "3/0"], k=1_000_000)


@pytest.fixture(scope="session")
def run(tmp_path_factory):
    """Run Python with compiled bytecode, as an installed command has it, whatever the shell says of writing it."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = str(tmp_path_factory.mktemp("bytecode"))
    return lambda *command: subprocess.run([sys.executable, *command], check=True, capture_output=True, env=environment)


@pytest.mark.benchmark(group="cold command")
def test_python_that_does_nothing(run, benchmark):
    benchmark.pedantic(run, ("-c", "pass"), rounds=15, warmup_rounds=2)


@pytest.mark.benchmark(group="cold command")
def test_refdata_clearance(run, benchmark):
    benchmark.pedantic(run, ("-m", "refdata", "clearance", "#6"), rounds=15, warmup_rounds=2)


@pytest.mark.benchmark(group="cold command")
def test_sqlite_utils_query_of_the_same_row(run, benchmark):
    query = ("-m", "sqlite_utils", "query", store.PATH, SQL.replace("?", "'#6'", 1).replace("?", "'normal'"))
    benchmark.pedantic(run, query, rounds=5, warmup_rounds=1)


@pytest.mark.benchmark(group="lookup")
def test_lookup_again(benchmark):
    refdata.clearance("#6")
    benchmark(refdata.clearance, "#6")


@pytest.mark.benchmark(group="lookup")
def test_lookup_for_the_first_time(benchmark):
    declared = refdata.clearance.question
    benchmark(lambda: declared.answers("#6").one())


@pytest.mark.benchmark(group="lookup")
def test_raw_indexed_select(benchmark):
    connection = sqlite3.connect(f"file:{store.PATH}?mode=ro", uri=True)
    benchmark(lambda: connection.execute(SQL, ("#6", "normal")).fetchone())


@pytest.mark.benchmark(group="a million gauge labels")
def test_thicknesses(benchmark):
    benchmark.pedantic(refdata.thicknesses, (LABELS,), {"metal": "brass"}, rounds=5, warmup_rounds=1)


@pytest.mark.benchmark(group="a million gauge labels")
def test_plain_dict_comprehension(benchmark):
    known = dict(zip(set(LABELS), [0.05] * len(set(LABELS))))
    benchmark.pedantic(lambda: {label: known[label] for label in LABELS}, rounds=5, warmup_rounds=1)


@pytest.mark.benchmark(group="build")
def test_build_of_all_tables(benchmark, tmp_path):
    benchmark.pedantic(build_db.build, (tmp_path / "refdata.db",), rounds=3)


@pytest.mark.benchmark(group="a layout of a hundred parts")
@pytest.mark.parametrize("cuts", ["free", "edge-to-edge"])
def test_nest_of_a_hundred_parts(benchmark, cuts):
    parts = "40 of 3 x 2 in; 30 of 5-1/2 x 1-1/4 in; 20 of 4 x 4 in; 10 of 8 x 3 in"
    ask = refdata.nest.question.answers
    found = benchmark.pedantic(
        lambda: ask(parts, length="48 in", width="24 in", kerf="0.04 in", margin="1/4 in", cuts=cuts), rounds=3
    )
    assert found.results[0].placed == 100


@pytest.mark.benchmark(group="a plan of a hole")
def test_plan_of_a_hole(benchmark):
    ask = refdata.hole.question.answers
    benchmark.pedantic(lambda: ask("#8", **{"for": "wood-screw", "in": "C46400", "thickness": "1/8 in"}), rounds=10)


def pages(with_plugin: bool):
    from datasette.app import Datasette
    from datasette.plugins import pm

    plugin = next((p for p in pm.get_plugins() if p.__name__ == "refdata.doors.browser"), None)
    if not with_plugin and plugin:
        pm.unregister(plugin)
    words = yaml.safe_load(metadata().read_text(encoding="utf-8")) if with_plugin else None
    site = Datasette([], immutables=[store.PATH], metadata=words, settings={"suggest_facets": False})
    loop = asyncio.new_event_loop()

    def fetch(path="/refdata/drills_inch"):
        page = loop.run_until_complete(site.client.get(path))
        assert page.status_code == 200

    def restore():
        if not with_plugin and plugin:
            pm.register(plugin, name="refdata")
        loop.close()

    return fetch, restore


@pytest.mark.benchmark(group="table page")
@pytest.mark.parametrize("ours", [True, False], ids=["ours", "bare Datasette"])
def test_table_page(benchmark, ours):
    fetch, restore = pages(ours)
    benchmark.pedantic(fetch, rounds=20, warmup_rounds=3)
    restore()


OUR_PAGES = {
    "search box": ("/-/refdata?say=8-32+clearance", "/refdata/clearance_inch"),
    "ambiguous": ("/-/refdata?say=360", "/refdata/alloy_names"),
    "hole with its drawing": (
        "/-/refdata/hole?size=%238&for=wood-screw&in=C46400&thickness=1/8+in",
        "/refdata/heads_inch",
    ),
    "alloy": ("/-/refdata/on/alloy/C36000", "/refdata/alloys"),
    "gauge system": ("/-/refdata/on/gauge/brown-sharpe", "/refdata/gauges"),
    "home": ("/", "/refdata/gauges"),
    "json": ("/-/refdata/clearance.json?size=%236", "/refdata/clearance_inch.json"),
}


@pytest.mark.benchmark(group="pages of ours")
@pytest.mark.parametrize("ours", [True, False], ids=["ours", "bare Datasette"])
@pytest.mark.parametrize("name", OUR_PAGES)
def test_page_of_ours(benchmark, name, ours):
    """A page of ours against Datasette's own page on the table that it is about, without our plugin."""
    fetch, restore = pages(ours)
    benchmark.pedantic(fetch, (OUR_PAGES[name][not ours],), rounds=20, warmup_rounds=3)
    restore()
