"""Plans of a crit's day: schemes by jurors, with interests; connected or said not to be; seconds.

    python -m tests.benchmarks.crit_plans

Each line is one day: as many rooms as leave every panel three jurors, an opening pair or a juror
of each room who changes at half-time, and one interest in every ten places of a juror and a scheme.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from dataclasses import replace
from datetime import time
from time import perf_counter

from criteria.crit_day.arranging import arrange
from criteria.crit_day.drawing_lots import draw
from criteria.crit_day.panels import Interest, Juror
from criteria.crit_day.timetable import USUAL, Plan, lay_out
from criteria.crit_day.warnings import KINDS, warnings_of

SCHEMES, JURORS = (14, 30, 60), (4, 6, 8, 12)
SHARE = 0.1
"""Of the places of a juror and a scheme, those with an interest."""


def plans(jurors: int) -> list[tuple[str, Plan]]:
    """The days that are tried: rooms apart without a link, an opening pair, a change."""
    rooms = tuple("ABCD"[: jurors // 3])
    apart = Plan(rooms=rooms, opening=0, first=time(9), parts=USUAL["final"])
    if len(rooms) < 2:
        return [("one room", apart)]
    return [
        ("apart", apart),
        ("opening pair", replace(apart, opening=2)),
        ("half-time", replace(apart, half_time_swap=True)),
    ]


def day(schemes: int, count: int, plan: Plan) -> str:
    """One line: what was asked and what came of it."""
    numbers = [f"S{n:02d}" for n in range(schemes)]
    people = [Juror(f"J{n:02d}", kind=KINDS[n % 3]) for n in range(count)]
    by_lot = random.Random(schemes * 100 + count)
    pairs = [(juror.name, number) for juror in people for number in numbers]
    chosen = by_lot.sample(pairs, round(SHARE * len(pairs)))
    interests = [Interest(*pair, may_comment=by_lot.random() < 0.5) for pair in chosen]
    timetable = lay_out(draw(numbers, 7), plan)
    start = perf_counter()
    found = arrange(people, timetable, plan, interests, lot=7)
    seconds = perf_counter() - start
    warned = Counter(w.about for w in warnings_of(found.sees, change_min=plan.parts.change_min))
    says = ", ".join(f"{about} {n}" for about, n in sorted(warned.items())) or "all limits kept"
    variance = found.design.mean_variance
    shown = f"{variance:.3f}" if variance is not None else "–"
    joined = "firm" if found.design.is_firm else "yes" if found.design.is_connected else "NO"
    return f"{joined:>9}  {shown:>8}  {len(found.filled):>6}  {seconds:>6.2f}  {says}"


def main() -> int:
    """Print the table; fail where rooms that are linked come out unconnected."""
    print("schemes jurors rooms plan          connected  variance filled  seconds  warnings")
    wrong = 0
    for schemes in SCHEMES:
        for count in JURORS:
            for name, plan in plans(count):
                line = day(schemes, count, plan)
                wrong += name != "apart" and " NO " in line
                print(f"{schemes:>7} {count:>6} {len(plan.rooms):>5} {name:<13} {line}")
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main())
