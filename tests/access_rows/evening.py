"""Addresses of the evening list and of paper sheets."""

from tests.access_rows.base import Row

ROWS: dict[str, Row] = {}
