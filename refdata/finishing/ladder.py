"""The question `ladder`: from the grade on the part to the grade wanted, with the papers at hand."""

import re
from math import log10

from refdata.abrasives.grit import GradeReader, System, read_grade
from refdata.core.drawing import Drawing
from refdata.core.errors import Ambiguous, NotFound, NotUnderstood
from refdata.core.quantity import Quantity
from refdata.core.questions import question
from refdata.core.reading import ListReader, Metal, Reader, choice, factor
from refdata.core.results import Result

from . import dust

Ratio = factor("largest step", "largest ratio of one grain to the next, about 2")
Wet = choice("wet or dry", {"wet": (), "dry": ()}, "wet or dry")
ROUGE = ("rouge", "red rouge", "polish", "mirror", "compound")
FROM_PAPER_TO_ROUGE = 16.0  # micrometres: rouge takes out what P1200 and finer leave (common practice)
USUAL = "P80, P120, P180, P240, P320, P400, P600, P800, P1000, P1200, P2000"


class Papers(tuple):
    """Papers at hand, as grades; `rouge` stands for itself."""

    def __str__(self) -> str:
        return ", ".join(str(one) for one in self)


def read_papers(text: str) -> Papers:
    """Papers as written: `120, 220, 400, 600, 1000, 2000, rouge`. Raises NotUnderstood."""
    words = [word.strip() for word in re.split(r"[,;\n]", text) if word.strip()]
    if not 1 <= len(words) <= 40:
        raise NotUnderstood("name one to forty papers", ["P120, P240, P400"])
    return Papers("rouge" if word.lower() in ROUGE else read_grade(word) for word in words)


PapersReader = ListReader(
    "list of papers", read_papers, "papers at hand: 120, 220, 400, 600, 1000, rouge", ("P120, P240, P400",)
)


def _target(text: str):
    return "rouge" if " ".join(text.lower().split()) in ROUGE else GradeReader.read(text)


Wanted = Reader("grade wanted", _target, "grade wanted: P2000, or rouge for a mirror", ("P2000", "rouge"))


class Ladder(Result):
    """The sequence of papers with the grain of each, which step is too long and why, how to work and when one is
    done."""

    sequence: list
    ratios: list
    too_long: list
    direction: str
    wet_or_dry: str
    done_when: str
    drawing: str

    @property
    def CAUTIONS_FIRST(self) -> bool:
        return dust.holds_beryllium(self.cautions)

    @property
    def caption(self) -> str:
        return " > ".join(step["grade"] for step in self.sequence)

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        steps = [(step["grade"], str(step["grain"] or ""), step["after"]) for step in self.sequence]
        return steps + super().lines(units, (*skip, "sequence", "ratios", "drawing"))


@question
def ladder(
    start: GradeReader,
    *,
    to: Wanted,
    have: PapersReader = USUAL,
    in_: Metal = None,
    system: System = "fepa-p",
    most: Ratio = "2.2",
    wet: Wet = None,
) -> Ladder:
    """Ladder of grits from the grade on the part to the grade wanted, out of the papers at hand.

    `start` is the grade that left the marks, `to` the last one ("P2000", or "rouge" for a mirror), `have` the papers;
    a number without its letters is read in `system`. Each next grain is at least 1/`most` of the last one (about
    half: common practice), the largest such step is taken; a longer one is flagged. Grains from the table of grades.
    Wet unless `wet` says dry, or the metal `in_` takes no water. Raises NotFound, NotUnderstood, Refused.

    >>> import refdata
    >>> refdata.ladder("P120", to="P400", have="P120, P180, P240, P320, P400").caption
    'P120 > P240 > P400'
    """
    first = _grain(start, system)
    last = None if to == "rouge" else _grain(to, system)
    if last and last[1].value >= first[1].value:
        raise NotUnderstood(f"{last[0]} is not finer than {first[0]}", ["--to with a finer grade"])
    owned = sorted((_grain(one, system) for one in have if one != "rouge"), key=lambda one: -one[1].value)
    end = last[1].value if last else 0.0
    finer = [one for one in owned if end <= one[1].value < first[1].value]
    if last and (not finer or finer[-1][1].value > end * 1.001):
        finer.append(last)
    steps, too_long = _climb(first, finer, float(most))
    if to == "rouge":
        name, grain = steps[-1]
        if grain.value > FROM_PAPER_TO_ROUGE:
            too_long.append(
                f"{name} to rouge: rouge does not take out marks of {grain.value:g} µm; go to P1200 or finer first"
            )
        steps.append(("rouge", None))
    return _answer(steps, too_long, wet, in_)


def _climb(first: tuple[str, Quantity], finer: list[tuple[str, Quantity]], most: float) -> tuple[list, list[str]]:
    """The steps from the first grade to the last of `finer` (coarse to fine), each the largest within `most`, and
    what is to be said of those that no paper keeps within it."""
    steps, too_long = [first], []
    while further := [one for one in finer if one[1].value < steps[-1][1].value]:
        name, grain = steps[-1]
        within = [one for one in further if grain.value / one[1].value <= most * 1.0001]
        step = within[-1] if within else further[0]
        if not within:
            times = grain.value / step[1].value
            too_long.append(f"{name} to {step[0]}: {times:.1f} times finer leaves deep marks: put one between")
        steps.append(step)
    return steps, too_long


def _grain(grade, system: str) -> tuple[str, Quantity]:
    """A grade's name and grain; a number alone in the system that is said, else in any one that has it."""
    from refdata.abrasives.grit import grit

    text = str(grade)
    for given in ({}, {"system": system}) if grade.system else ({"system": system}, {}):
        try:
            one = grit(text, **given)
            return one.grade, one.median_grain
        except Ambiguous as several:
            if len({each.system for each in several.candidates}) > 1:
                raise
            one = several.candidates[-1]
            return one.grade, one.median_grain
        except NotFound:
            continue
    raise NotFound(f"the tables have no grade {text}", ["P120", "P400", "P1000"])


def _answer(steps, too_long, wet: str | None, metal: str | None) -> Ladder:
    ratios = [round(a[1].value / b[1].value, 2) for a, b in zip(steps, steps[1:]) if b[1]]
    sequence = [
        {
            "grade": name,
            "grain": grain and Quantity(grain.text, grain.unit, grain.source, grain.standing),
            "after": "start"
            if at == 0
            else (
                "buffed with a soft wheel" if grain is None else f"turned by 90 degrees, {ratios[at - 1]:g} times finer"
            ),
        }
        for at, (name, grain) in enumerate(steps)
    ]
    family, cautions = _cautions(metal, buffed=steps[-1][1] is None)
    return Ladder(
        sequence=sequence,
        ratios=ratios,
        too_long=too_long,
        direction="turn by 90 degrees at each grit",
        wet_or_dry=dust.wet_or_dry(wet, family),
        done_when="the marks of the last grit are gone, then as long again",
        drawing=_drawn(sequence, too_long),
        notes=["largest step, direction, time, wet or dry are common practice", *_of_compound(steps, family)],
        cautions=cautions,
    )


def _of_compound(steps, family: str | None) -> list[str]:
    """What is to be said of rouge on a metal that takes another compound."""
    if steps[-1][1] is not None or family != "stainless steel":
        return []
    return ["stainless takes a white or green compound to its mirror, not red rouge (common practice)"]


def _cautions(metal: str | None, buffed: bool) -> tuple[str | None, list[str]]:
    """The family of the metal, and the cautions of sanding it, and of buffing it where it comes to that."""
    family, of_metal = None, ()
    if metal:
        from refdata.alloys.alloy import metal_named

        _, family, of_metal = metal_named(metal)
    first, others = dust.of_metal(of_metal)
    return family, [*first, dust.DUST, *others, *(dust.of_work("buffing") if buffed else [])]


def _drawn(sequence, too_long) -> str:
    """The grains on a log axis, coarse on the left."""
    grains = [(step["grade"], step["grain"].value) for step in sequence if step["grain"]]
    high, low = log10(grains[0][1] * 1.3), log10(min(grains[-1][1] / 1.3, 5))
    wide = high - low
    sheet = Drawing("Ladder of grits, micrometres, log scale", 0, wide, 0, wide * 0.25)
    base = wide * 0.2
    sheet.shape([(0, base), (wide, base)], closed=False)
    for mark in (1, 2, 5, 10, 20, 50, 100, 200, 500):
        if low <= log10(mark) <= high:
            sheet.label(high - log10(mark), base + wide * 0.05, str(mark))
            sheet.shape([(high - log10(mark), base), (high - log10(mark), base * 1.06)], closed=False)
    for at, (name, grain) in enumerate(grains):
        place = high - log10(grain)
        sheet.shape([(place, base), (place, base * 0.55)], closed=False)
        sheet.label(place, base * (0.45 if at % 2 else 0.2), name)
    for text in too_long:
        sheet.key.append(("!", text.partition(":")[0] + ": too long"))
    return sheet.finish("Each tick is a paper; equal distances are equal ratios.")
