"""A release before it goes out: what each scheme's students will read, and what is undecided."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, time
from enum import StrEnum
from functools import cached_property

from django.utils import timezone

from reviews.models import Crit, OwnReleaseWords, ProofRead, Scheme
from reviews.worked_out import fingerprint

FROM, UNTIL = time(9), time(17)
"""When a release reaches students: Monday to Friday, the site's time. Common practice."""

HOURS = "Monday to Friday, 09:00 to 17:00"
NO_HOLIDAYS = (
    "Public holidays and the school's own days off aren't known here: look whether anybody is there"
)

PARTS = (
    "your words to them",
    "the verdict",
    "agreed levels",
    "jurors' levels",
    "comments",
    "spoken notes",
    "rulings, groups and rewordings",
    "names and criteria",
)
"""What a proof is told apart by, eight signs each: what changed since it was read is named."""


class Standing(StrEnum):
    """Why a scheme's students are not told what the whole class is."""

    USUAL = ""
    WITHDRAWN = "withdrawn"
    AGREED = "stood down, agreed absence"
    SILENT = "stood down, without word"
    AGAIN = "shows again"


SUGGESTED = {
    Standing.WITHDRAWN: (
        "This scheme was withdrawn from the studio. What was said of it stands below for your own "
        "use. Nothing more is asked of you."
    ),
    Standing.AGREED: (
        "You were away, as agreed. No level was set and none counts against you. You show the "
        "scheme at the re-crit without prejudice; I tell you the day in person."
    ),
    Standing.SILENT: (
        "You were not there when your scheme was called, and no word had reached us. No level was "
        "set. Please come and see me this week: we look for the next time at which you can show it."
    ),
    Standing.AGAIN: (
        "The jury asks you to show a part of this scheme again. Below stands what is still open: "
        "that alone is looked at, and what was good stays. Come and see me about it this week."
    ),
}
"""The first words of ours to those students, until their leader writes others."""


@dataclass(frozen=True)
class Item:
    """One thing that must be decided before a release.

    key       names it from one reading to the next
    where     evening, scheme, again or proof: the page on which it is decided; blank: this one
    at        the id on that page
    can_stay  whether the release may go out over it, with a reason
    """

    key: str
    words: str
    scheme: Scheme | None = None
    where: str = ""
    at: str = ""
    can_stay: bool = True

    @property
    def named(self) -> str:
        """With the scheme that it is of."""
        return f"{self.scheme}: {self.words}" if self.scheme else self.words


@dataclass(frozen=True)
class SchemeOut:
    """One scheme as its students will read it.

    own       the leader's words to them, where any are written
    lines     what they won't read, or should know, in words
    items     what must be decided first
    seen      fingerprint of what they will read, eight signs a part
    is_closed it isn't open yet to whoever reads: no more is told
    """

    scheme: Scheme
    standing: Standing
    own: OwnReleaseWords | None
    lines: tuple[str, ...]
    items: tuple[Item, ...]
    seen: str
    proof: ProofRead | None
    comments: int
    is_closed: bool = False

    @property
    def words(self) -> str | None:
        """The first words to these students alone; None: those to the whole class."""
        return self.own.words if self.own else SUGGESTED.get(self.standing)

    @property
    def is_read(self) -> bool:
        """Whether a leader read it as it stands."""
        return self.proof is not None and self.proof.seen == self.seen

    @property
    def changed(self) -> list[str]:
        """What became another since it was read; nothing where it never was."""
        if self.proof is None:
            return []
        return [
            part
            for n, part in enumerate(PARTS)
            if self.proof.seen[n * 8 : n * 8 + 8] != self.seen[n * 8 : n * 8 + 8]
        ]


@dataclass(frozen=True)
class Release:
    """All of a crit's schemes, in the order of the day."""

    crit: Crit
    schemes: tuple[SchemeOut, ...]

    @property
    def unread(self) -> list[SchemeOut]:
        """Those that nobody read as they stand."""
        return [each for each in self.schemes if not each.is_read]

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """What must be decided, hazards and closed sheets first."""
        items = [item for each in self.schemes for item in each.items]
        if self.unread:
            numbers = ", ".join(each.scheme.number for each in self.unread)
            told = f"Not read as their students will read it: {numbers}"
            items.append(Item("unread", told, where="proof"))
        return tuple(sorted(items, key=lambda item: item.can_stay))

    @cached_property
    def seen(self) -> str:
        """Fingerprint of all that goes out, of what would be left out, and of what is undecided."""
        return fingerprint(
            [(each.scheme.pk, each.seen, each.lines, each.is_read) for each in self.schemes],
            self.items_told,
        )

    @property
    def items_told(self) -> list[tuple[str, str]]:
        return [(item.key, item.words) for item in self.items]

    def of(self, scheme_id: int) -> SchemeOut | None:
        """One scheme's."""
        return next((each for each in self.schemes if each.scheme.pk == scheme_id), None)

    def beside(self, scheme_id: int) -> tuple[Scheme | None, Scheme | None]:
        """The schemes before it and after it."""
        keys = [each.scheme.pk for each in self.schemes]
        n = keys.index(scheme_id)
        before = self.schemes[n - 1].scheme if n else None
        return before, self.schemes[n + 1].scheme if n + 1 < len(keys) else None

    def next_unread(self, scheme_id: int) -> Scheme | None:
        """The next that is to be read, from the first again behind the last; None where all are."""
        keys = [each.scheme.pk for each in self.schemes]
        n = keys.index(scheme_id) + 1
        order = self.schemes[n:] + self.schemes[: n - 1]
        return next((each.scheme for each in order if not each.is_read), None)


def why_not_now(at: datetime) -> str:
    """Say why nothing is released at a moment; nothing where it may be."""
    here = timezone.localtime(at)
    is_workday = here.weekday() < 5
    if is_workday and FROM <= here.time() <= UNTIL:
        return ""
    return (
        f"It is {here:%A %H:%M}. Results reach students {HOURS}, when somebody is there to talk "
        "to: set a minute at which they go out."
    )
