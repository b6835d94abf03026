"""Where windows and doors of a building model stand: which way they look, in which rooms."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from reviews.exchange.model_bodies import Thing
from reviews.exchange.model_envelope import Envelope
from reviews.exchange.model_file import ModelFile
from reviews.exchange.model_rooms import RoomRead, Rooms
from reviews.exchange.model_shapes import Body, Figures
from reviews.exchange.proposed import How, Question

NORTH = "north"
"""Name of the question where north lies."""
REACH_M = tuple(k / 10 for k in range(1, 13))
"""So far from an opening rooms are looked for: past linings, and walls as thick. Ours."""

_CHOICES = (("N", 0), ("NE", 45), ("E", 90), ("SE", 135), ("S", 180), ("SW", 225), ("W", 270))
_UP_LOOKS = dict((*_CHOICES, ("NW", 315)))


@dataclass(frozen=True)
class Place:
    """Where an opening stands.

    body        of the window or door
    out         the way it looks out [1]
    across, up  along its plane, to the right and up as seen from inside [1]
    rooms       on both sides, the inner first; one, or none
    is_guessed  whether out was guessed, for no room says which side is inside
    wall        that it stands in
    """

    body: Body
    out: Figures
    across: Figures
    up: Figures
    rooms: tuple[RoomRead, ...]
    is_guessed: bool
    wall: Thing | None

    @property
    def tilt_deg(self) -> float:
        """Of its plane above the horizontal [°]."""
        return math.degrees(math.acos(min(1.0, abs(float(self.out[2])))))

    @property
    def size_m(self) -> tuple[float, float]:
        """Width and height of the box about it [m]."""
        (left, right), (low, high) = self.body.along(self.across), self.body.along(self.up)
        return right - left, high - low


def wall_of(opening: Thing) -> Thing | None:
    """The wall, slab or roof that an opening's element fills a hole of."""
    for filled in getattr(opening, "FillsVoids", None) or ():
        for void in filled.RelatingOpeningElement.VoidsElements or ():
            return void.RelatingBuildingElement
    return None


def place_of(envelope: Envelope, rooms: Rooms, opening: Thing, *, is_door: bool) -> Place | None:
    """Find where a window or door stands; None where it has no shape."""
    model = envelope.model
    body, wall = model.body(opening), wall_of(opening)
    if body is None:
        return None
    host = model.body(wall, whole=True) if wall is not None else None
    out = _looks(body, host, is_door=is_door)
    if abs(out[2]) > 0.17:  # more than 10° from upright
        out = out if out[2] > 0 else -out
        sides: tuple[list[RoomRead], list[RoomRead]] = ([], _rooms_towards(rooms, body, -out))
    else:
        out = np.array([out[0], out[1], 0.0]) / math.hypot(out[0], out[1])
        sides = (_rooms_towards(rooms, body, out), _rooms_towards(rooms, body, -out))
    listed = {space for space, _ in envelope.boundaries.get(opening.id(), ())}
    before, behind = (_chosen(side, listed) for side in sides)
    found = [room for room in (behind, before) if room is not None]
    is_swapped = before is not None and (
        behind is None or rooms.index(before) < rooms.index(behind)
    )
    if is_swapped:
        found.reverse()
        out = -out
    beside = [room for room in rooms.of(listed) if room.body is not None]
    is_guessed = not found
    if is_guessed and abs(out[2]) < 0.17:
        inner = beside[0].body.middle if beside and beside[0].body else _middle(model, rooms)
        out = out if float((body.middle - inner) @ out) >= 0 else -out
    across, up = _along(out, body)
    return Place(body, out, across, up, tuple(found or beside[:2]), is_guessed, wall)


def _looks(body: Body, host: Body | None, *, is_door: bool) -> Figures:
    """The way an opening looks, of either sense: by its glass, by its wall, by its own shape."""
    if not is_door:
        for chosen in (body.is_clear, body.is_glass):
            if chosen.any() and body.areas[chosen].sum() > 0:
                return body.facing(chosen)
    for each in (host, body):
        if each is not None:
            out = each.facing()
            if not is_door or abs(out[2]) < 0.5:
                return out
    return np.asarray(body.axes[:, 1])


def _rooms_towards(rooms: Rooms, body: Body, way: Figures) -> list[RoomRead]:
    """Rooms that a line from an opening's middle meets, the nearest first."""
    line = body.middle + np.outer(REACH_M, way)
    met = [(room.holds(line), room) for room in rooms.near(body.middle, REACH_M[-1] + 0.1)]
    first = [(int(held.argmax()), room) for held, room in met if held.any()]
    return [room for _, room in sorted(first, key=lambda each: each[0])]


def _chosen(found: Sequence[RoomRead], listed: set[int]) -> RoomRead | None:
    """The first of some rooms; those that the file lists beside the opening come before others."""
    for room in found:
        if room.thing.id() in listed:
            return room
    return found[0] if found else None


def _middle(model: ModelFile, rooms: Sequence[RoomRead]) -> Figures:
    bodies = [body for wall in model.of("IfcWall") if (body := model.body(wall, whole=True))]
    bodies = bodies or [room.body for room in rooms if room.body is not None]
    if not bodies:
        return np.zeros(3)
    middles = np.array([body.middle for body in bodies])
    return np.asarray((middles.min(axis=0) + middles.max(axis=0)) / 2)


def _along(out: Figures, body: Body) -> tuple[Figures, Figures]:
    """Right and up along a plane, seen from inside; of a level one, along its own axes."""
    right = np.array([out[1], -out[0], 0.0])
    if np.linalg.norm(right) < 0.05:
        right = np.array([body.axes[0, 0], body.axes[1, 0], 0.0])
        right = right if right.any() else np.array([1.0, 0.0, 0.0])
    right = right / np.linalg.norm(right)
    return right, np.cross(right, out)


@dataclass(frozen=True)
class North:
    """Where north lies on the model's plan.

    turned_deg   bearing of the plan's y axis, clockwise from north [°]; None where nothing says it
    place        how that is known, in words
    """

    turned_deg: float | None
    place: str

    def bearing_of(self, out: Figures) -> float | None:
        """Bearing of a direction, clockwise from north [°], below 360."""
        if self.turned_deg is None or math.hypot(out[0], out[1]) < 0.02:
            return None
        bearing = round(math.degrees(math.atan2(out[0], out[1])) + self.turned_deg, 1)
        return bearing % 360


def north_of(model: ModelFile, answers: Mapping[str, str], questions: list[Question]) -> North:
    """Find north as the model says it, or ask."""
    if model.north is not None:
        x, y = model.north
        return North(-math.degrees(math.atan2(x, y)), "TrueNorth of the model")
    if not (model.of("IfcWindow") or model.of("IfcDoor")):
        return North(None, "")
    chosen = answers.get(NORTH, "")
    questions.append(
        Question(
            name=NORTH,
            asked="The model doesn't say where north is. Which way does “up” on its plan look?",
            choices=tuple(
                (letters, f"{letters}: the top of the plan looks {letters}")
                for letters in _UP_LOOKS
            ),
            chosen=chosen if chosen in _UP_LOOKS else "",
        )
    )
    if chosen in _UP_LOOKS:
        return North(float(_UP_LOOKS[chosen]), "as answered")
    return North(None, "")


def how_of(place: Place) -> How:
    """How the way is known that an opening looks."""
    return How.GUESSED if place.is_guessed else How.MEASURED
