"""What a weather file says of site sheet and climate, laid out beside what stands there."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass

from criteria.own_words import column_in, in_units
from criteria.schedules import CLIMATE
from criteria.schedules.site import MONTHS
from criteria.units import Notation
from reviews.deeds.record_typed import figure_text
from reviews.reading.brief_figures import (
    DIFFERS,
    MONTH_FIGURES,
    SAME,
    FiguresOffered,
    FileFigure,
)


@dataclass(frozen=True)
class FigureShown:
    """A figure in its reader's units.

    label, text, stands, how   in words
    is_same    whether it stands already: then there is nothing to tick
    differs    whether something else stands
    is_ticked  whether it is to be taken over
    """

    name: str
    label: str
    text: str
    stands: str
    how: str
    is_same: bool
    differs: bool
    is_ticked: bool


@dataclass(frozen=True)
class FiguresPage:
    """A file's figures.

    source  the line in which it says what it is made of
    site    of the site sheet
    heads   of the climate, a column each
    months  each with its figures; None where the file's can't stand there
    said    what has to be known of them
    """

    source: str
    site: list[FigureShown]
    heads: list[str]
    months: list[tuple[str, list[FigureShown | None]]]
    said: list[str]
    is_news: bool


def figures_page(
    offered: FiguresOffered, ticked: Collection[str], notation: Notation
) -> FiguresPage:
    """Make ready what a file offers, with what is ticked."""
    system = notation.system

    def shown(figure: FileFigure) -> FigureShown:
        column = column_in(figure.column, system)
        month, _, _ = figure.name.rpartition("-")
        return FigureShown(
            name=figure.name,
            label=" ".join(filter(None, (month, column.label))),
            text=figure_text(column, figure.text, notation),
            stands=figure_text(column, figure.stands, notation),
            how=in_units(figure.how, system),
            is_same=figure.beside == SAME,
            differs=figure.beside == DIFFERS,
            is_ticked=figure.name in ticked,
        )

    climate = {figure.name: shown(figure) for figure in offered.climate}
    return FiguresPage(
        source=re.sub(r",\s*", ", ", offered.source),
        site=[shown(figure) for figure in offered.site],
        heads=[column_in(CLIMATE.column(head), system).label for head in MONTH_FIGURES],
        months=[
            (month, [climate.get(f"{month}-{head}") for head in MONTH_FIGURES]) for month in MONTHS
        ],
        said=[in_units(sentence, system) for sentence in offered.said],
        is_news=bool(offered.by_name),
    )
