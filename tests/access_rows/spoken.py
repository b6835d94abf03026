"""Addresses of scribes and of what is spoken."""

from uuid import uuid4

from tests.access_rows.base import BOTH, JURY, POST, STUDIO, Row, a_crit, a_scheme, with_args

WHO = {
    "ok": "scribe leader",
    "refused": " ".join(role for role in STUDIO.split() if role not in ("scribe", "leader")),
}
"""Whoever is of the studio knows its crits; its scribes and leaders take notes."""

SLOT = with_args(a_crit, "scheme_id")
A_LINE = {"key": str(uuid4()), "line": "prove 765kg wet?"}
RIGHT = {"seen": 1, "who": "", "kind": "Ask", "place": "", "words": "Wet?"}


def a_line(world):
    return {**a_crit(world), "scheme_id": world.ids["scheme_id"], "key": world.ids["note_key"]}


def a_note(world):
    return {"note_id": world.ids["note_id"]}


def an_own_note(world):
    return {**a_scheme(world), "key": world.ids["note_key"]}


ROWS: dict[str, Row] = {
    "show-scribe": Row(a_crit, **WHO),
    "scribe-slot": Row(SLOT, **WHO),
    "scribe-live": Row(SLOT, **WHO),
    "keep-line": Row(SLOT, data=A_LINE, **WHO, **POST),
    "put-line-right": Row(a_line, data=RIGHT, **WHO, **POST),
    "take-line-off": Row(a_line, data={"seen": 1}, **WHO, **POST),
    "put-line-back": Row(a_line, data={"seen": 1}, **WHO, **POST),
    "hold-spoken": Row(a_note, ok="leader", data={"reason": "Tone"}, **BOTH),
    "let-go-spoken": Row(a_note, ok="leader", **POST),
    "show-spoken": Row(a_scheme, ok="juror", public=True),
    "confirm-spoken": Row(an_own_note, ok="juror", data=RIGHT, **JURY),
    "take-spoken-off": Row(an_own_note, ok="juror", data={"seen": 1}, **JURY),
    "put-spoken-back": Row(an_own_note, ok="juror", data={"seen": 1}, **JURY),
    "claim-spoken": Row(an_own_note, ok="juror", data={"seen": 1}, **JURY),
}
