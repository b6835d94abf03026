"""All tables of a package, a brief or a studio at once."""

from tests.access_rows.base import (
    BOTH,
    READERS,
    REVISION,
    STUDIO,
    Row,
    a_revision,
    a_scheme,
    a_studio,
)

ISSUED = Row(a_revision, ok=REVISION, refused="classmate", public=True)

ROWS: dict[str, Row] = {
    "take-workbook": Row(a_scheme, ok=READERS),
    "take-tables": Row(a_scheme, ok=READERS),
    "take-issued-workbook": ISSUED,
    "take-issued-tables": ISSUED,
    "take-brief": Row(a_studio, ok=STUDIO),
    "bring-brief-in": Row(a_studio, ok="leader", refused=STUDIO, **BOTH),
    "take-people": Row(a_studio, ok="leader coordinator", refused=STUDIO),
}
