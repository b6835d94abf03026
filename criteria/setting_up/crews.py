"""What more people are worth: the same steps by one more, and by two, as far as it helps."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from criteria.setting_up.crew import CannotBeDone, set_up
from criteria.setting_up.network import Network, Step

FEW_STEPS, MORE = 16, 2
"""Of so many steps at most, with so many more people, is it asked: each asks a search anew."""


def by_more(steps: Network, crew: int, minutes: int) -> Iterator[tuple[int, int]]:
    """Give how many minutes more people take than a crew that takes so many.

    None where the longest chain is all that is left, which no number of people shortens, and none
    of more steps than are asked.
    """
    for people in range(crew + 1, crew + 1 + MORE):
        if minutes == steps.length or len(steps.steps) > FEW_STEPS:
            return
        minutes = _minutes(steps.steps, people)
        yield people, minutes


@lru_cache(maxsize=64)
def _minutes(steps: tuple[Step, ...], people: int) -> int:
    found = set_up(Network(steps), people)
    assert not isinstance(found, CannotBeDone)  # fewer people do it
    return found.minutes
