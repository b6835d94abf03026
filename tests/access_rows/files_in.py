"""Addresses of files that rows are taken from, and of where a schedule's cells come from."""

from tests.access_rows.base import POST, READERS, Row, a_schedule, a_scheme
from tests.world import World


def a_file(world: World) -> dict[str, object]:
    return {**a_scheme(world), "file_id": world.ids["brought_file"]}


def an_own_revision(world: World) -> dict[str, object]:
    return {**a_scheme(world), "revision_id": world.ids["revision"]}


OWN = {"ok": "student mate", "refused": "leader coordinator"}

ROWS: dict[str, Row] = {
    "show-files": Row(a_scheme, **OWN),
    "bring-file": Row(a_scheme, **OWN, **POST),
    "bring-revision": Row(an_own_revision, **OWN, **POST),
    "show-file": Row(a_file, **OWN),
    "answer-file": Row(a_file, **OWN, **POST),
    "take-file": Row(a_file, **OWN, **POST),
    "set-file-aside": Row(a_file, **OWN, **POST),
    "undo-file": Row(a_file, **OWN, **POST),
    "show-origins": Row(a_schedule, ok=READERS),
}
