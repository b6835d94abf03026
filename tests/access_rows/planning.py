"""Addresses of planning a crit: order, crossings, duties, calendars, strips."""

from tests.access_rows.base import ACCOUNTS, BOTH, EVERYONE, POST, STUDIO, Row, a_crit, with_args

ROWS: dict[str, Row] = {
    "plan-day": Row(a_crit, ok="leader", refused=STUDIO),
    "draw-order": Row(a_crit, ok="leader", refused=STUDIO, **BOTH),
    "show-order": Row(a_crit, ok=STUDIO),
    "show-panels": Row(a_crit, ok="leader coordinator", refused=STUDIO),
    "keep-crossing": Row(a_crit, ok="leader", refused=STUDIO, **POST),
    "take-up-proposal": Row(a_crit, ok="leader", refused=STUDIO, **POST),
    "take-crossing-back": Row(with_args(lambda w: {}, "crossing_id"), ok="leader", **POST),
    "edit-duties": Row(a_crit, ok="leader", refused=STUDIO, **BOTH),
    "own-calendar": Row(ok=ACCOUNTS, **BOTH),
    "take-own-calendar": Row(ok=ACCOUNTS),
    "jury-calendar": Row(ok="juror other_juror", public=True, **BOTH),
    "take-jury-calendar": Row(ok="juror other_juror", public=True),
    "follow-calendar": Row(lambda w: {"code": w.ids["calendar_code"]}, ok=EVERYONE, public=True),
}
