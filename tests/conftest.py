"""Every test runs against a database built from the tables as they stand now."""

import sqlite3
from pathlib import Path

import pytest

import build_db
import refdata
from build_db.database import data_version
from build_db.tables import ROOT
from refdata.core import store


def pytest_configure():
    if _built_version() != data_version(ROOT):
        build_db.build(Path(store.PATH))


def _built_version() -> str | None:
    if not Path(store.PATH).exists():
        return None
    with sqlite3.connect(f"file:{store.PATH}?mode=ro", uri=True) as connection:
        return connection.execute("SELECT data_version FROM build").fetchone()[0]


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
