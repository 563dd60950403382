"""The geometry of heads, holes and seats, in one unit of length. Angles are full included angles in degrees; what lies
below the face of the plate is positive. All figures are exact but for the tangents and roots."""

from math import radians, sqrt, tan

# the angle from which a standard reckons the height of a head: the least of the cone, or the nominal one
CONE_OF_HEIGHT = {
    ("ASME B18.6.3", "flat 82"): 80, ("ASME B18.6.3", "flat 100"): 99, ("ASME B18.6.1", "flat 82"): 80,
    ("ASME B18.3", "flat 82"): 82,
}  # fmt: skip


def half_tangent(angle: float) -> float:
    """Tangent of half an included angle, as of a cone or a drill point."""
    return tan(radians(angle / 2))


def point_length(diameter: float, angle: float = 118) -> float:
    """Length of a drill's point: 0.300 of the diameter at 118 degrees, 0.207 at 135.

    >>> round(point_length(1), 3), round(point_length(1, 135), 3)
    (0.3, 0.207)
    """
    return diameter / (2 * half_tangent(angle))


def cone_depth(mouth: float, hole: float, angle: float) -> float:
    """Depth from the face to the hole's edge of a cone of diameter `mouth` at the face: the travel from first touch."""
    return (mouth - hole) / (2 * half_tangent(angle))


def cone_mouth(head: float, below: float, angle: float) -> float:
    """Diameter at the face of the cone in which a head of the same angle lies `below` the face."""
    return head + 2 * below * half_tangent(angle)


def cone_seat(head: float, head_angle: float, hole: float, angle: float, below: float) -> tuple[float, str]:
    """Diameter at the face of a countersink of `angle` in which a head of `head_angle` lies `below` the face, and
    where it bears: on the whole cone, on the hole's edge (a steeper head) or on its rim (a wider head)."""
    if angle == head_angle:
        return cone_mouth(head, below, angle), "cone"
    if head_angle > angle:
        return cone_mouth(head, below, angle), "rim"
    depth = below + cone_depth(head, hole, head_angle)
    return hole + 2 * depth * half_tangent(angle), "hole's edge"


def stands_proud(head: float, head_angle: float, mouth: float, hole: float, angle: float) -> float:
    """How far a head stands above the face in a countersink of diameter `mouth`; negative where it lies below."""
    if head_angle < angle:
        return cone_depth(head, hole, head_angle) - cone_depth(mouth, hole, angle)
    return -cone_depth(mouth, head, angle)


def cap_depth(ball: float, across: float) -> float:
    """Depth of a spherical cap of a ball of diameter `ball`, `across` wide at its rim; across is at most the ball.

    >>> round(cap_depth(10, 2.5), 4)      # Brinell: ball 10 mm, indent 2.5 mm (ISO 6506-1, h = (D - sqrt(D2 - d2))/2)
    0.1588
    """
    return (ball - sqrt(ball**2 - across**2)) / 2


def cap_width(ball: float, depth: float) -> float:
    """Width at the face of a seat that a ball of diameter `ball` cuts to `depth`; the ball itself beyond half of it."""
    return 2 * sqrt(depth * (ball - depth)) if 2 * depth < ball else ball


def ball_depth(ball: float, head: float, angle: float, hole: float, below: float = 0) -> tuple[float, str]:
    """Depth to which a ball cutter must go for a head to lie `below` the face, and where the head then touches: at
    its rim or on the hole's edge. The ball is larger than the head."""
    rim = cap_depth(ball, head)
    edge = cap_depth(ball, hole) + cone_depth(head, hole, angle)
    return (rim + below, "rim") if rim >= edge else (edge + below, "hole's edge")


def sagitta(across: float, radius: float) -> float:
    """How far a face of `radius` falls away over half of `across`."""
    return radius - sqrt(radius**2 - (across / 2) ** 2)
