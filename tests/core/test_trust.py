"""`trust`: standings that add up, and every figure that waits to be confirmed."""

import pytest

import refdata
from refdata.core import store
from refdata.core.trusting import STANDINGS

TABLES = refdata.trust()
# What a standard defines must be confirmed but for one figure in fifty
CONFIRMED = ("screws_inch", "screws_metric", "clearance_metric", "drills_inch", "drills_metric", "heads_metric")
# ... which these have not reached yet: what they have must not be lost
ONE_ROW_A_SOURCE = (
    "counterbores_inch", "cutters", "cutting_speeds", "chip_loads", "drill_feeds", "cutting_power", "wheel_speeds",
)  # fmt: skip
NOT_YET = {
    "threads_inch": 0.85,
    "threads_metric": 0.98,
    "thread_limits_inch": 0.96,
    "thread_limits_metric": 0.84,
    "heads_raised_inch": 0.70,
    "heads_raised_metric": 0.73,
    "nuts_inch": 0.93,
    "nuts_metric": 0.74,
    "washers_inch": 0.53,
    "washers_metric": 0.88,
    "wood_screws": 0.60,
    "heads_inch": 0.92,
    "gauges": 0.96,
    "clearance_inch": 0.90,
    "abrasive_grades": 0.79,
}


@pytest.mark.parametrize("one", TABLES, ids=[one.table for one in TABLES])
def test_the_six_standings_add_up_to_the_cells(one):
    assert sum(getattr(one, standing) for standing in STANDINGS) == one.cells
    assert one.cells == store.select("SELECT count(*) FROM cells WHERE table_name = ?", one.table)[0][0]
    assert 0 <= one.disputed <= one.cells


@pytest.mark.parametrize("one", TABLES, ids=[one.table for one in TABLES])
def test_every_table_says_what_it_was_compared_with(one):
    # a company's standard of counterbores has no second document; advice that differs from source to source keeps a row
    # for each of them
    assert one.compared_with or one.table in ONE_ROW_A_SOURCE
    assert (
        one.relations
        or one.kind == "measured"
        or one.table in ("countersink_angles", "sheet_tolerances", "alloy_limits")
    )


@pytest.mark.parametrize(("table", "least"), [*((table, 0.98) for table in CONFIRMED), *NOT_YET.items()])
def test_what_a_standard_defines_is_confirmed(table, least):
    assert refdata.trust(table).confirmed >= least


def test_no_figure_is_without_a_source_and_few_rest_on_memory():
    assert store.select("SELECT count(*) FROM cells WHERE source = '' OR locator = ''") == [(0,)]
    assert sum(one.memory for one in TABLES) / sum(one.cells for one in TABLES) < 0.01
    alloys = [one for one in TABLES if one.table.startswith("alloy")]
    assert sum(one.memory for one in alloys) / sum(one.cells for one in alloys) < 0.05


def test_one_table_lists_what_to_confirm_and_what_is_disputed():
    one = refdata.trust("clearance_metric")
    assert {d["key"] for d in one.disagreements} == {
        f"ISO 273 1979 {size} {fit}" for size in ("M12", "M14", "M16") for fit in ("normal", "loose")
    }
    assert all(len(d["reason"]) > 20 for d in one.disagreements)
    alloys = refdata.trust("alloy_properties")
    weak = alloys.single + alloys.practice + alloys.memory
    assert len(alloys.to_confirm) == weak > 0
    assert all(w["source"] and w["key"] and w["standing"] in STANDINGS[3:] for w in alloys.to_confirm)


def test_a_table_of_words_and_no_table_at_all():
    with pytest.raises(refdata.NotFound, match="holds words"):
        refdata.trust("alloys")
    with pytest.raises(refdata.NotUnderstood, match='no table "gauge"'):
        refdata.trust("gauge")


def test_the_relations_name_the_figures_that_they_vouch_for():
    vouched = store.select(
        "SELECT row_key FROM relations WHERE table_name = 'clearance_inch' AND holds = 'is larger than the screw'"
    )
    assert len(vouched) == 66
    assert refdata.trust("clearance_inch").relations["is larger than the screw"] == 66


def test_an_alloy_far_from_the_rule_of_mixtures_says_why():
    """The rule bounds a density within 3 %; naval brass and aluminium bronze shrink more than that on mixing."""
    apart = dict(store.select("SELECT row_key, reason FROM witnesses WHERE source = 'mixture-rule' AND NOT agrees"))
    assert "C46400 density" in apart and "shrink" in apart["C46400 density"]
    assert "C36000 density" not in apart
    # an estimate disputes nothing: no disagreement is told at the lookup
    assert "density" not in [one["key"] for one in refdata.ask("alloy", "C46400")["disagreements"]]
