"""Addresses of desk crits, quiet rounds and options."""

from tests.access_rows.base import Row

ROWS: dict[str, Row] = {}
