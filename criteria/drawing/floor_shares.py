"""Rooms and people, drawn: rooms side by side as large as their air, and everyone one by one.

No plan is shown: each room is as wide as its floor and as high as its clear height, so that its
block is its volume; who sleeps there lies in it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from criteria.checks.space import SPACE_CHECKS
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.held import finding_of, held, is_asked, is_of_its_case, told
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm, wrapped
from criteria.drawing.marks import Box, Disc, Gap, Lettering, Mark, Path, Strokes, Touch, rectangle
from criteria.drawing.night_air import sleepers, unsaid
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.placing import Look, Placing
from criteria.drawing.scales import lettered, per_mm, stands_for
from criteria.drawing.value_bars import GAP_MM, LINE_MM, SIDE_MM, Bar, answer, height_mm, strip
from criteria.findings import Amount
from criteria.schedules.people import Occupant
from criteria.schedules.rooms import Room
from criteria.units import FLOOR, ROOM_LENGTH, Scale

BLOCKS_MM, PERSON_MM, STANDING_MM, HEAD_MM = 24.0, 3.0, 6.0, 0.75
"""How high rooms are drawn at most; how far apart people stand, how tall, and their head [mm]."""
MOST_ROOMS, MOST_GROUPS, MOST_BARS = 30, 8, 6


def draw_shares(seen: Seen, rooms: Sequence[Room], gaps: tuple[Gap, ...], field: Field) -> Drawing:
    """Draw rooms over the people who are in them."""
    return _Shares(seen, rooms, field).drawing(gaps)


class _Shares:
    def __init__(self, seen: Seen, rooms: Sequence[Room], field: Field) -> None:
        self.seen, self.field = seen, field
        self.rooms, self.past = rooms[:MOST_ROOMS], rooms[MOST_ROOMS:]
        self.wide = field.width_mm - 2 * SIDE_MM
        floor = sum(self._in(FLOOR, room.floor_m2) for room in self.rooms)
        tallest = max(self._in(ROOM_LENGTH, room.clear_height_m) for room in self.rooms)
        self.per_floor = per_mm(lambda per: floor / per <= self.wide, field.system, 100)
        self.per_m = per_mm(lambda per: tallest / per <= BLOCKS_MM, field.system, 100)
        self.high = tallest / self.per_m
        self.figures: list[Figure] = []
        self.unlettered = [f"rooms {', '.join(room.title for room in self.past)}"] * bool(self.past)

    def _in(self, scale: Scale, si: float) -> float:
        return float(scale.unit(self.field.system).from_si(si))

    def drawing(self, gaps: tuple[Gap, ...]) -> Drawing:
        asked, field = self.seen.asked, self.field
        marks, top = answer(asked, told(self.seen), field.width_mm, field.system)
        foot = top + 2 * LINE_MM + self.high
        marks += self._blocks(foot)
        top = foot + 0.6
        for line in wrapped(f"each block is a room's air: {self.scale}", LEAST_MM, self.wide):
            top += LINE_MM
            marks.append(Lettering(words=line, at=(SIDE_MM, top), tone=Tone.GRAPHITE))
        people, top = self._people(top + 3.0)
        marks += people
        bars = self._bars()
        marks += strip(bars, top, field, is_each_its_own=True)
        top += height_mm(bars, is_stacked=field.is_narrow) + LINE_MM
        if bars:
            words = "each bar is to its own scale; heavy tick: asked"
            marks.append(Lettering(words=words, at=(SIDE_MM, top), tone=Tone.GRAPHITE))
        top += 1.6
        return Drawing(
            title="Rooms, and who is in them",
            says=self._says(),
            width_mm=field.width_mm,
            height_mm=round(top, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            scale=self.scale,
            left_out=gaps,
            key=tuple(self.unlettered),
        )

    @property
    def scale(self) -> str:
        """What a step of a room stands for, across and up."""
        system = self.field.system
        floor, length = (scale.unit(system).symbol for scale in (FLOOR, ROOM_LENGTH))
        wide = stands_for(self.per_floor, floor, system, "wide")
        return f"{wide}, {stands_for(self.per_m, length, system, 'high')}"

    def _says(self) -> str:
        asleep = [f"{r.title} {r.sleepers}" for r in self.rooms if r.sleepers]
        unknown = [gap.says for gap in unsaid(self.rooms)]
        said = ", ".join([*asleep, *unknown]) or "nobody"
        return f"{self.seen.asked.state.word}. Asleep: {said}."

    # Rooms, as wide as their floor and as high as they are clear

    def _blocks(self, foot: float) -> Iterator[Mark]:
        placing = Placing(self.field.width_mm, foot)
        placing.keep_free((0.0, 0.0, self.field.width_mm, foot - self.high - 2 * LINE_MM))
        left = SIDE_MM
        for room in self.rooms:
            wide = self._in(FLOOR, room.floor_m2) / self.per_floor
            head = foot - self._in(ROOM_LENGTH, room.clear_height_m) / self.per_m
            box = (left, head, left + wide, foot)
            is_picked = self.seen.asked.measured.subject == room.title
            floor = Amount(room.floor_m2, FLOOR)
            says = f"{room.title} {room.name or ''}, {lettered(floor, self.field.system)}"
            marks = tuple(self._room(room, box, Pen.CUT if is_picked else Pen.SEEN))
            yield Touch(schedule="rooms", mark=room.title, says=says, marks=marks)
            self.figures.append(Figure(what=room.title, amount=floor))
            self._name(placing, room, box, is_picked=is_picked)
            left += wide
        yield Path(points=((SIDE_MM, foot), (SIDE_MM + self.wide, foot)), pen=Pen.CUT)
        yield from placing.letters
        limit = self.seen.asked.limit
        if self.seen.check == "clear_height" and limit:
            y = foot - self._in(ROOM_LENGTH, limit.si) / self.per_m
            for x in (SIDE_MM, left):
                yield Path(points=((x - 1.5, y), (x + 1.5, y)), pen=Pen.CUT)
            yield Path(points=((SIDE_MM, y), (left, y)), pen=Pen.DATUM)

    def _name(self, placing: Placing, room: Room, box: Box, *, is_picked: bool) -> None:
        """Letter a room over its block: by name, else by its mark alone, else in the key."""
        look = Look(is_strong=is_picked)
        for words in (f"{room.title} {room.name or ''}".strip(), room.title):
            half = width_mm(words, LEAST_MM) / 2
            middle = max(box[0] + half, SIDE_MM + half)
            is_wide = 2 * half < box[2] - box[0] or words == room.title
            if is_wide and placing.letter(words, [(middle, box[1] - 2.4)], look):
                return
        self.unlettered.append(room.title)

    def _room(self, room: Room, box: Box, pen: Pen) -> Iterator[Path | Strokes | Disc]:
        left, head, right, foot = box
        yield Path(points=rectangle(box), pen=pen, fill=Fill.PAPER, is_closed=True)
        if room.low_headroom_m2:
            wide = self._in(FLOOR, min(room.low_headroom_m2, room.floor_m2)) / self.per_floor
            yield hatched(rectangle((right - wide, head, right, foot)), 1.6, Tone.GRAPHITE)
        yield from sleepers(room.sleepers or 0, left + 0.8, right - 0.8, foot, foot - head)

    # Everyone, group by group

    def _people(self, top: float) -> tuple[list[Mark], float]:
        marks: list[Mark] = []
        rows = self.seen.package.leniently.rows_of(Occupant)
        across = int((self.wide - self.wide * 0.4) / PERSON_MM)
        for row in [each for each in rows if each.n][:MOST_GROUPS]:
            says = f"{row.title} {row.who or ''}".strip()
            counted = f"{row.n} of them" if row.n > 1 else "one"
            if row.step_free:
                counted += f", {row.step_free} step-free"
            if row.sleeps_here is False:
                counted += ", not at night"
            shown = list(_standing(row, SIDE_MM + self.wide * 0.4, top + 0.8, across))
            name = fitted(says, LEAST_MM, self.wide * 0.4 - GAP_MM)
            words: list[Path | Disc | Lettering] = [
                Lettering(words=name, at=(SIDE_MM, top + LEAST_MM)),
                Lettering(words=counted, at=(SIDE_MM, top + LEAST_MM + LINE_MM)),
            ]
            marks.append(
                Touch(schedule="occupants", mark=row.title, says=says, marks=(*words, *shown))
            )
            top += 2 * LINE_MM + 1.0
        return marks, top + 1.0

    def _bars(self) -> list[Bar]:
        """Figures of space that the brief asks for, of the same people."""
        system, is_narrow = self.field.system, self.field.is_narrow
        found = []
        for check in FLOORS:
            if not is_asked(self.seen, check):
                continue
            figures = [each for each in held(self.seen, check) if is_of_its_case(self.seen, each)]
            for each in figures[:1]:
                words = each.write_beside(system, is_narrow=is_narrow)
                is_picked = check == self.seen.check
                name = finding_of(self.seen, check).check_title
                found.append(Bar(name=name, held=each, words=words, is_strong=is_picked))
                self.figures.append(Figure(what=name, amount=each.amount))
        return found[:MOST_BARS]


def _standing(row: Occupant, left: float, top: float, across: int) -> Iterator[Path | Disc]:
    """People side by side: whoever is not there at night has an open head."""
    fill = Fill.NONE if row.sleeps_here is False else Fill.INK
    for n in range(min(row.n, across)):
        x = left + (n + 0.5) * PERSON_MM
        yield Disc(middle=(x, top + HEAD_MM), radius_mm=HEAD_MM, pen=Pen.FINE, fill=fill)
        body = (x, top + 2.2 * HEAD_MM), (x, top + STANDING_MM)
        yield Path(points=body, pen=Pen.SEEN)


FLOORS = (*(check.slug for check in SPACE_CHECKS), "floor_by_day")


def _ready(seen: Seen) -> Ready | None:
    rooms = seen.package.leniently.rooms
    known = [room for room in rooms if room.floor_m2 and room.clear_height_m]
    gaps = tuple(
        Gap(schedule="rooms", mark=room.title, column=column, says=f"{room.title}: {what}")
        for room in rooms
        if room not in known
        for column, what in (
            ("clear_height_m", "clear height not given")
            if room.floor_m2
            else ("floor_m2", "floor not given"),
        )
    )
    uncounted = tuple(
        Gap(
            schedule="occupants",
            mark=row.title,
            column="n",
            says=f"{row.title}: how many not given",
        )
        for row in seen.package.leniently.rows_of(Occupant)
        if row.n is None
    )
    gaps = (*gaps, *unsaid(rooms), *uncounted)
    return Ready(partial(draw_shares, seen, known, gaps)) if known else None


SHARES = Picture(
    ready=_ready,
    wants="rooms want a floor and a clear height",
    checks=(*FLOORS, "sleeping_places"),
    schedules=("occupants",),
    main="sleeping_places",
)
