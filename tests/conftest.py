"""Every test runs against a database built from the tables as they stand now."""

import sqlite3
from pathlib import Path

import pytest

import build_db
import refdata
from refdata.core import store

# an example of every question: its arguments and options, as people write them
EVERY_QUESTION = {
    "clearance": (["#6"], {}),
    "drill": (["#18"], {}),
    "screw": (["1 in"], {}),
    "thread": (["1/4-20"], {"tolerance": "2B"}),
    "tap": (["1/4-20"], {"depth": "1/2 in"}),
    "countersink": (["1 in"], {}),
    "ball-seat": (["#8"], {"standard": "B18.3", "ball": "1/2 in"}),
    "hole": (["#8"], {"for": "wood-screw", "in": "C46400", "thickness": "1/8 in"}),
    "pattern": (["row"], {"x": "1 in", "y": "1 in", "holes": "3", "pitch": "1 in"}),
    "grit": (["P400"], {}),
    "weight": (["plate"], {"in": "C36000", "length": "12 in", "width": "6 in", "thickness": "1/8 in"}),
    "pieces": (["36 in"], {"piece": "3.5 in", "kerf": "0.045 in"}),
    "register": (["6 in"], {"width": "4 in", "margin": "1/4 in", "kerf": "0.04 in"}),
    "nest": (["4 of 3 x 2 in"], {"length": "12 in", "width": "12 in", "kerf": "0.04 in"}),
    "spindle": (["1/2 in"], {"in": "C36000"}),
    "passes": (["1/4 in"], {"step": "0.1 in", "cutter": "3/8 in"}),
    "stops": (["1.25 in"], {"width": "0.75 in", "cutter": "0.3725 in"}),
    "match": (["part, length; A, 2.001; B, 2.003"], {"unit": "in"}),
    "growth": (["C36000"], {"length": "10 in", "from": "68 F", "to": "572 F"}),
    "heat": (["C36000"], {"mass": "0.5 kg", "to": "680 C"}),
    "lap": (["0.05 in"], {"strength": "70 ksi"}),
    "filler-quantity": (["2 in"], {"lap": "0.25 in", "gap": "0.003 in", "wire": "1/16 in"}),
    "ladder": (["P120"], {"to": "P400"}),
    "wheel": (["8 in"], {"speed": "3450 rpm"}),
    "gauge": (["18 ga brass"], {}),
    "alloy": (["C36000"], {}),
    "alloys": ([], {"family": "brass", "where": "lead <= 0.1 %"}),
    "compare": (["C36000", "C46400"], {}),
    "substitute": (["C36000"], {}),
    "identify": (["301 g"], {"in_water": "265.7 g"}),
    "convert": (["3/16 in", "mm"], {}),
    "find": (["naval brass"], {}),
    "source": (["bd-warehouse-0.4.0"], {}),
    "trust": (["gauges"], {}),
}


def pytest_configure():
    build_db.build(Path(store.PATH))  # tables, models, words or build code may have changed


@pytest.fixture
def database():
    connection = sqlite3.connect(f"file:{store.PATH}?mode=ro", uri=True)
    yield connection
    connection.close()


@pytest.fixture
def one_clear_line():
    """Ask by name; the question must be refused in one line that says why. An argument of None is left out."""

    def ask(name: str, asked: dict, says: str) -> None:
        given = {key: value for key, value in asked.items() if value is not None}
        with pytest.raises(LookupError, match=says) as told:
            getattr(refdata, name)(**given)
        assert "\n" not in str(told.value)

    return ask
