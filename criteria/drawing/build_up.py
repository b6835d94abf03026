"""Wall, roof and floor, drawn: their layers to scale from outside in, and the cold through them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import partial
from itertools import accumulate, pairwise

from criteria.drawing.answering import answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.layers import ASSUMED_M, BuildUp, Skin, build_ups
from criteria.drawing.lettering import LEAST_MM, NAME_MM, fitted, width_mm
from criteria.drawing.marks import Box, Disc, Gap, Lettering, Mark, Path, Strokes, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.plan_parts import scale_bar
from criteria.drawing.scales import DrawnScale, largest, lettered
from criteria.findings import Amount
from criteria.measures.envelope import SURFACES_M2K_W, depth_at
from criteria.schedules.envelope import PARTS
from criteria.typed.cells import Lacking
from criteria.units import RESISTANCE, TEMPERATURE, THICKNESS, U_VALUE, Scale

SIDE_MM, HEAD_MM, LINE_MM = 2.0, 11.0, LEAST_MM + 1.5
FOOT_MM, FOOT_NARROW_MM = 8.0, 12.0
HIGH_MM, HIGH_NARROW_MM = 38.0, 26.0
"""How high a piece of a part is drawn [mm]."""
APART_MM = 5.0
INSULATING_W_MK, DENSE_W_MK = 0.065, 0.5
"""Under the one a layer is hatched as insulation, over the other as stone or metal [W/mK]. Ours."""
FREEZING_K = 273.15
CHECKS = {f"{name}_u": name for name in PARTS}


def draw_build_ups(parts: tuple[BuildUp, ...], seen: Seen, field: Field) -> Drawing:
    """Draw parts of the envelope beside each other; on a narrow field under each other."""
    return _BuildUps(parts, seen, field).drawing()


class _BuildUps:
    """A drawing of build-ups while it is drawn."""

    def __init__(self, parts: tuple[BuildUp, ...], seen: Seen, field: Field) -> None:
        self.parts, self.seen, self.field, self.system = parts, seen, field, field.system
        self.head = answer(seen, field)
        self.high = HIGH_NARROW_MM if field.is_narrow else HIGH_MM
        across = 1 if field.is_narrow else len(PARTS)
        self.wide = (field.width_mm - 2 * SIDE_MM - APART_MM * (across - 1)) / across
        most = self.wide * (0.45 if field.is_narrow else 1.0)
        thickest = max(part.thick_m for part in parts)
        self.scale: DrawnScale = largest((thickest, 0.0), (most, 1.0), field.system, ratio=4)
        known = seen.package.leniently.site
        self.weather = (
            (known.design_outside_k, known.design_inside_k)
            if known.design_outside_k and known.design_inside_k
            else None
        )
        self.figures = list(self.head.figures)
        self.left_out: list[Gap] = []
        self.key: list[str] = []

    def drawing(self) -> Drawing:
        """Draw the answer, each part, and the scale."""
        marks: list[Mark] = [*self.head.letters]
        x, y, low = SIDE_MM, self.head.height_mm, 0.0
        for part in self.parts:
            marks += self._part(part, x, y)
            rows = (len(part.skins) + 1 + len(self._told(part))) * LINE_MM
            body = max(self.high + 1.5, rows) if self.field.is_narrow else self.high + 2.0 + rows
            low = max(low, y + HEAD_MM + body)
            x, y = (x, low) if self.field.is_narrow else (x + self.wide + APART_MM, y)
        if self.weather is None:
            says = "temperatures through the layers: design inside and outside not given"
            self.left_out.append(
                Gap(schedule="site", mark="", column="design_outside_c", says=says)
            )
        height = low + (FOOT_NARROW_MM if self.field.is_narrow else FOOT_MM)
        marks += self._foot(height)
        return Drawing(
            title=f"Layers from outside in: {self.seen.asked.title}".removesuffix(": "),
            says=" ".join([self.head.says, *map(self._says, self.parts)]),
            width_mm=self.field.width_mm,
            height_mm=round(height, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            scale=self.scale.name,
            left_out=tuple(self.left_out),
            key=tuple(self.key),
        )

    def _foot(self, height_mm: float) -> Iterator[Mark]:
        bar = scale_bar(
            (SIDE_MM, height_mm - 4.0), self.scale, self.field.width_mm / 4, self.system
        )
        x, y = SIDE_MM + bar.length_mm + 1.5, height_mm - 2.3
        yield from bar.marks
        yield Lettering(words=bar.says, at=(x, y), tone=Tone.GRAPHITE)
        beside = x + width_mm(bar.says, LEAST_MM) + 3.0, y
        at = (SIDE_MM, y - 3.8) if self.field.is_narrow else beside
        yield Lettering(words="outside on the left", at=at, tone=Tone.GRAPHITE)

    def _says(self, part: BuildUp) -> str:
        return f"{part.part.capitalize()}: {', '.join(skin.name for skin in part.skins)}."

    def _part(self, part: BuildUp, x: float, y: float) -> Iterator[Mark]:
        yield from self._title(part, x, y)
        top = y + HEAD_MM
        left = x + self.scale.mm(part.missing_m)
        spans = [self.scale.mm(skin.thick_m or ASSUMED_M) for skin in part.skins]
        edges = list(accumulate(spans, initial=left))
        boxes = [(one, top, other, top + self.high) for one, other in pairwise(edges)]
        for skin, box in zip(part.skins, boxes, strict=True):
            yield from self._skin(skin, box)
        yield from self._missing(part, (x, top, left, top + self.high))
        for edge in (edges[0], edges[-1]):
            yield Path(points=((edge, top), (edge, top + self.high)), pen=Pen.CUT)
        if self.weather:
            yield from self._cold(part, edges, top, self.weather)
        yield from self._wet(part, edges, top)
        beside = x + self.wide * 0.48
        at = (beside, top) if self.field.is_narrow else (x, top + self.high + 2.0)
        yield from self._table(part, at)
        if part.over:
            self.key.append(f"{part.over} more layers of the {part.part}")

    def _title(self, part: BuildUp, x: float, y: float) -> Iterator[Mark]:
        subject = self.seen.asked.measured.subject
        is_picked = CHECKS.get(self.seen.check) == part.part or subject.startswith(part.part)
        finding, right = part.finding, x + self.wide
        name = part.part.capitalize()
        yield Lettering(words=name, at=(x, y + NAME_MM), cap_mm=NAME_MM, is_strong=is_picked)
        if finding is None or finding.value is None:
            at = (right, y + NAME_MM)
            yield Lettering(words="U not known", at=at, anchor="end", tone=Tone.GRAPHITE)
            return
        amount, more = Amount(finding.value, U_VALUE), finding.parts[0].finer(self.system)
        words = f"U {U_VALUE.number(amount.si, self.system, more)}"
        self.figures.append(Figure(what=f"{name} U-value", amount=amount, lettered=words))
        at, tone = (x, y + NAME_MM + LINE_MM), Tone.SHORT if finding.state.is_missed else Tone.INK
        letter = Lettering(words=words, at=at, tone=tone, is_strong=True)
        yield letter
        if finding.target is not None:
            limit = U_VALUE.number(finding.target, self.system)
            left, asked = letter.box[2] + 2.0, f"{finding.rule} {limit}"
            whole = f"{asked} {finding.state.word.lower()}"
            fits = width_mm(whole, LEAST_MM) <= right - left
            words = whole if fits else fitted(asked, LEAST_MM, right - left)
            yield Lettering(words=words, at=(left, at[1]), tone=tone)

    def _skin(self, skin: Skin, box: Box) -> Iterator[Mark]:
        left, top, right, low = box
        corners = rectangle(box)
        pen = Pen.ASSUMED if skin.gap else Pen.FINE
        yield Path(points=corners, pen=pen, fill=Fill.PAPER, is_closed=True, gap=skin.gap)
        if skin.conducts is None or skin.gap:
            return
        if skin.conducts < INSULATING_W_MK:
            yield _wool(box)
        else:
            yield hatched(corners, 2.2, Tone.GRAPHITE)
            if skin.conducts > DENSE_W_MK:
                yield hatched(corners, 2.2, Tone.GRAPHITE, is_rising=False)
        if skin.framing:  # what interrupts it, as high as its share, crossed as timber is
            stud = (left, low - skin.framing * (low - top), right, low)
            yield Path(points=rectangle(stud), pen=Pen.FINE, fill=Fill.PAPER, is_closed=True)
            a, b, c, d = rectangle(stud)
            yield Strokes(segments=((a, c), (b, d)), pen=Pen.FINE)

    def _missing(self, part: BuildUp, box: Box) -> Iterator[Mark]:
        if not part.missing_m:
            return
        corners = rectangle(box)
        yield Path(points=corners, pen=Pen.FINE, tone=Tone.SHORT, is_closed=True)
        yield hatched(corners, 1.2, Tone.SHORT)

    def _kelvin(self, part: BuildUp) -> list[float]:
        """The temperature of each face, outside first; nothing where a layer isn't known."""
        counted = [skin for skin in part.skins if skin.conducts is not None]
        is_known = counted and all(skin.resistance is not None for skin in counted)
        if part.over or not is_known or self.weather is None:
            return []
        outside, inside = self.weather
        within, without = SURFACES_M2K_W[part.part]
        through = list(accumulate([skin.resistance or 0.0 for skin in part.skins], initial=without))
        total = through[-1] + within
        return [outside + (inside - outside) * at / total for at in through]

    def _told(self, part: BuildUp) -> list[tuple[float, str, str, Tone]]:
        """What thicknesses are told beneath a part: how thick, in words, of what, its tone."""
        told, name = [], part.part.capitalize()
        if part.missing_m:
            of = part.missing_of
            told.append((part.missing_m, f"short, of {of}", f"{name}, short of {of}", Tone.SHORT))
        if part.enough_m:
            of = part.missing_of
            words = f"would do, of {of}"
            told.append((self._whole(part.enough_m), words, f"{name}, enough of {of}", Tone.MEETS))
        kelvin, thick = self._kelvin(part), [skin.thick_m for skin in part.skins]
        faces = list(accumulate((each or 0.0 for each in thick), initial=0.0))
        deep = depth_at(FREEZING_K, faces, kelvin) if kelvin and all(thick) else None
        if deep:
            to = f"to {lettered(Amount(FREEZING_K, TEMPERATURE), self.system)}"
            told.append((deep, f"{to} from inside", f"{name}, from inside {to}", Tone.GRAPHITE))
        return told

    def _cold(
        self, part: BuildUp, edges: Sequence[float], top: float, weather: tuple[float, float]
    ) -> Iterator[Mark]:
        """The temperature through the layers, as far as each of them is known."""
        kelvin = self._kelvin(part)
        if not kelvin:
            return
        low, high = min(weather) - 2.0, max(weather) + 2.0

        def y(at_k: float) -> float:
            return top + self.high * (high - at_k) / (high - low)

        if low < FREEZING_K < high:
            ends = (edges[0], y(FREEZING_K)), (edges[-1], y(FREEZING_K))
            yield Path(points=ends, pen=Pen.DATUM, tone=Tone.GRAPHITE)
        points = list(zip(edges, map(y, kelvin), strict=True))
        yield Path(points=tuple(points), pen=Pen.SEEN, tone=Tone.MEETS)
        for (ax, a), (bx, b) in pairwise(zip(edges, kelvin, strict=True)):
            if min(a, b) <= FREEZING_K < max(a, b):
                x = ax + (bx - ax) * (FREEZING_K - a) / (b - a)
                middle = x, y(FREEZING_K)
                yield Disc(middle=middle, radius_mm=0.9, tone=Tone.MEETS, fill=Fill.PAPER)
                words = lettered(Amount(FREEZING_K, TEMPERATURE), self.system)
                at = min(x + 1.6, self.field.width_mm - width_mm(words, LEAST_MM) - 0.5)
                yield Lettering(words=words, at=(at, middle[1] + LEAST_MM + 1.0))

    def _wet(self, part: BuildUp, edges: Sequence[float], top: float) -> Iterator[Mark]:
        """Where vapour condenses between two layers, if its check says so of this part."""
        measured = self.seen.asked.measured
        if self.seen.check != "inside_wetting" or measured.subject != part.part:
            return
        for step in measured.steps:
            if step.words.startswith("condenses between"):
                inner, outer = map(str, step.amounts[:2])
                for n, (one, other) in enumerate(pairwise(part.skins), 1):
                    if (one.name, other.name) == (outer, inner):
                        ends = (edges[n], top - 1.0), (edges[n], top + self.high + 1.0)
                        yield Path(points=ends, pen=Pen.CUT, tone=Tone.SHORT)

    def _table(self, part: BuildUp, at: tuple[float, float]) -> Iterator[Mark]:
        """Thickness, name and resistance of each layer, outside first."""
        x, top = at
        right = x + self.wide * (0.52 if self.field.is_narrow else 1.0)
        unit = THICKNESS.unit(self.system).symbol
        given = [self._number(s.thick_m, THICKNESS) for s in part.skins if s.thick_m is not None]
        first = max((width_mm(each, LEAST_MM) for each in given), default=0.0)
        columns = x + max(7.0, first + 0.8), right
        heads = ((unit, columns[0]), ("R", columns[1]))
        for words, where in heads:
            at = (where, top + LEAST_MM)
            yield Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE)
        y = top + LEAST_MM + LINE_MM
        for skin in part.skins:
            yield from self._line(skin, columns, y)
            y += LINE_MM
        for si, told, what, tone in self._told(part):
            thick = self._number(si, THICKNESS)
            yield Lettering(words=thick, at=(columns[0], y), anchor="end", tone=tone)
            room = right - columns[0] - 1.6
            short = told if width_mm(told, LEAST_MM) <= room else told.removesuffix(" from inside")
            words = fitted(short, LEAST_MM, room)
            yield Lettering(words=words, at=(columns[0] + 1.6, y), tone=tone)
            amount = Amount(si, THICKNESS)
            self.figures.append(Figure(what=what, amount=amount, lettered=thick))
            y += LINE_MM

    def _line(self, skin: Skin, columns: tuple[float, float], y: float) -> Iterator[Mark]:
        thick = "–" if skin.thick_m is None else self._number(skin.thick_m, THICKNESS)
        yield Lettering(words=thick, at=(columns[0], y), anchor="end", is_strong=True)
        resists = "" if skin.conducts else "not counted"
        if skin.resistance is not None:
            resists = self._number(skin.resistance, RESISTANCE)
        left, end = columns[0] + 1.6, columns[1] - width_mm(resists, LEAST_MM) - 1.5
        words = fitted("thickness not given" if skin.gap else skin.name, LEAST_MM, end - left)
        yield Lettering(words=words, at=(left, y), gap=skin.gap)
        if resists:
            yield Lettering(words=resists, at=(columns[1], y), anchor="end")

    def _whole(self, si: float) -> float:
        """A thickness rounded up as it is lettered: less wouldn't do."""
        step = THICKNESS.unit(self.system).to_si(Fraction(1, 10 ** THICKNESS.decimals(self.system)))
        return float(math.ceil(si / float(step) - 1e-9) * step)

    def _number(self, si: float, scale: Scale) -> str:
        return scale.number(si, self.system)


def _wool(box: Box) -> Strokes:
    """Insulation: loops across it, drawn as one line to and fro."""
    left, top, right, low = box
    inset = min(0.8, (right - left) / 4)
    count = max(2, int((low - top) / 2.4))
    step = (low - top) / count
    points = [
        (left + inset if n % 2 else right - inset, top + step * (n + 0.5)) for n in range(count)
    ]
    return Strokes(segments=tuple(pairwise(points)), pen=Pen.HATCH, tone=Tone.GRAPHITE)


def _ready(seen: Seen) -> Ready | None:
    try:
        parts = build_ups(seen)
    except Lacking:
        return None
    return Ready(partial(draw_build_ups, parts, seen)) if parts else None


BUILD_UP = Picture(
    ready=_ready,
    wants="layers want a part, and how thick they are",
    checks=(*CHECKS, "surface_mould", "inside_wetting", "apparent_conductivity"),
    schedules=("envelope",),
    main="wall_u",
)
