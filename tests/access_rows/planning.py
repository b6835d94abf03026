"""Addresses of planning a crit: order, crossings, duties, calendars, strips."""

from tests.access_rows.base import Row

ROWS: dict[str, Row] = {}
