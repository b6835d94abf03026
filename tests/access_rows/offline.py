"""Addresses of the day's store on a device."""

from tests.access_rows.base import Row

ROWS: dict[str, Row] = {}
