"""Addresses of the jury sheet on a tablet: what is beside levels and comments."""

from tests.access_rows.base import Row

ROWS: dict[str, Row] = {}
