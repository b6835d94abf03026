"""Addresses of a brief's weather."""

from tests.access_rows.base import BOTH, STUDIO, Row, a_studio

ROWS: dict[str, Row] = {
    "edit-weather": Row(a_studio, ok="leader", refused=STUDIO, **BOTH),
    "take-weather-figures": Row(a_studio, ok="leader", refused=STUDIO, **BOTH),
    "export-weather": Row(a_studio, ok=STUDIO),
}
