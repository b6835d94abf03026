"""The leader's table, made ready only where a process hasn't kept what it shows."""

from __future__ import annotations

from functools import cached_property

from reviews.pages.jury_numbers import Numbers, chosen_words, numbers_page
from reviews.pages.moderation_strips import Strips, strips_of
from reviews.reading.crit_levels_read import LevelsRead
from reviews.reading.crit_moderation_table import Table, table_of
from reviews.worked_out import fingerprint


class ModerationPage:
    """A crit's table and the jury's numbers; its fingerprint is of all that both read."""

    def __init__(self, read: LevelsRead) -> None:
        self._read = read
        self.fingerprint = fingerprint(read.fingerprint, chosen_words(read.crit))

    @cached_property
    def table(self) -> Table:
        """Schemes by jurors."""
        return table_of(self._read)

    @cached_property
    def strips(self) -> Strips:
        """What asks for a decision, a strip a scheme."""
        return strips_of(self.table)

    @cached_property
    def numbers(self) -> Numbers:
        """What the locked levels say together."""
        return numbers_page(self.table)
