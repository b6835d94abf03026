"""Addresses of the jury sheet on a tablet: what is beside levels and comments."""

from uuid import UUID

from tests.access_rows.base import Row, a_scheme

JURY = {"method": "post", "wrong": "get", "public": True}

ROWS: dict[str, Row] = {
    "switch-hand": Row(ok="juror other_juror", data={"hand": "left"}, **JURY),
    "keep-phrase": Row(ok="juror other_juror", data={"words": "Weigh it."}, **JURY),
    "remove-phrase": Row(lambda w: {"key": UUID(int=7)}, ok="juror other_juror", **JURY),
    "keep-private-note": Row(a_scheme, ok="juror", data={"seen": "0", "words": "Tall"}, **JURY),
    "choose-revision": Row(a_scheme, ok="juror", data={"revision": "1"}, **JURY),
    "tell-seen": Row(a_scheme, ok="juror", data={"in_part": "on", "seen": "0"}, **JURY),
    "change-level": Row(
        lambda w: {**a_scheme(w), "criterion_id": w.cast.criterion.pk},
        ok="juror",
        data={"level": "4", "seen": "1", "reason": "Sheet 04."},
        **JURY,
    ),
}
