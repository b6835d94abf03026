"""What a check finds: a value held to a target, its state, its working and its question.

The comparison with a limit is written here and nowhere else.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import partial

from criteria.sources import Citation
from criteria.units import FINER, Scale, System, told_apart

SAME = 1e-9
"""Two figures nearer than this are one figure: 0.76 / 9.12 is 1 / 12. Relative [1]."""

ON_THE_LINE = 0.005
"""Within this of the target a value is on the line: it counts as meeting. Relative [1]."""

NOT_ALL = "not: "
"""How the names of those that don't hold begin, where a target asks it of all."""


class State(StrEnum):
    """What became of a check."""

    MEETS = "meets"
    ON_THE_LINE = "on_the_line"
    SHORT = "short"
    OVER = "over"
    NO_DATA = "no_data"
    NOT_ASKED = "not_asked"
    CLAIM_DIFFERS = "claim_differs"
    ODD_VALUE = "odd_value"

    @property
    def word(self) -> str:
        """The state as it is said and printed."""
        return self.value.replace("_", " ").capitalize()

    @property
    def is_met(self) -> bool:
        """Whether it counts as meeting the target."""
        return self in (State.MEETS, State.ON_THE_LINE)

    @property
    def is_missed(self) -> bool:
        """Whether a figure stands on the wrong side of its target."""
        return self in (State.SHORT, State.OVER)


class Rule(StrEnum):
    """Which side of a target is asked for; both include the target itself."""

    AT_LEAST = "at least"
    AT_MOST = "at most"
    ALL = "all"


def compare(
    value: float, target: float, rule: Rule, *, is_count: bool = False, near: float = ON_THE_LINE
) -> State:
    """Hold a value to a target.

    A target that asks it of all is held to how many don't, of which there may be none; where
    some don't it falls short.
    Whole-number counts equal to their target meet it; other figures are on the line within
    `near` of it, as a share of it [1].

    >>> compare(0.76 / 9.12, 1 / 12, Rule.AT_MOST, is_count=True).word
    'Meets'
    >>> compare(78.0, 78.0, Rule.AT_MOST).word, compare(0.1805, 0.18, Rule.AT_MOST).word
    ('On the line', 'On the line')
    """
    upper = rule is not Rule.AT_LEAST  # of "all", the figure is how many are not
    distance = target - value if upper else value - target
    breadth = max(abs(target), abs(value))
    if is_count:
        if distance >= -SAME * breadth:
            return State.MEETS
    elif abs(distance) <= (near + SAME) * abs(target):
        return State.ON_THE_LINE
    elif distance > 0:
        return State.MEETS
    return State.OVER if rule is Rule.AT_MOST else State.SHORT


@dataclass(frozen=True)
class Amount:
    """A figure that can be shown in either system: SI value and scale."""

    si: float
    scale: Scale

    def write(self, system: System = System.METRIC) -> str:
        """Write it with its unit."""
        return self.scale.write(self.si, system)


@dataclass(frozen=True)
class Step:
    """A line of working or a note: words with a {} for each figure, and the figures.

    What people typed stands among the figures, never in the words. A figure may itself be a
    step, where part of a line comes and goes.
    """

    words: str
    amounts: tuple["Amount | Step | float | int | str", ...] = ()

    def write(self, system: System = System.METRIC) -> str:
        """Write the line with its numbers in a system's units."""
        return self.words.format(
            *(a.write(system) if isinstance(a, Amount | Step) else a for a in self.amounts)
        )


def listed(amounts: Sequence[Amount | Step | float | int | str], between: str = ", ") -> Step:
    """Set figures or names in a row as one step.

    >>> from criteria.units import LENGTH
    >>> listed([Amount(0.9, LENGTH), Amount(0.8, LENGTH)], " × ").write()
    '900 mm × 800 mm'
    """
    return Step(between.join(["{}"] * len(amounts)), tuple(amounts))


def nowhere() -> tuple["Measured", ...]:
    """How far a figure reaches that has its value, or whose cells bound nothing."""
    return ()


@dataclass(frozen=True, kw_only=True)
class Measured:
    """What a check reads of one subject (a room, a tank, the whole) before any target.

    values    one figure a part of the check, in SI; empty where data are missing
    steps     the working, with this package's numbers
    missing   what would have to be filled in, in words that name row and column
    notes     what a reader must know of this figure
    shown     the figure in words, where a number says less ("not: M1, M2")
    reach     without a value, gives the figure with what is missing at the ends of what it may be;
              worked out when it is asked, as it means something of a monotone check alone
    at_best   whether the figure is the best that what is missing could make of it
    in_state, in_case   in which states of the building and for which people; "" where none is named
    is_held   whether targets must hold for those people, or it is shown alone
    """

    subject: str = ""
    name: str = ""
    use: str = ""
    values: tuple[float, ...] = ()
    steps: tuple[Step, ...] = ()
    missing: tuple[str, ...] = ()
    notes: tuple[Step, ...] = ()
    shown: str = ""
    reach: Callable[[], tuple["Measured", ...]] = nowhere
    at_best: bool = False
    in_state: str = ""
    in_case: str = ""
    is_held: bool = True

    @property
    def situation(self) -> str:
        """In which state and case it was reckoned, in words; "" where the brief names none."""
        return situation_words(self.in_state, self.in_case)


def situation_words(in_state: str, in_case: str) -> str:
    """Say in which state and for which people a figure was reckoned.

    >>> situation_words("day, night", "weekend"), situation_words("night", "")
    ('states day, night; case weekend', 'state night')
    """
    named = (("state", in_state), ("case", in_case))
    return "; ".join(f"{what}{'s' * (', ' in of)} {of}" for what, of in named if of)


@dataclass(frozen=True, kw_only=True)
class Part:
    """One figure of a finding beside its target; most findings have one part.

    not_over   upper bound beside an at-least target [SI]
    """

    name: str
    scale: Scale
    value: float | None
    target: float | None
    state: State
    rule: Rule = Rule.AT_LEAST
    not_over: float | None = None

    @property
    def is_beyond(self) -> bool:
        """Whether it is its upper bound, not its target, that it stands on the wrong side of."""
        over = self.state is State.OVER and self.rule is Rule.AT_LEAST
        return over and self.not_over is not None

    @property
    def limit(self) -> float | None:
        """The figure that decided: the target, or the upper bound where that is nearer [SI]."""
        if self.value is None or self.target is None or self.not_over is None:
            return self.target
        is_upper = self.not_over - self.value < self.value - self.target
        return self.not_over if is_upper else self.target

    def finer(self, system: System) -> int:
        """Return how much finer than usual it is written, to be told from its limits."""
        figures = (self.value, self.target, self.not_over)
        return told_apart(self.scale, (x for x in figures if x is not None), system, SAME)

    @property
    def margin(self) -> float | None:
        """How far the value stands on the wanted side; negative is short or over by that [SI]."""
        if self.value is None or self.limit is None:
            return None
        is_least = self.rule is Rule.AT_LEAST and self.limit == self.target
        return (self.value - self.limit) * (1 if is_least else -1)


@dataclass(frozen=True, kw_only=True)
class Finding:
    """A check's result for one target (or for none: Not asked).

    ref           the target's reference, "T01"; empty without a target
    parts         figures beside their targets
    subject, name the mark and name of the row that decided, or "" for the whole
    uses          uses of the rooms that it is asked of; () is the whole
    worst_first   every subject measured, the one that decided first
    not_over      an upper bound that an at-least target may carry [SI]
    asked_by      where the target comes from: the brief, an addendum or a published set
    citations     sources of the method
    limits        what the method leaves out
    asks          the words of what a juror may ask, with braces for what fills them; empty where
                  nothing invites a question
    shown         the value in words, where a number says less
    at_best       whether the value is the best that what is missing could make of it
    caution       what to leave to licensed practice, where the subject can hurt someone
    in_state, in_case   the states and people for which it was decided; "" where none is named
    check_title, topic, meaning, schedules   what its check says of itself
    """

    ref: str
    check: str
    title: str
    rule: Rule
    state: State
    parts: tuple[Part, ...]
    formula: str
    subject: str = ""
    name: str = ""
    uses: tuple[str, ...] = ()
    steps: tuple[Step, ...] = ()
    missing: tuple[str, ...] = ()
    notes: tuple[Step, ...] = ()
    worst_first: tuple[Measured, ...] = ()
    not_over: float | None = None
    asked_by: str = ""
    citations: tuple[Citation, ...] = ()
    limits: str = ""
    asks: str = ""
    shown: str = ""
    at_best: bool = False
    caution: str = ""
    check_title: str = ""
    topic: str = ""
    meaning: str = ""
    schedules: tuple[str, ...] = ()
    in_state: str = ""
    in_case: str = ""

    @property
    def situation(self) -> str:
        """In which state and case it was decided, in words; "" where the brief names none."""
        return situation_words(self.in_state, self.in_case)

    @property
    def scale(self) -> Scale:
        """Scale of the first part."""
        return self.parts[0].scale

    @property
    def value(self) -> float | None:
        """Value of the first part [SI]."""
        return self.parts[0].value

    @property
    def target(self) -> float | None:
        """Target of the first part [SI]."""
        return self.parts[0].target

    @property
    def question(self) -> str:
        """What a juror may ask, in metric units; empty where nothing invites a question."""
        return self.write_question()

    def write_question(self, system: System = System.METRIC) -> str:
        """Write what a juror may ask in a system's units, of which state and people first."""
        limit = self.write_not_over(system) if self.is_beyond else self.write_target(system)
        value = self.write_value(system).removeprefix(NOT_ALL)
        asked = self.asks.format(
            name=self.name or self.subject or "It",
            value=value,
            target=limit,
            values=value.split(" / "),
            targets=limit.split(" / "),
            title=self.title,
            missing=next(iter(self.missing), ""),
        )
        is_situated = asked and self.situation
        return f"{self.situation.capitalize()}: {asked}" if is_situated else asked

    @property
    def relative_margin(self) -> float | None:
        """Margin of the part that stands worst, as a share of its target [1]."""
        shares = [p.margin / abs(p.limit) for p in self.parts if p.margin is not None and p.limit]
        return min(shares) if shares else None

    def write_value(self, system: System = System.METRIC) -> str:
        """Write the value with its unit, or nothing where there is none."""
        if self.shown:
            return self.shown
        written = _joined(self.parts, [p.value for p in self.parts], system)
        return f"at best {written}" if written and self.at_best else written

    def write_notes(self, system: System = System.METRIC) -> tuple[str, ...]:
        """Write what a reader must know of the value."""
        return tuple(note.write(system) for note in self.notes)

    def write_target(self, system: System = System.METRIC) -> str:
        """Write the target with its unit, or nothing where there is none."""
        if self.rule is Rule.ALL and self.target is not None:
            return str(Rule.ALL)
        return _joined(self.parts, [p.target for p in self.parts], system)

    @property
    def is_beyond(self) -> bool:
        """Whether it is over the upper bound that goes with its target."""
        return self.parts[0].is_beyond

    def write_not_over(self, system: System = System.METRIC) -> str:
        """Write the upper bound that goes with the target, or nothing where there is none."""
        return _joined(self.parts[:1], [self.not_over], system)

    def write_margin(self, system: System = System.METRIC) -> str:
        """Say by how much it is short or over, or what is in hand, in the value's own unit."""
        margin = self.parts[0].margin
        if margin is None or len(self.parts) > 1 or self.rule is Rule.ALL:
            return ""
        none, far = (partial(self.scale.difference, si, system) for si in (0.0, abs(margin)))
        more = self.parts[0].finer(system)
        if self.state.is_missed:  # short by 0.0 says nothing
            more = next((n for n in range(more, more + FINER) if far(n) != none(n)), more)
        # a difference of percentages is in points: 12 % is 2 points, not 2 %, over 10 %
        words = re.sub("%$", "points", far(more))
        if self.state.is_missed:
            return f"{self.state.word.lower()} by {words}"
        if far(more) == none(more):
            return ""
        return f"{words} in hand" if margin > 0 else f"{words} past it"


def _joined(parts: Sequence[Part], values: Sequence[float | None], system: System) -> str:
    pairs = [(p, v) for p, v in zip(parts, values, strict=True) if v is not None]
    if len(pairs) < len(values):
        return ""
    return side_by_side([(part.scale, value, part.finer(system)) for part, value in pairs], system)


def side_by_side(
    figures: Sequence[tuple[Scale, float, int]], system: System, between: str = " / "
) -> str:
    """Write figures beside one another, their unit once: 12 / 30 kg; "" of none.

    figures   scale, SI value, and how much finer than usual it is written

    >>> from criteria.units import LENGTH, MASS
    >>> side_by_side([(MASS, 12.0, 0), (MASS, 30.0, 0)], System.METRIC)
    '12 / 30 kg'
    >>> print(side_by_side([(LENGTH, 0.6, 0), (LENGTH, 0.9, 0)], System.US))
    1'-11 5/8" / 2'-11 7/16"
    >>> side_by_side([], System.METRIC)
    ''
    """
    if not figures:
        return ""
    if len(figures) == 1 or figures[0][0].is_drawn(system):
        return between.join(scale.write(si, system, more) for scale, si, more in figures)
    numbers = [scale.number(si, system, more) for scale, si, more in figures]
    return f"{between.join(numbers)} {figures[0][0].unit(system).symbol}".strip()
