"""Places are read as people say them."""

import pytest

from criteria.errors import Refused
from reviews.places import read_place


@pytest.mark.parametrize(
    ("typed", "place"),
    [
        ("02·C4", ("02", "C4")),
        ("02 c4", ("02", "C4")),
        ("sheet 2, C4", ("2", "C4")),
        ("2C4", ("2", "C4")),
        ("02", ("02", "")),
        ("C4", ("", "C4")),
        ("  ", ("", "")),
        ("A-101·D6", ("A-101", "D6")),
        ("00·A1", ("00", "A1")),
    ],
)
def test_a_place_is_read(typed, place):
    assert read_place(typed) == place


@pytest.mark.parametrize("typed", ["02·E1", "02 A7", "02·A0", "by the door", "123456789·A1"])
def test_what_is_no_place_is_refused(typed):
    with pytest.raises(Refused, match="a sheet and a zone from A1 to D6"):
        read_place(typed)
