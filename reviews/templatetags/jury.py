"""Marks that only the jury's pages need."""

from __future__ import annotations

from django import template
from django.utils.safestring import SafeString, mark_safe

from reviews.places import COLUMNS, ROWS
from reviews.reading.crit_moderation_table import DIGITS
from reviews.templatetags.look import level_height

register = template.Library()
register.simple_tag(level_height, name="level_height")


IN_STEP = str.maketrans({sign: f"<i>{sign}</i>" for sign in DIGITS.values()})


@register.filter
def in_step(digits: str) -> SafeString:
    """Levels of a dense table, each sign as wide as the next."""
    return mark_safe(digits.translate(IN_STEP))


@register.simple_tag
def zones() -> list[str]:
    """Every zone of a sheet, row by row: A1 … D6."""
    return [row + column for row in ROWS for column in COLUMNS]
