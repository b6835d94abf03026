"""How soon a building stands with so many people: least, or at most with what no plan beats."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from criteria.setting_up.bounds import least_length
from criteria.setting_up.network import Network
from criteria.setting_up.search import Search
from criteria.setting_up.serial import Resources, Starts, length_of, shortest_found

NODES, VARIANTS = 3000, 40
"""How far is searched: bounded by nodes, never by the clock, so that a page says the same twice."""

SEARCHED_WHOLE = 25
"""Steps up to which so far is searched; of more, less by the cube of their number. The least crew
is searched for so far, each larger one by a root less: what is found is carried over."""


@dataclass(frozen=True)
class SetUp:
    """A sequence for a crew.

    starts          the minute at which each step starts, by mark
    minutes         from the first start to the last end
    at_least        minutes that no plan beats; equal to `minutes` where the least is proved
    most_at_once    people at work at the busiest moment
    """

    starts: Mapping[str, int]
    minutes: int
    at_least: int
    most_at_once: int

    @property
    def is_proved(self) -> bool:
        """Whether no plan is shorter."""
        return self.minutes == self.at_least


@dataclass(frozen=True)
class CannotBeDone:
    """Why no order of the steps helps."""

    why: str


def least_crew(network: Network) -> int:
    """The people that the step with most of them needs."""
    return max((step.people for step in network.steps), default=0)


def person_minutes(network: Network) -> int:
    """The work of all steps [person-minutes]."""
    return sum(step.minutes * step.people for step in network.steps)


def set_up(
    network: Network, people: int, tools: Mapping[str, int] | None = None
) -> SetUp | CannotBeDone:
    """Return the shortest sequence found for so many people, and what no plan beats.

    tools   of each, how many there are; of one not named, as many as the step with most takes

    What was found for fewer people is carried over, so that more never take longer.
    """
    have: dict[str, int] = {}
    for step in network.steps:
        have |= {tool: max(count, have.get(tool, 0)) for tool, count in step.tools.items()}
    have |= tools or {}
    for step in network.steps:
        if step.people > people:
            return CannotBeDone(f"step {step.mark} takes {step.people} people at once")
        for tool, count in step.tools.items():
            if count > have[tool]:
                return CannotBeDone(f"step {step.mark} takes {count} × {tool} at once")
    best: Starts = []
    at_least = network.length
    share = min(1.0, (SEARCHED_WHOLE / max(1, len(network.steps))) ** 3)
    for more, crew in enumerate(range(max(1, least_crew(network)), people + 1), 1):
        resources = Resources.of(network, crew, have)
        best, at_least = _shortest(network, resources, share / more**0.5, best)
        if length_of(network, best) == network.length:
            break
    starts = {step.mark: start for step, start in zip(network.steps, best, strict=True)}
    return SetUp(starts, length_of(network, best), at_least, _most_at_once(network, best))


def _shortest(
    network: Network, resources: Resources, share: float, carried: Starts
) -> tuple[Starts, int]:
    at_least = least_length(network, resources)
    found = shortest_found(network, resources, at_least, int(VARIANTS * share))
    if carried and length_of(network, carried) <= length_of(network, found):
        found = carried
    if length_of(network, found) == at_least:
        return found, at_least
    search = Search(network, resources, found, int(NODES * share))
    search.run(at_least)
    return search.best, search.length if search.is_whole else at_least


def _most_at_once(network: Network, starts: Starts) -> int:
    moves = sorted(
        move
        for start, step in zip(starts, network.steps, strict=True)
        for move in ((start, step.people), (start + step.minutes, -step.people))
    )
    most = now = 0
    for _, people in sorted(moves):
        now += people
        most = max(most, now)
    return most
