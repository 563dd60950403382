"""The question `hole`: from the screw in the hand to the finished hole in the plate, step by step."""

from refdata.alloys.alloy import metal_named
from refdata.core.errors import NotFound, Refused
from refdata.core.quantity import Quantity
from refdata.core.questions import Answers, question
from refdata.core.reading import Above, Angle, FromZero, Metal, ScrewSize, Size, choice, factor
from refdata.core.results import Result

from . import work
from .ball_seat import smallest_ball
from .clearance import OneFit, clearance
from .countersink import flush_diameter
from .drill import any_drills
from .geometry import ball_depth, cap_depth, cap_width, cone_depth, cone_seat, point_length
from .screw import Head, Screw, Standard, heads, which_head
from .section import section
from .steps import cited, steps

Purpose = choice(
    "purpose", {"wood-screw": ("wood screw", "wood"), "machine-screw": ("machine screw", "machine", "bolt")},
    "what goes through the hole: wood-screw or machine-screw",
)  # fmt: skip
Seat = choice(
    "seat", {"cone": ("countersink",), "ball": ("ball seat", "burr"), "counterbore": ("cbore",), "face": ("none",)},
    "seat: cone or ball for a flat head, counterbore or face for another; cone means face there",
)  # fmt: skip
EdgeLeast = factor("least edge", "least distance of the hole's centre from the edge, in hole diameters")
WebLeast = factor("least web", "least metal beside the seat, in thicknesses of the plate")
LandLeast = factor("least land", "least straight land under the seat, in thicknesses, below which a warning is given")
WOOD_STANDARD = "ASME B18.6.1"
BREAK_THROUGH = {"in": 0.02, "mm": 0.5}


class Hole(Result):
    """The plan of a hole: its figures, the steps in order with tool, setting and check, and a section to scale
    (SVG)."""

    HEADLINE = "hole"
    IN_CAPTION = ("size", "purpose", "head", "standard", "metal", "thickness")
    size: str
    purpose: str
    head: str
    standard: str
    metal: str
    thickness: Quantity
    edge: Quantity | None
    hole: Quantity
    drill: str
    travel: Quantity
    seat: str
    head_diameter: Quantity
    surface_diameter: Quantity | None
    seat_depth: Quantity | None
    land: Quantity | None
    web: Quantity | None
    steps: list
    drawing: str

    @property
    def caption(self) -> str:
        screw = f"{self.size} {self.purpose.replace('-', ' ')}, {self.head} ({self.standard})"
        return f"hole for a {screw}, in {self.thickness} {self.metal}"

    def lines(self, units: str = "both", skip=()) -> list[tuple[str, ...]]:
        told = super().lines(units, (*skip, "steps", "drawing"))
        return told + [(f"{at}  {one['do']}", _told(one)) for at, one in enumerate(self.steps, 1)]


def _told(step: dict) -> str:
    return "; ".join(
        f"{name} {step[name]}" if name != "set" else step[name] for name in ("tool", "set", "check") if step[name]
    )


@question
def hole(
    size: Size, *, for_: Purpose, in_: Metal, thickness: Above, head: Head = "flat", standard: Standard = None,
    edge: Above = None, fit: OneFit = "normal", hole: Above = None, seat: Seat = "cone", angle: Angle = None,
    ball: Above = None, below: FromZero = "0 in", least_edge: EdgeLeast = "1.5", least_web: WebLeast = "1/2",
    least_land: LandLeast = "1/4",
) -> Hole:  # fmt: skip
    """Plan of a hole for a screw in a plate: steps, tools, settings, checks, section to scale.

    `for` what (wood-screw, machine-screw), `in` which metal, of what `thickness`; `edge` is the centre's distance
    from the plate's edge; `seat` of a flat head is a cone of `angle` (the head's own where none is said) or a `ball`.
    Common practice, each an option: the centre at least 1.5 diameters from the edge, the web beside the seat at least
    half the thickness, the straight land at least a quarter of it (a warning below that; none is refused). Raises
    NotFound, NotUnderstood, Ambiguous, Refused with what can be done instead.

    >>> import refdata
    >>> refdata.hole("#8", for_="wood-screw", in_="C46400", thickness="1/8 in").land
    <0.047 in · computed>
    """
    found = heads(size, head, _standard_for(for_, size, standard))
    if for_ == "machine-screw":
        found = [one for one in found if one.standard != WOOD_STANDARD] or found
    metal = metal_named(in_)
    asked = {
        "purpose": for_, "fit": fit, "hole": hole, "edge": edge, "thickness": thickness, "seat": seat, "angle": angle,
        "ball": ball, "below": below, "least_edge": least_edge, "least_web": least_web, "least_land": least_land,
    }  # fmt: skip
    return Answers([_Plan(size, one, metal, asked).answer() for one in found], which_head(found))


def _standard_for(purpose: str, size: ScrewSize, standard):
    """Wood screws of inch sizes have one standard here."""
    if purpose != "wood-screw":
        return standard
    if size.system == "metric":
        raise NotFound("the tables have wood screws by number, as #8, not by millimetres", ["#6", "#8", "#10"])
    return standard or (WOOD_STANDARD,)


class _Plan:
    """One head worked through: figures in floats of one unit, then checks, steps and drawing."""

    def __init__(self, size: ScrewSize, head: Screw, metal, asked):
        self.size, self.head, self.metal, self.asked = size, head, metal, asked
        self.unit = "mm" if size.system == "metric" else "in"
        self.notes: list[str] = []
        self.hole, self.drill = self._drilled()
        self.bore, self.thick = self._f(self.hole), self._f(asked["thickness"])
        self.sub = self._f(asked["below"])
        if head.coned and (head.head_diameter_max or head.head_diameter_sharp):
            used, how = flush_diameter(size, head)
        else:
            used, how = head.head_diameter_max or head.width_across_flats_max, ""
        if used is None:
            raise NotFound(f"the tables give no width for the {head.head} head of {head.size}", ["--head flat"])
        self.used, self.rim = used, self._f(used)
        if self.bore >= self.rim:
            raise Refused(
                f"a hole of {self.hole} lets the {head.size} head of {used} through", ["a smaller hole", "a washer"]
            )
        if how.startswith("sharp"):
            self.notes.append(
                "reckoned with the sharp head, where its cone would end in an edge; the actual one is smaller"
            )
        self.mouth = self.depth = self.deep = self.ball = None
        self.counterbored = False
        self.seat = "none: the head bears on the face"
        if head.coned and asked["seat"] in ("cone", "ball"):
            self._ball_seat() if asked["seat"] == "ball" else self._cone()
        elif asked["seat"] == "counterbore":
            self._counterbore()

    def _f(self, quantity: Quantity) -> float:
        return float(quantity.to(self.unit).exact)

    def _say(self, value: float) -> str:
        return "{} ({})".format(*Quantity.lengths(value, self.unit))

    def travel(self) -> float:
        """Spindle travel from the face: plate, drill point and a little to break through."""
        return self.thick + point_length(self.bore) + BREAK_THROUGH[self.unit]

    def _drilled(self) -> tuple[Quantity, str]:
        """The hole and the drill that makes it."""
        if self.asked["hole"]:
            return self.asked["hole"], any_drills(self.asked["hole"])[0].name
        found = clearance(self.size, fit=self.asked["fit"])
        self.notes += found.notes or [f"{found.fit} clearance hole ({found.standard})"]
        return found.diameter, found.drill or any_drills(found.diameter)[0].name

    def _cone(self) -> None:
        cutter = self.asked["angle"] or self.head.angle
        self.mouth, bears = cone_seat(self.rim, float(self.head.angle.exact), self.bore, float(cutter.exact), self.sub)
        self.depth = cone_depth(self.mouth, self.bore, float(cutter.exact))
        self.seat = f"cone of {cutter.figure} degrees"
        if bears != "cone":
            where = "its rim" if bears == "rim" else "the hole's edge"
            self.notes.append(f"the {self.head.angle.figure} degree head bears on {where} only")

    def _counterbore(self) -> None:
        """A bore in which the head lies with its top below the face."""
        wide, high = self.head.counterbore_diameter, self.head.head_height
        if self.head.coned or wide is None or high is None:
            raise NotFound(
                f"the tables give no counterbore for {self.head.size} {self.head.head}", ["--head 'socket cap'"]
            )
        self.mouth, self.depth = self._f(wide), self._f(high) + self.sub
        self.seat = f"counterbore of {wide}"
        self.counterbored = True

    def _ball_seat(self) -> None:
        ball, told = (self.asked["ball"], []) if self.asked["ball"] else smallest_ball(self.used)
        self.ball = self._f(ball)
        if self.ball <= self.rim:
            raise Refused(
                f"a ball of {ball} is no larger than the {self.head.size} head of {self.used}",
                [str(smallest_ball(self.used)[0])],
            )
        self.deep, touches = ball_depth(self.ball, self.rim, float(self.head.angle.exact), self.bore, self.sub)
        self.mouth, self.depth = cap_width(self.ball, self.deep), self.deep - cap_depth(self.ball, self.bore)
        self.seat = f"ball of {ball}"
        self.notes += [
            *told,
            f"the head touches the ball seat at {'its rim' if touches == 'rim' else 'the ' + touches}",
        ]

    def _length(self, value) -> Quantity | None:
        return None if value is None else Quantity.length(value, self.unit)

    def answer(self) -> Hole:
        self._check_land()
        web = self._check_edge()
        title = f"{self.head.size} {self.head.head} in {self.asked['thickness']}"
        unit, name, family = self.unit, self.metal[0], self.metal[1]
        return Hole(
            size=self.head.size, purpose=self.asked["purpose"], head=self.head.head, standard=self.head.standard,
            metal=name, thickness=self.asked["thickness"], edge=self.asked["edge"], hole=self.hole, drill=self.drill,
            travel=Quantity.length(self.travel(), unit), seat=self.seat, head_diameter=self.used,
            surface_diameter=self._length(self.mouth), seat_depth=self._length(self.depth),
            land=self._length(None if self.depth is None else self.thick - self.depth), web=self._length(web),
            steps=steps(self),
            drawing=section(title, self._drawn(), unit),
            notes=[*self.notes, "edge, web and land limits are common practice"],
            cautions=work.cautions(family, self.metal[2]), cited=cited(self),
        )  # fmt: skip

    def _check_land(self) -> None:
        if self.depth is None:
            return
        land, least = self.thick - self.depth, float(self.asked["least_land"])
        if land <= 0:
            raise Refused(
                f"the plate of {self.asked['thickness']} is too thin for the {self.head.size} head: its seat is"
                f" {self._say(self.depth)} deep, {self._say(-land)} more than the plate", self._ways_out(least),
            )  # fmt: skip
        if land < least * self.thick:
            self.notes.append(f"a straight land of {self._say(land)} is less than {least:g} of the thickness: it dents")

    def _ways_out(self, least: float) -> list[str]:
        """What can be done about a plate thinner than the head."""
        if self.counterbored:
            return ["a thicker plate", "a head that bears on the face (--seat face)", "a flat head"]
        ways = [f"a plate of at least {self._say(self.depth / (1 - least) if least < 1 else self.depth)}"]
        shallow = cone_depth(self.rim, self.bore, float(self.head.angle.exact))
        if self.asked["seat"] == "cone" and not self.asked["ball"]:
            try:
                ball = self._f(smallest_ball(self.used)[0])
            except NotFound:
                ball = 0
            if ball:
                seat = ball_depth(ball, self.rim, float(self.head.angle.exact), self.bore)[0] - cap_depth(
                    ball, self.bore
                )
                if seat < self.thick:
                    ways.append(f"a ball seat, {self._say(seat)} deep")
        ways.append(
            f"a larger hole or the head left {self._say(max(shallow - self.thick, 0) + least * self.thick)} proud"
        )
        return [*ways, "a smaller screw", "a head that bears on the face (--head pan)"]

    def _check_edge(self) -> float | None:
        """The web beside the seat. Raises Refused where the hole stands too near the edge."""
        if self.asked["edge"] is None:
            return None
        edge, diameters = self._f(self.asked["edge"]), float(self.asked["least_edge"])
        need = diameters * self.bore
        if edge < need - 1e-9:
            raise Refused(
                f"the hole's centre is {self._say(need - edge)} too near the edge: {diameters:g} diameters are"
                f" {self._say(need)}", [f"--edge {Quantity.length(need, self.unit)} or more", "a smaller screw"],
            )  # fmt: skip
        part = float(self.asked["least_web"])
        web, least = edge - (self.mouth or self.bore) / 2, part * self.thick
        if web < least - 1e-9:
            raise Refused(
                f"the web beside the seat would be {self._say(web)}, {self._say(least - web)} short of"
                f" {part:g} of the thickness",
                [f"--edge {Quantity.length(edge + least - web, self.unit)} or more", "a smaller screw"],
            )
        return web

    def _drawn(self) -> dict:
        plan = {"thickness": self.thick, "hole": self.bore, "rim": self.rim, "shank": self._f(self.size.diameter)}
        if self.asked["edge"]:
            plan["edge"] = self._f(self.asked["edge"])
        if self.depth is not None:
            plan |= {"mouth": self.mouth, "seat": self.depth, "sink": self.sub}
        if self.counterbored:
            plan["bore"] = self.depth
        if self.head.angle:
            plan["angle"] = float(self.head.angle.exact)
        else:
            plan["height"] = self._f(self.head.head_height) if self.head.head_height else self.rim / 3
        if self.ball:
            plan |= {"ball": self.ball, "deep": self.deep}
        return plan
