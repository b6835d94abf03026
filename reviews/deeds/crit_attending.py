"""Keep whether a juror is there: here, late, absent, gone, as the leader or timekeeper saw it."""

from __future__ import annotations

from django.db import transaction

from reviews import clock
from reviews.models import Attendance, Crit, Person, Seat
from reviews.models.briefs import Frozen


@transaction.atomic
def keep_attendance(seat: Seat, state: str, by: Person, *, words: str = "") -> Attendance:
    """Keep how a juror's presence stands now; the same again changes nothing. Raises Frozen."""
    crit = Crit.objects.hold(seat.crit_id)
    if crit.is_released:
        raise Frozen("The crit is released. Who was there stands as it was kept.")
    last = seat.attendance.last()
    if last and (last.state, last.words) == (state, words):
        return last
    return seat.attendance.create(state=state, at=clock.now(), by=by, words=words)
