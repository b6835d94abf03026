"""Six ray-traced rooms, read once for every test: origin and conventions are in the file."""

import json
from pathlib import Path
from typing import Any

from criteria.daylight import Room, room_from_spec

CASES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parent / "published" / "open_cases.json").read_text(encoding="utf-8")
)["cases"]
BY_ID = {case["id"]: case for case in CASES}


def room_of(case: dict[str, Any]) -> Room:
    """Return a case's room."""
    return room_from_spec(case["spec"], file=case["id"]).room
