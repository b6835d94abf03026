"""Who could cross rooms for one slot, where a panel would be too small."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from criteria.crit_day.panels import LEAST_PANEL, Crossing, Juror, Panel, Sees
from criteria.crit_day.timetable import Turn

MOST_SCHEMES = 9
"""Schemes that one juror can do justice to in a day. Common practice [no.]."""


WAIT_MIN = 5
"""Two slots that meet for so long at most can both be seen: a room waits. Our choice [min]."""


@dataclass(frozen=True)
class Proposal:
    """One way to fill a panel.

    comes       who joins the scheme's room for its slot
    goes        who goes where `comes` comes from, or None
    others      the schemes that `comes` would have seen; none where they were free
    load        schemes that `comes` sees in the day, after
    fills       whether the panel then has as many as is usual
    crossings   what is to be kept where it is taken up
    """

    number: str
    comes: str
    goes: str | None
    others: tuple[str, ...]
    load: int
    fills: bool
    crossings: tuple[Crossing, ...]

    @property
    def words(self) -> str:
        """What is proposed, as it is said."""
        if self.goes:
            return f"swap {self.goes} and {self.comes} for that one slot"
        if self.others:
            return f"move {self.comes} for that one slot"
        return f"ask {self.comes}, who is free for that slot"


def who_could_cross(number: str, sees: Sees, *, opening: int = 0) -> tuple[Proposal, ...]:
    """Ways to fill a scheme's panel, the best first; none where it is not short.

    Only jurors without an interest in what they would come to see, who are there, and whose own
    panel keeps three who set levels. First swaps, which leave both rooms and loads as they are;
    then moves; then whoever is free and not loaded already. Among those, whoever saw the opening
    pair, then the most kinds of juror in the panel that is short, then in the other, then the
    lighter load, then the order of the seats.

    opening   how many schemes stand first that all jurors see together
    """
    panel = sees.panel(number)
    if not panel.is_short:
        return ()
    proposals = [
        proposal
        for juror in sees.jurors
        if not sees.interest_of(juror.name, number)
        for proposal in _with(juror, sees.turn(number), panel, sees)
    ]
    pair = sees.numbers[:opening]
    return tuple(sorted(proposals, key=lambda each: _rank(each, pair, sees)))


def _with(juror: Juror, turn: Turn, panel: Panel, sees: Sees) -> Iterator[Proposal]:
    """The proposals in which one juror comes to a turn."""
    if sees.is_present(juror, turn):
        return
    others = tuple(other for other in sees.turns_of(juror) if _meet(other, turn))
    coming = [Crossing(juror.name, turn.number, comes=True)]
    coming += [Crossing(juror.name, other.number, comes=False) for other in others]
    goers = _who_could_go(turn, others, panel, sees) if others else []
    for goer in (None, *goers):
        crossings = [*coming]
        if goer:
            crossings.append(Crossing(goer.name, turn.number, comes=False))
            crossings += [Crossing(goer.name, other.number, comes=True) for other in others]
        after = sees.with_crossings(crossings)
        load = after.load(juror.name)
        kept = all(_keeps(other.number, sees, after) for other in others)
        if after.is_present(juror, turn) and kept and (others or load <= MOST_SCHEMES):
            yield Proposal(
                turn.number,
                juror.name,
                goer.name if goer else None,
                tuple(other.number for other in others),
                load,
                not after.panel(turn.number).is_short,
                tuple(crossings),
            )


def _who_could_go(turn: Turn, others: tuple[Turn, ...], panel: Panel, sees: Sees) -> list[Juror]:
    """Jurors who for their interest set no levels on a turn and could set them on the others."""
    return [
        juror
        for juror in sees.jurors
        if juror.name not in panel.levels
        and sees.interest_of(juror.name, turn.number)
        and all(_could_come(juror, other, turn, sees) for other in others)
    ]


def _could_come(juror: Juror, other: Turn, instead_of: Turn, sees: Sees) -> bool:
    """Whether a juror who leaves one turn could set levels on another."""
    seen = [each for each in sees.turns_of(juror) if each != instead_of]
    if other in seen or any(_meet(each, other) for each in seen):
        return False
    after = sees.with_crossings([Crossing(juror.name, other.number, comes=True)])
    return after.sets_levels(juror, other)


def _meet(one: Turn, other: Turn) -> bool:
    """Whether nobody can see both."""
    if one.span is None or other.span is None:
        return False
    return min(one.span[1], other.span[1]) - max(one.span[0], other.span[0]) > WAIT_MIN


def _keeps(number: str, before: Sees, after: Sees) -> bool:
    """Whether a panel has three who set levels, or as many as it had."""
    had, has = len(before.panel(number).levels), len(after.panel(number).levels)
    return has >= min(had, LEAST_PANEL)


def _rank(proposal: Proposal, pair: tuple[str, ...], sees: Sees) -> tuple[int, ...]:
    """What makes one proposal come before another, the weightiest first."""
    after = sees.with_crossings(proposal.crossings)
    juror = sees.juror(proposal.comes)
    saw_pair = all(sees.sets_levels(juror, sees.turn(number)) for number in pair)
    return (
        not proposal.fills,
        0 if proposal.goes else 1 if proposal.others else 2,
        len(proposal.others),
        not saw_pair,
        -_kinds(proposal.number, after),
        -sum(_kinds(number, after) for number in proposal.others),
        proposal.load,
        sees.names.index(proposal.comes),
    )


def _kinds(number: str, sees: Sees) -> int:
    """How many kinds of juror set levels on a scheme."""
    return len({sees.juror(name).kind for name in sees.panel(number).levels})
