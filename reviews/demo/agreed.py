"""Let the demo's leader agree levels and give verdicts, before the crit is released."""

from __future__ import annotations

from datetime import datetime

from reviews.deeds.crit_agreeing import (
    Decided,
    VerdictGiven,
    agree_levels,
    agree_means,
    give_verdict,
)
from reviews.demo.scenario import StudioStory
from reviews.demo.studios import leader
from reviews.demo.tables import read_csv
from reviews.models import Crit
from reviews.reading.crit_agreed import decided_last, grounds_of
from reviews.reading.crit_moderation_table import moderation_table


def agree(crit: Crit, story: StudioStory, at: datetime) -> None:
    """Agree on what was talked through, then on means, then on those between two levels; say who
    goes on.
    """
    talked_through = {
        (row["scheme"], row["criterion"]): (int(row["level"]), row["reason"])
        for row in _told("agreed", crit, story)
    }
    _decide(crit, talked_through, at)
    agree_means(crit, leader(), at=at)
    _decide(crit, {}, at)
    schemes = {scheme.number: scheme for scheme in crit.studio.schemes.all()}
    for row in _told("verdicts", crit, story):
        sent = VerdictGiven(row["verdict"], row["criteria"].split(), row["words"], 0)
        give_verdict(crit, schemes[row["scheme"]], leader(), sent, at=at)


def _told(table: str, crit: Crit, story: StudioStory) -> list[dict[str, str]]:
    rows = read_csv(table)
    return [row for row in rows if (row["cohort"], row["crit"]) == (story.letter, crit.kind)]


def _decide(crit: Crit, told: dict[tuple[str, str], tuple[int, str]], at: datetime) -> None:
    """Agree on levels with their reasons; of a mean between two levels on the upper one."""
    last = decided_last(crit)
    for row in moderation_table(crit).rows:
        decided = {}
        for ground in grounds_of(row, last[row.scheme.pk]):
            key = row.scheme.number, ground.criterion.code
            level, reason = told.get(key, (ground.nearest, ""))
            if ground.is_open and (key in told or (not told and ground.is_on_boundary)):
                decided[ground.criterion.pk] = Decided(level, reason, ground.seen)
        if decided:
            agree_levels(crit, row.scheme, leader(), decided, at=at)
