import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import sparse
from scipy.sparse import csgraph

from criteria.scoring.cells import Cells
from criteria.scoring.connections import groups, link, link_factor, pair_variances
from tests.criteria.scoring.tables import table_of


def rooms(anchors: int, schemes: int = 30) -> np.ndarray:
    """Two rooms of three jurors; the first `anchors` schemes are seen by all six."""
    seen = np.zeros((schemes, 6), dtype=bool)
    seen[: schemes // 2, :3] = seen[schemes // 2 :, 3:] = True
    for number in range(anchors):
        seen[(number % 2) * (schemes // 2) + number // 2] = True
    return seen


# O-31: two rooms of 15 by three jurors, L anchors seen by all six. Grade RUN: between rooms
# 2/k + 2/(kL), within a room 2/k; average as printed.
@pytest.mark.parametrize(
    ("anchors", "worst", "average"),
    [
        (1, 1.3333, 0.989),
        (2, 1.0000, 0.805),
        (3, 0.8889, 0.737),
        (4, 0.8333, 0.697),
        (6, 0.7778, 0.646),
        (10, 0.7333, 0.579),
    ],
)
def test_o31_anchors(anchors, worst, average):
    pairs = pair_variances(rooms(anchors).astype(float))
    assert pairs.max() == pytest.approx(2 / 3 + 2 / (3 * anchors))
    assert pairs.max() == pytest.approx(worst, abs=5e-5)
    assert pairs[np.triu_indices(30, 1)].mean() == pytest.approx(average, abs=5e-4)
    assert pairs[10, 11] == pytest.approx(2 / 3)
    assert link_factor(rooms(anchors).astype(float)) == pytest.approx(1 + 1 / anchors)


def test_o31_without_anchors_rooms_are_apart():
    assert len(groups(rooms(0))) == 2


# O-32: jurors who change rooms after 8 of 15 schemes. Grade RUN: .725 with one or two, apart
# again with all three.
@pytest.mark.parametrize(("movers", "average"), [(1, 0.725), (2, 0.725)])
def test_o32_changing_rooms(movers, average):
    seen = rooms(0)
    for juror in range(movers):
        seen[8:15, [juror, 3 + juror]] = [False, True]
        seen[23:30, [juror, 3 + juror]] = [True, False]
    assert len(groups(seen)) == 1
    pairs = pair_variances(seen.astype(float))[np.triu_indices(30, 1)]
    assert pairs.mean() == pytest.approx(average, abs=5e-4)


def test_o32_a_whole_room_that_changes_joins_nothing():
    seen = rooms(0)
    seen[8:15] = [False] * 3 + [True] * 3
    seen[23:30] = [True] * 3 + [False] * 3
    assert len(groups(seen)) == 2


def table(seen: np.ndarray) -> Cells:
    n, m = seen.shape
    rows = [[float(i + j) if seen[i, j] else None for j in range(m)] for i in range(n)]
    return table_of(rows, schemes=[f"S{i}" for i in range(n)], jurors="ABCDEF"[:m])


def test_one_anchor_is_what_holds_two_rooms_together():
    found = link(table(rooms(1)))
    assert found.connected
    assert found.cut_schemes == ("S0",)
    assert found.cut_jurors == ()


def test_a_juror_who_alone_joins_two_rooms_is_named():
    seen = rooms(0)
    seen[20, 0] = True
    found = link(table(seen))
    assert (found.cut_schemes, found.cut_jurors) == (("S20",), ("A",))


def test_everyone_seen_by_everyone_is_as_firm_as_can_be():
    found = link(table(np.ones((5, 6), dtype=bool)))
    assert (found.cut_schemes, found.cut_jurors, found.link_factor) == ((), (), 1.0)


@given(st.integers(2, 6), st.integers(2, 4), st.data())
def test_cuts_are_what_taking_one_out_at_a_time_finds(n, m, data):
    bits = data.draw(st.lists(st.booleans(), min_size=n * m, max_size=n * m))
    seen = np.array(bits).reshape(n, m)
    seen[:, 0] |= ~seen.any(axis=1)
    seen = seen[:, seen.any(axis=0)]
    cells = table(seen)

    def parts(some: np.ndarray) -> int:
        graph = sparse.bmat([[None, some.astype(int)], [some.T.astype(int), None]])
        return csgraph.connected_components(graph, directed=False)[0]

    whole = parts(seen)
    found = link(cells)
    assert len(found.groups) == whole
    cut = {
        f"S{i}"
        for i in range(n)
        if n > 1 and seen[i].sum() > 1 and parts(np.delete(seen, i, axis=0)) > whole
    }
    assert set(found.cut_schemes) == cut
