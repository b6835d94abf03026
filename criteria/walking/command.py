"""`python -m criteria walk PLAN.json`: the widest way to each place of a plan, its length too."""

import argparse
import json
import math
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from criteria.typed.json_file import UnreadableFile
from criteria.units import rounded
from criteria.walking.circles import FINE_M, Circle, largest_circle, largest_circle_reached
from criteria.walking.plan_file import MOST_M, PlanFile, read_plan
from criteria.walking.shortest import shortest_ways
from criteria.walking.widest import WidestWay, widest_ways

EXIT_UNREADABLE = 2
WAY_M = 0.915
"""36 in (2010 ADA Standards, 403.5.1, quoted from a secondary source)."""
KEEPS_M = 0.2
"""What a walker keeps from everything: common practice."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Give a parser the arguments of the walk command."""
    parser.add_argument("plan", metavar="PLAN.json", type=Path, help="one plan, in metres")
    parser.add_argument(
        "--way",
        type=_way,
        default=WAY_M,
        metavar="M",
        help=f"width that a walker needs to come to the circle, in m; default {WAY_M}",
    )
    parser.add_argument("--json", action="store_true", help="all figures, not rounded")


def run(options: argparse.Namespace) -> int:
    """Print the ways of a plan; return 0, or 2 where the input can't be read."""
    try:
        reading = read_plan(options.plan)
    except UnreadableFile as unreadable:
        print(unreadable, file=sys.stderr)
        return EXIT_UNREADABLE
    for key in reading.unread:
        print(f"{options.plan}: {key}: not read, nothing here is called that", file=sys.stderr)
    walk = walked(reading, options.way)
    if options.json:
        print(json.dumps(as_json(walk), ensure_ascii=False, indent=2, allow_nan=False))
    else:
        print(as_text(reading, walk), end="")
    return 0


@dataclass(frozen=True)
class Walk:
    """What a plan comes to: ways in the order of its targets, travel to outside, circles.

    travel_m   endless where a walker who keeps KEEPS_M from everything doesn't come out
    reached    the largest clear circle that a walker as wide as `way_m` comes to
    """

    ways: Sequence[WidestWay]
    travel_m: Sequence[float]
    circle: Circle | None
    reached: Circle | None
    way_m: float


def walked(reading: PlanFile, way_m: float) -> Walk:
    """Walk a plan."""
    plan, start, targets = reading.plan, reading.start, reading.targets
    low, high = (0.0, 0.0), reading.size_m
    return Walk(
        widest_ways(plan, start, targets),
        [way.length_m for way in shortest_ways(plan, targets, start, keeps_m=KEEPS_M)],
        largest_circle(reading.shut, low, high),
        largest_circle_reached(reading.shut, plan, start, way_m, low, high),
        way_m,
    )


def as_json(walk: Walk) -> dict[str, Any]:
    """Return a walk as it is scripted against, in metres, not rounded.

    A width is 0 where the way is shut, null where the place itself lies in something; travel is
    null where nobody comes out.
    """
    ways = walk.ways
    return {
        "widest_m": [way.width_m for way in ways],
        "room_to_stand_m": [way.room_m for way in ways],
        "narrowest": [
            [list(at) for at in way.narrowest.at] if way.narrowest else None for way in ways
        ],
        "travel_m": [length if math.isfinite(length) else None for length in walk.travel_m],
        "circle_m": walk.circle and walk.circle.diameter_m,
        "circle_reached_m": walk.reached and walk.reached.diameter_m,
        "way_m": walk.way_m,
    }


def as_text(reading: PlanFile, walk: Walk) -> str:
    """Return a line for each place, how wide the way is and between what, and one of circles."""
    lines = [
        f"to {x:g}, {y:g}: {_told(way)}; {_travelled(length)}\n"
        for (x, y), way, length in zip(reading.targets, walk.ways, walk.travel_m, strict=True)
    ]
    circle, reached = (
        _millimetres(each.diameter_m + 2 * FINE_M) if each else "none"
        for each in (walk.circle, walk.reached)
    )
    way = f"by a way of {_millimetres(walk.way_m)}"
    return "".join([*lines, f"largest clear circle {circle}; reached {way}: {reached}\n"])


def _travelled(length_m: float) -> str:
    return f"{length_m:.1f} m to outside" if math.isfinite(length_m) else "no way to outside"


def _told(way: WidestWay) -> str:
    if way.width_m is None:
        return "no data, the place or the start lies in something that stands there"
    room = f"a disc of {_millimetres(way.room_m)} stands there"
    if way.narrowest is None:
        return f"nothing narrows the way; {room}"
    first, second = way.narrowest.first.mark, way.narrowest.second.mark
    at, facing = (f"{x:.3f}, {y:.3f}" for x, y in way.narrowest.at)
    between = f"between {first} at {at} and {second} at {facing}"
    return f"{_millimetres(way.width_m)} wide, narrowest {between}; {room}"


def _millimetres(metres: float) -> str:
    """Millimetres to 5, rounded down: half a millimetre is no finding, and none is given away."""
    return f"{rounded(math.floor(round(metres * 200, 6)) * 5, 0)} mm"


def _way(read: str) -> float:
    try:
        way_m = float(read)
    except ValueError:
        way_m = math.nan
    if not 0 < way_m <= MOST_M:
        raise argparse.ArgumentTypeError(f"read {read!r}; expected metres over 0, such as 0.9")
    return way_m
