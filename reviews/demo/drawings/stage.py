"""A room turned so that one looks at one of its walls."""

from dataclasses import dataclass

from reviews.demo.drawings.canvas import Point
from reviews.demo.drawings.geometry import OPPOSITE, OUTWARD, PlannedRoom, is_level

LEFT_HAND = {"top": "left", "right": "top", "bottom": "right", "left": "bottom"}
"""The side at one's left hand by the side that one looks to."""


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
        left, back = LEFT_HAND[self.towards], OPPOSITE[self.towards]
        along, out = (x, y) if is_level(self.towards) else (y, x)
        across = (self.room.main.edge(left) - along) * OUTWARD[left]
        return across, (self.room.main.edge(back) - out) * OUTWARD[back]

    def on_plan(self, across: float, into: float) -> Point:
        """Return on plan a place given across and into the room [m]."""
        left, back = LEFT_HAND[self.towards], OPPOSITE[self.towards]
        along = self.room.main.edge(left) - OUTWARD[left] * across
        out = self.room.main.edge(back) - OUTWARD[back] * into
        return (along, out) if is_level(self.towards) else (out, along)
