"""How much of a distribution lies beyond a figure, and the figure beyond which so much lies.

The same figures as `scipy.stats` gives, without what it checks each time: that took longer than the
rest of a test, and an analysis asks a hundred times.

>>> round(t_beyond(0.025, 12), 4), round(share_beyond_f(11.0272, 5, 15), 6)
(2.1788, 0.000135)
"""

import numpy as np
from scipy import special


def t_beyond(tail: float, df: float) -> float:
    """Student's t beyond which a share `tail` of it lies [1]; the normal's where df is infinite."""
    return -float(special.stdtrit(df, tail) if np.isfinite(df) else special.ndtri(tail))


def share_beyond_f(F: float, first: float, second: float) -> float:
    """Share of the F distribution on first and second degrees of freedom beyond F [1]."""
    return float(special.fdtrc(first, second, F))
