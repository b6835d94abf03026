"""Addresses of packages shown to later years as examples."""

from tests.access_rows.base import READERS, STUDIO, Row, a_scheme, a_studio, with_args

SEES = "student mate classmate leader coordinator"
LOOKS_IN = " ".join({*STUDIO.split()} - {*SEES.split()})

ROWS: dict[str, Row] = {
    "show-examples": Row(a_studio, ok=SEES, refused=LOOKS_IN),
    # the world's studio follows none: 404 to whoever would see one
    "show-example": Row(with_args(a_studio, "scheme_id"), refused=LOOKS_IN),
    "example-image": Row(
        with_args(a_studio, "scheme_id", number="02", size="preview"), refused=LOOKS_IN
    ),
    "allow-example": Row(a_scheme, ok=READERS, data={"allowed": "no"}, wrong=""),
}
