"""A building between two states: what weighs where, and stands on which feet, once steps ended.

A piece goes straight from its place in one state to that in the next when its step is done; what
stands in it goes along, and what is left of its own way with its own step.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from criteria.errors import InputError
from criteria.standing.tipping import Part
from criteria.walking.bodies import Point

MOVES_M = 5e-4
"""What moves by less stands where it stood: places are typed to a millimetre [m]."""

REACH_M = 0.3
"""A foot stands so near to what it holds, or under it [m]. Common practice."""

Corners = tuple[Point, ...]


@dataclass(frozen=True)
class Body:
    """A piece in one state: what it weighs where, and the corners to which people may come."""

    part: Part
    corners: Corners = ()

    def is_over(self, foot: Point) -> bool:
        """Whether it stands over a foot, or within REACH_M of it."""
        return bool(self.corners) and all(
            min(side) - REACH_M <= at <= max(side) + REACH_M
            for side, at in zip(zip(*self.corners, strict=True), foot, strict=True)
        )


class HalfBuilt:
    """A building on its way between two states.

    before, then  pieces by mark, as they stand in the two states
    inside        for each piece what it stands in before
    step_of       for each piece or leg the step that moves it
    feet          legs by mark that are down before, and then
    fixed         for each leg that goes along with a piece, which, and how far from its middle

    A leg under a piece holds nothing until that has come; one that reaches out beyond every piece
    of its state holds from wherever it is put down.
    Raises InputError for a piece or a leg that differs and that no step moves.
    """

    def __init__(
        self,
        before: Mapping[str, Body],
        then: Mapping[str, Body],
        inside: Mapping[str, str | None],
        step_of: Mapping[str, str],
        feet: tuple[Mapping[str, Point], Mapping[str, Point]],
        fixed: Mapping[str, tuple[str, Point]] | None = None,
    ) -> None:
        self.before, self.then, self.feet = before, then, feet
        self.step_of, self.fixed = step_of, fixed or {}
        self._known: dict[frozenset[str], dict[str, Body]] = {}
        self._under = {
            mark
            for bodies, down in zip((before, then), feet, strict=True)
            for mark, foot in down.items()
            if any(body.is_over(foot) for body in bodies.values())
        }
        self._on = {mark: tuple(_on(mark, inside, step_of)) for mark in {**before, **then}}
        for mark in sorted(before.keys() & then.keys()):
            if not self._on[mark] and max(map(abs, self._by(mark))) > MOVES_M:
                raise InputError(f"{mark} stands elsewhere then, and no step moves it")
        for mark in sorted((before.keys() ^ then.keys()) - step_of.keys()):
            raise InputError(f"{mark} comes or goes, and no step moves it")
        for mark in sorted((feet[0].keys() ^ feet[1].keys()) - step_of.keys()):
            raise InputError(f"leg {mark} is set down or taken up, and in no step")

    def bodies(self, done: frozenset[str]) -> dict[str, Body]:
        """Return every piece where it stands once some steps have ended."""
        if done not in self._known:
            self._known[done] = {body.part.mark: body for body in self._bodies(done)}
        return self._known[done]

    def _bodies(self, done: Collection[str]) -> Iterator[Body]:
        for mark in {**self.before, **self.then}:
            on = self._on[mark]
            has_moved = bool(on) and self.step_of[on[0]] in done
            body = (self.then if has_moved else self.before).get(mark)
            if body is None:
                continue
            yield _shifted(body, *self._shift(mark, has_moved, done))

    def _shift(self, mark: str, has_moved: bool, done: Collection[str]) -> Point:
        """By how far a piece is from where it stands in the state that it is in."""
        on = self._on[mark]
        ways = [self._by(mark), *map(self._by, on[1:]), (0.0, 0.0)]
        by = self._by(mark) if has_moved else (0.0, 0.0)
        x, y = -by[0], -by[1]
        for n, each in enumerate(on):
            if self.step_of[each] in done:
                x += ways[n][0] - ways[n + 1][0]
                y += ways[n][1] - ways[n + 1][1]
        return x, y

    def _by(self, mark: str) -> Point:
        """By how far a piece goes in all; not at all where it isn't there in both states."""
        if mark not in self.before or mark not in self.then:
            return 0.0, 0.0
        start, end = self.before[mark].part.at, self.then[mark].part.at
        return end[0] - start[0], end[1] - start[1]

    def down(self, done: Collection[str]) -> list[str]:
        """Return the legs that are down once some steps have ended."""
        before, then = self.feet
        return [
            mark
            for mark in {**before, **then}
            if mark in (then if self.step_of.get(mark) in done else before)
        ]

    def standing_on(self, done: frozenset[str], ended: frozenset[str]) -> dict[str, Point]:
        """Return the feet that hold, by mark, while pieces go from one place to another.

        done    steps by which legs are down
        ended   the same, or with the step in hand: its pieces have moved, its legs not
        """
        there, places = (self.bodies(done), self.bodies(ended)), {**self.feet[0], **self.feet[1]}
        found = {}
        for mark in self.down(done):
            if mark in self.fixed:
                piece, (x, y) = self.fixed[mark]
                if body := there[1].get(piece):
                    found[mark] = body.part.at[0] + x, body.part.at[1] + y
            elif mark not in self._under or all(
                any(body.is_over(places[mark]) for body in bodies.values()) for bodies in there
            ):
                found[mark] = places[mark]
        return found


def _on(mark: str, inside: Mapping[str, str | None], step_of: Mapping[str, str]) -> Iterator[str]:
    """What moves a piece: itself where a step does, then all in which it rides that steps move."""
    passed: list[str] = []
    at: str | None = mark
    while at is not None and at not in passed:
        passed.append(at)
        if at in step_of:
            yield at
        at = inside.get(at)


def _shifted(body: Body, x: float, y: float) -> Body:
    part = body.part
    at = part.at[0] + x, part.at[1] + y
    corners = tuple((corner[0] + x, corner[1] + y) for corner in body.corners)
    return Body(Part(part.mass_kg, at, part.mark), corners)
