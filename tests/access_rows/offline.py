"""Addresses of the day's store on a device."""

from tests.access_rows.base import EVERYONE, Row

ROWS: dict[str, Row] = {
    "send-worker": Row(ok=EVERYONE, public=True),
    "show-device": Row(ok=EVERYONE, public=True),
    "list-jury-day": Row(ok="juror other_juror", public=True),
}
