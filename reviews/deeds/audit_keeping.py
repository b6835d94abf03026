"""Write the audit list: every line by one function, beside the deed that it tells of.

Recorded are a locked sheet's levels read by anybody but the scheme's own students (of whom it is
kept when they first opened what was released), changed, moderated, released and called back;
packages handed in for their students, without the reason;
tables and people's data exported; people made anonymous; personal links entered, and by whom. What
is done by a link without an account signed in is told by the link: nobody can know more. Figures of
a whole cohort, which name nobody's level, aren't.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, time

from django.utils import timezone

from reviews import clock
from reviews.models import AuditLine, Crit, Person, Scheme, Seat, Studio

Deed = AuditLine.Deed


def record(
    deed: AuditLine.Deed,
    studio: Studio | int | None,
    *,
    by: Person | None = None,
    link_of: Seat | None = None,
    about: str = "",
    of_person: Person | None = None,
    of_seat: Seat | None = None,
    at: datetime | None = None,
    once_a_day: bool = False,
) -> None:
    """Write a line; once a day, only where the same doer has none of the same yet today."""
    line = AuditLine(
        deed=deed,
        studio_id=studio.pk if isinstance(studio, Studio) else studio,
        person=by,
        seat=link_of,
        about=about[:200],
        of_person=of_person,
        of_seat=of_seat,
        at=at or clock.now(),
    )
    if not (once_a_day and _stands(line)):
        line.save()


def _stands(line: AuditLine) -> bool:
    today = timezone.make_aware(datetime.combine(timezone.localdate(line.at), time.min))
    return AuditLine.objects.filter(
        studio=line.studio_id,
        deed=line.deed,
        at__gte=today,
        person=line.person,
        seat=line.seat,
        about=line.about,
    ).exists()


def record_of(
    deed: AuditLine.Deed,
    studios: Iterable[Studio],
    *,
    by: Person | None,
    of_person: Person | None,
    of_seat: Seat | None,
) -> None:
    """Write of somebody's data in each of their studios; where there is none, in none."""
    for studio in (*studios,) or (None,):
        record(deed, studio, by=by, of_person=of_person, of_seat=of_seat)


def about(crit: Crit, scheme: Scheme | None = None, what: str = "") -> str:
    """Say what a deed was about: Final crit, 3 Dec 2026: R01 Lee, a comment held."""
    told = f"{crit}: {scheme.number} {scheme.name}" if scheme else str(crit)
    return f"{told}, {what}" if what else told


def read_levels(
    crit: Crit, by: Person | None, scheme: Scheme | None = None, *, link_of: Seat | None = None
) -> None:
    """Record that somebody is shown levels of a crit, once a day for each page."""
    told = about(crit, scheme)
    record(Deed.READ, crit.studio_id, by=by, link_of=link_of, about=told, once_a_day=True)


def export_table(crit: Crit, by: Person, what: str) -> None:
    """Record that a table of a crit is exported."""
    record(Deed.EXPORTED, crit.studio_id, by=by, about=about(crit, what=what))


def enter(seat: Seat, by: Person | None) -> None:
    """Record that a personal link is used, once a day; by whom, where an account is signed in."""
    is_own = by is None or seat.is_of(by)
    record(
        Deed.ENTERED if is_own else Deed.ENTERED_AS,
        seat.crit.studio_id,
        by=by,
        link_of=seat,
        about=about(seat.crit),
        once_a_day=True,
    )
