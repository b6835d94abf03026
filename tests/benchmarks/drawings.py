"""What drawings cost: `python -m tests.benchmarks.drawings`. Processor time, and bytes as sent."""

from __future__ import annotations

import gzip
import os
import time

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
django.setup()

from criteria.checks.decided import DRAWN, decided  # noqa: E402
from criteria.drawing.catalogue import BY_CHECK  # noqa: E402
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field  # noqa: E402
from criteria.drawing.plan_walked import draw_plan  # noqa: E402
from criteria.drawing.set_up_bars import draw_set_up, sequenced  # noqa: E402
from criteria.walking.pictured import pictured  # noqa: E402
from reviews.drawn.svg import as_svg  # noqa: E402
from tests.criteria.drawing.seen import FIELDS, seen_of  # noqa: E402
from tests.criteria.drawing.test_build_up import TABLES as LAYERS  # noqa: E402
from tests.criteria.drawing.test_climate_months import tables as climate  # noqa: E402
from tests.criteria.drawing.test_door_leaves import tables as doors  # noqa: E402
from tests.criteria.drawing.test_finishes import tables as finishes  # noqa: E402
from tests.criteria.drawing.test_floor_shares import tables as floors  # noqa: E402
from tests.criteria.drawing.test_furniture_heights import TABLES as FURNITURE  # noqa: E402
from tests.criteria.drawing.test_heat_balance import tables as warmth  # noqa: E402
from tests.criteria.drawing.test_lamp_light import tables as lamps  # noqa: E402
from tests.criteria.drawing.test_moves import TABLES as MOVES  # noqa: E402
from tests.criteria.drawing.test_night_air import tables as vents  # noqa: E402
from tests.criteria.drawing.test_pieces import TABLES as PIECES  # noqa: E402
from tests.criteria.drawing.test_plan_marks import TABLES as MARKS  # noqa: E402
from tests.criteria.drawing.test_plan_walked import ASKED, asked_of, package_of  # noqa: E402
from tests.criteria.drawing.test_power_day import tables as power  # noqa: E402
from tests.criteria.drawing.test_precedents import TABLES as BUILDINGS  # noqa: E402
from tests.criteria.drawing.test_ramp_profile import tables as ramp  # noqa: E402
from tests.criteria.drawing.test_set_up_bars import OPENED  # noqa: E402
from tests.criteria.drawing.test_set_up_bars import asked_of as bars_asked  # noqa: E402
from tests.criteria.drawing.test_set_up_bars import package_of as bars_package  # noqa: E402
from tests.criteria.drawing.test_stowage_shelf import TABLES as PLACES  # noqa: E402
from tests.criteria.drawing.test_supports import TABLES as STAND  # noqa: E402
from tests.criteria.drawing.test_tanks import tables as tanks  # noqa: E402
from tests.criteria.drawing.test_transport import TABLES as ROAD  # noqa: E402
from tests.criteria.drawing.test_water_tree import tables as uses  # noqa: E402
from tests.criteria.drawing.test_ways_out import TABLES as WAYS  # noqa: E402
from tests.criteria.drawing.test_windows import TABLES as WINDOWS  # noqa: E402

OF_ROWS = (
    ("change_of_use", MOVES),
    ("daylight_ratio", WINDOWS),
    ("fixture_use", uses()),
    ("floor_finishes", finishes()),
    ("furthest_bunk", WAYS),
    ("furniture_heights", FURNITURE),
    ("heat_loss", warmth()),
    ("lamp_light", lamps()),
    ("leg_travel", STAND),
    ("night_air", vents()),
    ("payload", ROAD),
    ("rain_catch", climate()),
    ("piece_mass", PIECES),
    ("plan_marks", MARKS),
    ("power_ratio", power()),
    ("precedents", BUILDINGS),
    ("ramp_length", ramp()),
    ("sleeping_places", floors()),
    ("step_free_doors", doors()),
    ("stowage_per_guest", PLACES),
    ("wall_u", LAYERS),
    ("water_days", tanks()),
)
"""Drawings that are made of rows and findings alone: a check of each, and rows."""


def main() -> None:
    """Print of each check drawn: to find its place, to draw both widths, to write them."""
    print(f"{'check':20}{'find ms':>9}{'draw ms':>9}{'write ms':>9}{'bytes':>9}")
    for check in DRAWN:
        if check not in ASKED:
            continue
        there, measured, asked = asked_of(package_of(), check)
        began = time.process_time()
        found = decided(there, check, measured)
        at_found = time.process_time()
        shown = pictured(there, found.storey)
        fields = [Field(width_mm=width) for width in (MIDDLE_MM, NARROW_MM)]
        drawings = [draw_plan(shown, found, asked, field) for field in fields]
        at_drawn = time.process_time()
        written = "".join(as_svg(drawing, "plan") for drawing in drawings)
        at_written = time.process_time()
        times = (at_found - began, at_drawn - at_found, at_written - at_drawn)
        columns = "".join(f"{1000 * each:9.1f}" for each in times)
        print(f"{check:20}{columns}{len(gzip.compress(written.encode())):9}")
    package = bars_package(OPENED)
    sequence = sequenced(package, "setup_time")
    asked = bars_asked(package, "setup_time", "150")
    for words in ("first", "again"):
        began = time.process_time()
        drawing = draw_set_up(sequence, asked, Field())
        took = 1000 * (time.process_time() - began)
        size = len(gzip.compress(as_svg(drawing, "bars").encode()))
        print(f"setup_time, {words:8}{took:18.1f}{'':9}{size:9}")
    for check, tables in OF_ROWS:
        seen = seen_of(tables, check)
        began = time.process_time()
        drawing = BY_CHECK[check].ready(seen).of(FIELDS[0])
        took = 1000 * (time.process_time() - began)
        size = len(gzip.compress(as_svg(drawing, check, lambda schedule, mark: "#").encode()))
        print(f"{check:20}{took:18.1f}{'':9}{size:9}")


if __name__ == "__main__":
    main()
