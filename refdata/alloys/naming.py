"""What a name stands for: UNS numbers, trade names, the names of the standards, with a temper behind them."""

from __future__ import annotations

import re

from refdata.core import store
from refdata.core.errors import NotFound
from refdata.core.reading import nearest

from .families import COPPER, FAMILIES, IRON
from .families import said as families_said

_SYSTEM_WORDS = (
    "uns", "aisi", "sae", "aa", "cda", "type", "grade", "alloy", "en", "bs", "jis", "w.nr.", "din", "iso",
    "sus", "astm",
)  # fmt: skip
# Temper words and codes: T6, O, H02, TF00, H900, half hard, annealed, ... They follow a name; words may go before it
_WORDS = (
    r"annealed|soft|(?:extra )?spring|(?:(?:1/8|1/4|1/2|3/4|eighth|quarter|half|three[ -]quarter|full|extra)[ -])?hard"
    r"|cold drawn|hot rolled|normali[sz]ed|condition a|pre-?hardened"
)
_TEMPER = re.compile(rf"^(?P<name>.+?)(?:-|\s+|\s*,\s*)(?P<temper>[THOMFW]\d{{0,4}}|T[A-Z]\d\d|{_WORDS})$", re.I)
_TEMPER_FIRST = re.compile(rf"^(?P<temper>{_WORDS})\s+(?P<name>.+)$", re.I)
# systems that number one kind of metal only
_SYSTEM_BASES = {"cda": (COPPER,), "aa": ("aluminium",), "aisi": (IRON, "stainless", "cast iron")}
# what an order says of the form: it does not make another alloy
_FORMS = ("plate", "sheet", "strip", "bar", "rod", "tube", "pipe", "wire", "flat", "round", "hex", "angle", "extrusion")
# carbon in per cent up to which a plain steel is called mild
_MILD, _MILD_CARBON = ("mild steel", "low carbon steel", "low-carbon steel"), 0.26
# AISI-SAE steels whose four digits begin like an aluminium alloy's
_STEEL_SERIES = ("10", "11", "12", "13", "15", "31", "33", "40", "41", "43", "50", "51", "52", "61", "71", "81", "86")


def resolve(name: str) -> tuple[dict[str, tuple], str | None]:
    """UNS numbers that a name stands for, with the relation, and the temper if it was part of the name."""
    for words in dict.fromkeys([name, *_in_other_words(name)]):
        if found := _as_said(words):
            return found
    shared = _by_two_names(name)
    members = shared or _begun(name) or _members(name)
    if members:
        return members, None
    raise NotFound(f'no alloy in the tables is called "{name}"', _near(name))


def _as_said(name: str) -> tuple[dict[str, tuple], str | None] | None:
    for bare, families in [(name, _of_system(name)), *_without_family(name)]:
        split = _TEMPER.match(bare) or _TEMPER_FIRST.match(bare)
        for words, temper in [(bare, None), *([(split["name"], split["temper"])] if split else [])]:
            carriers = _carriers(words)
            fitting = {uns: relation for uns, relation in carriers.items() if not families or _family(uns) in families}
            if fitting:
                return _exact_first(words, fitting), temper
            if carriers:
                raise _wrong_family(name, words, carriers, families)
        if split and (members := _members(split["name"])):
            return members, split["temper"]
    return None


def _of_system(name: str) -> list[str] | None:
    """The families that a system of numbers before the name has: `CDA 316` is no steel."""
    bases = _SYSTEM_BASES.get(name.split()[0].lower().rstrip(":")) if " " in name.strip() else None
    return [family for family, one in FAMILIES.items() if one.base in bases] if bases else None


def _in_other_words(name: str) -> list[str]:
    """The name without words of form, with what is written together taken apart, with a hyphen for its stroke:
    `6061T6 plate`, `ss316`, `18/8`."""
    bare = " ".join(word for word in name.split() if word.lower() not in _FORMS) or name
    apart = re.sub(r"(?i)^(al|ss)(?=\d{3})", r"\1 ", re.sub(r"(?i)(?<=\d{4})(?=[TH]\d)", "-", bare))
    return [bare, apart, re.sub(r"(?i)^en (?=\d{1,2}[a-z]?$)", "en", bare), re.sub(r"(?<=\d)/(?=\d)", "-", bare)]


def _by_two_names(name: str) -> dict[str, tuple]:
    """The alloy that is called by both of two names: `naval brass 464`, `1.4301 / 304`; of names with a stroke between
    them (`304/304L`) that share none, the alloys of both."""
    words = re.sub(r"\s*/\s*", " ", name).split()
    groups = [(_carriers(" ".join(words[:at])), _carriers(" ".join(words[at:]))) for at in range(1, len(words))]
    for one, other in groups:
        if both := {uns: min(relation, other[uns], key=_rank) for uns, relation in one.items() if uns in other}:
            return both
    return next(({**one, **other} for one, other in groups if one and other and "/" in name), {})


def _rank(relation: tuple) -> bool:
    return relation[0] != "exact"


def _exact_first(words: str, carriers: dict[str, tuple]) -> dict[str, tuple]:
    """Of carriers that are exact and others that are near, the exact ones, each with the near ones told; where all
    are near, as with a word for many alloys, also those whose own name begins with it."""
    exact = {uns: relation for uns, relation in carriers.items() if relation[0] == "exact"}
    near = [uns for uns in carriers if uns not in exact]
    return {uns: (*relation, *near) for uns, relation in exact.items()} or _begun(words) | carriers


def _begun(name: str) -> dict[str, tuple]:
    """The alloys whose own name begins so, up to its comma: `phosphor bronze` of `phosphor bronze, 5% A`."""
    wanted = plain_name(name)
    rows = store.select("SELECT uns, name FROM alloys WHERE name LIKE '%,%' ORDER BY uns")
    return {uns: ("exact", None) for uns, own in rows if plain_name(own.partition(",")[0]) == wanted}


def _members(name: str) -> dict[str, tuple]:
    """All alloys of a family, when the name is a family's: `brass`, `stainless`."""
    word = " ".join(name.lower().split())
    if word in _MILD:
        return dict.fromkeys(_mild_steels(), ("exact", None))
    families = families_said(word)
    marks = ", ".join("?" * len(families))
    rows = store.select(f"SELECT uns FROM alloys WHERE family IN ({marks}) ORDER BY uns", *families)
    return {uns: ("exact", None) for (uns,) in rows}


def _mild_steels() -> list[str]:
    """Plain steels of little carbon, without the lead and the sulphur of free-machining ones."""
    rows = store.select(
        "SELECT uns FROM alloys WHERE family = 'carbon steel'"
        " AND uns IN (SELECT uns FROM alloy_compositions WHERE element = 'C' AND max_pct <= ?)"
        " AND uns NOT IN (SELECT uns FROM alloy_compositions WHERE element = 'Pb')"
        " AND uns NOT IN (SELECT uns FROM alloy_compositions WHERE element = 'S' AND max_pct > 0.06)"
        " ORDER BY uns",
        _MILD_CARBON,
    )
    return [uns for (uns,) in rows]


def plain_name(name: str) -> str:
    """A name without case, spaces, hyphens and system words: `AISI 304` and `type 304` give `304`."""
    words = name.lower().replace("aluminium", "aluminum").replace("gray", "grey").replace("grey cast", "grey")
    words = re.sub(r"[-_,]", " ", words).split()
    while len(words) > 1 and words[0].rstrip(":") in _SYSTEM_WORDS:
        words = words[1:]
    return "".join(words)


def _carriers(name: str) -> dict[str, tuple]:
    wanted = plain_name(name)
    return {uns: (relation, differs) for uns, relation, differs in _index().get(wanted, ())}


def _index() -> dict[str, list]:
    """Names as plain_name writes them, to (uns, relation, what differs); read once."""
    global _names
    if _names is None:
        found: dict[str, list] = {}
        rows = store.select("SELECT name, uns, relation, differs FROM alloy_names ORDER BY relation, rowid")
        rows += store.select(
            "SELECT uns, uns, 'exact', NULL FROM alloys UNION ALL SELECT name, uns, 'exact', NULL FROM alloys"
        )
        # UNS numbers of copper alloys are the three-digit ones of the trade and two noughts: C36000 is C360 and 360
        for (uns,) in store.select("SELECT uns FROM alloys WHERE uns GLOB 'C???00'"):
            rows += [(uns[:4], uns, "exact", None), (uns[1:4], uns, "exact", None)]
        for name, *entry in rows:
            known = found.setdefault(plain_name(name), [])
            if entry[0] not in [one[0] for one in known]:
                known.append(tuple(entry))
        _names = found
    return _names


_names: dict[str, list] | None = None


def _family(uns: str) -> str:
    return store.select("SELECT family FROM alloys WHERE uns = ?", uns)[0][0]


def _without_family(name: str) -> list[tuple[str, list[str]]]:
    """A name with a family word taken off its end or start, and the families that the word means."""
    low, found = f" {name.lower()} ", []
    words = sorted({word for family in FAMILIES.values() for word in family.words}, key=len, reverse=True)
    for word in words:
        if f" {word} " in low and low.strip() != word:
            bare = low.replace(f" {word} ", " ").strip()
            found.append((bare, families_said(word)))
    return found


def _wrong_family(name: str, bare: str, carriers: dict, family: list[str]) -> NotFound:
    told = "; ".join(f"{bare} is {_article(_family(uns))} (UNS {uns})" for uns in carriers)
    marks = ", ".join("?" * len(family))
    names = store.select(
        f"SELECT n.name, n.uns, a.name FROM alloy_names n JOIN alloys a USING (uns) WHERE a.family IN ({marks})"
        " AND n.relation = 'exact'",
        *family,
    )
    close = nearest(bare, [row[0] for row in names], [], 3)
    meant = {uns: f"{n} ({alloy} {uns})" for c in reversed(close) for n, uns, alloy in names if n == c}
    return NotFound(f'there is no "{name}": {told}', list(reversed(meant.values())) or _near(name))


def _article(family: str) -> str:
    return f"{'an' if family[0] in 'aeiou' else 'a'} {family}"


def _near(name: str) -> list[str]:
    """The known names nearest in spelling, with the alloy each stands for; a letter for a digit is the nearest slip."""
    plain = plain_name(name)
    digits = plain.translate(str.maketrans("oil", "011"))
    begun = [known for known in _index() if len(plain) > 3 and known.startswith(plain)][:2]
    close = [digits] * (digits in _index()) + begun + nearest(plain, _index(), [], 4)
    return [f"{uns} {title(uns)}" for uns in dict.fromkeys(e[0] for c in close for e in _index()[c])]


def title(uns: str) -> str:
    return store.select("SELECT name FROM alloys WHERE uns = ?", uns)[0][0]


def traps(name: str, uns: str, family: str) -> list[str]:
    """What a buyer should hear about a name: a bronze that is a brass, a silver without silver, a shared number."""
    word = " ".join(name.lower().replace("-", " ").split())
    told = []
    if "bronze" in word and family == "brass":
        told.append("called a bronze, but a brass: copper and zinc")
    if "gunmetal" in word.replace(" ", "") and uns != "C83600":
        told.append(
            "British stock called gunmetal is often a leaded one (LG2, C83600): ask before you count on no lead"
        )
    if word == "925":
        told.append("a stamp of 925 on white metal means sterling silver, which these tables lack")
    if family == "nickel silver" and "silver" in word:
        told.append("a nickel silver holds no silver")
    if re.fullmatch(r"\d{4}", word) and family == "aluminium" and word[:2] in _STEEL_SERIES:
        told.append(f"steels are numbered {word[:2]}xx too: say AA {word} or AISI {word} on an order")
    for letter in "abs" if re.fullmatch(r"\d{3}", word) else "":
        told += [
            f"{letter.upper()}{word} is {_article(_family(other))} ({other})"
            for other, *_ in _index().get(letter + word, ())
            if _family(other) != family
        ]
    return told
