import numpy as np
import pytest

from criteria.scoring.cells import Cells
from tests.criteria.scoring.tables import table_of


def test_a_table_knows_its_margins_and_gaps():
    cells = table_of([[1, None], [3, 5]], ["S1", "S2"], ["A", "B"])
    assert cells.raw.tolist() == [1, 4]
    assert (cells.size, cells.complete, cells.constant) == (3, False, False)
    own, rest, rows = cells.others(0)
    assert (own.tolist(), rest.tolist(), rows.tolist()) == ([3], [5], [1])


def test_from_numbers_by_scheme_and_juror():
    cells = Cells.of({("S2", "A"): 4, ("S1", "A"): 2, ("S1", "B"): 3})
    assert (cells.schemes, cells.jurors) == (("S2", "S1"), ("A", "B"))
    assert cells.part([1], [0, 1]).values.tolist() == [[2, 3]]


@pytest.mark.parametrize(
    ("values", "seen", "message"),
    [
        ([[1.0, 2.0]], [[True, False]], "every scheme needs a juror's number and every juror a"),
        ([[1.0, np.nan]], [[True, True]], "every number must be finite"),
        ([[1.0]], [[True]], "expected 1 schemes × 2 jurors"),
    ],
)
def test_what_is_no_table_is_refused(values, seen, message):
    with pytest.raises(ValueError, match=message):
        Cells(("S1",), ("A", "B"), np.array(values), np.array(seen))
