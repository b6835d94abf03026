"""What the leader reads before releasing: every level of a crit, and where to look first."""

from __future__ import annotations

import csv
import io
from collections import defaultdict
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from django.db.models import Prefetch

from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import (
    NotJudged,
    PanelLevel,
    WeightedLevel,
    panel_level,
    shown,
    spread,
    weighted_level,
)
from reviews.models import (
    Comment,
    Crit,
    Criterion,
    JurySheet,
    LevelGiven,
    Scheme,
    Seat,
    Slot,
    StepAside,
)
from reviews.reading.crit_sheets import level_of

WIDE = 2
"""Levels apart at which jurors are said to lie wide. Common practice."""

_FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")

NOT_MINE_DIGIT, NO_LEVEL_DIGIT = "n", "·"


@dataclass(frozen=True)
class Given:
    """What one juror gave one criterion."""

    criterion: Criterion
    level: int | NotJudged | None
    held: LevelGiven | None = None

    @property
    def digit(self) -> str:
        """One sign for a dense table: 1 to 5, n for not mine, a point for nothing yet."""
        if self.level is None:
            return NO_LEVEL_DIGIT
        return NOT_MINE_DIGIT if isinstance(self.level, NotJudged) else str(self.level)

    @property
    def figure(self) -> int | None:
        """The level, where there is one."""
        return self.level if isinstance(self.level, int) else None

    @property
    def descriptor(self) -> str:
        """The descriptor of the level."""
        return getattr(self.criterion, f"level_{self.figure}") if self.figure else ""


@dataclass(frozen=True)
class Cell:
    """One juror's sheet for one scheme.

    weighted   exact, or why there is none; of a sheet in hand too, which counts for nothing yet
    """

    seat: Seat
    sheet: JurySheet | None
    stepped_aside: bool
    is_asked: bool
    given: tuple[Given, ...] = ()
    weighted: WeightedLevel | NotAvailable = field(
        default_factory=lambda: NotAvailable("no sheet yet")
    )

    @property
    def counts(self) -> bool:
        """Whether it is in the scheme's mean: locked, and not stepped aside from."""
        return bool(self.sheet and self.sheet.is_locked and not self.stepped_aside)

    @property
    def state(self) -> str:
        """Locked, not locked, no sheet, stepped aside; blank where the scheme isn't seen."""
        if self.stepped_aside:
            return "stepped aside"
        if self.sheet:
            return "locked" if self.sheet.is_locked else "not locked"
        return "no sheet" if self.is_asked else ""

    @property
    def shown(self) -> str:
        """The weighted level to one decimal; blank where there is none."""
        return shown(self.weighted.value) if isinstance(self.weighted, WeightedLevel) else ""


@dataclass(frozen=True)
class SchemeRow:
    """One scheme's line of the table."""

    scheme: Scheme
    slot: Slot | None
    cells: tuple[Cell, ...]
    criteria: tuple[Criterion, ...]
    comments: tuple[Comment, ...]

    @cached_property
    def counted(self) -> tuple[Cell, ...]:
        """The sheets that count."""
        return tuple(cell for cell in self.cells if cell.counts)

    @cached_property
    def seen(self) -> tuple[Cell, ...]:
        """The jurors who see it, or saw it, or stepped aside."""
        return tuple(cell for cell in self.cells if cell.state)

    @property
    def by_criterion(self) -> list[tuple[Criterion, list[Given]]]:
        """Each criterion with what each juror who sees the scheme gave it."""
        return [
            (c, [cell.given[n] if cell.given else Given(c, None) for cell in self.seen])
            for n, c in enumerate(self.criteria)
        ]

    @cached_property
    def panel(self) -> PanelLevel | NotAvailable:
        """Mean and spread of the locked sheets' weighted levels, exact."""
        return panel_level({cell.seat.name: cell.weighted for cell in self.counted})

    @property
    def mean(self) -> str:
        """Mean of the weighted levels to one decimal."""
        return shown(self.panel.value) if isinstance(self.panel, PanelLevel) else ""

    @property
    def spread(self) -> str:
        """Greatest less least weighted level to one decimal."""
        apart = self.panel.spread if isinstance(self.panel, PanelLevel) else None
        return shown(apart) if isinstance(apart, Fraction) else ""

    @property
    def is_wide(self) -> bool:
        """Whether its jurors' weighted levels lie two levels or more apart."""
        return isinstance(self.panel, PanelLevel) and is_wide(self.panel.spread)

    @cached_property
    def wide(self) -> list[str]:
        """The codes of the criteria on which its jurors lie two levels or more apart."""
        return [c.code for c in self.criteria if is_wide(spread(self.levels_of(c)))]

    def levels_of(self, criterion: Criterion) -> list[int | NotJudged | None]:
        """What the counted sheets gave one criterion."""
        return [
            given.level
            for cell in self.counted
            for given in cell.given
            if given.criterion.pk == criterion.pk
        ]

    @property
    def not_locked(self) -> list[str]:
        """The jurors who see it and haven't locked."""
        waited = ("not locked", "no sheet")
        return [cell.seat.name for cell in self.cells if cell.state in waited]

    @property
    def hazards(self) -> int:
        """How many hazards were named."""
        return sum(comment.kind == Comment.Kind.HAZARD for comment in self.comments)

    @property
    def notes(self) -> list[str]:
        """What to look at, in words."""
        said = []
        if self.hazards:
            said.append(f"{self.hazards} hazard{'s' * (self.hazards != 1)}")
        if self.is_wide:
            said.append("wide")
        if self.wide:
            said.append(f"wide on {', '.join(self.wide)}")
        if held := sum(comment.held_at is not None for comment in self.comments):
            said.append(f"{held} held")
        if self.comments and not any(c.kind == Comment.Kind.KEEP for c in self.comments):
            said.append("no Keep")
        return said


def is_wide(apart: Fraction | NotAvailable) -> bool:
    """Whether jurors lie two levels or more apart."""
    return isinstance(apart, Fraction) and apart >= WIDE


@dataclass(frozen=True)
class CriterionRow:
    """How a criterion fared over the crit."""

    criterion: Criterion
    mean: str
    schemes: int
    wide: int


@dataclass(frozen=True)
class Table:
    """Schemes by jurors by criteria."""

    crit: Crit
    seats: tuple[Seat, ...]
    criteria: tuple[Criterion, ...]
    rows: tuple[SchemeRow, ...]

    @property
    def by_criterion(self) -> list[CriterionRow]:
        """Mean level and wide schemes of each criterion, over the sheets that count."""
        return [_criterion_row(criterion, self.rows) for criterion in self.criteria]


def _criterion_row(criterion: Criterion, rows: tuple[SchemeRow, ...]) -> CriterionRow:
    apart = [spread(row.levels_of(criterion)) for row in rows]
    given = [n for row in rows for n in row.levels_of(criterion) if isinstance(n, int)]
    return CriterionRow(
        criterion=criterion,
        mean=shown(Fraction(sum(given), len(given))) if given else "",
        schemes=sum(isinstance(each, Fraction) for each in apart),
        wide=sum(is_wide(each) for each in apart),
    )


def moderation_table(crit: Crit, scheme: Scheme | None = None) -> Table:
    """Read a crit's levels in the order of the day; of one scheme where one is named."""
    criteria, seats = tuple(crit.criteria.all()), tuple(crit.seats.all())
    slots = crit.slots.select_related("scheme")
    comments = Comment.objects.filter(removed_at=None).select_related("criterion", "held_by")
    sheets = (
        JurySheet.objects.filter(seat__crit=crit)
        .select_related("seat", "scheme", "revision")
        .prefetch_related("levels", Prefetch("comments", comments), "formers__reopened_by")
    )
    asides = StepAside.objects.filter(seat__crit=crit)
    if scheme is not None:
        slots, sheets, asides = (each.filter(scheme=scheme) for each in (slots, sheets, asides))
    slot_of = {slot.scheme_id: slot for slot in slots}
    schemes = {slot.scheme_id: slot.scheme for slot in slot_of.values()}
    found: dict[int, dict[int, JurySheet]] = defaultdict(dict)
    for sheet in sheets:
        schemes.setdefault(sheet.scheme_id, sheet.scheme)
        found[sheet.scheme_id][sheet.seat_id] = sheet
    left = {(aside.seat_id, aside.scheme_id) for aside in asides}
    weights = {criterion.code: criterion.weight for criterion in criteria}
    rows = []
    for pk, each in schemes.items():
        slot, own = slot_of.get(pk), found[pk]
        cells = tuple(
            _cell(seat, own.get(seat.pk), (seat.pk, pk) in left, slot, criteria, weights)
            for seat in seats
        )
        said = tuple(
            comment for cell in cells if cell.counts for comment in cell.sheet.comments.all()
        )
        rows.append(SchemeRow(each, slot, cells, criteria, said))
    return Table(crit, seats, criteria, tuple(rows))


def _cell(
    seat: Seat,
    sheet: JurySheet | None,
    stepped_aside: bool,
    slot: Slot | None,
    criteria: tuple[Criterion, ...],
    weights: dict[str, object],
) -> Cell:
    is_asked = slot is not None and (not slot.room or not seat.room or slot.room == seat.room)
    if sheet is None:
        return Cell(seat, None, stepped_aside, is_asked)
    held = {given.criterion_id: given for given in sheet.levels.all()}
    given = tuple(Given(c, level_of(held.get(c.pk)), held.get(c.pk)) for c in criteria)
    levels = {each.criterion.code: each.level for each in given}
    counts = any(weights.values())
    weighted = (
        weighted_level(levels, weights) if counts else NotAvailable("no criterion has a weight")
    )
    return Cell(seat, sheet, stepped_aside, is_asked, given, weighted)


def wide_csv(table: Table) -> str:
    """A row for each scheme and juror, levels side by side."""
    codes = [criterion.code for criterion in table.criteria]
    head = ["scheme", "name", "position", "room", "juror", "state", "impression", *codes]
    lines = [[*head, "weighted_level"]]
    for row in table.rows:
        for cell in row.cells:
            if not cell.state:
                continue
            levels = [_level_text(given.level) for given in cell.given] or [""] * len(codes)
            exact = cell.weighted
            weighted = str(float(exact.value)) if isinstance(exact, WeightedLevel) else ""
            lines.append([*_who(row, cell), *levels, weighted])
    return _written(lines)


def long_csv(table: Table) -> str:
    """A row for each level of a locked sheet, as `python -m criteria panel` reads them."""
    lines = [["crit", "scheme", "position", "juror", "criterion", "level"]]
    for row in table.rows:
        for cell in row.counted:
            for given in cell.given:
                if given.level is not None:
                    place = str(row.slot.position) if row.slot else ""
                    head = [table.crit.kind, row.scheme.number, place, cell.seat.name]
                    lines.append([*head, given.criterion.code, _level_text(given.level)])
    return _written(lines)


def _who(row: SchemeRow, cell: Cell) -> list[str]:
    slot, sheet = row.slot, cell.sheet
    impression = str(sheet.impression or "") if sheet else ""
    position, room = (str(slot.position), slot.room) if slot else ("", "")
    number, name = row.scheme.number, row.scheme.name
    return [number, name, position, room, cell.seat.name, cell.state, impression]


def _level_text(level: int | NotJudged | None) -> str:
    if level is None:
        return ""
    return level.value if isinstance(level, NotJudged) else str(level)


def _written(lines: list[list[str]]) -> str:
    """Write a CSV that no spreadsheet takes for formulas."""
    out = io.StringIO()
    csv.writer(out).writerows(
        [f"'{text}" if text.startswith(_FORMULA_SIGNS) else text for text in line] for line in lines
    )
    return out.getvalue()
