"""The database file: reproducible, written in one step, strict about what it holds."""

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

import build_db
from build_db.database import clear_drafts, data_version
from build_db.tables import ROOT
from refdata.core import store


def test_two_builds_are_the_same_bytes(tmp_path):
    build_db.build(tmp_path / "again.db")  # the tests have built the first one
    assert (tmp_path / "again.db").read_bytes() == Path(store.PATH).read_bytes()


def test_a_kill_at_any_moment_leaves_the_old_file_or_the_new_one(tmp_path):
    old, new = b"the old database", Path(store.PATH).read_bytes()

    def build(out: Path, patience: float | None) -> bytes:
        out.write_bytes(old)
        process = subprocess.Popen(
            [sys.executable, "-m", "build_db", "--out", str(out)], cwd=ROOT.parent, stdout=subprocess.DEVNULL
        )
        try:
            process.wait(patience)
        except subprocess.TimeoutExpired:
            os.kill(process.pid, signal.SIGKILL)
            process.wait()
        return out.read_bytes()

    begun = time.monotonic()
    assert build(tmp_path / "whole.db", None) == new
    whole = time.monotonic() - begun
    chance = random.Random(20)
    delays = [0.2, *(chance.uniform(0.5, 1.05) * whole for _ in range(6))]
    folders = [tmp_path / str(at) for at in range(len(delays))]  # two at a time, each in its own
    for folder in folders:
        folder.mkdir()
    with ThreadPoolExecutor(2) as pool:
        outcomes = set(pool.map(build, [folder / "refdata.db" for folder in folders], delays))
    assert old in outcomes <= {old, new}


def test_what_a_killed_build_left_is_cleared_by_a_later_one(tmp_path):
    stale, running = tmp_path / ".refdata-stale", tmp_path / ".refdata-running"
    for folder in (stale, running):
        folder.mkdir()
        (folder / "draft.db").write_bytes(b"half")
    os.utime(stale, (time.time() - 3600,) * 2)
    clear_drafts(tmp_path)
    assert not stale.exists() and running.exists()


def test_the_file_is_sound_and_knows_what_it_is(database):
    assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert database.execute("PRAGMA foreign_key_check").fetchall() == []
    assert database.execute("PRAGMA application_id").fetchone()[0] == 0x53524546
    version, tables, cells = database.execute("SELECT data_version, tables, cells FROM build").fetchone()
    assert version == data_version(ROOT)
    assert tables == database.execute("SELECT count(*) FROM tables").fetchone()[0]
    assert cells == database.execute("SELECT count(*) FROM cells").fetchone()[0]


def test_every_table_is_strict(database):
    strict = {row[1]: row[5] for row in database.execute("PRAGMA table_list") if row[2] == "table" and row[0] == "main"}
    own = {name for name in strict if not name.startswith(("sqlite_", "labels_fts"))}
    assert own >= {"clearance_inch", "cells", "witnesses", "sources", "relations", "build"}
    assert [name for name in own if not strict[name]] == []


@pytest.mark.parametrize(
    "wrong",
    [
        "UPDATE clearance_inch SET diameter_in = 'wide'",
        "UPDATE clearance_inch SET diameter_in = -1",
        "UPDATE clearance_inch SET fit = 'snug'",
        "UPDATE clearance_inch SET source = NULL",
        "UPDATE clearance_inch SET source = 'nobody'",
        "UPDATE clearance_inch SET drill = '#118'",
        "UPDATE cells SET standing = 'certain'",
        "UPDATE alloy_compositions SET max_pct = 101",
        "INSERT INTO drills_inch SELECT * FROM drills_inch LIMIT 1",
    ],
)
def test_the_database_itself_refuses_what_the_row_models_refuse(tmp_path, wrong):
    copy = tmp_path / "copy.db"
    copy.write_bytes(Path(store.PATH).read_bytes())
    connection = sqlite3.connect(copy)
    connection.execute("PRAGMA foreign_keys = ON")
    with pytest.raises(sqlite3.IntegrityError):
        connection.execute(wrong)
    connection.close()


def test_every_typed_figure_is_a_cell_with_unit_source_locator_and_standing(database):
    for table, columns in {
        "clearance_inch": ["diameter_in", "diameter_max_in"],
        "gauges": ["thickness_in", "weight_lb_per_ft2"],
        "alloy_properties": ["value"],
    }.items():
        for column in columns:
            filled = database.execute(f"SELECT count(*) FROM {table} WHERE {column} IS NOT NULL").fetchone()[0]
            cells = database.execute(
                "SELECT count(*) FROM cells WHERE table_name = ? AND column_name = ? AND unit <> '' AND source <> ''"
                " AND locator <> '' AND standing <> ''",
                (table, column),
            ).fetchone()[0]
            assert filled == cells > 0


def test_a_cell_keeps_the_figure_as_printed(database):
    (printed, value) = database.execute(
        "SELECT printed, value FROM cells WHERE table_name = 'gauges' AND row_key = 'brown-sharpe 20'"
    ).fetchone()
    assert (printed, value) == ("0.0320", 0.032)


def test_units_of_every_column_are_told(database):
    told = dict(database.execute("SELECT name, unit FROM columns WHERE table_name = 'clearance_inch'"))
    assert told["diameter_in"] == "in"
    assert told["fit"] is None
    undescribed = database.execute("SELECT count(*) FROM columns WHERE description = ''").fetchone()[0]
    assert undescribed == 0
