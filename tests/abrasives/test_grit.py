"""`grit`: grades of every system by their grain, and the traps between the systems."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

import refdata
from refdata.abrasives.grit import SYSTEMS, read_grade
from refdata.core import store

ROWS = store.select("SELECT system, grade, median_grain_um FROM abrasive_grades")


@pytest.mark.parametrize(
    ("said", "system", "number"),
    [
        ("P400", "fepa-p", "400"), ("p 400", "fepa-p", "400"), ("FEPA P400", "fepa-p", "400"),
        ("F220", "fepa-f", "220"),
        ("CAMI 400", "cami", "400"), ("400 CAMI", "cami", "400"), ("ANSI 400 grit", "cami", "400"),
        ("JIS #400", "jis", "400"), ("J400", "jis", "400"), ("jis 1000", "jis", "1000"), ("#400", None, "400"),
        ("400 grit", None, "400"),
        ("600 grit sandpaper", None, "600"),
        ("grit 400", None, "400"), ("200 mesh", "mesh", "200"), ("mesh 200", "mesh", "200"),
        ("15 micron", "micron", "15"), ("15 µm", "micron", "15"), ("0.3 um", "micron", "0.3"),
    ],
)  # fmt: skip
def test_grades_as_people_say_them(said, system, number):
    grade = read_grade(said)
    assert (grade.system, grade.number) == (system, number)


@pytest.mark.parametrize("said", ["banana", "P", "P-", "400 bananas", "F4OO", "#", "grit"])
def test_what_is_no_grade(said):
    with pytest.raises(refdata.NotUnderstood, match="is not a grade"):
        refdata.grit(said)


@pytest.mark.parametrize(
    ("grade", "grain"), [("P12", 1815), ("P80", 201), ("P240", 58.5), ("P400", 35.0), ("P1200", 15.3), ("P2500", 8.4)]
)
def test_coated_grades(grade, grain):
    """FEPA 43 (ISO 6344), as printed by three documents of different hands; see `refdata trust abrasive_grades`."""
    assert refdata.grit(grade).median_grain.value == grain


def test_a_number_without_its_system_asks():
    with pytest.raises(refdata.Ambiguous, match="Which 400 is it: P400, F400, cami 400, jis #400, mesh 400"):
        refdata.grit("400")
    assert refdata.grit("400", system="fepa-f").grade == "F400"


def test_400_in_cami_is_near_p800_and_not_p400():
    found = refdata.grit("CAMI 400")
    assert found.nearest["fepa-p"] == "P800"
    assert found.median_grain.value < refdata.grit("P400").median_grain.value / 1.4


def test_to_keeps_to_one_system():
    assert set(refdata.grit("P400", to="cami").nearest) == {"cami"}
    assert refdata.grit("P400", to="cami").nearest == {"cami": "320"}


def test_the_basis_of_measurement_is_told():
    assert refdata.grit("P220").basis == "sieve"
    assert refdata.grit("P240").basis == "sedimentation"
    assert refdata.grit("JIS 400").basis == "electrical resistance"
    assert refdata.grit("100 mesh").basis == "sieve opening"


def test_what_is_not_there_names_its_neighbours():
    with pytest.raises(refdata.NotFound) as told:
        refdata.grit("P410")
    assert "P400" in told.value.nearest
    with pytest.raises(refdata.NotFound):
        refdata.grit("P400", system="cami")


@given(st.sampled_from(ROWS))
def test_the_nearest_grade_of_a_system_is_no_further_than_a_quarter(row):
    system, grade, grain = row
    found = refdata.grit(grade, system=system)
    assert found.median_grain.value == grain
    assert system not in found.nearest
    for near in found.nearest_grain.values():
        assert 0.8 <= near.value / grain <= 1.25


@given(st.integers(1, 2000))
def test_a_micron_grade_is_its_own_size(size):
    found = refdata.grit(f"{size} micron")
    assert (found.median_grain.value, found.median_grain.unit) == (size, "um")
    assert set(found.nearest) <= set(SYSTEMS)


def test_grades_get_finer_in_every_system():
    for system in ("fepa-p", "fepa-f", "cami", "jis", "mesh"):
        grains = [grain for one, _, grain in ROWS if one == system]
        assert grains == sorted(grains, reverse=True), system
        assert len(grains) > 15
