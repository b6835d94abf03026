"""Stairs to lofts: IRC Appendix AQ, as a secondary source quotes it, worked by hand for 2.1 m."""

import pytest

from criteria.errors import InputError
from criteria.measures.climbing import INCH_M, loft_stair


@pytest.mark.parametrize(
    ("risers", "riser_in", "tread_in", "is_allowed"),
    [
        (6, 13.779527559055119, 1.6272965879265087, False),
        (7, 11.811023622047244, 4.251968503937007, True),
        (8, 10.334645669291339, 6.2204724409448815, True),
        (9, 9.186351706036746, 7.751531058617672, True),
        (10, 8.26771653543307, 8.976377952755906, True),
        (12, 6.8897637795275593, 10.813648293963254, False),
    ],
)
def test_a_loft_at_2100_mm(risers, riser_in, tread_in, is_allowed):
    stair = loft_stair(2.1, risers)
    assert stair.riser_m / INCH_M == pytest.approx(riser_in)
    assert stair.tread_m / INCH_M == pytest.approx(tread_in)
    assert stair.is_allowed is is_allowed


def test_the_limits_themselves_are_allowed():
    assert loft_stair(84 * INCH_M, 7).is_allowed
    assert loft_stair(84 * INCH_M, 12).is_allowed


@pytest.mark.parametrize(
    ("rise", "risers", "told"),
    [(0, 4, "rise is 0"), (2, 0, "risers is 0"), (2.1, 5, "which leaves a tread")],
)
def test_what_is_no_stair_is_refused(rise, risers, told):
    with pytest.raises(InputError, match=told):
        loft_stair(rise, risers)
