"""Standing: what a figure earns from the sources that agree with it, and what it does not."""

import csv
from fractions import Fraction
from types import SimpleNamespace

import pytest

from build_db.tables import ROOT
from build_db.witnesses import Evidence, standing, voices


def published(id, kind, ancestor=None, address=None):
    return SimpleNamespace(id=id, kind=kind, ancestor=ancestor, address=address)


SOURCES = [
    published("standard", "standard"),
    published("reprint", "handbook", "standard", "https://www.example.org/tables/"),
    published("reprint-next-column", "handbook", "another-standard", "http://example.org/tables"),
    published("copy-of-reprint", "maker", "reprint"),
    published("own-tests", "maker"),
    published("others-tests", "maker"),
    published("memory", "memory"),
    published("shop-rule", "practice"),
]


def says(source, kind="source"):
    return Evidence("t", "k", "c", "1.0", Fraction(1), "in", source, "p. 1", "1.0", True, kind, None, 1)


VOICES = voices(SOURCES)
MEASURED = SimpleNamespace(nature="measured")
DEFINED = SimpleNamespace(nature="defined")


def earned(primary, witnesses, model=MEASURED):
    return standing(model, primary, [says(one) for one in witnesses], VOICES)


@pytest.mark.parametrize(
    ("primary", "witnesses", "word"),
    [
        ("reprint", [], "single"),
        ("reprint", ["reprint"], "single"),
        ("reprint", ["copy-of-reprint"], "agreed"),
        ("reprint", ["copy-of-reprint", "own-tests"], "independent"),
        ("own-tests", ["reprint"], "independent"),
        ("own-tests", ["others-tests"], "agreed"),
        ("memory", [], "memory"),
        ("shop-rule", [], "practice"),
        ("memory", ["reprint"], "single"),
        ("reprint", ["shop-rule", "memory"], "single"),
    ],
)
def test_two_copies_of_one_ancestor_never_make_a_figure_independent(primary, witnesses, word):
    assert earned(primary, witnesses) == word


def test_one_document_under_two_ids_does_not_confirm_itself():
    assert earned("reprint", ["reprint-next-column"]) == "single"
    assert earned("reprint", ["reprint-next-column"], DEFINED) == "single"
    assert earned("reprint", ["reprint-next-column", "own-tests"]) == "independent"


def test_what_a_standard_defines_is_copied_faithfully_but_never_measured_again():
    assert earned("reprint", ["own-tests"], DEFINED) == "agreed"


def test_a_formula_is_the_best_witness():
    assert standing(DEFINED, "reprint", [says("own-tests", kind="formula")], VOICES) == "formula"


def test_an_estimate_lifts_nothing():
    assert standing(MEASURED, "reprint", [says("own-tests", kind="estimate")], VOICES) == "single"


def test_ancestors_are_followed_to_the_first_one():
    assert VOICES["copy-of-reprint"].root == "standard"


def test_every_disagreement_has_its_reason_and_is_marked_on_its_cell(database):
    rows = database.execute("SELECT table_name, row_key, column_name, reason FROM disagreements").fetchall()
    assert len(rows) > 50
    for table, key, column, reason in rows:
        assert len(reason) > 20
        marked = database.execute(
            "SELECT disputed FROM cells WHERE table_name = ? AND row_key = ? AND column_name = ?", (table, key, column)
        ).fetchone()
        assert marked == (1,)


def test_a_table_of_figures_has_second_sources(database):
    witnessed = {row[0] for row in database.execute("SELECT DISTINCT table_name FROM witnesses")}
    figures = {row[0] for row in database.execute("SELECT DISTINCT table_name FROM cells")}
    # a company's standard, no second document found; the others keep a row for every source
    assert figures - witnessed == {
        "counterbores_inch", "cutters", "cutting_speeds", "chip_loads", "drill_feeds", "cutting_power", "wheel_speeds",
    }  # fmt: skip


def test_no_source_stands_unused(database):
    """A source is cited by a row, a second source's file or another source, or by a formula in the code."""
    cited = {row[0] for row in database.execute("SELECT ancestor FROM sources")}
    for path in ROOT.glob("*/tables/**/*.csv"):
        if path.stem != "sources":
            cited |= {row.get("source") for row in csv.DictReader(path.open(encoding="utf-8"))}
    code = "".join(path.read_text() for path in ROOT.glob("**/*.py"))
    unused = [id for (id,) in database.execute("SELECT id FROM sources") if id not in cited and f'"{id}"' not in code]
    assert unused == []
