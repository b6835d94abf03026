"""States and people cases, drawn: states side by side, cases along the year as thick as people."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.lettering import LEAST_MM, NAME_MM, fitted, wrapped
from criteria.drawing.marks import Flat, Gap, Lettering, Mark, Path, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.findings import Amount
from criteria.schedules.by_state import STATE_ROWS
from criteria.schedules.site import MONTHS
from criteria.schedules.states import BuildingState, PeopleCase, named_states
from criteria.units import COUNT

SIDE_MM, GAP_MM, LINE_MM = 2.0, 3.0, 4.0
CELL_MM, TALL_MM, MOST_STATES = 36.0, 21.0, 7
PERSON_MM, THICKEST_MM, NAME_SHARE, MOST_CASES = 1.0, 9.0, 0.3, 7
KIND_WORDS = {
    "road": "on the road",
    "lift": "under a hook",
    "day": "lived in by day",
    "night": "lived in by night",
    "other": "otherwise",
}


# States: a cell each, in the order of their rows


def draw_states(states: Sequence[BuildingState], seen: Seen, field: Field) -> Drawing:
    """Draw the states of a building side by side, with what differs in each."""
    room = field.width_mm - 2 * SIDE_MM
    columns = int((room + GAP_MM) / (CELL_MM + GAP_MM))
    cell = (room + GAP_MM) / columns
    drawn, rest = states[: MOST_STATES * columns], states[MOST_STATES * columns :]
    marks: list[Mark] = []
    for n, state in enumerate(drawn):
        left, top = SIDE_MM + n % columns * cell, 2.0 + n // columns * (TALL_MM + GAP_MM)
        box = (left, top, left + cell - GAP_MM, top + TALL_MM)
        marks.append(_state(state, seen, box))
    lines = -(-len(drawn) // columns)
    return Drawing(
        title="States of the building",
        says=f"{'; '.join(f'{s.state}, {_kind(s)}' for s in drawn)}.",
        width_mm=field.width_mm,
        height_mm=round(2.0 + lines * (TALL_MM + GAP_MM), 2),
        marks=tuple(marks),
        key=tuple(str(state.state) for state in rest),
    )


def _kind(state: BuildingState) -> str:
    return KIND_WORDS.get(state.kind, "not given")


def _state(state: BuildingState, seen: Seen, box: tuple[float, float, float, float]) -> Touch:
    left, top, right, _ = box
    wide = right - left - 3.0
    gap = None
    if state.kind is None:
        says = f"{state.state}: kind not given"
        gap = Gap(schedule="states", mark=str(state.state), column="kind", says=says)
    pen = Pen.ASSUMED if gap else Pen.SEEN
    shapes: list[Flat] = [
        Path(points=rectangle(box), pen=pen, fill=Fill.PAPER, is_closed=True, gap=gap)
    ]
    people = "people by the case" if state.people is None else f"{state.people} people"
    differs = _differing(state, seen)
    rows = f"{differs} row{'s' * (differs != 1)} differ{'s' * (differs == 1)}"
    lines = [(str(state.state), NAME_MM, None), (_kind(state), LEAST_MM, gap)]
    lines += [(people, LEAST_MM, None)]
    lines += [(rows, LEAST_MM, None)] if differs else []
    y = top + NAME_MM + 1.5
    for words, cap_mm, said in lines:
        is_strong = cap_mm == NAME_MM
        words = fitted(words, cap_mm, wide)
        letter = Lettering(
            words=words, at=(left + 1.5, y), cap_mm=cap_mm, is_strong=is_strong, gap=said
        )
        shapes.append(letter)
        y += LINE_MM + 0.4
    says = f"{state.state}, {_kind(state)}, {people}"
    return Touch(schedule="states", mark=str(state.state), says=says, marks=tuple(shapes))


def _differing(state: BuildingState, seen: Seen) -> int:
    """How many rows of all schedules by state are of it."""
    package = seen.package.leniently
    rows = (row for kind in STATE_ROWS for row in package.rows_of(kind))
    return sum(getattr(row, "state", None) == state.state for row in rows)


# People cases: each a band over its months


def draw_cases(cases: Sequence[PeopleCase], field: Field) -> Drawing:
    """Draw people cases along the year."""
    return _Cases(cases, field).drawing()


class _Cases:
    def __init__(self, cases: Sequence[PeopleCase], field: Field) -> None:
        self.field = field
        self.cases, self.rest = cases[:MOST_CASES], cases[MOST_CASES:]
        self.left = SIDE_MM + (0.0 if field.is_narrow else field.width_mm * NAME_SHARE)
        self.month_mm = (field.width_mm - SIDE_MM - self.left) / len(MONTHS)
        most = max((case.people or 0 for case in self.cases), default=0)
        self.per_person = min(PERSON_MM, THICKEST_MM / max(most, 1))
        self.figures: list[Figure] = []
        self.gaps: list[Gap] = []

    def drawing(self) -> Drawing:
        """Draw months, and under them each case with its words."""
        marks: list[Mark] = []
        for n, name in enumerate(MONTHS):
            words = name[0] if self.field.is_narrow else name
            at = (self.left + (n + 0.5) * self.month_mm, 2.0 + LEAST_MM)
            marks.append(Lettering(words=words, at=at, anchor="middle", tone=Tone.GRAPHITE))
        top = 2.0 + LEAST_MM + 2.5
        for case in self.cases:
            touch, top = self._case(case, top)
            marks.append(touch)
        return Drawing(
            title="People through the year",
            says=f"{'; '.join(f'{c.case}, {self._words(c)}' for c in self.cases)}.",
            width_mm=self.field.width_mm,
            height_mm=round(top, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            left_out=tuple(self.gaps),
            key=tuple(str(case.case) for case in self.rest),
        )

    @staticmethod
    def _words(case: PeopleCase) -> str:
        people = "people not given" if case.people is None else f"{case.people} people"
        asleep = "" if case.sleepers in (None, case.people) else f", {case.sleepers} asleep"
        days = "" if case.days is None else f", {case.days} days a year"
        stay = "" if case.stay is None else f", {case.stay} at once"
        return f"{people}{asleep}{days}{stay}" + ("" if case.is_held else ", shown alone")

    def _case(self, case: PeopleCase, top: float) -> tuple[Touch, float]:
        """A case: its name and words, and a band as thick as its people in each of its months."""
        words, name = self._words(case), str(case.case)
        wide = (self.left if not self.field.is_narrow else self.field.width_mm) - 2 * SIDE_MM
        shapes: list[Flat] = []
        for n, (line, is_strong) in enumerate(((name, True), *self._lines(words, wide))):
            at = (SIDE_MM, top + LEAST_MM + n * LINE_MM)
            said = fitted(line, LEAST_MM, wide)
            shapes.append(Lettering(words=said, at=at, is_strong=is_strong))
        high = len(shapes) * LINE_MM + 1.5
        middle = top + high + THICKEST_MM / 2 if self.field.is_narrow else top + high / 2
        shapes += self._bands(case, middle)
        if case.people is None:
            says = f"{name}: people not given"
            self.gaps.append(Gap(schedule="cases", mark=name, column="people", says=says))
        else:
            self.figures.append(Figure(what=name, amount=Amount(float(case.people), COUNT)))
        foot = top + high + (THICKEST_MM if self.field.is_narrow else 0.0) + 2.0
        touch = Touch(schedule="cases", mark=name, says=f"{name}, {words}", marks=tuple(shapes))
        return touch, max(foot, middle + THICKEST_MM / 2 + 1.5)

    def _lines(self, words: str, wide: float) -> list[tuple[str, bool]]:
        """What is said of a case: of people in one line, of nights and days in the next."""
        people, _, days = words.partition(" people")
        rest = [part.strip() for part in days.split(",") if part.strip()]
        said = wrapped(", ".join(rest), LEAST_MM, wide, most_lines=2) if rest else []
        return [(f"{people} people", False), *((line, False) for line in said)]

    def _bands(self, case: PeopleCase, middle: float) -> Iterator[Path]:
        line = (self.left, middle), (self.left + 12 * self.month_mm, middle)
        yield Path(points=line, pen=Pen.HATCH, tone=Tone.GRAPHITE)
        half = (case.people or 0) * self.per_person / 2
        if not half or None in (case.first_month, case.last_month):
            return
        fill = Fill.TRACE if case.is_held else Fill.PAPER
        for n, name in enumerate(MONTHS):
            if name in case.months:
                x = self.left + n * self.month_mm
                box = (x, middle - half, x + self.month_mm, middle + half)
                yield Path(points=rectangle(box), pen=Pen.FINE, fill=fill, is_closed=True)


def _states_ready(seen: Seen) -> Ready | None:
    rows = [row for row in seen.package.leniently.states if row.state]
    states = named_states(rows) if rows else ()
    return Ready(partial(draw_states, states, seen)) if states else None


def _cases_ready(seen: Seen) -> Ready | None:
    rows = [row for row in seen.package.leniently.cases if row.case]
    return Ready(partial(draw_cases, rows)) if rows else None


STATES = Picture(ready=_states_ready, wants="the brief names no states", schedules=("states",))
CASES = Picture(ready=_cases_ready, wants="the brief names no people cases", schedules=("cases",))
