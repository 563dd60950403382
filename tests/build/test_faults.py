"""A row broken in each of many ways gives one clear line, and the old database is untouched."""

import shutil

import pytest

import build_db
from build_db.__main__ import main
from build_db.faults import Faults
from build_db.tables import ROOT


@pytest.fixture
def tables(tmp_path):
    """A copy of the curated tables that a test may break."""
    for folder in ROOT.glob("*/tables"):
        shutil.copytree(folder, tmp_path / folder.relative_to(ROOT))
    return tmp_path


def faults_of(tables, out=None):
    with pytest.raises(Faults) as caught:
        build_db.build(out, tables)
    return [str(fault) for fault in caught.value.faults]


def change(path, old, new, count=1):
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, count), encoding="utf-8")


SPOILED = {
    "wrong unit": (
        "holes/tables/clearance_inch.csv", "diameter_in,", "diameter_mm,",
        "holes/tables/clearance_inch.csv:1: diameter_mm: is not a column of this table; the unit of this table is in"
        " diameter_in",
    ),
    "missing source": (
        "sheet/tables/gauges.csv", ",usc-15-206-casetext,", ",,",
        ": source: is blank; every row needs it",
    ),
    "text in a number": (
        "holes/tables/clearance_inch.csv", "#6,normal,0.17,", '#6,normal,"0,149",',
        'diameter_in: "0,149" is not a number',
    ),
    "duplicate key": (
        "holes/tables/drills_inch.csv", "number,#96,", "number,#97,",
        'name: "#97" stands already in line 2; keys are unique',
    ),
    "reference to nothing": (
        "holes/tables/clearance_inch.csv", ",#18,", ",#118,",
        'drill: "#118" is not in drills_inch (name), which has #18',
    ),
    "not monotonic": (
        "holes/tables/clearance_inch.csv", "#6,normal,0.17,", "#6,normal,0.12,",
        "diameter_in: 0.12 is not above 0.156, the value of the row before",
    ),
    "witness mismatch": (
        "sheet/tables/gauges.csv", "birmingham,18,0.049,", "birmingham,18,0.050,",
        'has 0.049 in for "birmingham 18", the table 0.050; correct the wrong one, or list it in disputes.csv',
    ),
    "bad UNS": (
        "alloys/tables/alloys.csv", "C36000,", "C36O00,",
        'uns: "C36O00" is not a UNS number: a capital letter and five digits, as C36000',
    ),
    "blank key": (
        "alloys/tables/alloys.csv", "C36000,", ",",
        "uns: is blank; every row needs it",
    ),
    "stray column": (
        "alloys/tables/alloys.csv", "uns,name,", "uns,colour,name,",
        "alloys/tables/alloys.csv:1: colour: is not a column of this table; the columns are uns, name, family",
    ),
    "a line cut short": (
        "holes/tables/screws_metric.csv", "M4,4.000,", "M4,",
        "has not the 4 cells of the header",
    ),
    "a word that is not a choice": (
        "holes/tables/clearance_metric.csv", ",M4,normal,", ",M4,snug,",
        'fit: "snug" is not allowed; one of close, normal, loose',
    ),
    "a number out of bounds": (
        "holes/tables/drills_inch.csv", "number,#97,0.0059", "number,#97,-0.0059",
        "diameter_in: -0.0059 is out of bounds; allowed is > 0",
    ),
    "against its formula": (
        "sheet/tables/gauges.csv", "brown-sharpe,18,0.0403,", "brown-sharpe,18,0.0413,",
        'awg-formula has 0.0403027 in for "brown-sharpe 18", the table 0.0413; correct the wrong one',
    ),
    "a hole smaller than its screw": (
        "holes/tables/clearance_metric.csv", "M1.6,close,1.7,", "M1.6,close,1.6,",
        "diameter_mm: 1.6 is not above the M1.6 screw",
    ),
    "a unit of something else": (
        "alloys/tables/alloy_properties.csv", "C36000,density,0.307,lb/in3", "C36000,density,0.307,degF",
        "unit: degF is not a unit of density",
    ),
    "an unknown source": (
        "holes/tables/screws_inch.csv", ",machinerys-handbook-31-b1.1,", ",handbook-on-the-shelf,",
        'source: "handbook-on-the-shelf" is not in sources (id)',
    ),
    "a dispute that is gone": (
        "holes/tables/disputes.csv", "M12 normal,diameter_mm,bd-warehouse", "M10 normal,diameter_mm,bd-warehouse",
        'no longer disputes diameter_mm of clearance_metric "ISO 273 1979 M10 normal": take the line out',
    ),
}  # fmt: skip


@pytest.mark.parametrize("how", SPOILED)
def test_a_spoiled_table_is_told_in_one_clear_line(how, tables, tmp_path):
    file, old, new, says = SPOILED[how]
    out = tmp_path / "old.db"
    out.write_bytes(b"the old database")
    change(tables / file, old, new)
    told = faults_of(tables, out)
    assert any(says in line for line in told), "\n".join(told)
    assert all("\n" not in line and ".csv:" in line for line in told)
    assert out.read_bytes() == b"the old database"
    assert [path.name for path in tmp_path.glob(".refdata-*")] == []


def test_all_faults_are_told_at_once(tables):
    for how in ("missing source", "text in a number", "bad UNS", "stray column"):
        file, old, new, _ = SPOILED[how]
        if how != "stray column":
            change(tables / file, old, new)
    told = faults_of(tables)
    files = {line.split(":")[0] for line in told}
    assert {"sheet/tables/gauges.csv", "holes/tables/clearance_inch.csv", "alloys/tables/alloys.csv"} <= files


def test_the_command_prints_them_and_exits_with_1(monkeypatch, tables, capsys, tmp_path):
    change(tables / "alloys/tables/alloys.csv", "C36000,", "C36O00,")
    monkeypatch.setattr("build_db.__main__.build", lambda out: build_db.build(out, tables))
    assert main(["--out", str(tmp_path / "new.db")]) == 1
    told = capsys.readouterr().err.splitlines()
    assert told[-1].endswith("fault(s); nothing was written")
    assert any("is not a UNS number" in line for line in told)
    assert not (tmp_path / "new.db").exists()


def test_check_writes_nothing(monkeypatch, tables, capsys):
    before = {path: path.read_bytes() for path in tables.rglob("*") if path.is_file()}
    monkeypatch.setattr("build_db.__main__.build", lambda out: build_db.build(out, tables))
    assert main(["--check"]) == 0
    assert "checked" in capsys.readouterr().out
    assert {path: path.read_bytes() for path in tables.rglob("*") if path.is_file()} == before
