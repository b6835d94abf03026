"""Transport, drawn: the piece on its deck or under its hook, and what is carried of what may be."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from criteria.checks.axles import ROAD_LOAD_CHECKS
from criteria.checks.transport import TRANSPORT_CHECKS
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.marks import Gap
from criteria.drawing.on_the_road import Limits, View, on_deck, on_hook
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.pieces import Boxed, boxed
from criteria.drawing.share_bars import ShareBars
from criteria.findings import Measured, Rule
from criteria.schedules.moving import Piece
from criteria.typed.cells import Lacking

SHARES = {"payload": "payload", "gross_on_plate": "plate", "axle_group": "most allowed"}
"""Checks whose figures are shares, and of what."""
BESIDE_MM = 78.0
"""Bars stand beside a view that leaves them so much, else under it [mm]."""
CHECKS = {check.slug: check for check in (*TRANSPORT_CHECKS, *ROAD_LOAD_CHECKS)}


@dataclass(frozen=True)
class Carried:
    """What is drawn: the piece, how it travels, and the shares of what may be carried.

    deck_m   above the road; None where nothing says so
    is_hung  whether its row says how it hangs from a sling
    """

    piece: Boxed | None
    deck_m: float | None
    is_hung: bool
    shares: tuple[Measured, ...]
    gaps: tuple[Gap, ...]


def carried(seen: Seen) -> Carried:
    """Return what is drawn of a package."""
    pieces, gaps = boxed(seen.package)
    shares = sorted(_measured(seen), key=lambda each: -each.values[0])
    subject = seen.asked.measured.subject or (shares[0].subject if shares else "")
    piece = next((each for each in pieces if each.row.mark == subject), None)
    piece = piece or max(pieces, key=lambda each: each.sizes_m[2], default=None)
    deck = seen.package.leniently.transport.deck_m
    is_hung = deck is None and piece is not None and _hangs(piece.row)
    if deck is None and not is_hung:
        says = "how pieces travel: deck height not given"
        gaps += (Gap(schedule="transport", mark="", column="deck_m", says=says),)
    return Carried(piece, deck, is_hung, tuple(shares), gaps)


def _hangs(row: Piece) -> bool:
    return bool(row.eyes) and None not in (row.sling_deg, row.eye_h_m)


def _slug(seen: Seen) -> str:
    return seen.check if seen.check in SHARES else "payload"


def _measured(seen: Seen) -> list[Measured]:
    try:
        found = CHECKS[_slug(seen)].measure(seen.package, ())
    except Lacking:
        return []
    return [each for each in found if each.values]


def _most(seen: Seen, slug: str) -> float | None:
    """The most that a check is held to; None where nothing is asked of it."""
    finding = seen.findings.get(slug)
    return finding.target if finding and finding.rule is Rule.AT_MOST else None


def draw_transport(found: Carried, seen: Seen, field: Field) -> Drawing:
    """Draw how a package travels."""
    head, slug = answer(seen, field), _slug(seen)
    view = _view(found, seen, field, head.height_mm)
    left, top, paper = SIDE_MM, view.foot_mm, field.width_mm - SIDE_MM
    if paper - view.right_mm > BESIDE_MM:
        left, top = view.right_mm + 2 * SIDE_MM, head.height_mm
    most = _most(seen, slug)
    bars = ShareBars(found.shares, most, SHARES[slug], field, (left, paper))
    marks = [*head.letters, *view.marks, *bars.marks(top)]
    return Drawing(
        title="As pieces hang" if found.is_hung else "As pieces travel",
        says=head.says,
        width_mm=field.width_mm,
        height_mm=round(max(view.foot_mm, top + bars.height_mm) + 1.5, 2),
        marks=tuple(marks),
        figures=(*head.figures, *view.figures, *bars.figures),
        scale=view.scale,
        left_out=found.gaps,
    )


def _view(found: Carried, seen: Seen, field: Field, top: float) -> View:
    if found.piece and found.deck_m is not None:
        limits = Limits(_most(seen, "road_height"), _most(seen, "road_width"))
        return on_deck(found.piece, found.deck_m, limits, field, top)
    if found.piece and found.is_hung:
        return on_hook(found.piece, field, top)
    return View(top, field.width_mm, "")


def _ready(seen: Seen) -> Ready | None:
    found = carried(seen)
    is_viewed = found.piece and (found.deck_m is not None or found.is_hung)
    if not is_viewed and not found.shares:
        return None
    return Ready(partial(draw_transport, found, seen))


TRANSPORT = Picture(
    ready=_ready,
    wants="pieces want sizes, and transport its deck or its payload",
    checks=("road_height", "road_width", *SHARES),
    schedules=("transport",),
    main="payload",
)
