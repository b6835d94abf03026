"""No cell of a CSV runs in a spreadsheet, and each comes back as it was typed."""

import csv
import io

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from criteria.typed.csv_cells import as_typed, csv_of, harmless

SIGNS = "=+-@＝＋－＠\t\r\n' .,0123456789eE"
CELLS = st.one_of(st.text(max_size=12), st.text(SIGNS, max_size=8))


def runs(cell: str) -> bool:
    """Whether a spreadsheet could take a cell for a formula, which no number is."""
    if cell[:1] in ("\t", "\r", "\n"):
        return True
    try:
        float(cell.replace(",", "").replace(".", ""))
    except ValueError:
        return cell.strip()[:1] in tuple("=+-@＝＋－＠") and len(cell.strip()) > 1
    return False


@given(st.lists(st.lists(CELLS, min_size=2, max_size=4), min_size=1, max_size=4))
@example([["=1+1", "+1+1"], ["-1+1", "@SUM(1)"]])
@example([["\t=1", "\r=1"], ["-1-cmd", " =1"]])
def test_no_cell_runs_and_each_comes_back(lines):
    read = list(csv.reader(io.StringIO(csv_of(lines), newline="")))
    assert not [cell for line in read for cell in line if runs(cell)]
    assert [[as_typed(cell) for cell in line] for line in read] == lines


@pytest.mark.parametrize("number", ["-5", "+5", "-5.25", "-1,200", "-1.200,5", "-1e-3", "-.5"])
def test_a_number_below_zero_stays_a_number(number):
    assert harmless(number) == number


@pytest.mark.parametrize("cell", ["-5 °C", "-5-3", "-5%*2", "+44 20", "-5\n=1", "-٣"])
def test_what_is_more_than_a_number_is_guarded(cell):
    assert harmless(cell) == f"'{cell}"
