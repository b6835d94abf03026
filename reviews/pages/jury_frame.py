"""What every jury page is given besides its own: sheet list, title block, and the lamp off."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from reviews.access import HttpRequest
from reviews.models import Revision, Slot
from reviews.pages.page_frame import kept_until

LAMP_COOKIE = "lamp"


def jury_frame(
    request: HttpRequest,
    *,
    page: str = "",
    slot: Slot | None = None,
    revision: Revision | None = None,
) -> dict[str, Any]:
    """Return the frame of a jury page; rooms are dark, so the lamp is off until switched on."""
    seat = request.viewer.seat
    frame: dict[str, Any] = {
        "lamp": "on" if request.COOKIES.get(LAMP_COOKIE) == "on" else "off",
        "hand": "left" if request.COOKIES.get("hand") == "left" else "right",
        "sheet_list": [],
        "title_block": [],
        "seat": seat,
    }
    if seat is None:
        return frame
    frame["studio"] = seat.crit.studio
    frame["sheet_list"] = [
        _listed("01", "Brief", "show-jury-brief", page == "brief"),
        _listed("02", "Running order", "show-jury", page == "order"),
    ]
    frame["title_block"] = [("Crit", seat.crit), ("Juror", seat.name)]
    if slot:
        frame["scheme"] = slot.scheme
        frame["title_block"] += [
            ("Room", slot.room or "All jurors"),
            ("Time", f"{slot.starts_at:%H:%M}" if slot.starts_at else "–"),
            ("Revision", revision.letter if revision else "Not issued"),
        ]
    frame["title_block"] += kept_until(seat.crit.studio)
    return frame


def _listed(number: str, name: str, address: str, current: bool) -> dict[str, Any]:
    return {"number": number, "name": name, "url": reverse(address), "current": current}
