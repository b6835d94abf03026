"""What a save does when the thing it would change has been changed since it was seen."""

from __future__ import annotations

from typing import Any


class Newer(Exception):
    """A save that met a newer version: nothing is changed, and both are shown.

    kept   the row as it stands, which may carry any number of later changes
    sent   what the save would have made of it, as typed
    """

    def __init__(self, kept: Any, sent: Any) -> None:
        super().__init__(f"kept: {kept}; sent: {sent}")
        self.kept, self.sent = kept, sent


def is_new(kept: Any, now: Any, sent: Any, *, stands_at: int, seen: int | None) -> bool:
    """Tell whether a save changes something; raise Newer where it must not.

    now, sent        what stands and what was sent, compared as wholes
    stands_at, seen  the version that stands, and the one whoever saves had seen

    What was sent and stands already is a resend, whatever its version: it changes nothing.
    """
    if now == sent:
        return False
    if stands_at != seen:
        raise Newer(kept, sent)
    return True
