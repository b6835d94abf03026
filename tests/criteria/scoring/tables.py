"""Tables of numbers, written in rows."""

import numpy as np

from criteria.scoring.cells import Cells


def table_of(rows, schemes=None, jurors=None):
    """Return the cells of rows of numbers, None where there is none."""
    grid = [list(row) for row in rows]
    schemes = tuple(schemes or (str(i + 1) for i in range(len(grid))))
    jurors = tuple(jurors or (str(j + 1) for j in range(len(grid[0]) if grid else 0)))
    seen = np.array([[cell is not None for cell in row] for row in grid])
    values = np.array([[0.0 if cell is None else float(cell) for cell in row] for row in grid])
    return Cells(schemes, jurors, values, seen)
