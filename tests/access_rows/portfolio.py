"""Addresses of portfolios, and of the next year's studio."""

from tests.access_rows.base import (
    BOTH,
    POST,
    READERS,
    STUDIO,
    Row,
    a_crit,
    a_scheme,
    a_studio,
    with_args,
)

SEES = "student mate classmate scribe coordinator examiner"
OWN = {"ok": "student mate", "refused": READERS}
A_PAGE = with_args(a_scheme, "item_id")
A_HEAD = {"title": "Lee", "words": "", "credits": "", "revision": "0", "seen": "1"}

ROWS: dict[str, Row] = {
    "show-portfolio": Row(a_scheme, ok=READERS),
    "print-portfolio": Row(a_scheme, ok=READERS),
    "download-portfolio": Row(a_scheme, ok=READERS),
    "edit-portfolio": Row(a_scheme, **OWN, data=A_HEAD, wrong=""),
    "add-portfolio-sheets": Row(a_scheme, **OWN, **POST),
    "add-portfolio-change": Row(a_scheme, **OWN, **POST),
    "name-in-portfolio": Row(a_scheme, **OWN, data={"named": "no"}, **POST),
    "keep-portfolio-page": Row(A_PAGE, **OWN, data={"caption": "A", "seen": "1"}, **POST),
    "move-portfolio-page": Row(A_PAGE, **OWN, data={"place": "0"}, **POST),
    "remove-portfolio-page": Row(A_PAGE, **OWN, **POST),
    "say-own-name": Row(ok="juror other_juror", public=True, **BOTH),
    "show-juror-names": Row(a_crit, ok="leader", refused=SEES),
    "record-juror-names": Row(with_args(a_crit, "seat_id"), ok="leader", refused=SEES, **POST),
    "carry-studio": Row(a_studio, ok="leader coordinator", refused=STUDIO, **BOTH),
    "name-leader": Row(a_studio, ok="coordinator", refused=STUDIO, **POST),
}
