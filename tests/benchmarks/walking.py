"""How long a plan takes that is walked, made of a package's rows.

    python -m tests.benchmarks.walking

A hall of 12 × 5 m with a toilet beside it, two doors out, six beds and as many loose things as
are asked for, by fixed seeds: a hut's, and more than one holds. Prints the processor's time of all
that a page of one state shows, of its widths alone, asked again, and of an equal package read
anew, then of each check: medians of several plans. Exits 1 where the fullest takes longer than it
may. Not collected by pytest.
"""

import random
import sys
import time
from collections.abc import Sequence
from statistics import median

from criteria.checks.catalogue import CHECKS
from criteria.checks.ways import TOPIC
from criteria.package import Package, read_package

THINGS = (6, 12, 24, 36)
HELD, ALLOWED_MS, WIDTHS_MS, KEPT_MS = 36, 120, 20, 2
PLANS = 5
WIDTHS = ("way_to_bed", "way_to_toilet", "second_way_out")

ROOMS = [
    {
        "mark": "R1",
        "room": "Hall",
        "use": "sleep",
        "floor_m2": "60",
        "width_m": "12",
        "depth_m": "5",
        "clear_height_m": "2.4",
        "at_x": "0",
        "at_y": "0",
    },
    {
        "mark": "R2",
        "room": "Toilet",
        "use": "wc",
        "floor_m2": "4",
        "width_m": "2",
        "depth_m": "2",
        "clear_height_m": "2.4",
        "at_x": "12.1",
        "at_y": "0",
    },
]
LEAF = {"leaf_w": "1000", "clear_w": "900", "height": "2000", "swing": "in", "hinge": "left"}
DOORS = [
    {
        "mark": "D1",
        "place": "Front",
        "outside": "yes",
        "role": "main exit",
        "room": "R1",
        "faces": "S",
        "left": "8000",
        **LEAF,
    },
    {
        "mark": "D2",
        "place": "Toilet",
        "outside": "no",
        "role": "internal",
        "room": "R1",
        "faces": "E",
        "left": "3500",
        **LEAF,
    },
    {
        "mark": "D3",
        "place": "Back",
        "outside": "yes",
        "role": "second exit",
        "room": "R1",
        "faces": "W",
        "left": "1000",
        **LEAF,
    },
]


def piece(mark: str, x0: float, y0: float, wide: float, deep: float, kind: str) -> dict[str, str]:
    """A piece of furniture by its lower left corner and its sides, in metres."""
    return {
        "mark": mark,
        "item": "Piece",
        "kind": kind,
        "n": "1",
        "room": "R1",
        "height_mm": "450",
        "l": f"{1000 * wide:.0f}",
        "w": f"{1000 * deep:.0f}",
        "plan_x": f"{1000 * (x0 + wide / 2):.0f}",
        "plan_y": f"{1000 * (y0 + deep / 2):.0f}",
    }


def furnished(things: int, seed: int) -> Package:
    draw = random.Random(seed)
    beds = [piece(f"U{n + 1}", 2 * n, 4.1, 1.9, 0.9, "bed") for n in range(6)]
    loose = [
        piece(
            f"U{n + 7}",
            draw.uniform(0.2, 11),
            draw.uniform(0.2, 3.4),
            draw.uniform(0.2, 0.7),
            draw.uniform(0.2, 0.6),
            "other",
        )
        for n in range(things)
    ]
    tables = {"rooms": ROOMS, "doors": DOORS, "furniture": [*beds, *loose]}
    return read_package(tables).package


def timed_ms(slugs: Sequence[str], package: Package) -> list[float]:
    took = []
    for slug in slugs:
        begun = time.process_time()
        CHECKS[slug].of(package)
        took.append((time.process_time() - begun) * 1000)
    return took


def main() -> int:
    slugs = [check.slug for check in CHECKS.values() if check.topic == TOPIC]
    timed_ms(slugs, furnished(0, 0))
    over = False
    for things in THINGS:
        first, again, anew = [], [], []
        for seed in range(PLANS):
            package = furnished(things, seed)
            first.append(timed_ms(slugs, package))
            again.append(sum(timed_ms(slugs, package)))
            anew.append(sum(timed_ms(slugs, furnished(things, seed))))
        each = {
            slug: median(took) for slug, took in zip(slugs, zip(*first, strict=True), strict=True)
        }
        whole = median(map(sum, first))
        widths = median(sum(took[slugs.index(slug)] for slug in WIDTHS) for took in first)
        kept, equal = median(again), median(anew)
        print(
            f"{things + 6} pieces: {whole:.0f} ms of {ALLOWED_MS}, widths {widths:.1f} of "
            f"{WIDTHS_MS}, again {kept:.1f}, of an equal package read anew {equal:.1f}"
        )
        print("   " + ", ".join(f"{slug} {took:.1f}" for slug, took in each.items()))
        over |= things == HELD and (whole > ALLOWED_MS or widths > WIDTHS_MS or kept > KEPT_MS)
    return int(over)


if __name__ == "__main__":
    sys.exit(main())
