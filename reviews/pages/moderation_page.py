"""The leader's table, made ready only where a process hasn't kept what it shows."""

from __future__ import annotations

from functools import cached_property

from reviews.models import Scheme
from reviews.pages.agreed_table import AgreedTable, agreed_table
from reviews.pages.jury_numbers import Numbers, chosen_words, numbers_page
from reviews.pages.jury_rooms import BetweenPart, RoomPart, room_parts
from reviews.pages.jury_tables import CriterionLine, criterion_lines, impressions
from reviews.pages.moderation_decisions import Decisions, decisions_of
from reviews.pages.moderation_strips import Strips, strips_of
from reviews.reading.crit_beside_levels import Beside
from reviews.reading.crit_jury_numbers import jury_numbers
from reviews.reading.crit_levels_read import LevelsRead
from reviews.reading.crit_moderation_table import Table, table_of
from reviews.worked_out import fingerprint


class ModerationPage:
    """A crit's decisions, table and jury's numbers; its fingerprint is of all that they read."""

    def __init__(self, read: LevelsRead, beside: Beside) -> None:
        self._read, self._beside = read, beside
        self.fingerprint = fingerprint(
            read.fingerprint, beside.fingerprint, chosen_words(read.crit), read.crit.is_released
        )

    @cached_property
    def table(self) -> Table:
        """Schemes by jurors."""
        return table_of(self._read)

    @cached_property
    def decisions(self) -> Decisions:
        """What a leader decides before the release, in its order."""
        return decisions_of(self.table, self._beside, jury_numbers(self.table))

    @cached_property
    def agreed(self) -> AgreedTable:
        """What is agreed of every scheme."""
        return agreed_table(self.table, self._beside)

    @cached_property
    def criteria(self) -> list[CriterionLine]:
        """Spread among jurors on each criterion, before and after severity is taken out."""
        return criterion_lines(jury_numbers(self.table), self.table)

    @cached_property
    def impressions(self) -> list[tuple[Scheme, list[str]]]:
        """Impressions beside weighted levels."""
        return impressions(self.table)

    @cached_property
    def _by_room(self) -> tuple[list[RoomPart], list[BetweenPart]]:
        return room_parts(self.table)

    @property
    def rooms(self) -> list[RoomPart]:
        """Each room by itself, where there are two or more."""
        return self._by_room[0]

    @property
    def between(self) -> list[BetweenPart]:
        """Every two rooms over the schemes that both saw."""
        return self._by_room[1]

    @cached_property
    def strips(self) -> Strips:
        """What asks for a decision, a strip a scheme."""
        return strips_of(self.table)

    @cached_property
    def numbers(self) -> Numbers:
        """What the locked levels say together."""
        return numbers_page(self.table)
