"""The question `tap`: the drill for a tap, and how much thread it leaves, by each definition in use."""

from fractions import Fraction
from typing import NamedTuple

from refdata.core import store
from refdata.core.errors import NotFound, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import Above, Metal, amount, choice
from refdata.core.results import Result, shop_figure, side_by_side

from .drill import DrillName, DrillSet, any_drills
from .geometry import point_length
from .thread import ThreadReader, basic_diameters, designation, major_diameter, thread_rows

# what is called a full thread, as depth on the diameter in pitches
DEFINITIONS = {
    "1.2990 P": (
        Fraction(12990, 10000),
        "three quarters of the sharp triangle on each side, the usual one of inch charts",
    ),
    "1.2269 P": (Fraction(12269, 10000), "the full depth of the screw's thread"),
    "1.0825 P": (Fraction(10825, 10000), "the basic overlap of screw and nut of ISO 68-1"),
}
USUAL = "1.2990 P"
# the Whitworth and BA forms have one depth each: 2 x 0.640327 P and 1.2 P
OTHER_FORMS = {"BSW": ("1.2807 P", Fraction(12807, 10000)), "BSF": ("1.2807 P", Fraction(12807, 10000)),
               "BA": ("1.2000 P", Fraction(12, 10))}  # fmt: skip
SHOWN = 5
CAUTION = "Tapping: stop the spindle before you clear chips; a broken tap is hard as glass: wear eye protection."
Engagement = amount("engagement", "%", "percent of thread wanted, reckoned on 1.2990 P", "30", "100", ("75", "60"))
Kind = choice("kind of tap", {"cut": ("cutting",), "form": ("forming", "roll")}, "kind of tap: cut or form")
Lead = choice("tap lead", {"taper": (), "plug": (), "bottoming": ("bottom",)}, "tap lead: taper, plug or bottoming")


class Tap(Result):
    """A tap drill: the percent of thread that it leaves by each definition, the charts that name it, and for a blind
    hole the depth to drill to the full diameter and the point beyond it."""

    HEADLINE = "diameter"
    IN_CAPTION = ("designation", "drill", "set")
    designation: str
    kind: str
    drill: str
    set: str
    diameter: Quantity
    engagement: dict
    charts: list
    drill_depth: Quantity | None
    point: Quantity | None

    @property
    def caption(self) -> str:
        return f"{self.kind} tap drill {self.drill} for {self.designation}"

    @property
    def HEADER(self):
        return ("thread", "drill", "diameter", "", *self.engagement, "charts that name it")

    def headline(self) -> list[str]:
        percents = [f"{percent.value:.0f} %" for percent in self.engagement.values()]
        return [
            self.designation,
            self.drill,
            *map(shop_figure, side_by_side(self.diameter)),
            *percents,
            str(len(self.charts)),
        ]


@question
def tap(
    size: ThreadReader, *, engagement: Engagement = None, drill: DrillName = None, kind: Kind = "cut",
    in_: Metal = None, set: DrillSet = None, depth: Above = None, lead: Lead = "plug",
) -> Tap | list[Tap]:  # fmt: skip
    """Drills for a tap, nearest to the engagement wanted first, with the percent of thread each leaves.

    `size` is a thread ("1/4-20", "M6", "2BA"); `engagement` in percent of 1.2990 P (75 if neither it nor a metal
    `in_` says otherwise); `drill` tells of that drill only; `depth` is the full thread wanted in a blind hole, `lead`
    the tap's. The hole is D - 1.2990 P x percent; for forming taps the pitch diameter + P/5 (maker's rule). Three
    definitions of percent are in use, all are given. Raises NotFound, NotUnderstood, Refused, Ambiguous.

    >>> import refdata
    >>> best = refdata.tap("1/4-20")[0]
    >>> best.drill, round(best.engagement["1.2990 P"].value)
    ('#7', 75)
    """
    threads = [_Thread.of(row) for row in thread_rows(size)]
    asked = _Asked(kind, *_wanted(engagement, in_), drill, set, depth, lead)
    found = [one for thread in threads for one in _drills(thread, asked, SHOWN if len(threads) == 1 else 1)]
    names = [thread.designation for thread in threads]
    ask = f"Which {size.label} is it: {'; '.join(names)}?" if len(names) > 1 else None
    return Answers(found, ask, listed=drill is None)


class _Asked(NamedTuple):
    """What is wanted of the hole, and what is told of it."""

    kind: str
    wanted: Quantity
    told: list[str]
    cautions: tuple[str, ...]
    drill: str | Quantity | None
    set: tuple[str, ...] | None
    depth: Quantity | None
    lead: str


class _Thread(NamedTuple):
    """A thread in the unit of its table: pitch and major diameter."""

    row: store.Record
    unit: str
    pitch: float
    major: float

    @classmethod
    def of(cls, row: store.Record):
        unit = "mm" if "pitch_mm" in row else "in"
        pitch = float(row["pitch_mm"].exact if unit == "mm" else 1 / row["threads_per_inch"].exact)
        return cls(row, unit, pitch, major_diameter(row))

    @property
    def designation(self) -> str:
        return designation(self.row)

    @property
    def definitions(self) -> list[tuple[str, Fraction]]:
        """The definitions of percent of thread, each with the depth that is all of it, in pitches."""
        series = self.row["series"]
        if series in OTHER_FORMS:
            return [OTHER_FORMS[series]]
        return [(name, depth) for name, (depth, _) in DEFINITIONS.items()]

    def across(self, drill) -> float:
        return float(drill.diameter.to(self.unit).exact)

    def is_left_by(self, drill) -> bool:
        """Whether a drill leaves a thread, and room for the tap."""
        return self.major - 1.35 * self.pitch < self.across(drill) < self.major


def _wanted(engagement: Quantity | None, metal: str | None) -> tuple[Quantity, list[str], tuple[str, ...]]:
    """The percent to aim at, why, and the cautions of the metal."""
    usual = Quantity("75", "%")
    if not metal:
        return engagement or usual, [], ()
    from refdata.alloys.alloy import metal_named

    name, family, cautions = metal_named(metal)
    if engagement:
        return engagement, [], cautions
    rows = store.records("thread_engagements", "t.family = ?", family)
    if not rows:
        return usual, [f"no chart seen says what engagement {name} wants: 75 % taken"], cautions
    aim = rows[0]["engagement_pct"]
    return aim, [f"{aim.figure} % is what a chart advises for {family} ({aim.source})"], cautions


def _drills(thread: _Thread, asked: _Asked, most: int) -> list[Tap]:
    """The drills nearest to the hole that is wanted, or the one that was named."""
    if asked.kind == "form":
        aim = basic_diameters(thread.row)["pitch_diameter"].value + thread.pitch / 5
    else:
        full = float(thread.definitions[0][1])
        aim = thread.major - full * thread.pitch * float(asked.wanted.exact) / 100
    if asked.drill is not None:
        chosen = any_drills(asked.drill)
    else:
        usual = ("fractional", "number", "letter") if thread.unit == "in" else ("metric",)
        chosen = sorted(any_drills(None, asked.set or usual), key=lambda one: abs(thread.across(one) - aim))
        chosen = [one for one in chosen[:most] if thread.is_left_by(one)]
    if not chosen:
        raise NotFound(f"no drill of that set suits {thread.designation}", [str(Quantity.length(aim, thread.unit))])
    return [_tap(thread, one, asked) for one in chosen]


def _tap(thread: _Thread, one, asked: _Asked) -> Tap:
    across, name = thread.across(one), thread.designation
    if not thread.is_left_by(one):
        small = "is smaller than the root of the thread: the tap would break"
        say = "leaves no thread" if across >= thread.major else small
        raise Refused(f"drill {one.name} ({one.diameter}) {say} for {name}", [f"tap {name}"])
    told = list(asked.told)
    percents = {}
    if asked.kind == "cut":
        for definition, full in thread.definitions:
            part = Fraction((thread.major - across) / (float(full) * thread.pitch) * 100)
            percents[definition] = Quantity.computed(part, "%", 3)
        if thread.row["series"] not in OTHER_FORMS:
            told.append(
                "percent of thread has three definitions: "
                + "; ".join(f"{n} is {w}" for n, (_, w) in DEFINITIONS.items())
            )
    else:
        told.append(
            "a forming tap's hole is larger than a cutting tap's: the metal flows; try it on scrap of the same metal"
        )
    deep, point, note = _blind(asked, thread, across)
    return Tap(
        designation=name, kind=asked.kind, drill=one.name, set=one.set, diameter=one.diameter, engagement=percents,
        charts=_charts(thread.row, one, asked.kind), drill_depth=deep, point=point, notes=[*told, *note],
        cautions=[CAUTION, *asked.cautions],
    )  # fmt: skip


def _blind(asked: _Asked, thread: _Thread, across: float):
    """Depth to the full diameter, the point beyond it, and how it was reckoned."""
    if asked.depth is None:
        return None, None, []
    row = store.records("tap_leads", "t.practice = 'US' AND t.lead = ?", asked.lead)[0]
    threads = row["lead_max_pitches"]
    deep = float(asked.depth.to(thread.unit).exact) + threads.value * thread.pitch
    note = f"full thread + {threads.figure} threads of {asked.lead} lead ({threads.source}), then the"
    return (
        Quantity.length(deep, thread.unit),
        Quantity.length(point_length(across), thread.unit),
        [f"{note} point of a 118 degree drill; leave room for chips"],
    )


def _charts(row, one, kind: str) -> list[str]:
    """Sources of the charts that name a drill for a thread."""
    names = {designation(row), designation(row).rpartition(" ")[0]}
    marks = ", ".join("?" * len(names))
    rows = store.select(
        f"SELECT DISTINCT source FROM tap_drills WHERE kind = ? AND drill = ? AND thread IN ({marks})",
        kind,
        one.name,
        *names,
    )
    return [source for (source,) in rows]
