"""How often the other rules after a crit speak by chance: of criteria, order, rooms, remarks.

    python -m tests.benchmarks.rules_of_thumb [--crits 500]

Who is named of the jurors is `tests.benchmarks.adjust_rule`; words about the person `tone`; slips
`slips`; changed drawings `clouds`. Here the same crits have whole levels 1 to 5 of eight criteria.
“Bare” is a rule of thumb without its test. “Ranks” are published tables in which a scheme stands
outside of its range, “rooms” intervals between two rooms that miss what is so. Remarks are placed
at random on the sheets of one scheme, as often of a kind as the demo's: what is suggested of them
is suggested wrongly. Of errors the first is of levels as given, the second with severity out, both
about the cohort's mean [level]: where links are called weak, and where they are called firm.
"""

import argparse
import os
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from types import SimpleNamespace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from criteria.scoring.adjusting import decide, pair_variances_of, places
from criteria.scoring.behaviour import REWORD, Spread, more_apart, spread_of, wants_rewording
from criteria.scoring.cells import Cells
from criteria.scoring.effects import FALSE_ALARMS, Tested
from criteria.scoring.estimates import Estimate
from criteria.scoring.order import order_of_the_day
from criteria.scoring.panel import Panel
from criteria.scoring.ranks import rank_ranges
from criteria.scoring.rooms import gap_of_rooms
from criteria.scoring.severity import Severity, analyse
from reviews.demo.tables import read_csv
from tests.benchmarks.adjust_rule import DESIGNS, Crit, cells

CRITERIA = 8
ROOMS = next(seen for name, seen in DESIGNS.items() if "two rooms" in name)
SEVERITY = 0.4
"""What the rules here say doesn't hang on it: it is taken out."""
RULES = ("bare reword", "reword", "trend", "carry", "ranks", "rooms")


def in_whole_levels(panel: Panel) -> Panel:
    """The same crit as jurors give it: levels 1 to 5."""
    levels = {
        key: min(Fraction(5), max(Fraction(1), Fraction(round(level))))
        for key, level in panel.levels.items()
        if isinstance(level, Fraction)
    }
    return Panel(panel.name, levels, panel.weights, panel.positions, panel.scale)


def said(panel: Panel, severity: Severity) -> Iterator[str]:
    """Which rules speak of one crit of like criteria and jurors, on a day without an order."""
    jurors = severity.cells.jurors
    lean = dict(zip(jurors, severity.least_squares.jurors.tolist(), strict=True))
    tables = {
        name: table for name in panel.criteria if isinstance(table := panel.criterion(name), Cells)
    }
    spreads = {name: spread_of(table, lean) for name, table in tables.items()}
    if any(isinstance(out, Spread) and out.apart / out.of > REWORD for out in spreads.values()):
        yield "bare reword"
    for name, further in more_apart(tables).items():
        out = spreads[name]
        assert isinstance(out, Spread)
        if isinstance(further, Tested) and wants_rewording(out, further, FALSE_ALARMS / CRITERIA):
            yield "reword"
            break
    order = order_of_the_day(severity, severity.cells.raw, panel.positions)
    if order and isinstance(order.trend, Estimate) and not order.trend.holds(0):
        yield "trend"
    if order and isinstance(order.carry_over, Estimate) and not order.carry_over.holds(0):
        yield "carry"


def ranked_wrongly(severity: Severity, true: NDArray[np.float64]) -> bool:
    """Whether any scheme's true place lies outside of the range of a published table."""
    solution = severity.adjusted
    ranges = rank_ranges(solution.schemes, pair_variances_of(severity, solution), severity.df)
    return any(
        not each.table[0] <= place <= each.table[1]
        for each, place in zip(ranges, places(true), strict=True)
    )


def told_wrongly(severity: Severity, true: NDArray[np.float64]) -> bool:
    """Whether the interval between the first three jurors and the others misses what is so."""
    jurors = severity.cells.jurors
    first = [juror for juror in jurors if int(juror[1:]) < 3]
    gap = gap_of_rooms(severity, first, [juror for juror in jurors if juror not in first])
    return isinstance(gap, Estimate) and not gap.holds(float(true[:3].mean() - true[3:].mean()))


def rates(crit: Crit, crits: int, seed: int) -> Counter[str]:
    """In how many crits of one cell each rule spoke."""
    rng = np.random.default_rng(seed)
    times: Counter[str] = Counter()
    for _ in range(crits):
        drawn, leans, true = crit.draw(rng, CRITERIA)
        severity = analysed(drawn)
        times["ranks"] += ranked_wrongly(severity, true)
        if crit.seen is ROOMS:
            times["rooms"] += told_wrongly(severity, leans)
        panel = in_whole_levels(drawn)
        times.update(said(panel, analysed(panel)))
    return times


def analysed(panel: Panel) -> Severity:
    """The severity of a panel whose sheets are complete."""
    assert isinstance(panel.totals, Cells)
    return analyse(panel.totals)


def errors(crit: Crit, crits: int, seed: int) -> tuple[float, float, float, float]:
    """Link factor; share adjusted; errors, root mean square, as given and severity out [level]."""
    rng = np.random.default_rng(seed)
    squares, adjusted = np.zeros(2), 0
    for _ in range(crits):
        panel, _, true = crit.draw(rng, 1)
        severity = analysed(panel)
        adjusted += bool(decide(severity, announced=True).groups)
        for n, levels in enumerate((severity.raw.schemes, severity.adjusted.schemes)):
            gap = levels - true
            squares[n] += float(np.mean((gap - gap.mean()) ** 2))
    before, after = np.sqrt(squares / crits).tolist()
    return severity.link.link_factor, adjusted / crits, before, after


def remark(pk: int, juror: int, kind: str, criterion: int, square: tuple[int, str]) -> Any:
    """A comment as far as suggestions read it."""
    return SimpleNamespace(
        pk=pk,
        kind=kind,
        criterion_id=criterion,
        issued_sheet_id=square[0],
        zone=square[1],
        jury_sheet=SimpleNamespace(seat_id=juror),
    )


def suggested(remarks: list[Any]) -> tuple[int, int, int]:
    """Pairs of two jurors' remarks; how many could be opposed, how many alike, were all shown."""
    from reviews.reading import comment_suggesting
    from reviews.reading.comment_rulings import Rulings

    comment_suggesting.MOST = len(remarks) ** 2
    opposed = comment_suggesting.opposed_maybe(remarks, Rulings())
    alike = {
        frozenset((one.pk, other.pk))
        for group in comment_suggesting.alike_maybe(remarks, Rulings())
        for one, other in combinations(group, 2)
        if one.jury_sheet.seat_id != other.jury_sheet.seat_id
    }
    pairs = sum(
        one.jury_sheet.seat_id != other.jury_sheet.seat_id
        for one, other in combinations(remarks, 2)
    )
    return pairs, len(opposed), len(alike)


def of_the_demo() -> Iterator[list[Any]]:
    """The demo's comments, scheme by scheme and crit by crit."""
    by_scheme: dict[tuple[str, str], list[Any]] = {}
    for row in read_csv("comments"):
        if row["kind"]:
            sheet, square = row["place"].split("·")
            of = by_scheme.setdefault((row["scheme"], row["crit"]), [])
            of.append(
                remark(
                    int(row["no"]),
                    sum(map(ord, row["juror"])),
                    row["kind"],
                    int(row["criterion"][1:]),
                    (int(sheet) + 1, square),
                )
            )
    yield from by_scheme.values()


def at_random(rng: np.random.Generator, kinds: list[str], jurors: int, each: int) -> list[Any]:
    """Remarks that have nothing to do with one another: seven sheets of twenty squares."""
    return [
        remark(
            n,
            n // each,
            str(rng.choice(kinds)),
            int(rng.integers(1, CRITERIA + 1)),
            (int(rng.integers(1, 8)), f"{rng.choice(list('ABCD'))}{rng.integers(1, 6)}"),
        )
        for n in range(jurors * each)
    ]


def severe() -> Iterator[tuple[int, str, Crit]]:
    """The cells of one severity."""
    return (cell for cell in cells() if cell[2].severity == SEVERITY)


def print_remarks(crits: int) -> None:
    demo = list(of_the_demo())
    rng = np.random.default_rng(1)
    kinds = [each.kind for remarks in demo for each in remarks]
    random = [at_random(rng, kinds, 3, 4) for _ in range(crits)]
    print("Remarks of two jurors on one scheme: pairs; could be opposed; could be alike")
    for name, sets in (("demo", demo), ("at random", random)):
        pairs, opposed, alike = np.sum([suggested(remarks) for remarks in sets], axis=0)
        shares = f"{opposed} ({opposed / pairs:.1%}); {alike} ({alike / pairs:.1%})"
        print(f"{name}: {pairs}; {shares}", flush=True)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--crits", type=int, default=500, help="drawn for each cell")
    crits = parser.parse_args().crits
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    import django

    django.setup()
    print_remarks(crits)
    print(f"Like jurors and criteria, {crits} crits a cell: share of crits, %")
    print("  ".join(RULES))
    every: Counter[str] = Counter()
    drawn = 0
    for number, name, crit in severe():
        found = rates(crit, crits, number)
        every.update(found)
        drawn += crits
        shares = [f"{100 * found[rule] / crits:{len(rule)}.1f}" for rule in RULES]
        print("  ".join((*shares, name)), flush=True)
    shares = [f"{100 * every[rule] / drawn:{len(rule)}.1f}" for rule in RULES if rule != "rooms"]
    print("  ".join(shares), " over all")
    print("One criterion of twice the noise: share of crits in which it wants rewording, %")
    for number, name, crit in severe():
        share = 100 * rates(replace(crit, vague=2.0), crits, number)["reword"] / crits
        print(f"{share:5.1f}  {name}", flush=True)
    print("Link factor; adjusted in %; error as given, severity out [level]")
    for number, name, crit in cells():
        factor, adjusted, before, after = errors(crit, crits, number)
        figures = f"{factor:5.2f}  {100 * adjusted:5.1f}  {before:.3f}  {after:.3f}"
        print(f"{figures}  {name}", flush=True)


if __name__ == "__main__":
    main()
