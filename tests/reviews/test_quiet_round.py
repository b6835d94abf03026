"""The rule of the quiet round: nobody is left without, whoever comes when and however late."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviews.reading.quiet_round import OFFERED, offered, ring_of

BOTH = 2
"""A Keep and an Ask."""


def taken(ring, counts, own, begun=()):
    return offered(ring, counts, {own}, dict.fromkeys(begun, BOTH))


@st.composite
def studios(draw):
    """Schemes with their students (one to three each), in which order and how late each writes."""
    people = draw(st.integers(3, 30))
    owners = []
    while len(owners) < people:
        owners += [len(set(owners))] * draw(st.sampled_from([1, 1, 1, 2, 3]))
    owners = owners[:people]
    return owners, draw(st.integers(0, 10**6))


@given(studios())
def test_nobody_is_left_without_where_all_take_part(studio):
    owners, seed = studio
    lot = random.Random(seed)
    ring = ring_of(set(owners), seed)
    if len(ring) < 2:
        return
    # each reads the round at one moment and writes at another: the page is then as old as that
    moments = [(*sorted((lot.random(), lot.random())), who) for who in range(len(owners))]
    events = sorted(
        [(read, 0, who) for read, _, who in moments]
        + [(wrote, 1, who) for _, wrote, who in moments]
    )
    counts, on_page = dict.fromkeys(ring, 0), {}
    for _, is_written, who in events:
        if not is_written:
            on_page[who] = taken(ring, counts, owners[who])
            continue
        for pk in on_page[who]:
            assert pk != owners[who]
            counts[pk] += BOTH
    assert min(counts.values()) >= BOTH
    assert all(len(page) == min(OFFERED, len(ring) - 1) for page in on_page.values())


@pytest.mark.parametrize("people", range(3, 31))
def test_who_writes_one_after_another_leaves_no_scheme_far_behind(people):
    """Of one scheme each: at most one reader fewer than the two that everybody gives."""
    worst = BOTH
    for seed in range(40):
        ring = ring_of(range(people), seed)
        counts = dict.fromkeys(ring, 0)
        for who in random.Random(seed).sample(range(people), people):
            for pk in taken(ring, counts, who):
                counts[pk] += 1
        assert sum(counts.values()) == 2 * people
        worst = min(worst, *counts.values())
    assert worst >= 1


@pytest.mark.parametrize("people", range(3, 31))
def test_who_opens_it_at_once_gives_each_scheme_two_readers(people):
    ring = ring_of(range(people), 7)
    counts = dict.fromkeys(ring, 0)
    for pages in [taken(ring, {}, who) for who in range(people)]:
        for pk in pages:
            counts[pk] += 1
    assert set(counts.values()) == {2}


def test_who_is_done_is_offered_one_of_the_fewest_more():
    ring = [1, 2, 3, 4, 5]
    counts = {1: 4, 2: 4, 3: 4, 4: 2, 5: 0}
    assert offered(ring, counts, {1}, {2: BOTH, 3: BOTH}) == [2, 3, 5]
    assert offered(ring, counts, {1}, {2: BOTH, 3: 1}) == [2, 3]
    assert offered(ring, counts, {1}, {3: 1}) == [3, 5]


def test_of_equals_the_nearest_behind_the_own_is_offered():
    assert offered([4, 2, 9, 7], {}, {9}, {}) == [7, 4]
    assert offered([4, 2, 9, 7], {7: 1}, {9}, {}) == [4, 2]
    assert offered([4, 2, 9, 7], {}, set(), {}, behind=5) == [2, 9]


def test_where_hardly_anybody_hangs():
    assert offered([], {}, set(), {}) == []
    assert offered([1], {}, {1}, {}) == []
    assert offered([1, 2], {}, {1}, {}) == [2]


def test_the_ring_is_the_same_for_all_and_another_each_time():
    assert ring_of([3, 1, 2], 5) == ring_of([1, 2, 3], 5)
    assert len({tuple(ring_of(range(8), seed)) for seed in range(20)}) > 15
