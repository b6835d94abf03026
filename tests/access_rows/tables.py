"""All schedules of a package at once, in preparation and as issued."""

from tests.access_rows.base import READERS, REVISION, Row, a_revision, a_scheme

ISSUED = Row(a_revision, ok=REVISION, refused="classmate", public=True)

ROWS: dict[str, Row] = {
    "take-workbook": Row(a_scheme, ok=READERS),
    "take-tables": Row(a_scheme, ok=READERS),
    "take-issued-workbook": ISSUED,
    "take-issued-tables": ISSUED,
}
