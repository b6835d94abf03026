"""A room's name in an address: any name, and none."""

from __future__ import annotations

from urllib.parse import quote, unquote


class RoomInAddress:
    """Writes a name so that it is one part of a path; "-" is the room of no name.

    >>> both = RoomInAddress()
    >>> [both.to_url(name) for name in ("", "A", "-", "2/1")], both.to_python("2%2F1")
    (['-', 'A', '%2D', '2%2F1'], '2/1')
    """

    regex = "[^/]+"

    def to_python(self, written: str) -> str:
        """Read a name; raises ValueError, which is no such address, for one that no room has."""
        if len(written) > LONGEST:
            raise ValueError(written[:LONGEST])
        return "" if written == "-" else unquote(written)

    def to_url(self, name: str) -> str:
        """Write a name."""
        return ("%2D" if name == "-" else quote(name, safe="")) or "-"


LONGEST = 120
"""Most characters of a name as it is written: twelve, each of up to nine."""
