"""All tables of a package, a brief or a studio at once."""

from tests.access_rows.base import READERS, REVISION, STUDIO, Row, a_revision, a_scheme, a_studio

ISSUED = Row(a_revision, ok=REVISION, refused="classmate", public=True)

ROWS: dict[str, Row] = {
    "take-workbook": Row(a_scheme, ok=READERS),
    "take-tables": Row(a_scheme, ok=READERS),
    "take-issued-workbook": ISSUED,
    "take-issued-tables": ISSUED,
    "take-brief": Row(a_studio, ok=STUDIO),
    "take-people": Row(a_studio, ok="leader coordinator", refused=STUDIO),
}
