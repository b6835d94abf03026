"""What burns near a stove, on the plan in every state that is lived in."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from criteria.checks.check import Check
from criteria.checks.reading import gathered, of_each
from criteria.checks.widths import left_out, unplaced
from criteria.findings import Amount, Measured, Step
from criteria.package import Package
from criteria.schedules.envelope import Layer
from criteria.schedules.finishes import Finish
from criteria.schedules.furniture import Furniture
from criteria.schedules.states import LIVED_KINDS
from criteria.sources import HEARTH, PRACTICE, STOVE_CLEAR
from criteria.typed.cells import require_some
from criteria.units import IN, LENGTH
from criteria.walking.beside import distances
from criteria.walking.bodies import disc
from criteria.walking.of_package import Storeys, storeys_of

INCH_M = float(IN.factor)
CLEAR_M, SHIELDED_M = 36 * INCH_M, 12 * INCH_M
"""From a stove without a plate to what burns; to a wall behind sheet steel on 25 mm of air [m]."""
PIPE_M, PIPE_SHIELDED_M = 18 * INCH_M, 9 * INCH_M
"""The same of a flue pipe of a single wall [m]."""
HEARTH_M = 16 * INCH_M
"""What doesn't burn of the floor before the door [m]."""

BURNS = re.compile(
    r"wood|timber|ply|pine|spruce|larch|cedar|birch|\boak|\bfir\b|osb|chip|fib(er|re).?board|mdf|"
    r"hardboard|felt|fabric|canvas|textile|paper|cork|bamboo|straw|plasterboard|gypsum|vinyl|foam",
    re.IGNORECASE,
)
"""Words of a wall that burns; plasterboard on studs is held to be one (from memory)."""
STANDS_FIRE = re.compile(
    r"stone|brick|masonry|concrete|cement|steel|iron|\bmetal|alumini|copper|zinc|\btiles?\b|slate|"
    r"glass|ceramic|clay|adobe|earth",
    re.IGNORECASE,
)
"""Words of a wall that doesn't."""

SHOWN = 6
"""So many of what comes nearest stand in the working."""


@dataclass(frozen=True)
class _Near:
    """How far off something is and how far it ought to be [m]."""

    words: Step
    is_m: float
    wanted_m: float

    @property
    def beyond_m(self) -> float:
        return self.is_m - self.wanted_m

    @property
    def step(self) -> Step:
        return Step("{}: {}, of {}", (self.words, *_lengths(self.is_m, self.wanted_m)))


def _lengths(*metres: float) -> tuple[Amount, ...]:
    return tuple(Amount(each, LENGTH) for each in metres)


def _stove_clear(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    pieces = package.rows_of(Furniture)
    stoves = [piece for piece in pieces if piece.kind == "stove"]
    if not stoves and not package.plant.burns:
        return []
    require_some(stoves, "the stove's place, a row of kind stove (furniture schedule)")
    storeys = storeys_of(package)

    def figure(stove: Furniture) -> Measured:
        storey, _ = storeys.of_piece(stove)
        room = storeys.whole(stove.room)
        beside = {
            piece.mark
            for piece in gathered(pieces, lambda each: each if _may_burn(each) else None)
            if piece and piece.unless_blank("room") and storeys.whole(piece.room) == room
        }
        found = [_hearth(stove), *_of_things(storeys, stove, beside)]
        walls = list(_of_walls(storeys, stove, room))
        does_burn = _walls_burn(package, room)
        missing = unplaced(storey)
        if does_burn:
            found += walls
        elif does_burn is None and any(each.beyond_m < 0 for each in walls):
            missing += (f"what the walls of {room} are made of (finish schedule)",)
        found.sort(key=lambda each: each.beyond_m)
        return Measured(
            values=(found[0].beyond_m,),
            steps=tuple(each.step for each in found[:SHOWN]),
            missing=missing,
            notes=(found[0].step, *left_out(storey)),
        )

    return of_each(stoves, figure)


def _may_burn(piece: Furniture) -> bool:
    return piece.kind != "stove" and piece.burns


def _hearth(stove: Furniture) -> _Near:
    words = Step("the hearth before the door of {}", (stove.mark,))
    return _Near(words, stove.hearth_m, HEARTH_M)


def _of_things(storeys: Storeys, stove: Furniture, beside: set[str]) -> Iterator[_Near]:
    wanted = CLEAR_M if stove.plate_m is None else stove.plate_m
    for words, wanted_m, off in _parts(storeys, stove, wanted, PIPE_M):
        for mark, is_m in off:
            if mark in beside:
                yield _Near(Step("{} to {}", (words, mark)), is_m, wanted_m)


def _of_walls(storeys: Storeys, stove: Furniture, room: str) -> Iterator[_Near]:
    """The nearest wall of its room, of the stove and of its pipe."""
    clear, pipe = (SHIELDED_M, PIPE_SHIELDED_M) if stove.is_shielded else (CLEAR_M, PIPE_M)
    clear = clear if stove.plate_m is None else stove.plate_m
    for words, wanted_m, off in _parts(storeys, stove, clear, pipe):
        nearest = min(is_m for mark, is_m in off if mark == room)
        yield _Near(Step("{} to a wall of {}", (words, room)), nearest, wanted_m)


def _parts(
    storeys: Storeys, stove: Furniture, clear_m: float, pipe_m: float
) -> Iterator[tuple[Step, float, tuple[tuple[str, float], ...]]]:
    """The stove and its pipe, each with the distance it wants, and its own to all on the plan."""
    storey, body = storeys.of_piece(stove)
    yield Step("{}", (stove.mark,)), clear_m, distances(storey, body)
    if stove.flue_m:
        pipe = disc(*body.middle, stove.flue_m / 2, stove.mark)
        yield Step("the flue of {}", (stove.mark,)), pipe_m, distances(storey, pipe)


def _walls_burn(package: Package, room: str) -> bool | None:
    """Whether the walls of a room burn by their words; None where they don't say."""
    finishes = package.rows_of(Finish)
    own = [row for row in finishes if row.surface == "wall" and row.room == room]
    inner = [row.layer for row in package.rows_of(Layer) if row.part == "wall"][-1:]
    words = [word or "" for word in ([row.finish for row in own] or inner)]
    if any(BURNS.search(each) for each in words):
        return True
    return False if words and all(STANDS_FIRE.search(each) for each in words) else None


STOVE_CLEAR_CHECK = Check(
    slug="stove_clear",
    title="Stove clear of what burns, beyond what it wants",
    topic="Heat",
    kinds=LIVED_KINDS,
    scales=(LENGTH,),
    measure=_stove_clear,
    schedules=("furniture", "rooms", "finishes", "envelope", "plant", "furniture_by_state"),
    formula="min(d − d_wanted)",
    meaning="d on the plan from the stove to furniture, made beds and walls that burn, from its "
    "pipe to the same, and the hearth before its door [mm]; d_wanted what its tested plate says, "
    "else 914 mm (36 in), 305 mm to a wall behind sheet steel on 25 mm of air, of a single-walled "
    "pipe 457 and 229 mm, of the hearth 406 mm",
    citations=(STOVE_CLEAR, HEARTH, PRACTICE),
    limits="In the stove's own room. The pipe stands over its middle. What hangs above, clothes "
    "to dry, the ceiling, the roof where the pipe goes through and the chimney above it are not "
    "in it. Walls burn, or don't, by the words of the finish schedule, else of the innermost "
    "layer.",
    question="{name}: {value} beyond what it wants to what burns, against {target}. With the beds "
    "made and wet clothes about?",
    caution="Fire: a stove, its hearth and its flue are fitted by a licensed installer; its plate, "
    "its maker and the local code decide.",
)
