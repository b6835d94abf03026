"""The site sheet, drawn: north, the drift on its side, wind; the slope with its levels."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from criteria.drawing.dimensions import level
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.forces import arrow
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, wrapped
from criteria.drawing.marks import Box, Gap, Lettering, Mark, Path, Strokes, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.plan_parts import north
from criteria.drawing.scales import lettered
from criteria.findings import Amount
from criteria.schedules.site import Site
from criteria.units import ROOM_LENGTH, SHARE_PERCENT, SNOW_LOAD, WIND, Scale

SIDE_MM, LINE_MM = 2.0, 4.0
PLAN_MM, HOUSE_MM, DRIFT_MM = 34.0, 14.0, 3.5
"""The paper of the plan, of the building and of a drift in it [mm]; neither is to scale."""
SECTION_MM, ABOVE_MM, EARTH_MM, APART_MM = 60.0, 13.0, 1.8, 12.0
"""How wide the section is at most, kept over the ground for levels, of earth, between both [mm]."""
STEEPEST = 0.5
"""A slope is drawn no steeper than this: its figure says what it is [1]."""
SIDES = {"N": (0.0, -1.0), "E": (1.0, 0.0), "S": (0.0, 1.0), "W": (-1.0, 0.0)}
WANTED = {
    "drift_m": "drift depth",
    "drift_side": "side of the drift",
    "gust_m_s": "gust",
    "slope": "slope of the ground",
}
"""What is drawn and is asked of the sheet: attribute, and its name in words."""


def draw_site(site: Site, field: Field) -> Drawing:
    """Draw a site."""
    return _Site(site, field).drawing()


class _Site:
    def __init__(self, site: Site, field: Field) -> None:
        self.site, self.field = site, field
        self.figures: list[Figure] = []
        self.said: list[str] = []

    def _write(self, si: float, scale: Scale, what: str) -> str:
        amount = Amount(si, scale)
        words = lettered(amount, self.field.system)
        self.figures.append(Figure(what=what, amount=amount, lettered=words))
        return words

    def drawing(self) -> Drawing:
        """Draw plan and section side by side, on narrow paper under each other, and words."""
        is_narrow = self.field.is_narrow
        marks: list[Mark] = [*self._plan((SIDE_MM, 2.0))]
        left, top = (SIDE_MM, PLAN_MM + 8.0) if is_narrow else (PLAN_MM + APART_MM, 2.0)
        marks += self._section(left, top)
        foot = top + 2 * self._rise(left) + ABOVE_MM + 8.0
        y = max(foot, 2.0 + PLAN_MM) + LINE_MM
        words, wide = "; ".join([*self.said, "not to scale"]), self.field.width_mm - 2 * SIDE_MM
        for line in wrapped(words, LEAST_MM, wide, most_lines=5):
            marks.append(Lettering(words=line, at=(SIDE_MM, y), tone=Tone.GRAPHITE))
            y += LINE_MM
        return Drawing(
            title=f"Site: {self.site.place}" if self.site.place else "Site",
            says=f"{'; '.join(self.said)}.",
            width_mm=self.field.width_mm,
            height_mm=round(y, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            left_out=tuple(self._gaps()),
        )

    def _gaps(self) -> Iterator[Gap]:
        for name, words in WANTED.items():
            if getattr(self.site, name) is None:
                column = self.site.schedule.by_attribute[name].head
                yield Gap(schedule="site", mark="", column=column, says=f"{words}: not given")

    # From above: north is up, the building a square, the drift on its side

    def _plan(self, corner: tuple[float, float]) -> Iterator[Mark]:
        x, y = corner[0] + PLAN_MM / 2, corner[1] + PLAN_MM / 2 + 2.0
        half = HOUSE_MM / 2
        house = (x - half, y - half, x + half, y + half)
        yield Path(points=rectangle(house), pen=Pen.CUT, is_closed=True)
        yield from north((corner[0] + PLAN_MM - 4.0, corner[1] + 4.0), 0.0)
        yield Lettering(words="N", at=(corner[0] + PLAN_MM - 9.5, corner[1] + 5.2))
        side, depth = self.site.drift_side, self.site.drift_m
        if side:
            yield from self._drift(house, side)
            words = self._write(depth, ROOM_LENGTH, "drift, as typed") if depth is not None else ""
            self.said.append(f"snow drifts on the {side} side {words}".strip())
        if self.site.gust_m_s is not None:
            # nobody types where the wind comes from: it is drawn to the corner, from no side
            yield from arrow((house[0] - 7.0, house[1] - 7.0), (house[0] - 0.8, house[1] - 0.8))
            words = self._write(self.site.gust_m_s, WIND, "design gust")
            exposure = f", exposure {self.site.exposure}" if self.site.exposure else ""
            self.said.append(f"gusts of {words}{exposure}, from any side")

    def _drift(self, house: Box, side: str) -> Iterator[Path | Strokes]:
        left, top, right, foot = house
        across, down = SIDES[side]
        box = (
            right if across > 0 else left - DRIFT_MM if across < 0 else left,
            foot if down > 0 else top - DRIFT_MM if down < 0 else top,
            right + DRIFT_MM if across > 0 else left if across < 0 else right,
            foot + DRIFT_MM if down > 0 else top if down < 0 else foot,
        )
        yield Path(points=rectangle(box), pen=Pen.FINE, fill=Fill.GLASS, is_closed=True)
        yield hatched(rectangle(box), 1.2, Tone.GRAPHITE)

    # In section: the ground as steep as it is, and the flood over or under it

    def _wide(self, left: float) -> float:
        return min(SECTION_MM, self.field.width_mm - SIDE_MM - left - 22.0)

    def _rise(self, left: float) -> float:
        """By how much the ground rises on paper over half of the section."""
        return min(self.site.slope or 0.0, STEEPEST) * self._wide(left) / 2

    def _section(self, left: float, top: float) -> Iterator[Mark]:
        wide, rise, slope = self._wide(left), self._rise(left), self.site.slope
        right, middle = left + wide, top + ABOVE_MM + rise
        line = (left, middle + rise), (right, middle - rise)
        if slope is None:
            gap = next(gap for gap in self._gaps() if gap.column == "slope")
            yield Path(points=line, pen=Pen.ASSUMED, gap=gap)
            yield Lettering(words="slope not given", at=(left, middle + 5.0), gap=gap)
        else:
            yield Path(points=line, pen=Pen.CUT)
            count = int(wide / EARTH_MM)
            at = [(left + n * EARTH_MM, middle + rise - 2 * rise * n / count) for n in range(count)]
            yield Strokes(segments=tuple(((x, y), (x - EARTH_MM, y + EARTH_MM)) for x, y in at[1:]))
            self.said.append(f"ground falls {self._write(slope, SHARE_PERCENT, 'slope')}")
        yield from self._levels(left, right, middle - rise)
        if self.site.ground_snow_pa is not None:
            words = self._write(self.site.ground_snow_pa, SNOW_LOAD, "snow on the ground")
            self.said.append(f"snow on the ground {words}")

    def _levels(self, left: float, x: float, ground: float) -> Iterator[Mark]:
        """The ground and the flood above datum; the flood over or under the ground, as it is."""
        known = [
            (self.site.ground_m, "ground", ground),
            (self.site.flood_m, "flood", self._flood(ground)),
        ]
        for metres, what, y in known:
            if metres is None:
                continue
            if what == "flood":
                line = (left, y), (x, y)
                yield Path(points=line, pen=Pen.DATUM)
            words = self._write(metres, ROOM_LENGTH, f"{what} above datum")
            yield from level((x + 3.0, y), words)
            self.said.append(f"{what} {words} above datum")

    def _flood(self, ground: float) -> float:
        """Where the flood stands: over the ground or under it, clear of the ground's own mark."""
        is_over = (self.site.flood_m or 0.0) > (self.site.ground_m or 0.0)
        return ground - 9.0 if is_over else ground + 9.0


def _ready(seen: Seen) -> Ready | None:
    site = seen.package.leniently.site
    known = (*WANTED, "ground_m", "flood_m", "ground_snow_pa")
    if all(getattr(site, name) is None for name in known):
        return None
    return Ready(partial(draw_site, site))


SITE = Picture(ready=_ready, wants="the site sheet wants drift, gust or slope", schedules=("site",))
