"""The evening list as its leader reads it: who gets what, what is to decide, whom to ask."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from reviews import access, clock
from reviews.access import Viewer
from reviews.models import Comment, Crit, Seat
from reviews.reading.crit_evening import (
    EveningList,
    evening_list,
    stubs_of,
    why_not_now,
)
from reviews.reading.mail_deliveries import asked_for_words


@dataclass(frozen=True)
class Stubs:
    """A juror's comments without words, and what became of the letter about them."""

    seat: Seat
    comments: list[Comment]
    asked: str


@dataclass(frozen=True)
class EveningPage:
    """The list of one crit, while it isn't sent and after."""

    told: EveningList

    @property
    def why_not_now(self) -> str:
        """Why nothing is sent at this hour."""
        return why_not_now(self.told.crit, clock.now())

    @cached_property
    def stubs(self) -> list[Stubs]:
        """Jurors whose comments lack words, each with what lacks them."""
        crit = self.told.crit
        asked = asked_for_words(crit)
        found: dict[Seat, list[Comment]] = {}
        for stub in stubs_of(crit):
            found.setdefault(stub.jury_sheet.seat, []).append(stub)
        return [
            Stubs(seat, stubs, asked[seat.pk].state_words if seat.pk in asked else "")
            for seat, stubs in found.items()
        ]

    @property
    def can_ask(self) -> bool:
        """Whether anybody with an address wasn't asked yet."""
        return any(each.seat.email and not each.asked for each in self.stubs)


def evening_page(viewer: Viewer, crit: Crit) -> EveningPage:
    """Read the list as far as its reader may."""
    return EveningPage(evening_list(crit, closed=access.closed_schemes(viewer, crit)))
