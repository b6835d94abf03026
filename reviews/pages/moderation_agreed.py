"""What is agreed of one scheme, beside the jurors' levels, ready for its form and its page."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import WeightedLevel, shown
from reviews.models import AgreedLevel, Crit, Scheme, Verdict
from reviews.reading.crit_agreed import Ground, decisions_on, grounds_of, weighted_agreed
from reviews.reading.crit_moderation_table import SchemeRow


@dataclass(frozen=True)
class AgreedLine:
    """One criterion: what its level would stand on, and every decision so far.

    marks   each juror's level as written, with the name
    """

    ground: Ground
    marks: tuple[tuple[str, str], ...]
    past: tuple[AgreedLevel, ...]

    @property
    def hint(self) -> str:
        """The jurors' mean, and what it would make; blank where no juror's level counts."""
        ground = self.ground
        if ground.mean is None:
            return "No juror's level counts: a level owes its reason."
        if ground.is_on_boundary:
            return f"Mean {ground.shown_mean}, just between two levels: {ground.nearest} half up."
        return f"Mean {ground.shown_mean}, so {ground.nearest}."

    @property
    def why(self) -> str:
        """The reason of what stands; blank where none was owed."""
        return self.ground.last.reason if self.ground.last else ""

    @property
    def moved(self) -> str:
        """That the jurors' levels are others by now than those it stood on."""
        last = self.ground.last
        if not self.ground.has_moved or last is None:
            return ""
        return f"Agreed at {last.level}, and jurors' levels changed since: read them again."


@dataclass(frozen=True)
class SchemeAgreed:
    """All of one scheme.

    verdicts   every one so far, the last stands
    """

    lines: tuple[AgreedLine, ...]
    weighted: WeightedLevel | NotAvailable
    verdicts: tuple[Verdict, ...]

    @property
    def verdict(self) -> Verdict | None:
        return self.verdicts[-1] if self.verdicts else None

    @property
    def is_decided(self) -> bool:
        """Whether anything was decided, be it taken back since."""
        return bool(self.verdicts) or any(line.past for line in self.lines)

    @property
    def weighted_shown(self) -> str:
        """The weighted agreed level to two decimals; blank where there is none."""
        return shown(self.weighted.value, 2) if isinstance(self.weighted, WeightedLevel) else ""


def scheme_agreed(crit: Crit, scheme: Scheme, row: SchemeRow | None) -> SchemeAgreed:
    """Read what is agreed of a scheme; row   its line of the leader's table."""
    past = decisions_on(crit, scheme)
    last = {pk: rows[-1] for pk, rows in past.items()}
    grounds = grounds_of(row, last) if row else []
    names = {str(cell.seat.pk): cell.seat.name for cell in row.counted} if row else {}
    lines = tuple(
        AgreedLine(
            ground,
            tuple((names[seat], level) for seat, level in ground.given.items()),
            tuple(past[ground.criterion.pk]),
        )
        for ground in grounds
    )
    stands = {pk: given for pk, given in last.items() if given.level is not None}
    criteria = row.criteria if row else crit.criteria.all()
    verdicts = Verdict.objects.filter(crit=crit, scheme=scheme).select_related("by")
    return SchemeAgreed(lines, weighted_agreed(criteria, stands), tuple(verdicts))
