"""Days and hours as they are written on every page."""

from __future__ import annotations

from datetime import date, datetime

from django.utils import timezone
from django.utils.formats import date_format


def day_words(day: date) -> str:
    """Write a day: Fri 4 Dec 2026."""
    return date_format(day, "D j M Y")


def span_words(minutes: int) -> str:
    """Write a span in the two largest units that it has.

    >>> span_words(35), span_words(1415), span_words(4 * 24 * 60 + 125)
    ('35 min', '23 h 35 min', '4 d 2 h')
    """
    hours, left = divmod(minutes, 60)
    days, over = divmod(hours, 24)
    if days:
        return f"{days} d {over} h"
    return f"{hours} h {left} min" if hours else f"{left} min"


def moment_words(moment: datetime) -> str:
    """Write a day with its hour, in the site's time zone: Fri 4 Dec 2026, 11:05."""
    return date_format(timezone.localtime(moment), "D j M Y, H:i")
