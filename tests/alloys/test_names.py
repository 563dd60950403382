"""Names as they stand on invoices, stamps and drawings: each resolves to its alloy, by a published cross reference."""

import pytest

import refdata
from refdata.alloys.naming import plain_name
from refdata.core import store

# British, German, Japanese, European, American and trade names; the alloy that the trade's cross references set beside
ON_INVOICES = {
    "C11000": ["ETP copper", "CW004A"],
    "C22000": ["CZ101", "CW501L"],
    "C23000": ["CZ102", "CW502L"],
    "C26000": ["CZ106", "CW505L", "70/30 brass"],
    "C27200": ["CW508L"],
    "C36000": ["CZ124", "CW603N"],
    "C38500": ["CZ121", "CW614N"],  # and not C36000
    "C46400": ["CZ112", "CW712R"],
    "C51000": ["PB102", "CW451K"],
    "C75200": ["CW409J", "NS106"],
    "C83600": ["85-5-5-5"],
    "C90500": ["gunmetal"],
    "C93200": ["SAE 660"],
    "A92011": ["FC1"],
    "A92024": ["2024-T3"],
    "A95083": ["3.3547"],
    "A96082": ["HE30", "3.2315"],
    "A97075": ["7075-T651"],
    "G10180": ["EN3B"],
    "G10450": ["S45C", "1.0503"],
    "G12144": ["12L14", "1.0718"],
    "G12150": ["EN1A", "1.0715"],
    "G41400": ["708M40", "SCM440", "1.7225"],
    "K02600": ["A36"],
    "S17400": ["1.4542", "17-4PH"],
    "S30300": ["1.4305", "303S31", "SUS303"],
    "S30400": ["1.4301", "304S15", "SUS304"],
    "S30403": ["1.4307"],
    "S31600": ["1.4401", "316S31", "SUS316"],
    "S31603": ["1.4404", "316L"],
    "S41600": ["1.4005"],
    "T30102": ["A2"],
    "T30402": ["1.2379", "D2"],
    "T31501": ["1.2510", "O1"],
    "N04400": ["2.4360"],
    "R56400": ["3.7165", "Ti-6Al-4V"],
}
NAMES = [(name, uns) for uns, names in ON_INVOICES.items() for name in names]


def test_there_are_sixty():
    assert len(NAMES) >= 60


@pytest.mark.parametrize(("name", "uns"), NAMES)
def test_it_resolves_by_a_published_cross_reference(name, uns):
    assert refdata.alloy(name).uns == uns
    bare = plain_name(name.partition("-T")[0])
    rows = store.select("SELECT n.name, source, locator, kind FROM alloy_names n JOIN sources s ON s.id = n.source"
                        " WHERE uns = ?", uns)  # fmt: skip
    cited = [row for row in rows if plain_name(row[0]) == bare]
    assert cited and all(locator and kind != "memory" for _, _, locator, kind in cited)


@pytest.mark.parametrize(
    ("name", "not_"), [("CZ121", "C36000"), ("commercial bronze", "C51000"), ("nickel silver 65-18", "P07020")]
)
def test_traps(name, not_):
    told = refdata.ask("alloy", name)
    assert not_ not in [one["uns"] for one in told["answers"]]


@pytest.mark.parametrize("name", ["CDA 316", "CDA 304", "AA 4140", "AISI 6061", "AISI 1100", "AISI 360"])
def test_a_system_of_numbers_has_its_own_metals(name):
    with pytest.raises(refdata.NotFound, match=f'there is no "{name}"'):
        refdata.alloy(name)


def test_a_number_of_two_metals_asks_wherever_a_metal_is_named():
    """630 is 17-4 in AISI's numbers and a nickel aluminium bronze in CDA's."""
    with pytest.raises(refdata.Ambiguous):
        refdata.spindle("1/4 in", in_="630")
    assert refdata.spindle("1/4 in", in_="steel").metal == "carbon steel"


def test_what_a_name_hides_is_said():
    assert "but a brass" in " ".join(refdata.alloy("commercial bronze").notes)
    assert "a nickel silver holds no silver" in refdata.alloy("nickel silver 65-18").notes
    assert "steels are numbered 50xx too" in " ".join(refdata.alloy("5052").notes)
    assert "A360 is an aluminium (A13600)" in refdata.alloy("360").notes


def test_303_and_304_are_not_one():
    """304 does not machine as 303 does, and 303 does not weld: sulphur (ASTM A582, A276)."""
    sulphur = {uns: refdata.alloy(uns).composition["S"] for uns in ("S30300", "S30400")}
    assert sulphur["S30300"]["min"].value >= 0.15 > 0.03 >= sulphur["S30400"]["max"].value


@pytest.mark.parametrize(
    ("said", "uns"),
    [
        ("6061T6", "A96061"), ("AL6061", "A96061"), ("6061-T651 plate", "A96061"), ("aluminum 6061-T6 bar", "A96061"),
        ("316 ss", "S31600"), ("ss316", "S31600"), ("1.4301 / 304", "S30400"), ("naval brass 464", "C46400"),
        ("464 naval brass", "C46400"), ("silicon bronze 655", "C65500"), ("half hard 260", "C26000"),
        ("4140 prehardened", "G41400"), ("EN 8", "G10450"), ("EN24T", "G43400"), ("CZ103", "C24000"),
        ("A2-70", "S30400"), ("A4-80", "S31600"), ("A2", "T30102"),
    ],
)  # fmt: skip
def test_names_as_an_order_writes_them(said, uns):
    assert refdata.alloy(said).uns == uns


def test_two_names_with_a_stroke_give_both_and_ask():
    with pytest.raises(refdata.Ambiguous) as several:
        refdata.alloy("304/304L")
    assert [one.uns for one in several.value.candidates] == ["S30400", "S30403"]


def test_mild_steel_is_not_every_carbon_steel():
    with pytest.raises(refdata.Ambiguous) as several:
        refdata.alloy("mild steel")
    told = {one.uns for one in several.value.candidates}
    assert {"G10100", "G10180", "K02600"} <= told and not {"G10450", "G10950", "G12144"} & told


def test_gunmetal_and_925_warn():
    assert any("LG2" in note for note in refdata.alloy("gunmetal").notes)
    assert any("sterling" in note for note in refdata.alloy("925").notes)
