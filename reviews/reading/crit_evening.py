"""The evening list: what was said of each scheme, what would go out, what is undecided."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime, time
from functools import cached_property

from django.db.models import QuerySet
from django.utils import timezone

from criteria.drawing.running_order import Turn
from reviews import clock
from reviews.models import Comment, Crit, JurySheet, Scheme, Seat, Slot, SpokenNote
from reviews.models.jury import CommentQuerySet
from reviews.moments import day_words
from reviews.reading.comment_rulings import WordsOut, with_words_out, words_out
from reviews.reading.crit_day import timed, turn_of
from reviews.worked_out import fingerprint

FROM, UNTIL = time(9), time(18, 30)
"""When comments may reach students: on the day until then, later between both. Common practice."""

FEW = 3
"""Comments under which a scheme is named as thin. Common practice."""

UNKNOWN_SPEAKER = "Speaker unknown"


@dataclass(frozen=True)
class Remark:
    """A comment, or a spoken note that its juror didn't confirm."""

    said: Comment | SpokenNote

    @property
    def is_spoken(self) -> bool:
        return isinstance(self.said, SpokenNote)

    @property
    def seat(self) -> Seat | None:
        """Whose it is; None where the scribe didn't know."""
        return self.said.seat if isinstance(self.said, SpokenNote) else self.said.jury_sheet.seat

    @property
    def by(self) -> str:
        return str(self.seat or UNKNOWN_SPEAKER)

    @property
    def id(self) -> str:
        """Of its words on the page."""
        return f"{'spoken' if self.is_spoken else 'comment'}-{self.said.pk}"

    @property
    def is_hazard(self) -> bool:
        return self.said.kind == Comment.Kind.HAZARD

    @property
    def out(self) -> WordsOut:
        """The words that go out."""
        said = self.said
        return words_out(said) if isinstance(said, Comment) else WordsOut(said.words, False)

    @property
    def is_empty(self) -> bool:
        """Whether it says nothing yet: no word, and nothing drawn."""
        return not self.said.words.strip() and not getattr(self.said, "strokes", None)

    @property
    def is_held(self) -> bool:
        return self.said.held_at is not None

    @property
    def is_decided(self) -> bool:
        """Whether its leader read it, as it stands, and lets it go."""
        at = self.said.decided_at
        return at is not None and at >= self.said.kept_at

    @property
    def asks(self) -> bool:
        """Whether it must be decided before anything goes out."""
        return self.is_hazard and not (self.is_empty or self.is_held or self.is_decided)

    @property
    def _order(self) -> tuple[object, ...]:
        moment = self.said.said_at if isinstance(self.said, SpokenNote) else self.said.begun_at
        return (not self.is_hazard, not self.said.place, self.said.place, moment)


@dataclass(frozen=True)
class SchemeSaid:
    """What was said of one scheme, hazards first, then by sheet and square.

    is_closed    whoever reads sits on its jury and hasn't locked: no word of it is shown
    not_locked   jurors whose sheets are begun and not locked: their comments are theirs
    not_shown    why it wasn't before the jury, in words; blank where it was, or nobody can say
    """

    scheme: Scheme
    remarks: tuple[Remark, ...]
    not_locked: tuple[str, ...] = ()
    is_closed: bool = False
    not_shown: str = ""

    @cached_property
    def goes(self) -> list[Remark]:
        """What would go out."""
        return [each for each in self.remarks if not (each.is_held or each.is_empty)]

    @property
    def held(self) -> list[Remark]:
        return [each for each in self.remarks if each.is_held]

    @property
    def empty(self) -> list[Remark]:
        """Stubs without words, which stay."""
        return [each for each in self.remarks if each.is_empty and not each.is_held]

    @property
    def asks(self) -> list[Remark]:
        """Hazards that nobody has decided."""
        return [each for each in self.goes if each.asks]

    @property
    def lines(self) -> tuple[str, ...]:
        """What to know before it goes, in words."""
        if self.is_closed or self.not_shown:
            return ()
        lines = []
        if self.not_locked:
            lines.append(f"not locked, so their comments stay theirs: {', '.join(self.not_locked)}")
        if self.held:
            lines.append(f"{counted(len(self.held), 'remark')} held, not sent")
        if self.empty:
            stubs = ", ".join(
                f"{each.by}: {each.said.kind or 'no kind'} {each.said.place}".strip()
                for each in self.empty
            )
            lines.append(f"no words yet, not sent: {stubs}")
        if not self.goes:
            lines.append("nothing to send: its students read no comment")
        elif len(self.goes) < FEW:
            lines.append(f"only {counted(len(self.goes), 'remark')}")
        if self.goes and not any(each.said.kind == Comment.Kind.KEEP for each in self.goes):
            lines.append("nothing to keep named")
        return tuple(lines)


@dataclass(frozen=True)
class EveningList:
    """A crit's schemes in the order of the day."""

    crit: Crit
    schemes: tuple[SchemeSaid, ...]

    @property
    def seen(self) -> str:
        """A short fingerprint of all that would go out, and of what would stay and why."""
        return fingerprint(
            [
                (
                    each.scheme.pk,
                    each.is_closed,
                    each.lines,
                    each.not_shown,
                    [(remark.said, remark.is_spoken, remark.out) for remark in each.remarks],
                )
                for each in self.schemes
            ]
        )[:16]

    @property
    def goes(self) -> int:
        """How many remarks would go out."""
        return sum(len(each.goes) for each in self.schemes)

    @property
    def asks(self) -> list[str]:
        """What stands in the way, in words a leader can act on."""
        closed = [str(each.scheme) for each in self.schemes if each.is_closed]
        hazards = [(each.scheme, len(each.asks)) for each in self.schemes if each.asks]
        asks = [f"{scheme}: {counted(n, 'hazard')} to decide" for scheme, n in hazards]
        if closed:
            asks.append(f"lock your own sheet first, or let another leader send: {_and(closed)}")
        if not self.goes:
            asks.append("nothing was said that could go out yet")
        return asks

    @property
    def noted(self) -> list[SchemeSaid]:
        """Schemes of which something is to be known, each to be ticked."""
        return [each for each in self.schemes if each.lines]

    @property
    def not_shown(self) -> list[SchemeSaid]:
        """Schemes that weren't before the jury: nothing is asked of them."""
        return [each for each in self.schemes if each.not_shown]


def counted(number: int, what: str) -> str:
    """How many, in words: 1 hazard, 2 hazards."""
    return f"{number} {what}{'s' * (number != 1)}"


def _and(names: list[str]) -> str:
    return "; ".join(names)


def stubs_of(crit: Crit) -> CommentQuerySet:
    """Comments that promise words and have none, on sheets that students will read or may yet."""
    kept = Comment.objects.kept().filter(jury_sheet__seat__crit=crit, words="", strokes=[])
    return (
        kept.without_those_aside()
        .with_places()
        .select_related("issued_sheet", "revision", "jury_sheet__seat", "jury_sheet__scheme")
    )


def evening_list(crit: Crit, *, closed: Collection[int] = ()) -> EveningList:
    """Read what was said on a crit's day and isn't sent; of closed schemes, nothing."""
    slots = list(crit.slots.select_related("scheme"))
    not_shown = _not_shown(crit, slots)
    schemes = {slot.scheme_id: slot.scheme for slot in slots}
    read = JurySheet.objects.filter(seat__crit=crit).read()
    begun = JurySheet.objects.filter(seat__crit=crit).open_to_jurors().select_related("seat")
    said: dict[int, list[Remark]] = defaultdict(list)
    for comment in with_words_out(
        Comment.objects.kept()
        .filter(jury_sheet__in=read)
        .select_related(
            "jury_sheet__seat", "jury_sheet__scheme", "issued_sheet", "revision", "criterion"
        )
    ):
        said[comment.jury_sheet.scheme_id].append(Remark(comment))
        schemes.setdefault(comment.jury_sheet.scheme_id, comment.jury_sheet.scheme)
    for note in _spoken(crit):
        said[note.slot.scheme_id].append(Remark(note))
    open_sheets: dict[int, list[str]] = defaultdict(list)
    for sheet in begun:
        open_sheets[sheet.scheme_id].append(sheet.seat.name)
    return EveningList(
        crit,
        tuple(
            SchemeSaid(scheme, (), is_closed=True)
            if pk in closed
            else SchemeSaid(scheme, _sorted(said[pk]), tuple(open_sheets[pk]))
            if said[pk] or open_sheets[pk]
            else SchemeSaid(scheme, (), not_shown=not_shown.get(pk, ""))
            for pk, scheme in schemes.items()
            if said[pk] or open_sheets[pk] or not scheme.withdrawn_at
        ),
    )


def _not_shown(crit: Crit, slots: list[Slot]) -> dict[int, str]:
    """Of each scheme that wasn't before the jury, why, as somebody set it on the clock.

    Where nobody kept the time, nobody can say: then none is among them. Nor is one that still
    waits once its day is over.
    """
    now = clock.now()
    day = timed(crit, slots, now)
    if not any(each.entries for each in day):
        return {}
    words = {Turn.STOOD_DOWN: "stood down"}
    if timezone.localtime(now).date() <= crit.day:
        words[Turn.WAITING] = "not shown yet"
    return {each.slot.scheme_id: words.get(turn_of(each.clock), "") for each in day}


def _spoken(crit: Crit) -> QuerySet[SpokenNote]:
    notes = SpokenNote.objects.standing().filter(slot__crit=crit, is_gap=False)
    return notes.select_related("slot", "seat", "issued_sheet", "revision")


def _sorted(said: Iterable[Remark]) -> tuple[Remark, ...]:
    return tuple(sorted(said, key=lambda each: each._order))


def why_not_now(crit: Crit, at: datetime) -> str:
    """Say why nothing is sent at a moment, for nothing arrives at night; nothing where it may."""
    here = timezone.localtime(at)
    if here.date() < crit.day:
        return f"The crit is on {day_words(crit.day)}. Comments go out on its day, or after it."
    if here.time() > UNTIL:
        return "It is past 18:30. Nothing arrives at night: send the comments from 09:00 tomorrow."
    if here.date() > crit.day and here.time() < FROM:
        return "It is before 09:00. Nothing arrives at night: send the comments from 09:00."
    return ""
