"""Wind by the hour, of a day's energy."""

import pytest

from criteria.errors import InputError
from criteria.hourly.wind_turbine import SPREAD_EVENLY, made_w


def test_a_days_energy_is_spread_evenly_and_a_page_can_say_so():
    hours = made_w(240 * 3600.0)
    assert hours.shape == (8760,)
    assert set(hours) == {10.0}
    assert "calm days" in SPREAD_EVENLY


def test_less_than_nothing_is_refused():
    with pytest.raises(InputError, match="wind a day is -1 J"):
        made_w(-1)
