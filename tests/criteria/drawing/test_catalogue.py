"""Which drawing shows what: each check and each schedule has one at most, and there are such."""

from collections import Counter

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.drawing.catalogue import PICTURES
from criteria.schedules import BY_SLUG


@pytest.mark.parametrize(("of", "known"), [("checks", CHECKS), ("schedules", BY_SLUG)])
def test_a_check_or_schedule_is_drawn_in_one_way(of, known):
    named = Counter(slug for each in PICTURES for slug in getattr(each, of))
    assert set(named) <= set(known)
    assert set(named.values()) == {1}


def test_what_stands_over_a_schedule_has_a_check_to_draw_where_the_brief_asks_none():
    for each in PICTURES:
        assert bool(each.schedules and each.checks) == bool(each.main)
        assert not each.main or each.main in each.checks
