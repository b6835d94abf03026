"""How long a plan takes that is walked, made of a package's rows.

    python -m tests.benchmarks.walking

A hall of 12 × 5 m with a toilet beside it, two doors out, six beds and as many loose things as
are asked for, by a fixed seed: a hut's, and more than one holds. Prints the processor's time of
each check, first and asked again, and of all that a page of one state shows; exits 1 where a
hut's takes longer than it may. Not collected by pytest.
"""

import random
import sys
import time

from criteria.checks.catalogue import CHECKS
from criteria.package import Package, read_package

THINGS = (6, 12, 24, 36)
HELD, ALLOWED_MS = 12, 120

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


def furnished(things: int) -> Package:
    draw = random.Random(3)
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


def timed_ms(slug: str, package: Package) -> float:
    begun = time.process_time()
    CHECKS[slug].of(package)
    return (time.process_time() - begun) * 1000


def main() -> int:
    slugs = [check.slug for check in CHECKS.values() if check.topic == "The plan walked"]
    timed_ms(slugs[0], furnished(0))
    worst = 0.0
    for things in THINGS:
        package = furnished(things)
        first = {slug: timed_ms(slug, package) for slug in slugs}
        again = sum(timed_ms(slug, package) for slug in slugs)
        worst = sum(first.values()) if things == HELD else worst
        print(f"{things + 6} pieces: {sum(first.values()):.0f} ms, again {again:.0f} ms")
        print("   " + ", ".join(f"{slug} {took:.0f}" for slug, took in first.items()))
    print(f"everything of a state with {HELD + 6} pieces: {worst:.0f} ms of {ALLOWED_MS}")
    return int(worst > ALLOWED_MS)


if __name__ == "__main__":
    sys.exit(main())
