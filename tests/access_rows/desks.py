"""Addresses of desk crits, quiet rounds and options."""

from uuid import uuid4

from tests.access_rows.base import POST, READERS, STUDIO, Row, a_scheme, a_studio, with_args
from tests.world import World


def a_round(world: World) -> dict[str, object]:
    return {"crit_id": world.ids["pin_up"]}


def a_note(world: World) -> dict[str, object]:
    return {**a_round(world), "note_id": world.ids["quiet_note"]}


def another_scheme(world: World) -> dict[str, object]:
    return {**a_round(world), "scheme_id": world.cast.other_scheme.pk}


A_NOTE = {"kind": "Ask", "words": "Why two doors?", "version": 0, "note": str(uuid4())}

ROWS: dict[str, Row] = {
    "show-desk": Row(a_scheme, ok=READERS),
    "keep-desk-crit": Row(a_scheme, ok="leader", refused=READERS, **POST),
    "keep-desk-photo": Row(a_scheme, ok="leader", refused=READERS, **POST),
    "tick-step": Row(
        with_args(a_scheme, "step_id"), ok="student mate leader", refused=READERS, **POST
    ),
    "show-desk-photo": Row(with_args(a_scheme, "desk_id", size="preview"), ok=READERS),
    # pin-ups: the classmate draws the scheme that is written on
    "show-quiet-round": Row(
        a_round, ok="student mate classmate leader coordinator", refused=STUDIO
    ),
    "keep-quiet-note": Row(another_scheme, ok="student mate", refused=STUDIO, data=A_NOTE, **POST),
    "close-quiet-round": Row(a_round, ok="leader", refused=STUDIO, **POST),
    "open-quiet-round": Row(a_round, ok="leader", refused=STUDIO, **POST),
    "take-quiet-note-off": Row(a_note, ok="leader", refused=STUDIO, **POST),
    "show-options": Row(a_scheme, ok="student mate leader", refused=READERS),
    "keep-option": Row(with_args(a_scheme, place=2), ok="student mate", refused=READERS, **POST),
    "choose-option": Row(a_scheme, ok="student mate", refused=READERS, **POST),
    # the brief's questions
    "show-brief-questions": Row(a_studio, ok=STUDIO),
    "ask-brief-question": Row(a_studio, ok="student mate classmate", refused=STUDIO, **POST),
    "answer-brief-question": Row(
        with_args(a_studio, "question_id"), ok="leader", refused=STUDIO, **POST
    ),
}
