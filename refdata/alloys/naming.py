"""What a name stands for: UNS numbers, trade names, the names of the standards, with a temper behind them."""

from __future__ import annotations

import re

from refdata.core import store
from refdata.core.errors import NotFound
from refdata.core.reading import nearest

from .families import FAMILIES
from .families import said as families_said

_SYSTEM_WORDS = (
    "uns", "aisi", "sae", "aa", "cda", "type", "grade", "alloy", "en", "bs", "jis", "w.nr.", "din", "iso",
    "sus", "astm",
)  # fmt: skip
# Temper words and codes that may follow a name: T6, O, H02, TF00, H900, annealed, ...
_TEMPER = re.compile(
    r"^(?P<name>.+?)(?:-|\s+|\s*,\s*)(?P<temper>[THOMFW]\d{0,4}|T[A-Z]\d\d|annealed|soft|(?:extra )?spring"
    r"|(?:(?:1/8|1/4|1/2|3/4|eighth|quarter|half|three[ -]quarter|full|extra)[ -])?hard"
    r"|cold drawn|hot rolled|normali[sz]ed|condition a)$",
    re.I,
)
# AISI-SAE steels whose four digits begin like an aluminium alloy's
_STEEL_SERIES = ("10", "11", "12", "13", "15", "31", "33", "40", "41", "43", "50", "51", "52", "61", "71", "81", "86")


def resolve(name: str) -> tuple[dict[str, tuple], str | None]:
    """UNS numbers that a name stands for, with the relation, and the temper if it was part of the name."""
    for bare, families in [(name, None), *_without_family(name)]:
        split = _TEMPER.match(bare)
        for words, temper in [(bare, None), *([(split["name"], split["temper"])] if split else [])]:
            carriers = _carriers(words)
            fitting = {uns: relation for uns, relation in carriers.items() if not families or _family(uns) in families}
            if fitting:
                return _exact_first(words, fitting), temper
            if carriers:
                raise _wrong_family(name, words, carriers, families)
    members = _begun(name) or _members(name)
    if members:
        return members, None
    raise NotFound(f'no alloy in the tables is called "{name}"', _near(name))


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
    families = families_said(word)
    marks = ", ".join("?" * len(families))
    rows = store.select(f"SELECT uns FROM alloys WHERE family IN ({marks}) ORDER BY uns", *families)
    return {uns: ("exact", None) for (uns,) in rows}


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
    meant = dict.fromkeys(f"{n} ({alloy} {uns})" for c in close for n, uns, alloy in names if n == c)
    return NotFound(f'there is no "{name}": {told}', list(meant) or _near(name))


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
