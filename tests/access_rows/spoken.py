"""Addresses of the scribe, and of a juror's own spoken notes."""

from tests.access_rows.base import Row

ROWS: dict[str, Row] = {}
