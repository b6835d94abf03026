"""Changes found between two pictures of a sheet: made-up pairs whose change is known."""

from random import Random

import pytest
from PIL import Image

from reviews.picture_changes import find_changes
from tests.sheet_pairs import KINDS, UNCHANGED, Scan, made_pair, made_up, scanned, sheet, told_apart

pytestmark = pytest.mark.apart

MIDDLE = (300, 280, 1500, 1080)
"""What of each sheet is compared here: the plan, at its full fineness [px]."""


@pytest.fixture
def found(tmp_path):
    def find(*pictures: bytes) -> dict:
        paths = [tmp_path / name for name in ("former", "present")]
        for path, picture in zip(paths, pictures, strict=True):
            path.write_bytes(picture)
        return find_changes(*map(str, paths))

    return find


def plain(image: Image.Image) -> bytes:
    return scanned(image, Scan())[0]


@pytest.fixture(scope="module")
def plan():
    return sheet(made_up(Random(5))).crop(MIDDLE)


@pytest.mark.parametrize(("seed", "kind"), zip((0, 1, 2, 13), KINDS, strict=True))
def test_a_change_is_found_where_it_was_made_and_nowhere_else(found, seed, kind):
    pair = made_pair(seed, kind, MIDDLE)
    told = found(pair.former, pair.present)
    is_found, false = told_apart(told["clouds"], pair.where)
    assert is_found
    assert false == 0
    assert not told["is_anew"]


@pytest.mark.parametrize("seed", [4, 9])
def test_a_sheet_scanned_anew_is_not_changed(found, seed):
    pair = made_pair(seed, UNCHANGED, MIDDLE)
    told = found(pair.former, pair.present)
    assert told["like"] > 0.9
    assert told["clouds"] == []


def test_a_scan_turned_by_a_quarter_lies_on_the_former(found, plan):
    told = found(plain(plan), plain(plan.rotate(90, expand=True).reduce(2)))
    a, b, c, d, _, _ = told["lies"]
    assert (a, b, c, d) == pytest.approx((0, -1, 1, 0), abs=0.01)
    assert told["clouds"] == []


def test_what_cannot_be_laid_over_the_other_is_not_said_to_be_unchanged(found, plan):
    other = sheet(made_up(Random(77))).crop(MIDDLE)
    for picture in (other, Image.new("L", (1, 3000)).convert("RGB")):
        told = found(plain(plan), plain(picture))
        assert told["lies"] is None or told["is_anew"]
        assert told["clouds"] == []


def test_a_blank_sheet_is_said_to_be_blank(found, plan):
    told = found(plain(Image.new("RGB", plan.size, "#eee")), plain(plan))
    assert told["is_blank"] == [True, False]
    assert told["lies"] is None
