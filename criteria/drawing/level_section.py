"""Levels as given, in one section: criteria are stations, levels floors, a level mark a juror.

Bare marks: nothing joins them, so that nobody reads a shape into what each juror set alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from criteria.drawing.drawing import MIDDLE_MM, Drawing
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Lettering, Mark, Path, Strokes
from criteria.drawing.pens import Pen, Tone

FLOORS = (5, 4, 3, 2, 1, None)
"""From top to foot; under the ground line, what isn't a juror's to judge."""
GROUND = FLOORS.index(1)
LEFT_MM, TOP_MM, ROW_MM, SPARE_MM = 42.0, 1.0, 5.0, 2.5
TRIANGLE_MM, APART_MM = 2.4, 1.0
FOOT_MM = 10.0
NOT_MINE = "not mine to judge"


@dataclass(frozen=True, kw_only=True)
class Given:
    """What one juror set: 1 to 5, or None where it wasn't theirs to judge."""

    who: str
    level: int | None


@dataclass(frozen=True, kw_only=True)
class Station:
    """A criterion with what each juror set."""

    code: str
    name: str
    given: tuple[Given, ...]

    def on(self, floor: int | None) -> list[str]:
        """Those who set a floor."""
        return [each.who for each in self.given if each.level == floor]


def draw_level_section(stations: Sequence[Station], words: Sequence[str]) -> Drawing:
    """Draw what every juror set; words are those of the levels, the lowest first."""
    return _Section(stations, words).drawing()


class _Section:
    def __init__(self, stations: Sequence[Station], words: Sequence[str]) -> None:
        self.stations, self.words = stations, words
        longest = [width_mm(each.who, LEAST_MM) for s in stations for each in s.given]
        self.mark_mm = TRIANGLE_MM + 0.6 + max([4.0, *longest]) + APART_MM
        room = (MIDDLE_MM - LEFT_MM) / max(1, len(stations))
        self.station_mm = max(room, self.mark_mm + APART_MM)
        self.abreast = max(1, int((self.station_mm - APART_MM) / self.mark_mm))
        self.feet: list[float] = []
        foot = TOP_MM
        for floor in FLOORS:
            most = max([1, *(-(-len(s.on(floor)) // self.abreast) for s in stations)])
            foot += SPARE_MM + most * ROW_MM
            self.feet.append(foot)
        self.width_mm = round(LEFT_MM + self.station_mm * len(stations), 2)

    def drawing(self) -> Drawing:
        """Draw floors, stations, and the marks on them."""
        said = [f"{s.code}: {', '.join(map(_say, s.given)) or 'nobody'}" for s in self.stations]
        marks = [*self._floors(), *self._walls(), *self._names(), *self._marks()]
        return Drawing(
            title="Levels as given, a mark a juror",
            says=f"{'; '.join(said)}.",
            width_mm=self.width_mm,
            height_mm=round(self.feet[-1] + FOOT_MM, 2),
            marks=tuple(marks),
        )

    def _floors(self) -> Iterator[Mark]:
        for n, (floor, foot) in enumerate(zip(FLOORS, self.feet, strict=True)):
            pen = Pen.CUT if n == GROUND else Pen.FINE if floor else Pen.DATUM
            tone = Tone.INK if n == GROUND else Tone.GRAPHITE
            yield Path(points=((0.0, foot), (self.width_mm, foot)), pen=pen, tone=tone)
            said = f"{floor} {self.words[floor - 1]}" if floor else NOT_MINE
            tone = Tone.INK if floor else Tone.GRAPHITE
            words = fitted(said, LEAST_MM, LEFT_MM - 1.0)
            yield Lettering(words=words, at=(0.2, foot - 1.2), tone=tone)

    def _walls(self) -> Iterator[Mark]:
        top, foot = TOP_MM, self.feet[-1]
        xs = [LEFT_MM + n * self.station_mm for n in range(len(self.stations))]
        yield Strokes(segments=tuple(((x, top), (x, foot)) for x in xs), tone=Tone.GRAPHITE)

    def _names(self) -> Iterator[Mark]:
        for n, station in enumerate(self.stations):
            middle = LEFT_MM + (n + 0.5) * self.station_mm
            room = self.station_mm - APART_MM
            for words, down, tone in (
                (station.code, 4.0, Tone.INK),
                (station.name, 8.4, Tone.GRAPHITE),
            ):
                yield Lettering(
                    words=fitted(words, LEAST_MM, room),
                    at=(middle, self.feet[-1] + down),
                    anchor="middle",
                    tone=tone,
                )

    def _marks(self) -> Iterator[Mark]:
        for n, station in enumerate(self.stations):
            left = LEFT_MM + n * self.station_mm + APART_MM
            for floor, foot in zip(FLOORS, self.feet, strict=True):
                for k, who in enumerate(station.on(floor)):
                    row, along = divmod(k, self.abreast)
                    yield from self._mark(who, left + along * self.mark_mm, foot - row * ROW_MM)

    def _mark(self, who: str, x: float, foot: float) -> Iterator[Mark]:
        """An open triangle on a short line, with the initials of who set it."""
        tip, half = (x + TRIANGLE_MM / 2, foot - 0.5), TRIANGLE_MM / 2
        up = foot - 0.5 - TRIANGLE_MM * 0.9
        yield Path(points=(tip, (tip[0] - half, up), (tip[0] + half, up)), is_closed=True)
        end = x + self.mark_mm - APART_MM
        yield Path(points=((x, foot - 0.35), (end, foot - 0.35)), pen=Pen.SEEN)
        yield Lettering(words=who, at=(x + TRIANGLE_MM + 0.6, foot - 1.2))


def _say(given: Given) -> str:
    return f"{given.who} {given.level or NOT_MINE}"
