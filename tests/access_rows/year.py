"""Addresses of a package's year, in preparation and as issued."""

from tests.access_rows.base import POST, READERS, REVISION, Row, a_revision, a_scheme

ISSUED = Row(a_revision, ok=REVISION, refused="classmate", public=True)

ROWS: dict[str, Row] = {
    "show-year": Row(a_scheme, ok=READERS),
    "export-year": Row(a_scheme, ok=READERS),
    "print-year": Row(a_scheme, ok=READERS),
    "write-assumed": Row(a_scheme, ok="student mate", refused=READERS, **POST),
    "show-issued-year": ISSUED,
    "export-issued-year": ISSUED,
    "print-issued-year": ISSUED,
}
