"""What waits for a leader's decision before a release, in the order in which it is decided."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from criteria.scoring.analysis import Analysis
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import PanelLevel, WeightedLevel, shown
from reviews.models import Comment, Scheme
from reviews.reading.crit_agreed import HALF, half_up
from reviews.reading.crit_beside_levels import Beside, is_open_hazard
from reviews.reading.crit_moderation_table import Cell, SchemeRow, Table

NEAR = Fraction(1, 4)
"""How near a mean lies to a boundary for that to be said [level]. Common practice."""

FAR = Fraction(3, 4)
"""An impression so far from the weighted level is talked of [level]. Common practice."""

FEWEST_JURORS, FEWEST_COMMENTS = 3, 3
"""Under either a scheme is named. Common practice."""

SHORT = 12
"""Lines of a section that stand unfolded."""

QUOTED = 90
"""Characters of a comment that are shown where it is led to."""


@dataclass(frozen=True)
class Item:
    """One thing to decide: of which scheme, in words, and where on its page it is read.

    scheme   None: it stands on this page
    """

    scheme: Scheme | None
    words: str
    place: str = ""


@dataclass(frozen=True)
class Section:
    """One kind of decision; number   its place in the order."""

    number: int
    title: str
    note: str
    items: tuple[Item, ...]

    @property
    def is_short(self) -> bool:
        """Whether it is shown unfolded."""
        return len(self.items) <= SHORT


@dataclass(frozen=True)
class Decisions:
    """What is to be decided, and what was looked for and not found.

    unknown   what couldn't be looked for, and why
    is_out    the crit is released: nothing waits, all stands as it went out
    """

    sections: tuple[Section, ...]
    clear: tuple[str, ...]
    unknown: tuple[str, ...]
    is_out: bool = False

    @property
    def answer(self) -> str:
        """How much there is to decide, or stood out."""
        count = sum(len(section.items) for section in self.sections)
        said = "stood out" if self.is_out else "to decide"
        return f"{count or 'Nothing'}{' thing' * bool(count)}{'s' * (count > 1)} {said}."


Finding = Callable[["Seen"], Iterator[Item]]


@dataclass(frozen=True)
class Seen:
    """All that is looked at; rows   those that are open to whoever reads."""

    rows: tuple[SchemeRow, ...]
    beside: Beside
    numbers: Analysis | NotAvailable


def decisions_of(table: Table, beside: Beside, numbers: Analysis | NotAvailable) -> Decisions:
    """Look for everything that 1 to 9 ask for."""
    rows = tuple(row for row in table.rows if not row.is_closed and not row.scheme.withdrawn_at)
    seen = Seen(rows, beside, numbers)
    is_out = table.crit.is_released
    found = [
        Section(number, title, note, tuple(look(seen)))
        for number, (title, note, look) in enumerate(LOOKED_FOR, start=1)
        if not (is_out and look is _hazards)
    ]
    unknown = ["Hazards that are still open: the list of answers says"] if is_out else []
    if closed := [row.scheme.number for row in table.rows if row.is_closed]:
        unknown.append(f"{', '.join(closed)}: open once your own sheet is locked")
    if isinstance(numbers, NotAvailable):
        unknown.append(f"Jurors: {numbers.reason}")
    not_judged = [row.scheme.number for row in rows if not any(cell.sheet for cell in row.cells)]
    if not_judged:
        unknown.append(f"Not judged yet: {', '.join(not_judged)}")
    return Decisions(
        tuple(section for section in found if section.items),
        tuple(section.title for section in found if not section.items),
        tuple(unknown),
        is_out,
    )


def _hazards(seen: Seen) -> Iterator[Item]:
    for row in seen.rows:
        for cell in row.cells:
            for said in cell.comments:
                if is_open_hazard(said):
                    yield Item(row.scheme, _quoted(said.words, cell), f"comment-{said.pk}")
        aloud = [each for each in seen.beside.heard if each.scheme == row.scheme.pk]
        if count := sum(is_open_hazard(each) for each in aloud):
            words = f"{count} spoken and not confirmed" if count > 1 else "spoken, not confirmed"
            yield Item(row.scheme, words, "comments")


def _held(seen: Seen) -> Iterator[Item]:
    for row in seen.rows:
        for cell in row.cells:
            for said in cell.comments:
                if said.held_at:
                    yield Item(row.scheme, _quoted(said.words, cell), f"comment-{said.pk}")


def _quoted(words: str, cell: Cell) -> str:
    short = words if len(words) <= QUOTED else f"{words[:QUOTED].rsplit(' ', 1)[0]} …"
    return f"{cell.seat.name}: “{short}”" if short else f"{cell.seat.name}: no words yet"


def _wide(seen: Seen) -> Iterator[Item]:
    for row in seen.rows:
        panel = row.panel
        if not row.is_wide or seen.beside.is_settled(row) or not isinstance(panel, PanelLevel):
            continue
        levels = dict(_levels(row))
        low, high = min(levels, key=levels.__getitem__), max(levels, key=levels.__getitem__)
        words = f"{shown(levels[high] - levels[low], 2)} levels apart: "
        words += f"{low} {shown(levels[low], 2)}, {high} {shown(levels[high], 2)}"
        if row.wide:
            words += f"; two or more on {', '.join(row.wide)}"
        yield Item(row.scheme, words, "levels-title")


def _levels(row: SchemeRow) -> Iterator[tuple[str, Fraction]]:
    """Each juror whose sheet counts, with the weighted level."""
    for cell in row.counted:
        if isinstance(cell.weighted, WeightedLevel):
            yield cell.seat.name, cell.weighted.value


def _boundary(seen: Seen) -> Iterator[Item]:
    for row in seen.rows:
        if not isinstance(row.panel, PanelLevel) or seen.beside.is_settled(row):
            continue
        mean = row.panel.value
        boundary = (mean + HALF).__floor__() - HALF
        boundary += mean - boundary > HALF
        deciding = list(_deciding(row, mean))
        if abs(mean - boundary) <= NEAR and deciding:
            words = f"mean {shown(mean, 2)}, near {shown(boundary, 1)}: {'; '.join(deciding)}"
            yield Item(row.scheme, words, "agreed")


def _deciding(row: SchemeRow, mean: Fraction) -> Iterator[str]:
    """Each juror without whom the mean would go to another whole level."""
    given = list(_levels(row))
    for name, value in given if len(given) > 1 else ():
        without = (mean * len(given) - value) / (len(given) - 1)
        if half_up(without) != half_up(mean):
            yield f"{shown(without, 2)} without {name}"


def _jurors(seen: Seen) -> Iterator[Item]:
    if isinstance(seen.numbers, Analysis):
        for profile in seen.numbers.jurors:
            if profile.flags:
                words = f"{profile.juror}: {'; '.join(profile.flags)}"
                yield Item(None, f"{words} ({profile.schemes} schemes)", "jurors-title")


def _panels(seen: Seen) -> Iterator[Item]:
    for row in seen.rows:
        begun = any(cell.sheet for cell in row.cells)
        owed = [cell for cell in row.cells if cell.is_owed] if begun else []
        lines = [f"{cell.seat.name}, {cell.state}" for cell in owed]
        lines += [
            f"{cell.seat.name}, {cell.state}"
            for cell in row.cells
            if cell.state and not cell.counts and not cell.is_owed
        ]
        if begun and (lines or len(row.counted) < FEWEST_JURORS):
            count = len(row.counted)
            counts = f"{count or 'no'} sheet{'s' * (count != 1)} count{'s' * (count == 1)}"
            few = f", fewer than {FEWEST_JURORS}" * (count < FEWEST_JURORS)
            words = f"{counts}{few}{'; ' * bool(lines)}{'; '.join(lines)}"
            yield Item(row.scheme, words, "levels-title")
        if moved := seen.beside.moved(row):
            words = f"jurors' levels changed since {', '.join(moved)} was agreed"
            yield Item(row.scheme, words, "agreed")


def _pairs(seen: Seen) -> Iterator[Item]:
    for row in seen.rows:
        if count := seen.beside.unruled_of[row.scheme.pk]:
            yield Item(row.scheme, f"{count} without a ruling", "comments")


def _thin(seen: Seen) -> Iterator[Item]:
    for row in seen.rows:
        if not row.counted:
            continue
        aloud = [each.kind for each in seen.beside.heard if each.scheme == row.scheme.pk]
        kinds = [each.kind for each in row.comments if each.kind or each.words] + aloud
        lines = []
        if len(kinds) < FEWEST_COMMENTS:
            lines.append(f"{len(kinds) or 'no'} comment{'s' * (len(kinds) != 1)}")
        if Comment.Kind.KEEP not in kinds:
            lines.append("nothing to keep named")
        if lines:
            yield Item(row.scheme, "; ".join(lines), "levels-title")


def _impressions(seen: Seen) -> Iterator[Item]:
    for row in seen.rows:
        for cell in row.counted:
            given = cell.sheet.impression if cell.sheet else None
            if given and isinstance(cell.weighted, WeightedLevel):
                gap = abs(given - cell.weighted.value)
                if gap >= FAR:
                    weighted = shown(cell.weighted.value, 2)
                    words = f"{cell.seat.name}: impression {given}, criteria {weighted}"
                    yield Item(row.scheme, words, f"juror-{cell.seat.pk}")


LOOKED_FOR: tuple[tuple[str, str, Finding], ...] = (
    ("Hazards open", "Read each and send it out, or hold it, on the evening list.", _hazards),
    ("Held for tone", "Let each go, offer other words, or hold it for good with a reason.", _held),
    ("Two levels apart or more", "Weighted levels, locked sheets; gone once agreed.", _wide),
    (
        "Near a boundary where one juror decides the side",
        "Boundaries are half levels, within 0.25: no table of marks of the school is known here.",
        _boundary,
    ),
    (
        "Jurors to talk with",
        "Said where a test names like jurors in at most 5 crits of 100. Severe is not wrong.",
        _jurors,
    ),
    ("Missing or partial panels", "Who is missing, saw a part, or stepped aside.", _panels),
    ("Opposed comments without a ruling", "Write a ruling, or by when it is argued.", _pairs),
    ("Few comments, or nothing to keep", "Fewer than three; spoken ones count.", _thin),
    (
        "Impression and weighted level far apart",
        "0.75 level or more: perhaps the criteria have no place for what is good here.",
        _impressions,
    ),
)
