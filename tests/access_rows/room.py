"""Addresses of the room on the day: clock, projector, timekeeper, leader at the side."""

from tests.access_rows.base import Row

ROWS: dict[str, Row] = {}
