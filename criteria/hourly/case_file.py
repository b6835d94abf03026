"""A case in the explicit form: elements, layers, glass, shades, air and set-points, in one JSON.

The form in which published test cases are put: nothing is assumed that the file doesn't say, so that
any other case is put in the same way. Keys carry their units.
"""

from collections.abc import Mapping
from typing import Any

import numpy as np

from criteria.hourly.building import (
    Air,
    Building,
    Element,
    Glass,
    Layer,
    Outside,
    Rectangle,
    Use,
    Window,
)
from criteria.hourly.weather import HOURS, Hours, Place
from criteria.units import ZERO_CELSIUS_K

Case = Mapping[str, Any]
