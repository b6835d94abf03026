"""How long the order of pieces takes that geometry forces, and what stands after each step.

    python -m tests.benchmarks.folding

Free drawers, of which every set is tried, and shells nested in each other, typed as schedules.
Prints the processor's time of both checks; exits 1 where ten pieces take over a second. Not
collected by pytest.
"""

import sys
import time

from criteria.checks.catalogue import CHECKS
from criteria.package import Package, read_package
from tests.criteria.checks.folded import STATES, packed, piece, step

COUNTS = (4, 8, 10, 14)
HELD, ALLOWED_S = 10, 1.0


def drawers(count: int) -> Package:
    """A chest of drawers side by side, which all go at once; steps that name nothing before."""
    pieces = [piece("chest", (2.0 * count, 1, 1), (0, 0, 0), "20", "front")]
    inside = [packed("chest", (0, 0, 0))]
    for n in range(count):
        pieces.append(piece(f"D{n}", (1.5, 0.9, 0.9), (2 * n + 0.25, -0.9, 0.05), "10", "top"))
        inside.append(packed(f"D{n}", (2 * n + 0.25, 0.05, 0.05), "chest"))
    return _package(pieces, inside, [step(f"Q{n}", f"D{n}") for n in range(count)])


def telescope(count: int) -> Package:
    """Shells in each other, each pulled out of the one before by two metres."""
    pieces, inside, steps = [], [], []
    for n in range(count + 1):
        size = (6 - 0.2 * n, 2.2, 4 - 0.2 * n)
        pieces.append(piece(f"T{n}", size, (0.1 * n, 2.0 * n, 0.1 * n), "50", "front back"))
        inside.append(packed(f"T{n}", (0.1 * n, 0, 0.1 * n), f"T{n - 1}" if n else ""))
        steps += [step(f"Q{n}", f"T{n}", f"Q{n - 1}" if n > 1 else "")] if n else []
    return _package(pieces, inside, steps)


def _package(pieces: list[dict], by_state: list[dict], steps: list[dict]) -> Package:
    corners = ((0, 0), (4, 0), (4, 2), (0, 2))
    legs = [{"mark": f"G{n}", "x_m": str(x), "y_m": str(y)} for n, (x, y) in enumerate(corners)]
    tables = {
        "states": STATES,
        "pieces": [row | {"kg_each": "100"} for row in pieces],
        "pieces_by_state": by_state,
        "steps": steps,
        "legs": legs,
        "site": [{"people": "4"}],
    }
    reading = read_package(tables)
    assert not any(reading.refused.values()), reading.refused
    return reading.package


def main() -> int:
    worst = 0.0
    for name, made in (("drawers", drawers), ("telescope", telescope)):
        for count in COUNTS:
            if name == "telescope" and count > HELD:
                continue
            package = made(count)
            for check in ("order_possible", "steps_stand"):
                begun = time.process_time()
                found = CHECKS[check].of(package)[0]
                took = time.process_time() - begun
                worst = max(worst, took) if count == HELD else worst
                says = found.shown or found.missing or f"{found.values[0]:.2f}"
                print(f"{check}, {name}, {count} that move: {took * 1000:.0f} ms, {says}")
    print(f"{HELD} pieces at most {worst * 1000:.0f} ms of {ALLOWED_S * 1000:.0f}")
    return int(worst > ALLOWED_S)


if __name__ == "__main__":
    sys.exit(main())
