"""Rooms for tests of the plan walked: walls without thickness, a door in the lower wall."""

from criteria.walking.bodies import Body, Plan, Point, disc, rectangle, wall


def thing(kind: str, *figures: float) -> Body:
    """A rectangle x0, x1, y0, y1[, turn in degrees], or a disc x, y, radius."""
    if kind == "disc":
        return disc(*figures)
    x0, x1, y0, y1, *turn = figures
    return rectangle((x0, x1), (y0, y1), *turn)


def room(size: Point, door: Point, *things: Body) -> Plan:
    (across, up), (left, right) = size, door
    walls = [
        wall((0, 0), (left, 0)),
        wall((right, 0), (across, 0)),
        wall((0, 0), (0, up)),
        wall((across, 0), (across, up)),
        wall((0, up), (across, up)),
    ]
    return Plan([*walls, *things])


def before(door: Point) -> Point:
    """1 m outside the middle of the door."""
    return (door[0] + door[1]) / 2, -1.0
