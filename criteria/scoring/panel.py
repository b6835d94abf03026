"""One crit's jury sheets: who gave what, and the tables made of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from criteria.errors import InputError
from criteria.scoring.cells import Cells
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import (
    NotJudged,
    PanelLevel,
    WeightedLevel,
    exact_weights,
    panel_level,
    weighted_level,
)

Key = tuple[str, str, str]
"""Scheme, juror, criterion."""


@dataclass(frozen=True, eq=False)
class Panel:
    """The levels of one crit.

    name        of the crit
    levels      by (scheme, juror, criterion): an exact level, or not mine to judge
    weights     by criterion, in the order of the criteria sheet
    positions   by (scheme, juror): the scheme's place in that juror's day, from 1
    scale       lowest and highest level, where the sheet says so
    """

    name: str
    levels: Mapping[Key, Fraction | NotJudged]
    weights: Mapping[str, Fraction]
    positions: Mapping[tuple[str, str], float] = field(default_factory=dict)
    scale: tuple[Fraction, Fraction] | None = None

    def __post_init__(self) -> None:
        if not self.levels:
            raise InputError("a panel needs a level")
        exact_weights(self.weights)
        for scheme, juror, criterion in self.levels:
            if criterion not in self.weights:
                raise InputError(f"{scheme}, {juror}: no weight for criterion {criterion}")

    @cached_property
    def schemes(self) -> tuple[str, ...]:
        """Every scheme with a level, in order of their names."""
        return tuple(sorted({scheme for scheme, _, _ in self.levels}))

    @cached_property
    def jurors(self) -> tuple[str, ...]:
        """Every juror with a level, as they first come."""
        return tuple(dict.fromkeys(juror for _, juror, _ in self.levels))

    @property
    def criteria(self) -> tuple[str, ...]:
        """The criteria, as on the sheet."""
        return tuple(self.weights)

    @cached_property
    def sheets(self) -> dict[tuple[str, str], WeightedLevel | NotAvailable]:
        """The weighted level of each jury sheet that was begun, by (scheme, juror)."""
        begun: dict[tuple[str, str], dict[str, Fraction | NotJudged]] = {}
        for (scheme, juror, criterion), level in self.levels.items():
            begun.setdefault((scheme, juror), {})[criterion] = level
        return {key: weighted_level(levels, self.weights) for key, levels in begun.items()}

    @cached_property
    def raw(self) -> dict[str, PanelLevel | NotAvailable]:
        """Each scheme's plain mean of weighted levels, exact."""
        by_scheme: dict[str, dict[str, WeightedLevel | NotAvailable]] = {}
        for (scheme, juror), sheet in self.sheets.items():
            by_scheme.setdefault(scheme, {})[juror] = sheet
        return {scheme: panel_level(by_scheme[scheme]) for scheme in self.schemes}

    @cached_property
    def totals(self) -> Cells | NotAvailable:
        """The weighted levels as a table of schemes and jurors; unfinished sheets are empty."""
        complete = {
            key: float(sheet.value)
            for key, sheet in self.sheets.items()
            if isinstance(sheet, WeightedLevel)
        }
        return self._cells(complete) if complete else NotAvailable("no jury sheet is complete")

    @cached_property
    def unfinished(self) -> tuple[tuple[str, str, str], ...]:
        """Sheets without a weighted level: scheme, juror, reason."""
        return tuple(
            (scheme, juror, sheet.reason)
            for (scheme, juror), sheet in sorted(self.sheets.items())
            if isinstance(sheet, NotAvailable)
        )

    @cached_property
    def left_to_others(self) -> tuple[tuple[str, str, tuple[str, ...]], ...]:
        """Sheets with criteria that are not mine to judge: scheme, juror, criteria."""
        return tuple(
            (scheme, juror, sheet.left_out)
            for (scheme, juror), sheet in sorted(self.sheets.items())
            if isinstance(sheet, WeightedLevel) and sheet.left_out
        )

    def criterion(self, name: str) -> Cells | NotAvailable:
        """One criterion's levels as a table; sheets in hand count here too."""
        return self._tables.get(name, NotAvailable(f"no level for {name}"))

    @cached_property
    def _tables(self) -> dict[str, Cells]:
        by_criterion: dict[str, dict[tuple[str, str], float]] = {}
        for (scheme, juror, criterion), level in self.levels.items():
            if not isinstance(level, NotJudged):
                by_criterion.setdefault(criterion, {})[scheme, juror] = float(level)
        return {name: self._cells(numbers) for name, numbers in by_criterion.items()}

    def _cells(self, numbers: Mapping[tuple[str, str], float]) -> Cells:
        places = {scheme: place for place, scheme in enumerate(self.schemes)}
        rank = {juror: place for place, juror in enumerate(self.jurors)}
        ordered = sorted(numbers, key=lambda key: (places[key[0]], rank[key[1]]))
        cells = Cells.of({key: numbers[key] for key in ordered})
        columns = sorted(range(len(cells.jurors)), key=lambda j: rank[cells.jurors[j]])
        return cells.part(range(len(cells.schemes)), columns)

    @cached_property
    def scale_unit(self) -> float:
        """A fourth of the scale's length: one level of five [level]."""
        if self.scale is not None:
            low, high = self.scale
        else:
            given = [x for x in self.levels.values() if not isinstance(x, NotJudged)]
            if not given:
                return 1.0
            low, high = min(given), max(given)
            if low >= 1 and high <= 5:
                low, high = Fraction(1), Fraction(5)
        return float(high - low) / 4 or 1.0
