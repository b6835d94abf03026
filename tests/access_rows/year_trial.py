"""Addresses of a trial of a package's year, and of what moves its worst night."""

from tests.access_rows.base import POST, READERS, Row, a_scheme

ROWS: dict[str, Row] = {
    "show-year-trial": Row(a_scheme, ok=READERS),
    "try-year": Row(a_scheme, ok=READERS, **POST),
    "adopt-year-trial": Row(a_scheme, ok="student mate", refused=READERS, **POST),
    "undo-year-trial": Row(a_scheme, ok="student mate", refused=READERS, **POST),
    "show-year-moves": Row(a_scheme, ok=READERS),
}
