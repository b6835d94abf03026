import csv
from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from pathlib import Path

import pytest

from criteria.scoring.cells import Cells
from criteria.scoring.levels import NotJudged
from criteria.scoring.panel import Panel
from criteria.scoring.reading import read_levels, rows_of
from tests.criteria.scoring.tables import table_of

HERE = Path(__file__).parent
DEMO = Path(__file__).parents[3] / "reviews" / "demo" / "data"

FINAL_WEIGHTS = dict(
    zip(
        (f"F{n}" for n in range(1, 9)),
        (15, 10, 15, 20, 10, 10, 10, 10),
        strict=True,
    )
)
INTERIM_WEIGHTS = dict(zip((f"I{n}" for n in range(1, 7)), (20, 20, 20, 15, 10, 15), strict=True))

SHROUT_FLEISS_WITH_GAPS = [
    [9, 2, 5, None],
    [6, 1, 3, 2],
    [8, None, 6, 8],
    [7, 1, 2, 6],
    [None, 5, 6, 9],
    [6, 2, 4, 7],
]


@pytest.fixture(scope="session")
def published() -> Callable[[str], Cells]:
    """A published table of levels, read with the reader itself."""

    def read(name: str) -> Cells:
        (panel,) = read_levels(HERE / "published" / f"{name}.csv")
        cells = panel.totals
        assert isinstance(cells, Cells)
        return cells

    return read


@pytest.fixture(scope="session")
def published_panel() -> Callable[[str], Panel]:
    """A published table with several criteria."""
    return lambda name: read_levels(HERE / "published" / f"{name}.csv")[0]


@pytest.fixture(scope="session")
def make_panel() -> Callable[..., Panel]:
    """A panel from rows of scheme, juror, criterion, level."""

    def make(
        rows: Iterable[tuple[str, str, str, int]],
        weights: Mapping[str, int] | None = None,
        scale: tuple[int, int] | None = None,
        positions: Mapping[tuple[str, str], float] | None = None,
    ) -> Panel:
        levels = {
            (scheme, juror, criterion): level if isinstance(level, NotJudged) else Fraction(level)
            for scheme, juror, criterion, level in rows
        }
        names = dict.fromkeys(criterion for _, _, criterion in levels)
        return Panel(
            "the crit",
            levels,
            {name: Fraction((weights or {}).get(name, 1)) for name in names},
            positions or {},
            scale and (Fraction(scale[0]), Fraction(scale[1])),
        )

    return make


@pytest.fixture(scope="session")
def published_rows() -> Callable[..., list[dict[str, str]]]:
    """Rows of a published table that is no table of levels."""

    def read(name: str, *columns: str) -> list[dict[str, str]]:
        return [dict(row.cells) for row in rows_of(HERE / "published" / f"{name}.csv", columns, ())]

    return read


@pytest.fixture(scope="session")
def printed() -> Callable[[str], list[dict[str, str]]]:
    """A table as printed in the scenario of the demo."""

    def read(name: str) -> list[dict[str, str]]:
        with (HERE / "data" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    return read


@pytest.fixture(scope="session")
def demo() -> Callable[[str], Panel]:
    """A crit of the demo: "E final", "H interim room A" or "H interim room B"."""
    weights = FINAL_WEIGHTS | INTERIM_WEIGHTS
    panels = {panel.name: panel for panel in read_levels(DEMO / "levels_long.csv", weights=weights)}
    return panels.__getitem__


@pytest.fixture(scope="session")
def both_rooms() -> Panel:
    """The interim crit's two rooms as one panel, joined by the opening pair."""
    (panel,) = read_levels(
        DEMO / "levels_long.csv", weights=INTERIM_WEIGHTS, only={"cohort": "H"}, together=True
    )
    return panel


@pytest.fixture(scope="session")
def with_gaps() -> Cells:
    """Shrout and Fleiss' table without (T1, D), (T3, B) and (T5, A)."""
    return table_of(SHROUT_FLEISS_WITH_GAPS, [f"T{n}" for n in range(1, 7)], "ABCD")
