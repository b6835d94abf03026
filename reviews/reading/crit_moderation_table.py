"""What the leader reads before releasing: every level of a crit, and where to look first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import (
    NOT_MINE,
    NotJudged,
    PanelLevel,
    WeightedLevel,
    panel_level,
    shown,
    spread,
    weighted_level,
)
from reviews.models import (
    ChangedLevel,
    Comment,
    Crit,
    Criterion,
    Interest,
    JurySheet,
    LevelGiven,
    Revision,
    Scheme,
    Seat,
    Slot,
)
from reviews.reading.crit_levels_read import Entries, LevelsRead, Said, read_levels
from reviews.reading.crit_sheets import in_order, letters_of
from reviews.worked_out import Told, kept

WIDE = 2
"""Levels apart at which jurors are said to lie wide. Common practice."""


MOST_CRITS = 32
"""Crits of which a process keeps what was worked out of their levels."""

DIGITS: dict[int | NotJudged | None, str] = {None: "·", NOT_MINE: "n"}
DIGITS |= {n: str(n) for n in range(1, 6)}
"""One sign a level for a dense table: 1 to 5, n for not mine, a point for nothing yet."""

LOCKED, NOT_LOCKED, NO_SHEET = "locked", "not locked", "no sheet"
SAW_IN_PART = "saw in part, no level"


@dataclass(frozen=True, slots=True)
class Given:
    """What one juror gave one criterion; without the row itself where no details are asked."""

    criterion: Criterion
    level: int | NotJudged | None
    held: LevelGiven | None = None
    counts: bool = False

    @property
    def figure(self) -> int | None:
        """The level, where there is one."""
        return self.level if isinstance(self.level, int) else None

    @property
    def changed(self) -> ChangedLevel | None:
        """What its juror changed after the discussion."""
        return getattr(self.held, "changed", None)

    @property
    def revision(self) -> Revision | None:
        """The revision that it was set on."""
        return self.held.revision if self.held else None

    @property
    def descriptor(self) -> str:
        return getattr(self.criterion, f"level_{self.figure}") if self.figure else ""


@dataclass(frozen=True)
class Cell:
    """One juror's sheet for one scheme.

    state      locked, seen in part, not locked, no sheet, or the interest; blank: not asked
    sheet      nothing where there is none, or where it isn't open yet to whoever reads
    weighted   exact, or why there is none; of a sheet in hand too, which counts for nothing yet
    """

    seat: Seat
    state: str
    sheet: JurySheet | None = None
    interest: Interest | None = None
    given: tuple[Given, ...] = ()
    said: tuple[Comment | Said, ...] = ()
    weighted: WeightedLevel | NotAvailable = field(
        default_factory=lambda: NotAvailable("no sheet yet")
    )

    @property
    def revisions(self) -> list[Revision]:
        """Those that its levels were set on, as they were issued."""
        impression = self.sheet.impression_revision if self.sheet else None
        return in_order([impression, *(given.revision for given in self.given)])

    @property
    def set_on(self) -> str:
        """Which revisions its levels were set on, in words."""
        return letters_of(self.revisions)

    @property
    def is_read(self) -> bool:
        """Whether its comments are read: locked, and not stepped aside from."""
        locked = bool(self.sheet and self.sheet.is_locked)
        return locked and (self.interest is None or self.interest.may_comment)

    @property
    def comments(self) -> tuple[Comment | Said, ...]:
        return self.said if self.is_read else ()

    @property
    def digits(self) -> str:
        """Its levels, one sign a criterion."""
        return "".join(DIGITS[given.level] for given in self.given)

    @property
    def spoken(self) -> str:
        """The same for whoever listens: F1 3, F2 4, and so on."""
        return ", ".join(f"{given.criterion.code} {DIGITS[given.level]}" for given in self.given)

    @property
    def counts(self) -> bool:
        """Whether it is in the scheme's mean: locked, no interest declared, and the whole seen."""
        in_part = bool(self.sheet and self.sheet.is_in_part)
        return self.is_read and self.interest is None and not in_part

    @property
    def is_owed(self) -> bool:
        """Whether a sheet is begun or asked, and not locked."""
        open_words = self.interest is not None and self.interest.may_comment and self.sheet
        return self.state in (NOT_LOCKED, NO_SHEET) or bool(open_words and not self.is_read)

    @property
    def shown(self) -> str:
        """The weighted level to one decimal; blank where there is none."""
        return shown(self.weighted.value) if isinstance(self.weighted, WeightedLevel) else ""


@dataclass(frozen=True)
class SchemeRow:
    """One scheme's line of the table.

    is_closed   its levels and comments aren't open yet to whoever reads
    """

    scheme: Scheme
    slot: Slot | None
    cells: tuple[Cell, ...]
    criteria: tuple[Criterion, ...]
    comments: tuple[Comment | Said, ...]
    is_closed: bool = False

    @cached_property
    def counted(self) -> tuple[Cell, ...]:
        return tuple(cell for cell in self.cells if cell.counts)

    @cached_property
    def seen(self) -> tuple[Cell, ...]:
        """The jurors who see it, or saw it, or stepped aside."""
        return tuple(cell for cell in self.cells if cell.state)

    @cached_property
    def is_mixed(self) -> bool:
        """Whether its levels were set on several revisions, so that each must say on which."""
        return len(in_order(each for cell in self.seen for each in cell.revisions)) > 1

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
        return [
            c.code for c, apart in zip(self.criteria, self.apart, strict=True) if is_wide(apart)
        ]

    @cached_property
    def levels(self) -> list[list[int | NotJudged | None]]:
        """What the counted sheets gave, a list a criterion."""
        return [[cell.given[n].level for cell in self.counted] for n in range(len(self.criteria))]

    @cached_property
    def apart(self) -> list[Fraction | NotAvailable]:
        """How far they lie apart on each criterion."""
        return [spread(levels) for levels in self.levels]

    @property
    def not_locked(self) -> list[str]:
        """The jurors who see it and haven't locked."""
        return [cell.seat.name for cell in self.cells if cell.is_owed]

    @property
    def hazards(self) -> int:
        """How many hazards were named."""
        return sum(comment.kind == Comment.Kind.HAZARD for comment in self.comments)

    @property
    def decisions(self) -> list[str]:
        """What waits for its leader: hazards to read, jurors far apart, what is held back."""
        held = sum(comment.held_at is not None for comment in self.comments)
        return [
            words
            for words, waits in (
                (f"{self.hazards} hazard{'s' * (self.hazards != 1)} named", self.hazards),
                (f"jurors {self.spread} levels apart", self.is_wide),
                (f"{held} comment{'s' * (held != 1)} held", held),
            )
            if waits
        ]

    @property
    def notes(self) -> list[str]:
        """What to look at, in words."""
        said = ["open once your own sheet is locked"] if self.is_closed else []
        if self.hazards:
            said.append(f"{self.hazards} hazard{'s' * (self.hazards != 1)}")
        if self.is_wide:
            said.append("wide")
        if self.wide:
            said.append(f"wide on {', '.join(self.wide)}")
        if held := sum(comment.held_at is not None for comment in self.comments):
            said.append(f"{held} held")
        if self.comments and not any(c.kind == Comment.Kind.KEEP for c in self.comments):
            said.append("nothing to keep named")
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
    """Schemes by jurors by criteria; in detail, with what each level was set on and became."""

    crit: Crit
    seats: tuple[Seat, ...]
    criteria: tuple[Criterion, ...]
    rows: tuple[SchemeRow, ...]
    is_in_detail: bool

    @property
    def shows_levels(self) -> bool:
        """Whether a level, or a sheet that may hold one, is open to whoever reads."""
        return any(cell.sheet for row in self.rows for cell in row.cells)

    @property
    def by_criterion(self) -> list[CriterionRow]:
        """Mean level and wide schemes of each criterion, over the sheets that count."""
        return [
            _criterion_row(n, criterion, self.rows) for n, criterion in enumerate(self.criteria)
        ]


def _criterion_row(n: int, criterion: Criterion, rows: tuple[SchemeRow, ...]) -> CriterionRow:
    apart = [row.apart[n] for row in rows]
    given = [level for row in rows for level in row.levels[n] if isinstance(level, int)]
    return CriterionRow(
        criterion=criterion,
        mean=shown(Fraction(sum(given), len(given))) if given else "",
        schemes=sum(isinstance(each, Fraction) for each in apart),
        wide=sum(is_wide(each) for each in apart),
    )


def moderation_table(
    crit: Crit,
    scheme: Scheme | None = None,
    *,
    closed: Collection[int] = (),
    held_of: Collection[int] | None = None,
    in_detail: bool = False,
) -> Table:
    """A crit's levels in the order of the day: see `read_levels`."""
    return table_of(read_levels(crit, scheme, closed=closed, held_of=held_of, in_detail=in_detail))


@kept(MOST_CRITS)
def decisions_of(read: Told[LevelsRead]) -> dict[int, list[str]]:
    """What waits for a decision, by the key of its scheme, in the order of the day."""
    return {row.scheme.pk: row.decisions for row in table_of(read.holds).rows if row.decisions}


def table_of(read: LevelsRead) -> Table:
    """Set what was read of a crit out as a table."""
    slot_of = {slot.scheme_id: slot for slot in read.slots}
    found: dict[int, dict[int, Entries]] = defaultdict(dict)
    for entries in read.entries:
        found[entries.sheet.scheme_id][entries.sheet.seat_id] = entries
    weights = {criterion.code: Fraction(criterion.weight) for criterion in read.criteria}
    rows = []
    for pk, scheme in read.schemes.items():
        slot, own = slot_of.get(pk), found[pk]
        cells = tuple(
            _cell(seat, own.get(seat.pk), pk, slot, read.criteria, weights) for seat in read.seats
        )
        if pk in read.closed:
            cells = tuple(Cell(cell.seat, cell.state) for cell in cells)
        said = tuple(c for cell in cells for c in cell.comments)
        rows.append(SchemeRow(scheme, slot, cells, read.criteria, said, pk in read.closed))
    return Table(read.crit, read.seats, read.criteria, tuple(rows), read.is_in_detail)


def _cell(
    seat: Seat,
    entries: Entries | None,
    scheme_id: int,
    slot: Slot | None,
    criteria: tuple[Criterion, ...],
    weights: dict[str, Fraction],
) -> Cell:
    interest = seat.interest_in(scheme_id)
    if entries is None:
        is_asked = slot is not None and slot.is_asked_of(seat)
        state = interest.state if interest else NO_SHEET if is_asked else ""
        return Cell(seat, state, None, interest)
    sheet = entries.sheet
    as_kept = (SAW_IN_PART if sheet.is_in_part else LOCKED) if sheet.is_locked else NOT_LOCKED
    state = interest.state if interest else as_kept
    counts = sheet.is_locked and not sheet.is_in_part and interest is None
    nothing = None, None
    given = tuple(Given(c, *entries.levels.get(c.pk, nothing), counts) for c in criteria)
    weighted = (
        weighted_level({each.criterion.code: each.level for each in given}, weights)
        if any(weights.values())
        else NotAvailable("no criterion has a weight")
    )
    return Cell(seat, state, sheet, interest, given, tuple(entries.said), weighted)
