"""A room turned so that one looks at one of its walls."""

from dataclasses import dataclass

from reviews.demo.drawings.canvas import Point
from reviews.demo.drawings.geometry import PlannedRoom, is_level


@dataclass(frozen=True)
class Stage:
    """A room turned so that one looks at its far wall: x to the right, d into the picture.

    high   of the room [m]
    """

    room: PlannedRoom
    towards: str
    high: float

    @property
    def width(self) -> float:
        """Across the picture [m]."""
        return self.room.main.long(is_level(self.towards))

    @property
    def depth(self) -> float:
        """Into the picture [m]."""
        return self.room.main.long(not is_level(self.towards))

    @property
    def back_m(self) -> float:
        """How far before the room one stands, so that all of its width is seen [m]."""
        return max(2.4, 0.62 * self.width)

    def turned(self, x: float, y: float) -> Point:
        """Return across and depth of a place on plan [m]."""
        r = self.room.main
        return {
            "top": (x - r.x0, r.y1 - y),
            "bottom": (r.x1 - x, y - r.y0),
            "right": (y - r.y0, x - r.x0),
            "left": (r.y1 - y, r.x1 - x),
        }[self.towards]

    def on_plan(self, across: float, into: float) -> Point:
        """Return on plan a place given across and into the room [m]."""
        r = self.room.main
        return {
            "top": (r.x0 + across, r.y1 - into),
            "bottom": (r.x1 - across, r.y0 + into),
            "right": (r.x0 + into, r.y0 + across),
            "left": (r.x1 - into, r.y1 - across),
        }[self.towards]
