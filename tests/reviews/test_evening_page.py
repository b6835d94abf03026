"""The evening list as its leader works through it: what is asked, and whither a deed leads."""

import re

from django.urls import reverse

from reviews.deeds.crit_timekeeping import Press, press
from reviews.models import ClockEntry, Crit
from reviews.reading.crit_evening import evening_list
from tests.reviews.jury_steps import read
from tests.reviews.test_crit_evening import afternoon, at, said

__all__ = ["afternoon", "said"]  # fixtures are asked for by name


def test_a_scheme_that_was_not_shown_is_listed_and_asks_no_tick(cast, said, afternoon):
    """As the clock has it; where nobody kept it, or its day is over, nobody can say so."""
    shown, other = cast.crit.slots.all()
    assert [each.scheme for each in evening_list(cast.crit).noted] == [shown.scheme, other.scheme]
    press(shown, Press(ClockEntry.Deed.STARTED, at=at(cast, 10)), cast.leader)
    told = evening_list(cast.crit)
    assert [each.scheme for each in told.noted] == [shown.scheme]
    assert [(e.scheme, e.not_shown) for e in told.not_shown] == [(other.scheme, "not shown yet")]
    address = reverse("show-evening", args=[cast.crit.pk])
    assert "(not shown yet)" in read(cast.client(cast.leader), address)
    press(other, Press(ClockEntry.Deed.STOOD_DOWN_AGREED, at=at(cast, 11)), cast.leader)
    after = evening_list(cast.crit)
    assert (after.not_shown[0].not_shown, after.seen != told.seen) == ("stood down", True)
    sent = {"seen": after.seen, "known": [shown.scheme_id]}
    assert cast.client(cast.leader).post(address, sent).status_code == 302
    assert Crit.objects.get(pk=cast.crit.pk).comments_sent_at


def test_whoever_holds_a_comment_comes_back_to_the_list(cast, said):
    page = read(cast.client(cast.leader), reverse("show-evening", args=[cast.crit.pk]))
    (link,) = re.findall(rf'href="({reverse("hold-comment", args=[said.pk])}[^"]*)"', page)
    answer = cast.client(cast.leader).post(link, {"reason": "About the person."})
    assert answer["Location"].endswith(f"/evening/#comment-{said.pk}")
