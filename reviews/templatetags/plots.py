"""Puts the plots of a comparison on a page."""

from __future__ import annotations

from django import template
from django.utils.safestring import SafeString

from criteria.scoring.cohorts import Summary
from reviews.pages.plots import level_bars, strips
from reviews.reading.cohort_comparing import Beside, Side

register = template.Library()

OWN_TARGET = 1.0


@register.simple_tag
def plot_levels(side: Side) -> SafeString:
    """Both cohorts' levels on a criterion."""
    return level_bars(side.name, [(each.label, each.counts) for each in side.shares])


@register.simple_tag
def plot_ratios(side: Side) -> SafeString:
    """Both cohorts' ratios to their own year's target."""
    groups = [
        (each.label, each.values, (each.lower_quartile, each.median, each.upper_quartile))
        for each in (side.compared.this, side.compared.other)
        if isinstance(each, Summary)
    ]
    return strips(side.name, groups, OWN_TARGET)


@register.filter
def own_warnings(beside: Beside, side: Side) -> list[str]:
    """What must be known of one criterion or check alone."""
    return beside.own_warnings(side)
