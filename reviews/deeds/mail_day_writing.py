"""Write the letter of a leader's day: what was handed in, and what waits."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, time, timedelta

from django.utils import timezone

from reviews import clock
from reviews.deeds.mail_words import Written, whole_address
from reviews.models import Mail, Membership, Revision, Studio
from reviews.moments import day_words
from reviews.reading.crit_waiting import Waits, nearest_crit, what_waits


def day_letter(mail: Mail) -> Written | None:
    """The letter of one day; None on days without news."""
    if mail.day is None:
        return None
    led = Membership.objects.joined().filter(person=mail.person, role=Membership.Role.LEADER)
    studios = Studio.objects.filter(memberships__in=led).prefetch_related("crits")
    waits = what_waits(nearest_crit(studio) for studio in studios)
    facts = [fact for studio in studios for fact in _day_of(studio, mail.day, waits)]
    if not facts:
        return None
    lines = [f"What happened on {day_words(mail.day)} in the studios you lead, and what waits."]
    why = "This came because you lead a studio. On days without news it doesn't come."
    link = ("Go to your studios", whole_address("home"))
    return f"Your studios on {day_words(mail.day)}", lines, why, facts, link


def _day_of(studio: Studio, day: date, of_crits: Mapping[int, Waits]) -> list[tuple[str, str]]:
    """What was handed in on a day, and what waits now for the nearest crit."""
    crit = nearest_crit(studio)
    begin = timezone.make_aware(datetime.combine(day, time.min))
    issued = Revision.objects.filter(
        scheme__studio=studio, issued_at__gte=begin, issued_at__lt=begin + timedelta(days=1)
    )
    handed_in = [
        f"{each.scheme} rev {each.letter}, {timezone.localtime(each.issued_at):%H:%M}"
        for each in issued.select_related("scheme").order_by("pk")
    ]
    waits = of_crits.get(crit.pk, Waits()) if crit else Waits()
    is_near = crit is not None and crit.day <= clock.today() + timedelta(days=2)
    lacking = [str(scheme) for scheme in waits.not_issued] if is_near else []
    locks = [f"{seat}: {n}" for seat, n in waits.not_locked]
    since = Mail.objects.filter(studio=studio, state=Mail.State.FAILED, begun_at__gte=begin)
    lost = [f"{each.address}: {each.said}" for each in since]
    found = [
        ("issued", handed_in),
        (f"not issued for {crit}", lacking),
        ("jurors' sheets not locked", locks),
        ("e-mail that could not be delivered", lost),
    ]
    return [(f"{studio.title}, {what}", "; ".join(words)) for what, words in found if words]
