"""Where the coldest nights and the hottest afternoons are laid."""

import numpy as np
import pytest

from criteria.hourly.spells import Laid, clearness_with, laid, ordinary
from criteria.hourly.weather import Spell

LOWEST = np.array([260.0, 258, 265, 270, 275, 280, 283, 283, 279, 274, 268, 262])
HIGHEST = LOWEST + 12
OPEN = np.ones(12, dtype=np.bool_)
NONE_OPEN = np.zeros(12, dtype=np.bool_)


def test_spells_lie_in_the_coldest_and_the_hottest_open_month():
    both = laid(LOWEST, HIGHEST, OPEN, 250.0, 303.0)
    assert both == (
        Laid(spell=Spell.COLD, month=1, reached_k=250.0),
        Laid(spell=Spell.HOT, month=6, reached_k=303.0),
    )
    assert (both[0].days, both[1].days) == (slice(40, 43), slice(200, 203))
    summer = OPEN.copy()
    summer[[0, 1, 2, 6, 11]] = False
    months = [each.month for each in laid(LOWEST, HIGHEST, summer, 250.0, 303.0)]
    assert months == [10, 7]
    assert laid(LOWEST, HIGHEST, NONE_OPEN, 250.0, 303.0) == both


@pytest.mark.parametrize(("cold_k", "hot_k"), [(None, None), (258.0, 295.0), (270.0, 280.0)])
def test_none_is_laid_where_none_is_given_or_the_months_hold_it(cold_k, hot_k):
    assert laid(LOWEST, HIGHEST, OPEN, cold_k, hot_k) == ()


def test_its_days_reach_what_it_is_for():
    cold, hot = laid(LOWEST, HIGHEST, OPEN, 250.0, 303.0)
    swing = np.full(365, 5.0)
    assert (cold.mean_k(swing, 0.9) - 4.5).tolist() == [250.0] * 3
    assert (hot.mean_k(swing, 0.9) + 4.5).tolist() == [303.0] * 3


def test_its_days_have_their_own_clearness():
    both = laid(LOWEST, HIGHEST, OPEN, 250.0, 303.0)
    days = clearness_with(both, np.full(365, 0.5))
    assert days[39:44].tolist() == [0.5, 0.15, 0.75, 0.75, 0.5]
    assert days[199:204].tolist() == [0.5, 0.7, 0.7, 0.7, 0.5]
    assert np.flatnonzero(~ordinary(both)).tolist() == [40, 41, 42, 200, 201, 202]
