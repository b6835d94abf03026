"""Addresses before the day: questions on the brief, adjustments, hand-in for somebody."""

from tests.access_rows.base import Row

ROWS: dict[str, Row] = {}
