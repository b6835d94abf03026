"""Heat pumps by hand; 0.40 of Carnot is from memory."""

import numpy as np
import pytest

from criteria.errors import InputError
from criteria.hourly.heat_pump import cooling_cop, heating_cop


def at(*celsius):
    return np.array(celsius) + 273.15


def test_cold_outside_takes_of_heating_down_from_what_is_typed():
    # 0.4 · 308 ÷ 54.85, ÷ 34.85, ÷ 23 that would be 5.36
    found = heating_cop(at(-20.0, 0.0, 11.85, 35.0, 40.0), 4.0)
    assert found == pytest.approx([2.24613, 3.53515, 4, 4, 4], abs=1e-5)


def test_heat_outside_takes_of_cooling_down_from_what_is_typed():
    found = cooling_cop(at(42.0, 37.0, 12.0, -5.0), 4.0)
    assert found == pytest.approx([3.78109, 4, 4, 4], abs=1e-5)


@pytest.mark.parametrize("cop", [heating_cop, cooling_cop])
def test_no_cop_is_refused(cop):
    with pytest.raises(InputError, match="COP is 0"):
        cop(at(10.0), 0)
