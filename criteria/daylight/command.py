"""`python -m criteria daylight ROOM.json`: the daylight of one room from a command line."""

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from criteria.daylight.depth import depth_limits, is_within_depth
from criteria.daylight.field import INSET_M, Field, daylight_field
from criteria.daylight.hand import room_average_daylight_factor_pct, split_flux_pct
from criteria.daylight.openings import named
from criteria.daylight.refusals import ImpossibleInput
from criteria.daylight.room_file import read_room
from criteria.typed.json_file import UnreadableFile

EXIT_UNREADABLE = 2


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Give a parser the arguments of the daylight command."""
    parser.add_argument("room", metavar="ROOM.json", type=Path, help="one room, keys with units")
    parser.add_argument(
        "--glass",
        choices=["constant", "angular"],
        default="constant",
        help="one transmittance for every direction, or falling with the angle",
    )
    parser.add_argument(
        "--inset",
        type=float,
        default=INSET_M,
        metavar="M",
        help=f"band along the walls left out of the plane, in m; default {INSET_M}",
    )
    parser.add_argument("--json", action="store_true", help="all figures, not rounded")


def run(options: argparse.Namespace) -> int:
    """Print a room's daylight; return 0, or 2 where the input can't be read."""
    try:
        reading = read_room(options.room)
        field = daylight_field(reading.room, inset_m=options.inset, glass=options.glass)
    except UnreadableFile as unreadable:
        print(unreadable, file=sys.stderr)
        return EXIT_UNREADABLE
    except ImpossibleInput as impossible:
        print(f"{options.room}: {impossible}", file=sys.stderr)
        return EXIT_UNREADABLE
    for key in reading.unread:
        print(f"{options.room}: {key}: not read, nothing here is called that", file=sys.stderr)
    if options.json:
        print(json.dumps(as_json(field), ensure_ascii=False, indent=2))
    else:
        print(as_text(field), end="")
    return 0


def as_json(field: Field) -> dict[str, Any]:
    """Return a field's figures as they are scripted against, not rounded.

    Shares and areas in per cent, uniformity as a ratio; `grid.df_pct` has a row for each y.
    Figures that a room has none of (uniformity without light, depth without a window) are null.
    """
    room = field.room
    return {
        "mean_df_pct": field.mean_pct,
        "median_df_pct": field.median_pct,
        "min_df_pct": field.minimum_pct,
        "uniformity": field.uniformity,
        "share_ge_2pct": 100 * field.share_at_or_over(2.0),
        "average_daylight_factor_pct": room_average_daylight_factor_pct(room),
        "glazing_to_floor_pct": 100 * room.glass_to_floor,
        "no_sky_area_pct": 100 * field.no_sky_share,
        "limiting_depth_ok": is_within_depth(room),
        "grid": {
            "x": field.x_m.tolist(),
            "y": field.y_m.tolist(),
            "df_pct": field.df_pct.tolist(),
        },
    }


def as_text(field: Field) -> str:
    """Return a field's figures as a short table with units."""
    room = field.room
    rows = [
        ("Plane", f"{field.plane_height_m:g} m high, {field.inset_m:g} m in from the walls"),
        ("Glass", field.glass),
        ("Mean daylight factor", f"{field.mean_pct:.2f} %"),
        ("Median", f"{field.median_pct:.2f} %"),
        ("Minimum", f"{field.minimum_pct:.2f} %"),
        ("Uniformity", "no light" if field.uniformity is None else f"{field.uniformity:.2f}"),
        *(
            (f"Plane at {level:g} % or over", f"{100 * field.share_at_or_over(level):.1f} %")
            for level in (1, 2, 5)
        ),
        ("Plane without sky", f"{100 * field.no_sky_share:.1f} % of all, wall to wall"),
        ("Clear glass to floor", f"{100 * room.glass_to_floor:.1f} %"),
        (
            "Average by closed formula",
            f"{room_average_daylight_factor_pct(room):.2f} % (BS 8206-2:2008, superseded)",
        ),
        ("Reflected, by split flux", f"{split_flux_pct(room):.2f} % (hand method)"),
    ]
    for limit in depth_limits(room):
        word = "within" if limit.is_within else "over"
        rows.append(
            (
                f"Depth from {limit.wall}",
                f"{limit.depth_m:.2f} m, {word} the limiting {limit.deepest_m:.2f} m",
            )
        )
    for index, (opening, share) in enumerate(zip(room.openings, field.opening_shares, strict=True)):
        place = index if index < len(room.windows) else index - len(room.windows)
        rows.append((f"Brought by {named(opening, place)}", f"{100 * share:.1f} %"))
    wide = max(len(name) for name, _ in rows)
    return "".join(f"{name:<{wide}}  {value}\n" for name, value in rows)
