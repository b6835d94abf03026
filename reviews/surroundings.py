"""What every page's template is given."""

from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from criteria.units import Notation, System
from reviews import clock, demo_mark


def surroundings(request: HttpRequest) -> dict[str, object]:
    """Return lamp, letters and units of whoever reads."""
    viewer = getattr(request, "viewer", None)
    person = viewer.person if viewer else None
    return {
        "viewer": viewer,
        "lamp": lamp_of(request),
        "plain_type": bool(person and person.plain_type),
        "system": system_of(request),
        "still_coming": demo_mark.still_coming(),
        "holder": holder_of(viewer),
        "site_now": clock.here(),
    }


def holder_of(viewer: Any) -> str | None:
    """Whose a page is, as a device names its store: account, seat, both or nobody; else unknown."""
    if viewer is None:
        return None
    told = (("person", viewer.person), ("seat", viewer.seat))
    return " ".join(f"{kind}-{row.pk}" for kind, row in told if row)


def lamp_of(request: HttpRequest) -> str:
    """Return whether the lamp is on or off; as the device wishes until somebody touches it there.

    An account has it on from the start, so that alone is nobody's choice.
    """
    viewer = getattr(request, "viewer", None)
    person = viewer.person if viewer else None
    touched = request.COOKIES.get("lamp", "")
    chosen = person.lamp if person and (touched or person.lamp == "off") else touched
    return chosen if chosen in ("on", "off") else "device"


def keep_on_device(answer: HttpResponse, name: str, value: str) -> HttpResponse:
    """Let the device remember a choice of the screen, as long as a session."""
    answer.set_cookie(
        name,
        value,
        max_age=settings.SESSION_COOKIE_AGE,
        samesite="Lax",
        httponly=True,
        secure=settings.IS_HTTPS,
    )
    return answer


def system_of(request: HttpRequest) -> System:
    """Return the units in which whoever asks reads figures."""
    viewer = getattr(request, "viewer", None)
    if viewer and viewer.person:
        system: System = viewer.person.system
        return system
    return System.US if request.COOKIES.get("units") == "us" else System.METRIC


def notation_of(request: HttpRequest, kept: Notation) -> Notation:
    """Return how whoever asks types what is kept so: in their units, with the studio's sign."""
    return kept.read_in(system_of(request))
