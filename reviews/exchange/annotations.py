"""Comments and their answers as W3C Web Annotations, in JSON-LD.

Web Annotation Data Model, W3C Recommendation of 23 February 2017: one collection of one page, each
comment an annotation of its sheet, each answer one that replies to it. Where its point lies on the
mark of a row, that row's address is a target beside the sheet (3.2.3). That a comment was closed,
or opened again, is one that moderates it: an annotation of an annotation (3.3.5). A sheet is named
by its receipt number. A point is the box of BOX_PERCENT about it, for a fragment has no point; a
square is its own box (Media Fragments URI 1.0, 4.2.2). Strokes are outlines in pixels of the
picture.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

Json = dict[str, Any]

MEDIA_TYPE = 'application/ld+json; profile="http://www.w3.org/ns/anno.jsonld"'

BOX_PERCENT = 2.0
"""How large the box about a point is, of the sheet's width and height."""

_CONTEXT = "http://www.w3.org/ns/anno.jsonld"
_MEDIA_FRAGMENTS = "http://www.w3.org/TR/media-frags/"
_SVG = "http://www.w3.org/2000/svg"

_MOTIVATIONS = {
    **dict.fromkeys(("Ask", "Prove"), "questioning"),
    **dict.fromkeys(("Keep", "Rework", "Hazard"), "assessing"),
}


@dataclass(frozen=True)
class Where:
    """What a comment is of.

    source         the receipt number of a sheet, or of a whole revision
    box            a square: left, top, width and height [parts of the picture]; None for the whole
    point          a point: x and y [parts]; it stands in place of the box
    strokes        each a row of points [parts]
    width, height  of the picture [px]
    rows           addresses of the rows whose mark the point lies on
    """

    source: str
    box: tuple[float, float, float, float] | None = None
    point: tuple[float, float] | None = None
    strokes: Sequence[Sequence[tuple[float, float]]] = ()
    width: int = 0
    height: int = 0
    rows: Sequence[str] = ()


@dataclass(frozen=True)
class Answered:
    """The answer to a comment: an id of its own [urn], who gave it, when and in what words."""

    id: str
    by: str
    at: datetime
    words: str


@dataclass(frozen=True)
class Stands:
    """That a comment was closed, or opened again: an id of its own [urn], by whom, when and why.

    state   closed or open again, in words
    """

    id: str
    by: str
    at: datetime
    state: str
    words: str = ""


@dataclass(frozen=True)
class Noted:
    """A comment as its readers know it.

    id     its own [urn]
    by     what its readers call the juror
    tags   its kind, and the criterion that it is of
    """

    id: str
    by: str
    kind: str
    words: str
    tags: Sequence[str]
    begun_at: datetime
    kept_at: datetime
    where: Where
    answer: Answered | None = None
    stands: Stands | None = None


def collection_of(id_: str, label: str, noted: Sequence[Noted]) -> Json:
    """Everything that was noted, as one collection under an id of its own."""
    items = [item for each in noted for item in _items(each)]
    page = {"id": f"{id_}#page", "type": "AnnotationPage", "startIndex": 0, "items": items}
    collection: Json = {
        "@context": _CONTEXT,
        "id": id_,
        "type": "AnnotationCollection",
        "label": label,
        "total": len(items),
    }
    return collection | {"first": page} if items else collection


def _items(noted: Noted) -> Iterator[Json]:
    motivation = _MOTIVATIONS.get(noted.kind, "commenting")
    said = [_text(noted.words, motivation)] if noted.words else []
    bodies = said + [_text(tag, "tagging") for tag in noted.tags if tag]
    comment = _annotation(noted.id, motivation, noted.by, noted.begun_at)
    comment["modified"] = _at(noted.kept_at)
    if bodies:
        comment["body"] = bodies
    yield comment | {"target": _target(noted.where)}
    if answer := noted.answer:
        reply = _annotation(answer.id, "replying", answer.by, answer.at)
        yield reply | {"body": _text(answer.words, "replying"), "target": noted.id}
    if stands := noted.stands:
        state = _annotation(stands.id, "moderating", stands.by, stands.at)
        why = [_text(stands.words, "moderating")] if stands.words else []
        yield state | {"body": [_text(stands.state, "tagging"), *why], "target": noted.id}


def _annotation(id_: str, motivation: str, by: str, at: datetime) -> Json:
    return {
        "id": id_,
        "type": "Annotation",
        "motivation": motivation,
        "created": _at(at),
        "creator": {"type": "Person", "name": by},
    }


def _text(value: str, purpose: str) -> Json:
    return {"type": "TextualBody", "value": value, "format": "text/plain", "purpose": purpose}


def _at(moment: datetime) -> str:
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def _target(where: Where) -> str | Json | list[str | Json]:
    """The sheet whole, or the parts of it: flag and strokes are two, for they are not the same."""
    selectors = []
    if where.point:
        selectors.append(_fragment(_about(where.point)))
    elif where.box:
        selectors.append(_fragment(where.box))
    if where.strokes:
        selectors.append({"type": "SvgSelector", "value": _drawn(where)})
    of_sheet: list[str | Json] = [
        {"type": "SpecificResource", "source": where.source, "selector": each} for each in selectors
    ]
    targets = [*(of_sheet or [where.source]), *where.rows]
    return targets if len(targets) > 1 else targets[0]


def _about(point: tuple[float, float]) -> tuple[float, float, float, float]:
    """The box about a point, held within the sheet."""
    size = BOX_PERCENT / 100
    left, top = (min(max(part - size / 2, 0), 1 - size) for part in point)
    return left, top, size, size


def _fragment(box: tuple[float, float, float, float]) -> Json:
    percent = ",".join(f"{part * 100:.4f}".rstrip("0").rstrip(".") for part in box)
    return {
        "type": "FragmentSelector",
        "conformsTo": _MEDIA_FRAGMENTS,
        "value": f"xywh=percent:{percent}",
    }


def _drawn(where: Where) -> str:
    lines = "".join(f'<polyline points="{_pixels(stroke, where)}"/>' for stroke in where.strokes)
    box = f"0 0 {where.width} {where.height}"
    return f'<svg xmlns="{_SVG}" viewBox="{box}" fill="none" stroke="black">{lines}</svg>'


def _pixels(stroke: Sequence[tuple[float, float]], where: Where) -> str:
    return " ".join(f"{x * where.width:.1f},{y * where.height:.1f}" for x, y in stroke)
