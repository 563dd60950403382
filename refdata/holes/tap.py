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
from .thread import ThreadReader, basic_diameters, bore_limits, designation, major_diameter, thread_rows

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
    hole the depth to drill to the full diameter and the point beyond it; whether the drill lies in the minor diameter
    of the usual class, `tolerance`, where the tables hold its limits."""

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
    tolerance: str | None
    within_class: bool | None

    def __init__(self, *, judged: str = "", **values):
        self.__dict__["_judged"] = judged  # the class in words, for the line of a table
        super().__init__(**values)

    @property
    def caption(self) -> str:
        return f"{self.kind} tap drill {self.drill} for {self.designation}"

    @property
    def HEADER(self):
        return ("thread", "drill", "diameter", "", *self.engagement, "charts that name it", *[""] * self._has_class,
                *["drill to, and point"] * (self.drill_depth is not None))  # fmt: skip

    @property
    def _has_class(self) -> bool:
        """Whether threads of this form are cut to a class, known or not: a table has one header for all of them."""
        return self.engagement.keys() == DEFINITIONS.keys()

    def headline(self) -> list[str]:
        percents = [f"{percent.value:.0f} %" for percent in self.engagement.values()]
        return [
            self.designation,
            self.drill,
            *map(shop_figure, side_by_side(self.diameter)),
            *percents,
            str(len(self.charts)),
            *[self._judged] * self._has_class,
            *([f"{self.drill_depth}, {self.point}"] if self.drill_depth else []),
        ]

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        return super().lines(units, (*skip, "tolerance", "within_class"))


@question
def tap(
    size: ThreadReader, *, engagement: Engagement = None, drill: DrillName = None, kind: Kind = "cut",
    in_: Metal = None, set: DrillSet = None, depth: Above = None, lead: Lead = "plug",
) -> Tap | list[Tap]:  # fmt: skip
    """Drills for a tap, those within the usual class first, with the percent of thread each leaves.

    `size` is a thread ("1/4-20", "M6", "2BA"); `engagement` in percent of 1.2990 P (75 if neither it nor a metal
    `in_` says otherwise); `drill` tells of that drill only; `depth` is the full thread wanted in a blind hole, `lead`
    the tap's. The hole is D - 1.2990 P x percent; for forming taps the pitch diameter + P/5 (maker's rule). Three
    definitions of percent are in use, all are given. Where the tables hold the minor diameter of 6H or 2B, each drill
    is judged by it; then those nearest to the engagement. Raises NotFound, NotUnderstood, Refused, Ambiguous.

    >>> import refdata
    >>> best = refdata.tap("1/4-20")[0]
    >>> best.drill, round(best.engagement["1.2990 P"].value)
    ('#7', 75)
    """
    threads = [_Thread.of(row) for row in thread_rows(size)]
    asked = _Asked(kind, *_wanted(engagement, in_), bool(in_ and not engagement), drill, set, depth, lead)
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
    advised: bool
    drill: str | Quantity | None
    set: tuple[str, ...] | None
    depth: Quantity | None
    lead: str


class _Bore(NamedTuple):
    """The usual class of a tapped hole and the limits of its minor diameter."""

    tolerance: str
    least: Quantity
    most: Quantity

    def place(self, across) -> str:
        """Where a hole so wide, in the unit of the limits, stands to the class."""
        return "under" if across < self.least.exact else "over" if across > self.most.exact else "within"

    def judged(self, across: Quantity) -> str:
        """Where a hole stands to the class, in words: `within 6H`, `0.024 mm over`."""
        across = across.to(self.most.unit)
        match self.place(across.exact):
            case "over":
                return f"{across.less(self.most)} over"
            case "under":
                return f"{self.least.less(across)} under"
        return f"within {self.tolerance}"

    def __str__(self) -> str:
        return f"{self.least.figure} to {self.most}"


class _Thread(NamedTuple):
    """A thread in the unit of its table: pitch, major diameter, and the usual class of its hole where it is known."""

    row: store.Record
    unit: str
    pitch: float
    major: float
    bore: _Bore | None

    @classmethod
    def of(cls, row: store.Record):
        unit = "mm" if "pitch_mm" in row else "in"
        pitch = float(row["pitch_mm"].exact if unit == "mm" else 1 / row["threads_per_inch"].exact)
        limits = bore_limits(row)
        return cls(row, unit, pitch, major_diameter(row), limits and _Bore(*limits))

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

    def place_of(self, drill, kind: str) -> str | None:
        """Where a drill stands to the class; None where no class is known, or the metal flows to its own bore."""
        if self.bore is None or kind != "cut":
            return None
        return self.bore.place(drill.diameter.to(self.unit).exact)


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


def _aim(thread: _Thread, asked: _Asked) -> tuple[float, list[str]]:
    """The hole that is wanted, in the thread's unit, and what is told where its class does not allow that: the class
    then leads what a chart advises, not what the caller asks."""
    if asked.kind == "form":
        return basic_diameters(thread.row)["pitch_diameter"].value + thread.pitch / 5, []
    full = float(thread.definitions[0][1])
    aim = thread.major - full * thread.pitch * float(asked.wanted.exact) / 100
    bore = thread.bore
    if bore is None or (place := bore.place(aim)) == "within":
        return aim, []
    hole = Quantity.length(aim, thread.unit)
    told = f"{thread.designation}: {asked.wanted.figure} % is a hole of {hole}, {place} {bore.tolerance}"
    if not asked.advised:
        return aim, [told]
    limit = bore.most if place == "over" else bore.least
    return limit.value, [f"{told}: the limit of the class leads, not the chart"]


def _drills(thread: _Thread, asked: _Asked, most: int) -> list[Tap]:
    """The drills within the class, nearest to the hole that is wanted, then others; or the one that was named."""
    aim, told = _aim(thread, asked)
    if asked.drill is not None:
        return [_tap(thread, one, asked, []) for one in any_drills(asked.drill)]
    usual = ("fractional", "number", "letter") if thread.unit == "in" else ("metric",)

    def rank(one) -> tuple[bool, float]:
        return thread.place_of(one, asked.kind) in ("over", "under"), abs(thread.across(one) - aim)

    chosen = sorted(any_drills(None, asked.set or usual), key=rank)[:most]
    chosen = [one for one in chosen if thread.is_left_by(one)]
    if not chosen:
        raise NotFound(f"no drill of that set suits {thread.designation}", [str(Quantity.length(aim, thread.unit))])
    if all(rank(one)[0] for one in chosen):
        told = [*told, f"{thread.designation}: no drill of that set lies within {thread.bore.tolerance}"]
    return [_tap(thread, one, asked, told) for one in chosen]


def _tap(thread: _Thread, one, asked: _Asked, told: list[str]) -> Tap:
    across, name = thread.across(one), thread.designation
    if not thread.is_left_by(one):
        small = "is smaller than the root of the thread: the tap would break"
        say = "leaves no thread" if across >= thread.major else small
        raise Refused(f"drill {one.name} ({one.diameter}) {say} for {name}", [f"tap {name}"])
    place = thread.place_of(one, asked.kind)
    deep, point, of_depth = _blind(asked, thread, across)
    return Tap(
        designation=name, kind=asked.kind, drill=one.name, set=one.set, diameter=one.diameter,
        engagement=_percents(thread, across) if asked.kind == "cut" else {},
        charts=_charts(thread.row, one, asked.kind), drill_depth=deep, point=point,
        tolerance=thread.bore.tolerance if place else None, within_class=place and place == "within",
        judged=thread.bore.judged(one.diameter) if place else "", cautions=[CAUTION, *asked.cautions],
        notes=[*asked.told, *_of_class(thread, place), *told, *_of_kind(thread, asked.kind), *of_depth],
        cited=[limit.source for limit in thread.bore[1:]] if place else (),
    )  # fmt: skip


def _percents(thread: _Thread, across: float) -> dict[str, Quantity]:
    """The percent of thread that a hole leaves, by each definition."""
    left = {name: (thread.major - across) / (float(full) * thread.pitch) for name, full in thread.definitions}
    return {name: Quantity.computed(Fraction(part * 100), "%", 3) for name, part in left.items()}


def _of_class(thread: _Thread, place: str | None) -> list[str]:
    """What the class allows, and what it means for a drill to be out of it."""
    if place is None:
        return []
    return [
        f"{thread.designation}: {thread.bore.tolerance} allows a minor diameter of {thread.bore}",
        "within, over, under is said of the drill's own diameter, and drills cut a little large: over, a gauge rejects"
        " the thread; under, the tap works hard and the bore may come out too tight",
    ]


def _of_kind(thread: _Thread, kind: str) -> list[str]:
    """What is to be known of percents, or of forming."""
    if kind == "form":
        return [
            "a forming tap's hole is larger than a cutting tap's: the metal flows; try it on scrap of the same metal"
        ]
    if thread.row["series"] in OTHER_FORMS:
        return []
    words = "; ".join(f"{name} is {what}" for name, (_, what) in DEFINITIONS.items())
    return [f"percent of thread has three definitions: {words}"]


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
