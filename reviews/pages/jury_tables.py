"""The jury's tables: jurors, schemes with and without each juror, criteria, impressions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from django.utils.safestring import SafeString

from criteria.drawing.intervals import Interval, draw_interval, draw_scale, reach
from criteria.scoring.adjusting import Adjustment
from criteria.scoring.analysis import Analysis, Standing
from criteria.scoring.behaviour import CriterionBehaviour, Spread
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import PanelLevel, WeightedLevel, shown
from criteria.scoring.panel import Panel
from criteria.scoring.profiles import JurorProfile
from criteria.scoring.ranks import RankRange
from criteria.scoring.severity import Severity
from reviews.drawn.svg import as_svg
from reviews.models import Criterion, Scheme
from reviews.reading.crit_moderation_table import Cell, SchemeRow, Table

NONE = "–"

MOST_LEFT_OUT = 8
"""Jurors up to which each has a column of what the order would be without them."""

JUROR_HEADS = (
    ("Sheets", ""),
    ("Mean", "level"),
    ("SD", "levels"),
    ("Gap", "level, to others"),
    ("Effect", "least squares"),
    ("Agreement", "r, at most 1"),
    ("Left over", "scatter, level"),
    ("Drift", "level a place"),
    ("Across criteria", "spread, level"),
)
"""Heads of a juror's figures, with their units."""


@dataclass(frozen=True)
class JurorLine:
    """One juror: every figure as written, and how the lean was worked out.

    figures    in the order of JUROR_HEADS
    lean       pulled towards 0; interval   before it is pulled [level]
    drawn      the interval as a line; nothing where there is none
    """

    juror: str
    sheets: int
    figures: tuple[str, ...]
    lean: str
    interval: str
    working: str
    talk: str
    drawn: SafeString | None = None


@dataclass(frozen=True)
class SchemeLine:
    """One scheme: as given, with severity out, and the ranks that are open [level].

    place     by the mean as given, from 1; ranks   those that are open
    moves     to which place taking severity out would move it; blank where it stays
    without   the place by the mean without each juror of the group
    """

    scheme: Scheme
    position: str
    given: str
    spread: str
    place: int
    ranks: str
    without: tuple[str, ...]
    squares: str
    adjusted: str
    moves: str
    error: str


@dataclass(frozen=True)
class Group:
    """Schemes that can be compared with one another; a warning where others can't.

    jurors   whose absence has a column
    """

    title: str
    warning: str
    jurors: tuple[str, ...]
    lines: tuple[SchemeLine, ...]


@dataclass(frozen=True)
class CriterionLine:
    """One criterion: spread among jurors as given, and with each juror's severity out [level]."""

    criterion: Criterion
    mean: str
    spread: str
    apart: str
    spread_out: str
    apart_out: str
    of: str
    look: str


def figure(value: float | Fraction | Estimate | NotAvailable, *, signed: bool = False) -> str:
    """A figure to two decimals; a dash where there is none."""
    if isinstance(value, Estimate):
        value = value.value
    return NONE if isinstance(value, NotAvailable) else shown(value, 2, signed=signed)


def ends(estimate: Estimate | NotAvailable, *, signed: bool = True) -> str:
    """Between which ends an estimate lies, or why it has none."""
    if isinstance(estimate, NotAvailable):
        return NONE
    if isinstance(estimate.interval, NotAvailable):
        return estimate.interval.reason
    low, high = (shown(end, 2, signed=signed) for end in estimate.interval)
    return f"{low} to {high}"


def juror_lines(jurors: Sequence[JurorProfile]) -> tuple[JurorLine, ...]:
    """Every juror's figures; intervals on one scale."""
    drawn = {each.juror: interval for each in jurors if (interval := _interval(each))}
    to = reach(drawn.values())
    return tuple(_juror(each, drawn.get(each.juror), to) for each in jurors)


def juror_scale(jurors: Sequence[JurorProfile]) -> SafeString:
    """The scale that the intervals share."""
    return as_svg(draw_scale(reach(i for j in jurors if (i := _interval(j))), "Lean"), "lean")


def _interval(profile: JurorProfile) -> Interval | None:
    lean = profile.effect.effect
    if isinstance(lean, NotAvailable) or isinstance(lean.interval, NotAvailable):
        return None
    low, high = lean.interval
    return Interval(value=lean.value, low=low, high=high, is_apart=profile.effect.is_apart)


def _juror(profile: JurorProfile, interval: Interval | None, to: int) -> JurorLine:
    effect, lean = profile.effect, profile.effect.effect
    drift = profile.drift
    figures = (
        str(profile.schemes),
        figure(profile.mean),
        figure(profile.sd),
        figure(profile.gap, signed=True),
        figure(effect.least_squares, signed=True),
        figure(profile.agreement),
        figure(profile.scatter),
        shown(drift.value, 3, signed=True) if isinstance(drift, Estimate) else NONE,
        figure(profile.flatness),
    )
    talk = "; ".join(profile.flags)
    if isinstance(lean, NotAvailable):
        return JurorLine(profile.juror, profile.schemes, figures, NONE, NONE, lean.reason, talk)
    working = (
        f"{figure(effect.least_squares)} by least squares over {effect.shared} schemes seen with "
        f"others, standard error {figure(effect.se)}; interval by {lean.method}; pulled towards "
        f"0: {figure(lean, signed=True)}"
    )
    says = f"{figure(lean, signed=True)} level, 95 % interval {ends(lean)}"
    title = f"Lean of {profile.juror}"
    drawn = as_svg(draw_interval(interval, to, title, says), title) if interval else None
    return JurorLine(
        juror=profile.juror,
        sheets=profile.schemes,
        figures=figures,
        lean=figure(lean, signed=True),
        interval=ends(lean),
        working=working,
        talk=talk,
        drawn=drawn,
    )


def groups_of(found: Analysis, severity: Severity, table: Table) -> list[Group]:
    """Schemes in the order of the day, each group that can be compared on its own."""
    count = len(severity.link.groups)
    standings = {standing.scheme: standing for standing in found.standings}
    changes = found.adjustment.changes if isinstance(found.adjustment, Adjustment) else ()
    moves = {
        change.scheme: f"place {change.rank_raw} → {change.rank_adjusted}"
        for change in changes
        if change.moves
    }
    groups = []
    for number, linked in enumerate(severity.link.groups, 1):
        names = {severity.cells.schemes[i] for i in linked.schemes}
        rows = [row for row in table.rows if row.scheme.number in names]
        apart = (
            "No juror of this panel sat on another: nothing tells a kinder panel from stronger "
            "work, so these ranks are among these schemes only."
        )
        title = f"Panel {number} of {count}" if count > 1 else "All schemes"
        warning = apart if count > 1 else held_by_schemes(rows)
        jurors = tuple(severity.cells.jurors[j] for j in linked.jurors)
        jurors = jurors if len(jurors) <= MOST_LEFT_OUT else ()
        means = {name: standings[name].raw for name in names}
        without = {juror: _means_without(found.panel, juror, means) for juror in jurors}
        lines = tuple(
            replace(
                _scheme(row, standings[row.scheme.number], means, without),
                moves=moves.get(row.scheme.number, ""),
            )
            for row in rows
        )
        groups.append(Group(title, warning, jurors, lines))
    return groups


def held_by_schemes(rows: Sequence[SchemeRow]) -> str:
    """What is said where rooms are held together by schemes and by no juror; blank else."""
    rooms: dict[str, set[str]] = {}
    for row in rows:
        seen = {cell.seat.room for cell in row.counted if cell.seat.room}
        if len(seen) == 1 and row.slot and row.slot.room and row.slot.room not in seen:
            return ""
        for room in seen:
            rooms.setdefault(room, set()).add(row.scheme.number)
        if row.slot and row.slot.room and len(seen) > 1:
            return ""
    if len(rooms) < 2:
        return ""
    both = sorted(set.intersection(*rooms.values()))
    named = f"Rooms {' and '.join(sorted(rooms))} share no juror"
    if not both:
        return f"{named}: nothing tells a kinder room from stronger work."
    return (
        f"{named}: one row is held together by {' and '.join(both)} alone, which all of them saw. "
        "Places across rooms rest on that."
    )


def _means_without(
    panel: Panel, juror: str, means: Mapping[str, Fraction]
) -> dict[str, Fraction | None]:
    """The plain mean of each scheme's other jurors, exact; None where there is none."""
    found: dict[str, Fraction | None] = {}
    for name in means:
        given = [
            sheet.value
            for (scheme, other), sheet in panel.sheets.items()
            if scheme == name and other != juror and isinstance(sheet, WeightedLevel)
        ]
        found[name] = sum(given, Fraction(0)) / len(given) if given else None
    return found


def place_among(mean: Fraction, means: Mapping[str, Fraction | None]) -> int:
    """The place of a mean, from 1: one more than there are higher ones."""
    return 1 + sum(other is not None and other > mean for other in means.values())


def _scheme(
    row: SchemeRow,
    standing: Standing,
    means: Mapping[str, Fraction],
    without: Mapping[str, Mapping[str, Fraction | None]],
) -> SchemeLine:
    panel, ranks = row.panel, standing.ranks
    spread = panel.spread if isinstance(panel, PanelLevel) else NotAvailable("no level")
    places = []
    for others in without.values():
        mean = others[standing.scheme]
        places.append(NONE if mean is None else str(place_among(mean, others)))
    return SchemeLine(
        scheme=row.scheme,
        position=str(row.slot.position) if row.slot else NONE,
        given=figure(standing.raw),
        spread=figure(spread),
        place=place_among(standing.raw, means),
        ranks=ranks.reason if isinstance(ranks, NotAvailable) else _range(ranks),
        without=tuple(places),
        squares=figure(standing.least_squares),
        adjusted=figure(standing.adjusted),
        moves="",
        error=figure(standing.se),
    )


def _range(ranks: RankRange) -> str:
    low, high = ranks.table
    return f"{low}" if low == high else f"{low} to {high}"


def criterion_lines(found: Analysis | NotAvailable, table: Table) -> list[CriterionLine]:
    """Spread among jurors on each criterion, before and after severity is taken out."""
    behaved = {} if isinstance(found, NotAvailable) else {c.criterion: c for c in found.criteria}
    return [
        _criterion(row.criterion, behaved.get(row.criterion.code), row.mean)
        for row in table.by_criterion
    ]


def _criterion(criterion: Criterion, found: CriterionBehaviour | None, mean: str) -> CriterionLine:
    if found is None:
        return CriterionLine(criterion, mean or NONE, NONE, NONE, NONE, NONE, NONE, "")
    raw, out = found.raw, found.severity_out
    return CriterionLine(
        criterion=criterion,
        mean=figure(found.mean),
        spread=figure(raw.mean) if isinstance(raw, Spread) else NONE,
        apart=str(raw.apart) if isinstance(raw, Spread) else NONE,
        spread_out=figure(out.mean) if isinstance(out, Spread) else NONE,
        apart_out=str(out.apart) if isinstance(out, Spread) else NONE,
        of=str(raw.of) if isinstance(raw, Spread) else NONE,
        look="; ".join(found.flags),
    )


def impressions(table: Table) -> list[tuple[Scheme, list[str]]]:
    """Each scheme with each juror's impression, and the weighted level in brackets."""
    rows = []
    for row in table.rows:
        line = []
        for cell in row.cells:
            line.append(_impression(cell))
        if any(each != NONE for each in line):
            rows.append((row.scheme, line))
    return rows


def _impression(cell: Cell) -> str:
    given = cell.sheet.impression if cell.sheet and cell.counts else None
    if given is None or not isinstance(cell.weighted, WeightedLevel):
        return NONE
    return f"{given} ({figure(cell.weighted.value)})"
