"""How many cells of one house somebody types, with and without the files they have.

    python -m tests.benchmarks.cells_typed [MODEL.ifc]

The house is a model, by default the one of the tests; of its rooms, windows, doors and layers a
package needs the columns that the demo's fullest package fills in those schedules, row by row, and
of all that no model tells of (water, power, people, moves …) the cells of that package. Counted are
the cells typed by hand from nothing; with the model, those that it doesn't have, and its guesses to
be confirmed; with the rest in a workbook that is there anyhow, those that neither has. Prints each
beside the first. Not collected by pytest.
"""

from __future__ import annotations

import sys
import zipfile
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

from reviews.demo.tables import given, typed
from reviews.exchange import model
from reviews.exchange.proposed import How, ProposedRow

ROOT = Path(__file__).parents[2]
TALL = ROOT / "tests/reviews/exchange/data/tall.zip"
FULL = ("H07", "B")
"""The demo's package that holds most."""

Records = dict[str, list[dict[str, str]]]


def house(full: Records, rows: list[ProposedRow]) -> Counter[tuple[str, str]]:
    """How many cells of each column a package of this house needs."""
    needed: Counter[tuple[str, str]] = Counter()
    of_model = Counter(row.schedule for row in rows)
    for slug, records in full.items():
        heads = {head for record in records for head, text in record.items() if text.strip()}
        for head in heads:
            filled = sum(bool((record.get(head) or "").strip()) for record in records)
            count = of_model[slug] or len(records)
            needed[slug, head] = round(filled / len(records) * count)
    return needed


def main(path: Path) -> None:
    """Count, and print."""
    full = typed(given(*FULL))
    rows = [*model.read(str(path), {}).rows]
    needed = house(full, rows)
    held: Counter[tuple[str, str]] = Counter()
    guessed: Counter[tuple[str, str]] = Counter()
    for row in rows:
        for head, cell in row.cells.items():
            (guessed if cell.how is How.GUESSED else held)[row.schedule, head] += 1
    whole = needed.total()
    left = needed - held
    confirmed = (left & guessed).total()
    typed_ = (left - guessed).total()
    of_model = {row.schedule for row in rows}
    beside = sum(n for (slug, _), n in (left - guessed).items() if slug not in of_model)
    print(f"{path.name}: {whole} cells in all, as {' '.join(FULL)} fills them")
    for name, count, ticks in (
        ("typed from nothing", whole, 0),
        ("with the model", typed_, confirmed),
        ("with the rest in a workbook", typed_ - beside, confirmed),
    ):
        print(f"{name:<28}{count:>6} typed ({count / whole:.0%}), {ticks} to be confirmed")


if __name__ == "__main__":
    with TemporaryDirectory() as folder:
        if sys.argv[1:]:
            main(Path(sys.argv[1]))
        else:
            with zipfile.ZipFile(TALL) as archive:
                main(Path(archive.extract("tall.ifc", folder)))
