"""Setting up and packing, drawn: steps as bars along time, people at work, what stands open.

A step on the longest chain is a full bar: whoever shortens anything else shortens nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

from criteria.checks.setting_up import (
    MINUTE_S,
    SETTING_UP_CHECKS,
    Plan,
    packing_of,
    plan_of,
)
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.held import failing
from criteria.drawing.lettering import ANSWER_MM, LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Point, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Asked, Picture, Ready, Seen
from criteria.errors import InputError
from criteria.findings import Amount, State, Step
from criteria.package import Package
from criteria.schedules.setting_up import SetUpStep
from criteria.setting_up.crews import by_more
from criteria.setting_up.network import Step as Work
from criteria.typed.cells import Lacking
from criteria.units import COUNT, WHOLE_MINUTES

ROW_MM, BAR_MM, CRITICAL_MM = 5.0, 1.8, 3.2
HEAD_MM, SIDE_MM = 12.0, 2.0
NAME_SHARE = 0.3
"""How much of the width names of steps take [1]."""
OPEN_TO_RAIN = next(check for check in SETTING_UP_CHECKS if check.slug == "open_to_rain")
TALLEST_MM = 18.0
"""How high people at work are drawn at most [mm]."""
PERSON_MM = 3.0
MOST_ROWS = 36
"""Steps that are drawn, so that a drawing stays on a sheet; the longest of more."""
TICKS_MIN = (5, 10, 15, 30, 60, 120, 240, 480, 960, 1920, 4800, 9600, 24000, 96000, 480000)
NUMBERS = (
    *("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
    *("eleven", "twelve"),
)
OPEN = "{}: from {}, at the start of {}, to {}, at the end of {}"
"""The line of working that says what stands open, and how long."""


@dataclass(frozen=True, kw_only=True)
class Sequenced:
    """What is drawn: a plan, the names of its steps, and what stands open to rain.

    opens    the lines of that check's working; None where nothing is asked of it, as of packing
    gap      why nothing is said of what stands open
    check    whose figure is picked out; its time is that of the sequence
    picked   marks of the steps that decided another
    """

    plan: Plan
    names: Mapping[str, str]
    opens: Sequence[Step] | None = None
    gap: Gap | None = None
    check: str = "setup_time"
    picked: frozenset[str] = frozenset()


TIMED: Mapping[str, Callable[[Package], Plan]] = {"setup_time": plan_of, "pack_time": packing_of}
"""Checks that are drawn as bars, and whose sequence each is of."""
OF_SETTING_UP = (
    "open_to_rain",
    "least_crew",
    "person_hours",
    "heaviest_set_up_lift",
    "order_possible",
    "steps_stand",
)
"""Checks of the same steps whose figure is no time on the bars."""


def sequenced(package: Package, check: str) -> Sequenced | None:
    """Return the sequence that a check is of; None where its steps make none."""
    try:
        plan = TIMED[check](package)
    except (Lacking, InputError):
        return None
    rows = package.rows_of(SetUpStep)
    names = {row.mark: str(row.if_given("step") or "") for row in rows}
    if check != "setup_time":
        return Sequenced(plan=plan, names=names)
    try:
        (opened,) = OPEN_TO_RAIN.measure(package, ())
    except (Lacking, InputError):
        says = "what stands open to rain: not given"
        gap = Gap(schedule="steps", mark="", column="opens", says=says)
        return Sequenced(plan=plan, names=names, opens=(), gap=gap)
    return Sequenced(plan=plan, names=names, opens=opened.steps)


def hours(minutes: float) -> str:
    """Write minutes in hours and minutes.

    >>> hours(185), hours(45), hours(120)
    ('3 h 05', '45 min', '2 h')
    """
    whole, rest = divmod(round(minutes), 60)
    if not whole:
        return f"{rest} min"
    return f"{whole} h {rest:02}" if rest else f"{whole} h"


def counted(people: int) -> str:
    """Write how many people in a word, as far as a sentence does."""
    return NUMBERS[people] if people < len(NUMBERS) else str(people)


def by_people(plan: Plan) -> str:
    """Say what the crew takes, what more people take, and from where on more don't help."""
    best = plan.found.minutes
    at_most = "" if plan.found.is_proved else "at most "
    noun = "person" if plan.crew == 1 else "people"
    parts = [f"{counted(plan.crew).capitalize()} {noun}: {at_most}{hours(best)}"]
    for people, minutes in by_more(plan.steps, plan.crew, best):
        if minutes < best:
            parts.append(f"{counted(people)}: {hours(minutes)}")
            best = minutes
    if best == plan.steps.length:
        return "; ".join(parts) + ", and more don't help."
    return "; ".join(parts) + f"; no number of people beats {hours(plan.steps.length)}."


def draw_set_up(sequence: Sequenced, asked: Asked, field: Field) -> Drawing:
    """Draw a plan of steps."""
    return _Bars(sequence, asked, field).drawing()


class _Bars:
    def __init__(self, sequence: Sequenced, asked: Asked, field: Field) -> None:
        self.plan, self.sequence, self.asked, self.field = sequence.plan, sequence, asked, field
        starts = self.plan.found.starts
        by_length = sorted(self.plan.steps.steps, key=lambda step: -step.minutes)
        rows = sorted(by_length[:MOST_ROWS], key=lambda step: (starts[step.mark], step.mark))
        self.rows = rows
        self.left_over = [step.mark for step in by_length[MOST_ROWS:]]
        self.critical = set(self.plan.steps.critical_path())
        self.left_mm = SIDE_MM + field.width_mm * NAME_SHARE
        longest = max((self._said(step) for step in rows), key=len)
        wide = field.width_mm - self.left_mm - SIDE_MM - width_mm(longest, LEAST_MM)
        limit = asked.limit.si / MINUTE_S if asked.limit and self.is_timed else 0.0
        minutes = self.plan.found.minutes
        # a limit far beyond would leave no room for the bars: it stands in the table of the check
        self.limit_min = limit if limit <= 2 * minutes else 0.0
        self.last_min = max(minutes, self.limit_min)
        self.per_min = wide / self.last_min
        self.figures: list[Figure] = []

    @property
    def is_timed(self) -> bool:
        """Whether what is asked is the time of the sequence itself."""
        return self.sequence.check in TIMED

    def _figure(self) -> str:
        """What is asked of the steps, in words; a time as the bars have it."""
        amount, measured = self.asked.amount, self.asked.measured
        if amount is None:
            return measured.shown or "not known"
        people = " people" if self.sequence.check == "least_crew" else ""
        return amount.scale.write(amount.si, self.field.system) + people

    def _said(self, step: Work) -> str:
        """What is lettered after a bar: its minutes, and the figure that it decided."""
        is_figure = step.mark in self.sequence.picked and self.asked.amount
        return f"{step.minutes}, {self._figure()}" if is_figure else str(step.minutes)

    def x(self, minute: float) -> float:
        return self.left_mm + minute * self.per_min

    def drawing(self) -> Drawing:
        """Draw the time over the steps, the steps, the people under them, and what is open."""
        opens = [amounts for step in self.sequence.opens or () for amounts in _open_of(step)]
        foot = HEAD_MM + ROW_MM * len(self.rows)
        people = min(TALLEST_MM, PERSON_MM * self.plan.crew) + 4.0
        rain = foot + people + 1.0
        is_bare = self.sequence.opens is not None and not opens
        height = rain + ROW_MM * (len(opens) + is_bare) + 2.0
        marks = [
            *self._time(rain - 1.0),
            *self._lines(foot + people),
            *(mark for n in range(len(self.rows)) for mark in self._step(n)),
            *self._people(foot + people - 1.5, people - 4.0),
            *(mark for n, each in enumerate(opens) for mark in self._open(rain + n * ROW_MM, each)),
            *(self._nothing_open(rain) if is_bare else ()),
            *self._answer(foot + people),
        ]
        gap = self.sequence.gap
        left_over = ", ".join(self.left_over)
        return Drawing(
            title=f"Bars of {self.asked.title[:1].lower()}{self.asked.title[1:]}",
            says=self._says(),
            width_mm=self.field.width_mm,
            height_mm=round(height, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            left_out=(gap,) if gap else (),
            key=(f"shorter steps: {left_over}",) if left_over else (),
        )

    def _says(self) -> str:
        parts = [by_people(self.plan)]
        if self.asked.state is not State.NOT_ASKED:
            parts.append(f"{self.asked.state.word}.")
        parts.append(f"Longest chain: {', '.join(self.plan.steps.critical_path())}.")
        return " ".join(parts)

    def _time(self, foot_mm: float) -> Iterator[Mark]:
        apart = width_mm(_clock(self.last_min), LEAST_MM) + 3.0
        tick = next((n for n in TICKS_MIN if n * self.per_min >= apart), TICKS_MIN[-1])
        for minute in range(0, int(self.last_min) + 1, tick):
            x = self.x(minute)
            yield Path(points=((x, HEAD_MM - 1.5), (x, foot_mm)), pen=Pen.HATCH, tone=Tone.GRAPHITE)
            at = (x, HEAD_MM - 2.6)
            anchor = "middle" if x + apart / 2 < self.field.width_mm else "end"
            words = _clock(minute)
            yield Lettering(words=words, at=at, anchor=anchor, tone=Tone.GRAPHITE)

    def _step(self, n: int) -> Iterator[Mark]:
        step = self.rows[n]
        start, end = self.plan.found.starts[step.mark], self.plan.end(step.mark)
        middle = HEAD_MM + ROW_MM * (n + 0.5)
        is_critical = step.mark in self.critical
        is_picked = step.mark in self.sequence.picked
        half = (CRITICAL_MM if is_critical else BAR_MM) / 2
        name = f"{step.mark} {self.sequence.names.get(step.mark, '')}".strip()
        words = fitted(name, LEAST_MM, self.left_mm - SIDE_MM - 1.0)
        at = (SIDE_MM, middle + LEAST_MM / 2)
        yield Lettering(words=words, at=at, is_strong=is_critical)
        yield Path(
            points=rectangle((self.x(start), middle - half, self.x(end), middle + half)),
            pen=Pen.CUT if is_picked else Pen.SEEN,
            tone=self.asked.tone if is_picked else Tone.INK,
            fill=Fill.INK if is_critical else Fill.PAPER,
            is_closed=True,
        )
        amount = Amount(step.minutes * MINUTE_S, WHOLE_MINUTES)
        said = self._said(step)
        self.figures.append(Figure(what=name, amount=amount, lettered=said))
        at = (self.x(end) + 0.8, middle + LEAST_MM / 2)
        tone = self.asked.tone if is_picked else Tone.GRAPHITE
        yield Lettering(words=said, at=at, tone=tone, is_strong=is_picked)

    def _people(self, foot_mm: float, tall_mm: float) -> Iterator[Mark]:
        """How many are at work, as a line of steps; a wide line where the crew ends."""
        per_person = tall_mm / self.plan.crew
        spans = list(self._at_work())
        points: list[Point] = [(self.x(0), foot_mm)]
        for start, end, count in spans:
            y = foot_mm - count * per_person
            points += [(self.x(start), y), (self.x(end), y)]
        points.append((self.x(self.plan.found.minutes), foot_mm))
        yield Path(points=tuple(points), pen=Pen.SEEN, fill=Fill.TRACE, is_closed=True)
        top = foot_mm - tall_mm
        yield Path(points=((self.left_mm, top), (self.x(self.last_min), top)), pen=Pen.FINE)
        noun = "person" if self.plan.crew == 1 else "people"
        # the paper under the line of people is the work of all of them
        is_work = self.sequence.check == "person_hours"
        words = f"{self.plan.crew} {noun}" + (f", {self._figure()}" if is_work else "")
        words = fitted(words, LEAST_MM, self.left_mm - SIDE_MM - 1.0)
        yield Lettering(words=words, at=(SIDE_MM, top + LEAST_MM / 2), is_strong=is_work)
        most = Amount(self.plan.found.most_at_once, COUNT)
        self.figures.append(Figure(what="At work at once", amount=most))

    def _at_work(self) -> Iterator[tuple[int, int, int]]:
        """Between each two moments at which somebody begins or ends, how many are at work."""
        plan = self.plan
        spans = [(plan.found.starts[s.mark], plan.end(s.mark), s.people) for s in plan.steps.steps]
        moments = sorted({0, *(moment for start, end, _ in spans for moment in (start, end))})
        for start, end in pairwise(moments):
            at_work = (people for first, last, people in spans if first <= start < last)
            yield start, end, sum(at_work)

    def _open(self, top_mm: float, opened: tuple[str, Amount, Amount]) -> Iterator[Mark]:
        name, start, end = opened
        corners = rectangle(
            (self.x(start.si / MINUTE_S), top_mm, self.x(end.si / MINUTE_S), top_mm + BAR_MM * 2)
        )
        yield Path(points=corners, pen=Pen.FINE, is_closed=True)
        yield hatched(corners, 1.4, Tone.INK)
        words = fitted(f"open: {name}", LEAST_MM, self.left_mm - SIDE_MM - 1.0)
        yield Lettering(words=words, at=(SIDE_MM, top_mm + BAR_MM + LEAST_MM / 2))
        amount = Amount(end.si - start.si, WHOLE_MINUTES)
        said = amount.write(self.field.system)
        is_first = self.sequence.check == "open_to_rain" and amount == self.asked.amount
        wide = width_mm(said, LEAST_MM)
        at = (corners[1][0] + 0.8, top_mm + BAR_MM + LEAST_MM / 2)
        if at[0] + wide > self.field.width_mm:
            at = (corners[1][0] - 0.8 - wide, at[1])
        tone = self.asked.tone if is_first else Tone.GRAPHITE
        yield Lettering(words=said, at=at, tone=tone, is_strong=is_first)
        self.figures.append(Figure(what=f"Open to rain: {name}", amount=amount, lettered=said))

    def _nothing_open(self, top_mm: float) -> Iterator[Mark]:
        at = (SIDE_MM, top_mm + BAR_MM + LEAST_MM / 2)
        gap = self.sequence.gap
        words = "open to rain: not given" if gap else "open to rain: nothing"
        yield Lettering(words=words, at=at, tone=Tone.GRAPHITE, gap=gap)

    def _lines(self, foot_mm: float) -> Iterator[Mark]:
        """Where it ends, and the limit that it is held to, under the bars."""
        end = self.x(self.plan.found.minutes)
        tone = self.asked.tone if self.is_timed else Tone.INK
        yield Path(points=((end, HEAD_MM - 1.5), (end, foot_mm)), tone=tone)
        if self.limit_min:
            at = self.x(self.limit_min)
            yield Path(points=((at, HEAD_MM - 1.5), (at, foot_mm)), pen=Pen.CUT)

    def _answer(self, foot_mm: float) -> Iterator[Mark]:
        minutes, asked = self.plan.found.minutes, self.asked
        if self.limit_min:
            words = f"asked {hours(self.limit_min)}"
            limit = Amount(self.limit_min * MINUTE_S, WHOLE_MINUTES)
            self.figures.append(Figure(what="Asked, at most", amount=limit, lettered=words))
            at = (self.x(self.limit_min) - 1.0, foot_mm - 2.0)
            yield Lettering(words=words, at=at, anchor="end")
        amount, words = Amount(minutes * MINUTE_S, WHOLE_MINUTES), hours(minutes)
        what = asked.title
        if not self.is_timed:
            self.figures.append(Figure(what="Setting up", amount=amount))
            room = self.field.width_mm - 2 * SIDE_MM
            words = fitted(self._figure(), ANSWER_MM, room)
            amount = asked.amount or amount
            what = asked.title if asked.amount else ""
        if what:
            self.figures.append(Figure(what=what, amount=amount, lettered=words))
        at = (SIDE_MM, ANSWER_MM + 0.5)
        yield Lettering(words=words, at=at, cap_mm=ANSWER_MM, tone=asked.tone, is_strong=True)


def _clock(minute: float) -> str:
    whole, rest = divmod(int(minute), 60)
    return f"{whole}:{rest:02}"


def _open_of(step: Step) -> Iterator[tuple[str, Amount, Amount]]:
    if step.words == OPEN:
        name, start, _, end, _ = step.amounts
        assert isinstance(start, Amount)
        assert isinstance(end, Amount)
        yield str(name), start, end


def _ready(seen: Seen) -> Ready | None:
    is_timed = seen.check in TIMED
    sequence = sequenced(seen.package, seen.check if is_timed else "setup_time")
    if sequence is None:
        return None
    if is_timed:
        return Ready(partial(draw_set_up, sequence, seen.asked), (by_people(sequence.plan),))
    subject = seen.asked.measured.subject
    picked = frozenset({subject} & {step.mark for step in sequence.plan.steps.steps})
    sequence = replace(sequence, check=seen.check, picked=picked | failing(seen))
    return Ready(partial(draw_set_up, sequence, seen.asked))


BARS = Picture(
    ready=_ready,
    wants="steps want people and minutes, and what goes before them",
    checks=(*TIMED, *OF_SETTING_UP),
    schedules=("steps",),
    main="setup_time",
)
