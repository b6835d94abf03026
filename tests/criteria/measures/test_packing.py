"""Packing: known answers first, then the three-valued answer, then every arrangement is sound."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.measures.packing import Box, Fit, pack


def boxes(*groups: tuple[int, tuple[float, float, float]]) -> list[Box]:
    sizes = [size for count, size in groups for _ in range(count)]
    return [Box(f"B{i}", size) for i, size in enumerate(sizes)]


def is_sound(packing, room) -> bool:
    inside = all(
        corner >= 0 and corner + size <= limit + 1e-9
        for place in packing.places
        for corner, size, limit in zip(place.corner_m, place.sizes_m, room, strict=True)
    )
    apart = all(
        any(
            a.corner_m[k] + a.sizes_m[k] <= b.corner_m[k] + 1e-9
            or b.corner_m[k] + b.sizes_m[k] <= a.corner_m[k] + 1e-9
            for k in range(3)
        )
        for a, b in combinations(packing.places, 2)
    )
    return inside and apart


# Puzzles with known answers. The six 1 × 2 × 2 blocks and three cubes in a cube of 3 are
# Slothouber and Graatsma's; a greedy packer says that they don't fit.
FITS = (
    ((3.0, 3.0, 3.0), boxes((27, (1, 1, 1)))),
    ((3.0, 3.0, 1.0), boxes((4, (1, 2, 1)), (1, (1, 1, 1)))),
    ((3.0, 3.0, 3.0), boxes((6, (1, 2, 2)), (3, (1, 1, 1)))),
    ((2.0, 1.0, 1.0), boxes((2, (1, 1, 1)))),
)


@pytest.mark.parametrize(("room", "items"), FITS)
def test_what_is_known_to_fit_fits_and_the_arrangement_is_sound(room, items):
    found = pack(room, items)
    assert found.fit is Fit.FITS
    assert sorted(place.mark for place in found.places) == sorted(box.mark for box in items)
    assert is_sound(found, room)


DOES_NOT_FIT = (
    ((10.0, 10.0, 10.0), boxes((2, (6, 6, 6)))),  # 43 % of the volume
    ((2.0, 2.0, 2.0), boxes((1, (2.1, 0.1, 0.1)))),
    ((1.0, 1.0, 1.0), boxes((3, (1, 1, 0.4)))),  # more than the volume
    ((3.0, 3.0, 1.0), boxes((2, (2, 2, 1)))),
)


@pytest.mark.parametrize(("room", "items"), DOES_NOT_FIT)
def test_what_is_known_not_to_fit_does_not(room, items):
    assert pack(room, items).fit is Fit.DOES_NOT_FIT


# De Bruijn: 27 bricks of 1 × 2 × 4 fill a cube of 6 by volume and can't be laid in it.
def test_a_search_that_stops_says_that_it_does_not_know():
    found = pack((6.0, 6.0, 6.0), boxes((27, (1, 2, 4))), tries=2000)
    assert (found.fit, found.tries, found.places) == (Fit.UNKNOWN, 2000, ())


def test_upright_boxes_are_not_tipped():
    tall = (0.5, 0.5, 1.0)
    assert pack((1.0, 1.0, 0.6), [Box("A", tall)]).fit is Fit.FITS
    assert pack((1.0, 1.0, 0.6), [Box("A", tall, is_upright=True)]).fit is Fit.DOES_NOT_FIT


def test_equal_is_equal_in_binary():
    assert pack((0.3, 0.1, 0.1), boxes((3, (0.1, 0.1, 0.1)))).fit is Fit.FITS


side = st.sampled_from([0.2, 0.3, 0.5, 0.8])


@given(st.lists(st.tuples(side, side, side), min_size=1, max_size=5), st.randoms())
def test_order_changes_no_answer_and_every_arrangement_is_sound(sizes, random):
    room = (1.0, 0.8, 0.6)
    items = [Box(f"B{i}", size) for i, size in enumerate(sizes)]
    shuffled = items[:]
    random.shuffle(shuffled)
    first, second = pack(room, items), pack(room, shuffled)
    assert first.fit is second.fit
    if first.fit is Fit.FITS:
        assert is_sound(first, room)


def test_more_boxes_than_are_searched_is_not_known():
    assert pack((9.0, 9.0, 9.0), boxes((100, (1, 1, 1)))).fit is Fit.FITS
    found = pack((9.0, 9.0, 9.0), boxes((101, (1, 1, 1))))
    assert (found.fit, found.tries) == (Fit.UNKNOWN, 0)


def test_boxes_may_stand_at_any_sum_of_sides_short_of_the_wall():
    assert pack((0.7, 0.1, 0.1), boxes((2, (0.2, 0.1, 0.1)), (1, (0.3, 0.1, 0.1)))).fit is Fit.FITS
    assert pack((0.6999, 0.1, 0.1), boxes((2, (0.2, 0.1, 0.1)), (1, (0.3, 0.1, 0.1)))).fit is (
        Fit.DOES_NOT_FIT
    )
