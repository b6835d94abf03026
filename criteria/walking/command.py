"""`python -m criteria walk PLAN.json`: the widest way to each place of a plan."""

import argparse
import json
import math
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from criteria.typed.json_file import UnreadableFile
from criteria.walking.plan_file import PlanFile, read_plan
from criteria.walking.widest import WidestWay, widest_ways

EXIT_UNREADABLE = 2


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Give a parser the arguments of the walk command."""
    parser.add_argument("plan", metavar="PLAN.json", type=Path, help="one plan, in metres")
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
    ways = widest_ways(reading.plan, reading.start, reading.targets)
    if options.json:
        print(json.dumps(as_json(ways), ensure_ascii=False, indent=2, allow_nan=False))
    else:
        print(as_text(reading, ways), end="")
    return 0


def as_json(ways: Sequence[WidestWay]) -> dict[str, Any]:
    """Return the ways as they are scripted against, in metres, not rounded.

    A width is 0 where the way is shut, null where the place itself lies in something.
    """
    return {
        "widest_m": [way.width_m for way in ways],
        "room_to_stand_m": [way.room_m for way in ways],
        "narrowest": [
            [list(at) for at in way.narrowest.at] if way.narrowest else None for way in ways
        ],
    }


def as_text(reading: PlanFile, ways: Sequence[WidestWay]) -> str:
    """Return a line for each place: how wide the way is, and between what."""
    lines = [
        f"to {x:g}, {y:g}: {_told(way)}\n"
        for (x, y), way in zip(reading.targets, ways, strict=True)
    ]
    return "".join(lines) or "no place is asked for\n"


def _told(way: WidestWay) -> str:
    if way.width_m is None:
        return "no data; the place, or the start, lies in something that stands there"
    room = f"a disc of {_millimetres(way.room_m)} stands there"
    if way.narrowest is None:
        return f"nothing narrows the way; {room}"
    first, second = way.narrowest.first.mark, way.narrowest.second.mark
    at, facing = (f"{x:.3f}, {y:.3f}" for x, y in way.narrowest.at)
    between = f"between {first} at {at} and {second} at {facing}"
    return f"{_millimetres(way.width_m)} wide, narrowest {between}; {room}"


def _millimetres(metres: float) -> str:
    """Millimetres to 5, rounded down: half a millimetre is no finding, and none is given away."""
    return f"{math.floor(round(metres * 200, 6)) * 5:,} mm"
