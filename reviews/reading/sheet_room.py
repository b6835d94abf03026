"""The room that a studio's pictures take, of what it has."""

from __future__ import annotations

from typing import NamedTuple

from django.conf import settings
from django.db.models import Sum

from criteria.errors import Refused
from reviews.models import Original, SentPicture, SheetFile, Studio

MB = 2**20


class SheetRoom(NamedTuple):
    """Bytes that a studio's pictures take, and the most that they may."""

    used: int
    most: int

    def __str__(self) -> str:
        return f"{self.used / MB:,.0f} of {self.most / MB:,.0f} MB"

    def require(self, name: str, size: int) -> None:
        """Raise Refused where a file of so many bytes finds no room."""
        if self.used + size > self.most:
            left = max(0, self.most - self.used) / MB
            raise Refused(
                f"{name}, {size / MB:.1f} MB",
                f"at most {left:.1f} MB: the pictures of the studio take {self}. "
                "Sheets that no issued revision holds can be taken down",
            )


def sheet_room(studio: Studio) -> SheetRoom:
    """What a studio's pictures take: those hung or issued, their originals, the line."""
    in_line = SentPicture.objects.taking_room().filter(package__scheme__studio=studio)
    all_held = (SheetFile.objects.of(studio), Original.objects.of(studio), in_line)
    used = sum(held.aggregate(sum=Sum("bytes"))["sum"] or 0 for held in all_held)
    return SheetRoom(used, settings.MOST_STUDIO_MB * MB)
