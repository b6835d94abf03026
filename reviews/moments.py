"""Days and hours as they are written on every page."""

from __future__ import annotations

from datetime import date, datetime

from django.utils import timezone
from django.utils.formats import date_format


def day_words(day: date) -> str:
    """Write a day: Fri 4 Dec 2026."""
    return date_format(day, "D j M Y")


def moment_words(moment: datetime) -> str:
    """Write a day with its hour, in the site's time zone: Fri 4 Dec 2026, 11:05."""
    return date_format(timezone.localtime(moment), "D j M Y, H:i")
