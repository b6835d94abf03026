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
    """Each cohort's levels on a criterion."""
    shares = [each.shares for each in side.figures if each.shares]
    return level_bars(side.name, [(each.label, each.counts) for each in shares])


@register.simple_tag
def plot_ratios(side: Side) -> SafeString:
    """Each cohort's ratios to its own year's target."""
    groups = [
        (figures.label, each.values, (each.lower_quartile, each.median, each.upper_quartile))
        for figures in side.figures
        if isinstance(each := figures.summary, Summary)
    ]
    return strips(side.name, groups, OWN_TARGET)


@register.filter
def own_warnings(beside: Beside, side: Side) -> list[str]:
    """What must be known of one criterion or check alone."""
    return beside.own_warnings(side)
