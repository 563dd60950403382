"""Every test runs against a database built from the tables as they stand now."""

import sqlite3
from pathlib import Path

import pytest

import build_db
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
