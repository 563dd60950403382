"""`alloys`, `compare`, `substitute`, `identify`."""

import random

import pytest

import refdata
from refdata.core.units import convert


def test_conditions_hold_and_what_is_not_specified_stands_apart():
    found = refdata.alloys(family="brass", where="density < 8.5 g/cm3; lead <= 0.1 %")
    sure = [one for one in found if not one.not_specified]
    assert {"C28000", "C87500"} <= {one.uns for one in sure}
    assert all(one.values["density"][0].to("g/cm3").value < 8.5 for one in sure)
    assert all(one.values["Pb"][0].value <= 0.1 for one in sure)
    unsure = [one for one in found if one.not_specified]
    assert found == [*sure, *unsure]
    assert {one.uns: one.not_specified for one in unsure}["C27200"] == ["Pb"]


def test_the_least_and_the_most_of_an_element():
    """C36000 has 2.5 to 3.0 % lead: it has at least 2.5, and not surely at most 2.9."""
    assert "C36000" in [one.uns for one in refdata.alloys(where="lead >= 2.5 %")]
    assert "C36000" not in [one.uns for one in refdata.alloys(where="lead <= 2.9 %")]


def test_units_of_a_condition_are_converted():
    metric, inch = (
        [one.uns for one in refdata.alloys(where=where) if not one.not_specified]
        for where in ("density < 3 g/cm3", "density < 0.10838 lb/in3")
    )
    assert metric == inch and "A96061" in metric


def test_the_command_line_takes_a_condition_more_than_once(capsys):
    from refdata.doors.command import main

    assert main(["alloys", "--family", "brass", "--where", "density < 8.5 g/cm3", "--where", "lead <= 0.1 %"]) == 0
    assert "C28000" in capsys.readouterr().out


def test_side_by_side_marks_what_differs():
    lines = {line.column: line for line in refdata.compare("C36000", "C46400")}
    assert lines["Pb"].differs and lines["machinability"].differs
    assert not lines["solidus"].differs
    assert len(lines["Sn"].values) == 2
    assert any("Lead (up to 3 %)" in text for text in lines["Pb"].cautions)


def test_two_scales_of_machinability_are_not_compared():
    line = next(line for line in refdata.compare("C36000", "303") if line.column == "machinability")
    assert not line.differs
    assert "cannot be compared" in line.notes[0]


def test_a_substitute_says_what_changes_and_why():
    near = refdata.substitute("C36000")
    assert len(near) == 5 and near[0].uns == "C35300"
    assert any("machines worse" in change for one in near for change in one.changes)
    distances = [one.composition_apart.value for one in near]
    assert distances == sorted(distances)


def test_what_changes_holds_for_the_metal():
    """Nickel whitens copper, not stainless; zinc yellows copper, not aluminium; 5086 cannot carry what 7075 does."""
    stainless = {change for one in refdata.substitute("316") for change in one.changes}
    assert any("pits sooner in salt" in change for change in stainless)
    assert not any("white" in change or "tarnish" in change for change in stainless)
    aluminium = {one.uns: one.changes for one in refdata.substitute("7075")}
    assert not any("yellow" in change for changes in aluminium.values() for change in changes)
    assert "tensile on file up to 47 ksi against 83" in aluminium["A95086"]


def test_stainless_that_is_alike_on_paper_differs_beside_a_weld_and_on_the_wheel():
    """Source: Stainless Steel Advisory Service, sheet 2.25 (316L and 316Ti resist alike what takes 316 beside a weld),
    and for the polish the pharmaceutical lexicon of table alloy_ratings."""
    of_316l = {one.uns: one.changes for one in refdata.substitute("316L")}
    assert of_316l["S31600"] == ["more free carbon: rusts sooner beside a weld"]
    assert of_316l["S31635"] == ["titanium: its hard carbides mar a mirror polish"]
    of_316 = {one.uns: one.changes for one in refdata.substitute("316")}
    assert "little free carbon: rusts less beside a weld" in of_316["S31603"]
    assert not any("weld" in change for one in refdata.substitute("410") for change in one.changes if "free" in change)


def test_less_beryllium_is_not_none():
    """C17510 holds 0.2 to 0.6 % beryllium: its dust is as dangerous as that of C17200."""
    changes = {one.uns: "; ".join(one.changes) for one in refdata.substitute("C17200")}
    assert "less beryllium" in changes["C17510"] and "no beryllium" not in changes["C17510"]
    assert "no beryllium" in changes["C11000"]


def test_compare_keeps_to_the_temper_that_was_named():
    lines = {line.column: line for line in refdata.compare("6061-T6", "6061-T4")}
    assert list(lines["tensile_strength"].values) == ["A96061 T6", "A96061 T4"]
    assert lines["tensile_strength"].differs
    with pytest.raises(refdata.NotFound, match="different alloys"):
        refdata.compare("360", "C360")


def test_a_list_for_each_of_many_readings_is_asked_about_instead():
    with pytest.raises(refdata.NotUnderstood, match='Which alloy called "brass"'):
        refdata.compare("brass", "C46400")
    with pytest.raises(refdata.NotUnderstood, match="too many readings"):
        refdata.compare("brass", "bronze")


def test_a_family_by_the_word_that_only_it_has():
    assert {one.family for one in refdata.alloys(family="stainless")} == {"stainless steel"}
    with pytest.raises(refdata.NotUnderstood, match="is not a family"):
        refdata.alloys(family="steel")


WEIGHED = [uns for uns in [row["uns"] for row in refdata.table("alloys")] if refdata.alloy(uns).density]


@pytest.mark.parametrize("seed", range(50))
def test_the_true_alloy_is_never_excluded(seed):
    """A piece of a known alloy, its density within 1 % of the published one, weighed and measured with errors within
    the bounds that are stated: the alloy is among those not excluded, fifty times in fifty."""
    chance = random.Random(seed)
    uns = chance.choice(WEIGHED)
    one = refdata.alloy(uns)
    density = float(convert(one.density.exact, one.density.unit, "g/cm3")) * chance.uniform(0.991, 1.009)
    if seed % 2:
        length, across = chance.uniform(40, 120), chance.uniform(10, 40)
        grams = density * 3.14159265 / 4 * (across / 10) ** 2 * length / 10 + chance.uniform(-0.09, 0.09)
        asked = {
            "length": f"{length + chance.uniform(-0.09, 0.09):.3f} mm",
            "diameter": f"{across + chance.uniform(-0.09, 0.09):.3f} mm",
        }
    else:
        volume = chance.uniform(20, 100)
        grams = density * volume
        asked = {"in_water": f"{grams - volume * 0.998 + chance.uniform(-0.09, 0.09):.3f} g"}
    found = refdata.identify(f"{grams:.3f} g", **asked)
    assert any(name.startswith(uns) for name in found.not_excluded)
    assert one.family in found.families


def test_families_whose_ranges_do_not_overlap_are_told_apart():
    assert refdata.identify("270 g", in_water="170.2 g").families == ["aluminium"]
    assert refdata.identify("445 g", in_water="345.2 g").families == ["titanium"]
    steel = refdata.identify("785 g", in_water="685.2 g", magnet="strong")
    assert set(steel.families) <= {"carbon steel", "alloy steel", "tool steel", "stainless steel"}
    assert "stainless steel" in refdata.identify("800 g", in_water="700.2 g", magnet="none").families


# every question that takes a metal, asked of the leaded, nickel-bearing or beryllium alloy in its place
OF_A_METAL = {
    "alloy": lambda metal: {"name": metal},
    "compare": lambda metal: {"first": metal, "second": "A96061"},
    "substitute": lambda metal: {"name": metal},
    "weight": lambda metal: {"shape": "plate", "in_": metal, "length": "2 in", "width": "1 in", "thickness": "0.1 in"},
    "hole": lambda metal: {"size": "#8", "for_": "wood-screw", "in_": metal, "thickness": "1/8 in"},
    "tap": lambda metal: {"size": "1/4-20", "in_": metal},
    "spindle": lambda metal: {"diameter": "1/2 in", "in_": metal},
    "growth": lambda metal: {"in_": metal, "length": "10 in", "from_": "68 F", "to": "572 F"},
    "heat": lambda metal: {"in_": metal, "mass": "0.5 kg", "to": "680 C", "specific_heat": "420 J/kg/K"},
    "ladder": lambda metal: {"start": "P120", "to": "P400", "in_": metal},
    "wheel": lambda metal: {"diameter": "8 in", "speed": "3450 rpm", "in_": metal},
}


@pytest.mark.parametrize(("metal", "word"), [("C17200", "Beryllium"), ("C36000", "Lead"), ("S30400", "Nickel")])
@pytest.mark.parametrize("name", OF_A_METAL)
def test_lead_nickel_and_beryllium_never_answer_without_their_caution(name, metal, word):
    told = getattr(refdata, name)(**OF_A_METAL[name](metal))
    told = told if isinstance(told, list) else [told]
    assert any(text.startswith(word) for one in told for text in one.cautions)


@pytest.mark.parametrize(
    ("family", "word"), [("copper", "Beryllium"), ("brass", "Lead"), ("stainless steel", "Nickel")]
)
def test_nor_does_a_list(family, word):
    assert any(text.startswith(word) for one in refdata.alloys(family=family) for text in one.cautions)


def test_nor_does_a_piece_on_the_bench():
    found = refdata.identify("836 g", in_water="736.2 g", colour="red")
    assert any(text.startswith("Beryllium") for text in found.cautions)


GOOD = {
    "alloys": {"family": "brass"},
    "compare": {"first": "C36000", "second": "C46400"},
    "substitute": {"name": "C36000"},
    "identify": {"mass": "301 g", "in_water": "265.7 g"},
}
CLUMSY = {
    "alloys": [
        ({"family": "wood"}, "is not a family"),
        ({"where": "density"}, "is not a condition"),
        ({"where": "price < 3"}, "not a column"),
        ({"where": "density < heavy"}, "is not a condition"),
        ({"where": "density < 3 mm"}, "density"),
        ({"where": ";"}, "no condition"),
        ({"family": "titanium", "where": "density > 99 g/cm3"}, "no alloy of the tables fulfils"),
        ({"sort": "beauty"}, "not a column"),
        ({"show": "price"}, "not a column"),
        ({"where": "density ~ 8"}, "is not a condition"),
    ],
    "compare": [
        ({"second": None}, "needs its second"),
        ({"first": "banana"}, "no alloy"),
        ({"third": "cheese"}, "no alloy"),
        ({"first": ""}, "empty"),
        ({"fifth": "C360"}, "no option"),
    ],
    "substitute": [
        ({"name": "banana"}, "no alloy"),
        ({"name": ""}, "empty"),
        ({"name": "brass"}, "Which alloy"),
        ({"name": None}, "needs its name"),
    ],
    "identify": [
        ({"in_water": "400 g"}, "weighs less"),
        ({"mass": "0 g"}, "above nothing"),
        ({"mass": "3 in"}, "not a mass"),
        ({"in_water": None}, "needs its mass in water, or"),
        ({"colour": "green"}, "is not a colour"),
        ({"magnet": "maybe"}, "is not a magnet"),
        ({"in_water": "290 g"}, "no metal"),
        ({"in_water": None, "length": "0 mm", "diameter": "1 mm"}, "above nothing"),
        ({"mass_error": "much"}, "with its unit"),
        ({"in_water": None, "length": "3 mm", "width": "2 mm"}, "needs its mass in water"),
    ],
}


@pytest.mark.parametrize(("name", "change", "says"), [(n, c, s) for n, some in CLUMSY.items() for c, s in some])
def test_clumsy_or_impossible_gets_one_clear_line(one_clear_line, name, change, says):
    one_clear_line(name, GOOD[name] | change, says)
