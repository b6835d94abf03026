"""Addresses of the room on the day: clock, projector, timekeeper, leader at the side."""

from tests.access_rows.base import EVERYONE, POST, Row, a_crit, with_args
from tests.world import World

MEMBERS = "student mate classmate scribe examiner"


def a_room_of_it(world: World) -> dict[str, object]:
    return {**a_crit(world), "room": ""}


def a_projector(world: World) -> dict[str, object]:
    return {"code": world.ids["room_code"]}


ROWS: dict[str, Row] = {
    "show-room": Row(a_projector, ok=EVERYONE, public=True),
    "room-live": Row(a_projector, ok=EVERYONE, public=True),
    "show-day": Row(a_crit, ok="leader coordinator", refused=MEMBERS),
    "day-live": Row(a_crit, ok="leader coordinator", refused=MEMBERS),
    "keep-attendance": Row(
        with_args(a_crit, "seat_id"),
        ok="leader",
        refused=f"{MEMBERS} coordinator",
        data={"state": "here"},
        **POST,
    ),
    "keep-time": Row(a_room_of_it, ok="leader", refused=f"{MEMBERS} coordinator"),
    "clock-live": Row(a_room_of_it, ok="leader", refused=f"{MEMBERS} coordinator"),
    "press-clock": Row(a_room_of_it, ok="leader", refused=f"{MEMBERS} coordinator", **POST),
    "take-press-back": Row(a_room_of_it, ok="leader", refused=f"{MEMBERS} coordinator", **POST),
    "open-projector": Row(a_room_of_it, ok="leader", refused=f"{MEMBERS} coordinator", **POST),
    "jury-live": Row(ok="juror other_juror", public=True),
}
