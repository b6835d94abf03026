"""Odd values: figures that are probably a slip of unit or typing. They ask, they don't accuse."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from criteria.package import Package
from criteria.schedules.rooms import LIVED_IN
from criteria.units import FLOOR, LENGTH, LITRES, ROOM_LENGTH


@dataclass(frozen=True)
class OddValue:
    """A cell that is probably not what was meant.

    schedule, mark, head   where it stands
    read                   what it says, with its unit
    question               what to ask
    suggestion             the text that would mend it, or "" where only its writer knows
    """

    schedule: str
    mark: str
    head: str
    read: str
    question: str
    suggestion: str = ""


LEAST_TANK_M3 = 0.020
MOST_TANK_M3 = 20.0
FRAME_SHARE = 0.95
"""Glass at this share of the frame both ways is probably the frame itself [1]. Common practice."""


def _tanks(package: Package) -> Iterator[OddValue]:
    for tank in package.tanks:
        volume = tank.volume_m3
        if volume is not None and volume < LEAST_TANK_M3:
            litres = LITRES.metric.from_si(volume)
            plain = f"{float(litres):g}"
            yield OddValue(
                "tanks", tank.mark, "litres", f"{plain} L",
                f"{tank.mark} reads {plain} L. Is that {plain} m³, {float(litres) * 1000:,.0f} L?",
                f"{plain} m³",
            )  # fmt: skip
        elif volume is not None and volume > MOST_TANK_M3:
            read = LITRES.write(volume)
            question = f"{tank.mark} reads {read}, more than a lorry carries. Is it in litres?"
            yield OddValue("tanks", tank.mark, "litres", read, question)
        if tank.usable_share == 1:
            question = f"{tank.mark} is said to be usable to the last drop. Where is its outlet?"
            yield OddValue("tanks", tank.mark, "usable_share", "1.00", question)


def _windows(package: Package) -> Iterator[OddValue]:
    for window in package.windows:
        sides = (
            (window.glass_w_m, window.frame_w_m, "glass_w"),
            (window.glass_h_m, window.frame_h_m, "glass_h"),
        )
        if all(g and f and g >= FRAME_SHARE * f for g, f, _ in sides):
            read = LENGTH.write(window.glass_w_m or 0)
            yield OddValue(
                "windows", window.mark, "glass_w", read,
                f"{window.mark}: the glass is as large as its frame. Is it the frame that was "
                "measured?",
            )  # fmt: skip
        for glass, frame, head in sides:
            if glass and frame and glass > frame:
                question = (
                    f"{window.mark}: glass {LENGTH.write(glass)} in a frame of "
                    f"{LENGTH.write(frame)}. Which is it?"
                )
                yield OddValue("windows", window.mark, head, LENGTH.write(glass), question)
        if window.is_fixed and (window.open_share or 0) > 0:
            yield OddValue(
                "windows", window.mark, "open_share", f"{window.open_share:g}",
                f"{window.mark} is fixed but counted as opening. Which is it?", "0",
            )  # fmt: skip
        for head, side in (("frame_w", window.frame_w_m), ("frame_h", window.frame_h_m)):
            if side is not None and not 0.1 <= side <= 4:
                question = f"{window.mark}: a frame side of {LENGTH.write(side)}. Millimetres?"
                yield OddValue("windows", window.mark, head, LENGTH.write(side), question)


def _rooms(package: Package) -> Iterator[OddValue]:
    for room in package.rooms:
        floor, low = room.floor_m2, room.low_headroom_m2
        if floor is not None and low is not None and low > floor:
            question = (
                f"{room.mark}: {FLOOR.write(low)} under 1.5 m in a floor of {FLOOR.write(floor)}. "
                "Which is it?"
            )
            yield OddValue("rooms", room.mark, "low_headroom_m2", FLOOR.write(low), question)
        height = room.clear_height_m
        if height is not None and room.use in LIVED_IN and not 1.2 <= height <= 6:
            question = f"{room.mark} is {ROOM_LENGTH.write(height)} high. Is it in metres?"
            read = ROOM_LENGTH.write(height)
            yield OddValue("rooms", room.mark, "clear_height_m", read, question)


def _people(package: Package) -> Iterator[OddValue]:
    sleeping = [row.n for row in package.occupants if row.sleeps_here and row.n is not None]
    asked = package.site.people
    if sleeping and asked is not None and sum(sleeping) != asked:
        question = (
            f"The schedule sleeps {sum(sleeping)}, the brief asks for {asked}. Who is missing: "
            "a warden, staff, a visitor?"
        )
        yield OddValue("occupants", "", "n", str(sum(sleeping)), question)


_RULES: tuple[Callable[[Package], Iterator[OddValue]], ...] = (_tanks, _windows, _rooms, _people)


def odd_values(package: Package) -> tuple[OddValue, ...]:
    """Return every odd value of a package, schedule by schedule."""
    return tuple(odd for rule in _RULES for odd in rule(package))
