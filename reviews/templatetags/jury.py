"""Marks that only the jury's pages need."""

from __future__ import annotations

from django import template

from reviews.places import COLUMNS, ROWS
from reviews.templatetags.look import level_height

register = template.Library()
register.simple_tag(level_height, name="level_height")


@register.simple_tag
def zones() -> list[str]:
    """Every zone of a sheet, row by row: A1 … D6."""
    return [row + column for row in ROWS for column in COLUMNS]
