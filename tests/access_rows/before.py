"""Addresses before the day: how somebody presents, hand-in for somebody."""

from tests.access_rows.base import BOTH, POST, READERS, Row, a_scheme, with_args

ROWS: dict[str, Row] = {
    "issue-for-students": Row(a_scheme, ok="leader", refused=READERS, **BOTH),
    "show-adjustments": Row(a_scheme, ok=READERS),
    "set-adjustment": Row(
        a_scheme, ok="leader coordinator", refused=READERS, data={"effect": "seated"}, **POST
    ),
    "end-adjustment": Row(
        with_args(a_scheme, "adjustment_id"), ok="leader coordinator", refused=READERS, **POST
    ),
    "pause-own-slot": Row(a_scheme, ok="student mate", refused=READERS, **POST),
}
