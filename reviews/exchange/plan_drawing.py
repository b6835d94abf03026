"""A plan drawing (DXF): rooms of closed outlines, and the windows and doors that stand in them.

Which layer holds the outlines, and in which unit all is drawn, is always asked: what a header says
of units is wrong often enough.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from ezdxf import recover
from ezdxf.document import Drawing
from ezdxf.filemanagement import readfile
from ezdxf.lldxf.const import DXFError, DXFStructureError
from ezdxf.path import make_path

from criteria.errors import Refused
from reviews.exchange.model_cells import RowMade, told
from reviews.exchange.plan_drawing_openings import openings_of
from reviews.exchange.plan_drawing_outlines import Line, Outline, outlines_of, without_wholes
from reviews.exchange.plan_drawing_rows import Scale, Words, opening_rows, room_rows
from reviews.exchange.proposed import Proposal, Question

LAYER, UNIT = "layer", "unit"
"""Names of the questions."""
UNITS_M = {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": 0.0254, "ft": 0.3048}
HEADER = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
"""What a header's $INSUNITS says, by its number."""
LEAST_M2, MOST_M2 = 1.0, 900.0
"""Outlines smaller or larger are no rooms."""
CURVED = ("LWPOLYLINE", "POLYLINE", "CIRCLE", "ELLIPSE", "SPLINE", "ARC")
MOST_THINGS = 400_000
"""Most that is drawn in a plan that is read."""


def read(path: str, answers: Mapping[str, str]) -> Proposal:
    """Propose the rooms, windows and doors of a plan. Raises Refused."""
    drawing = _opened(path)
    layers = {
        layer: outlines
        for layer, lines in _lines(drawing).items()
        if (outlines := outlines_of(lines))
    }
    if not layers:
        expected = "outlines of rooms: closed polylines, or lines that meet, on a layer of theirs"
        raise Refused("a plan without a closed outline", expected)
    layer = _which_layer(layers, answers.get(LAYER, ""))
    questions = [layer]
    said: list[str] = []
    rows: list[RowMade] = []
    if layer.chosen:
        header = HEADER.get(drawing.header.get("$INSUNITS", 0), "")
        unit = _which_unit(layers[layer.chosen], answers.get(UNIT, ""), header)
        questions.append(unit)
        if unit.chosen:
            rows, said = _rows(drawing, layers[layer.chosen], Scale(UNITS_M[unit.chosen]))
            if header and header != unit.chosen:
                said.insert(0, f"The header says {header}; {unit.chosen} was answered and holds.")
    return Proposal(
        kind="plan",
        made_by=f"DXF {drawing.acad_release}",
        rows=tuple(row.proposed() for row in rows),
        questions=tuple(questions),
        said=tuple(said),
    )


def _opened(path: str) -> Drawing:
    try:
        try:
            drawing = readfile(path)
        except DXFStructureError:
            drawing, _ = recover.readfile(path)
        n = len(drawing.entitydb)
    except MemoryError:
        raise
    except Exception as broken:  # whatever a library meets in noise
        expected = "a drawing in DXF, text or binary, as CAD programs save it"
        raise Refused("a DXF that can't be read", expected) from broken
    if n > MOST_THINGS:
        raise Refused(f"a drawing of {n:,} things", f"at most {MOST_THINGS:,}: the plan alone")
    return drawing


def _lines(drawing: Drawing) -> dict[str, list[tuple[Line, bool]]]:
    """What is drawn on each layer, as lines of points with whether each says that it is closed."""
    lines: dict[str, list[tuple[Line, bool]]] = {}
    for each in drawing.modelspace():
        kind = each.dxftype()
        if kind == "LINE":
            ends = ((p.x, p.y) for p in (each.dxf.start, each.dxf.end))
            line = tuple(ends), False
        elif kind in CURVED:
            line = _flat(each)
        else:
            continue
        if len(line[0]) > 1 and all(abs(c) < 1e9 for point in line[0] for c in point):
            lines.setdefault(each.dxf.layer, []).append(line)
    return lines


def _flat(entity: Any) -> tuple[Line, bool]:
    """A curve as points, arcs by chords within a thousandth of its size; none if it can't be."""
    try:
        drawn = make_path(entity)
        points = [(p.x, p.y) for p in drawn.control_vertices()]
        xs, ys = zip(*points, strict=True)
        size = max(max(xs) - min(xs), max(ys) - min(ys)) or 1.0
        if drawn.has_curves:
            points = [(p.x, p.y) for p in drawn.flattening(size / 1000, segments=4)]
    except (TypeError, ValueError, ArithmeticError, DXFError):
        return (), False
    is_closed = bool(getattr(entity, "closed", False) or getattr(entity, "is_closed", False))
    return tuple(points), is_closed


def _which_layer(layers: Mapping[str, Sequence[Outline]], answer: str) -> Question:
    """Ask which layer; of one there is nothing to choose."""
    if answer and answer not in layers:
        raise Refused(answer, "a layer of this plan with closed outlines")
    by_count = sorted(layers, key=lambda layer: (-len(layers[layer]), layer))
    return Question(
        name=LAYER,
        asked="Which layer holds the outlines of rooms?",
        choices=tuple(
            (name, f"{name}: {n} closed outline{'s' * (n != 1)}")
            for name in by_count
            for n in [len(layers[name])]
        ),
        chosen=answer or (by_count[0] if len(by_count) == 1 else ""),
    )


def _which_unit(outlines: Sequence[Outline], answer: str, header: str) -> Question:
    """Ask for the unit, with the size that follows; whatever the header says."""
    if answer and answer not in UNITS_M:
        raise Refused(answer, f"one of {', '.join(UNITS_M)}")
    rooms, _ = without_wholes(outlines)
    across, up = max(rooms, key=lambda o: o.area).size
    choices = {}
    for unit, size_m in UNITS_M.items():
        if any(LEAST_M2 <= room.area * size_m**2 <= MOST_M2 for room in rooms):
            says = ", as its header says" if unit == header else ""
            choices[unit] = f"{unit}{says}: {across * size_m:.2f} × {up * size_m:.2f} m"
    if not choices:
        raise Refused(
            "a layer whose outlines are no rooms in any unit",
            f"closed outlines of {LEAST_M2:g} to {MOST_M2:g} m²",
        )
    return Question(
        name=UNIT,
        asked="In which unit is the plan drawn? Its largest outline is then",
        choices=(*choices.items(),),
        chosen=answer if answer in choices else "",
    )


def _rows(
    drawing: Drawing, outlines: Sequence[Outline], scale: Scale
) -> tuple[list[RowMade], list[str]]:
    """The rows of rooms and of what stands in them, and what has to be known."""
    said: list[str] = []
    fit = [o for o in outlines if LEAST_M2 <= scale.m2(o.area) <= MOST_M2]
    if others := len(outlines) - len(fit):
        said.append(
            f"{_so_many(others, 'closed outline')} smaller than {LEAST_M2:g} m² or larger than "
            f"{MOST_M2:g} m² {'is' if others == 1 else 'are'} left out."
        )
    rooms, wholes = without_wholes(fit)
    if wholes:
        areas = ", ".join(f"{scale.m2(whole.area):.1f} m²" for whole in wholes[:3])
        said.append(
            f"{_so_many(len(wholes), 'outline')} of {areas}, which others fill, "
            f"{'is' if len(wholes) == 1 else 'are'} taken for the building’s and left out."
        )
    simple = [room for room in rooms if room.is_simple]
    if crossing := len(rooms) - len(simple):
        said.append(
            f"{_so_many(crossing, 'outline')} whose sides cross {'is' if crossing == 1 else 'are'} "
            "left out: nobody can tell what lies inside."
        )
    openings, blocks = openings_of(drawing)
    made = room_rows(simple, list(_words(drawing)), scale, said)
    stood = opening_rows(made, openings, scale, said)
    if blocks:
        said.append(
            f"{_so_many(blocks, 'block')} by no name or mark of a window or door: not read."
        )
    rows = [*(room.row for room in made), *stood]
    return rows, [*said, *told(rows)]


def _so_many(n: int, what: str) -> str:
    return f"{n} {what}{'s' * (n != 1)}"


def _words(drawing: Drawing) -> Iterator[Words]:
    """Each line of text, with where it stands and how high its letters are."""
    texted: Iterable[Any] = drawing.modelspace().query("TEXT MTEXT INSERT")
    for each in texted:
        if each.dxftype() == "INSERT":
            texts = [(a, [a.dxf.text], a.dxf.height) for a in each.attribs]
        elif each.dxftype() == "MTEXT":
            texts = [(each, each.plain_text(split=True), each.dxf.char_height)]
        else:
            texts = [(each, [each.plain_text()], each.dxf.height)]
        for thing, lines, height in texts:
            at = _place(thing)
            for n, line in enumerate(lines):
                text = re.sub(r"\s+", " ", line).strip()
                if text:
                    yield Words(text, (at.x, at.y), height, n)


def _place(text: Any) -> Any:
    """Where a text stands: one that is aligned otherwise than left says so apart."""
    if text.dxftype() == "MTEXT" or not text.dxf.hasattr("align_point"):
        return text.dxf.insert
    is_aligned = text.dxf.get("halign", 0) or text.dxf.get("valign", 0)
    return text.dxf.align_point if is_aligned else text.dxf.insert
