"""What a sheet's title block says: one list for form, list, issued contents and export."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from criteria.errors import Refused
from criteria.typed import quantities
from criteria.units import LENGTH, PLAIN, Notation, System, rounded
from reviews.models import DrawingKind
from reviews.models.pictures import TitleBlockFields

LONGEST_TITLE, LONGEST_SCALE = 120, 24

PAPERS_MM: Mapping[str, tuple[float, float]] = {
    "A0": (841, 1189),
    "A1": (594, 841),
    "A2": (420, 594),
    "A3": (297, 420),
    "A4": (210, 297),
    "ANSI A": (215.9, 279.4),
    "ANSI B": (279.4, 431.8),
    "ANSI C": (431.8, 558.8),
    "ANSI D": (558.8, 863.6),
    "ANSI E": (863.6, 1117.6),
    "ARCH A": (228.6, 304.8),
    "ARCH B": (304.8, 457.2),
    "ARCH C": (457.2, 609.6),
    "ARCH D": (609.6, 914.4),
    "ARCH E": (914.4, 1219.2),
}
"""Short and long side of a paper by its name: ISO 216, ANSI/ASME Y14.1 and, for ARCH, common
practice, all from memory."""

NEAR_MM, LEAST_MM, MOST_MM = 3.0, 50.0, 5000.0
"""How near a paper is to a named one; how wide one is at least and at most [mm]."""
EXPECTED_PAPER = "a width from 50 mm to 5 m, or a paper by its name, such as 841 mm, A1 or ARCH D"


class TitleBlock(NamedTuple):
    """What a sheet's title block says, as typed.

    kind       a DrawingKind; blank where nobody said
    state      mark of the brief's state that it shows; blank where it shows none alone
    width_mm   width of the paper; None where nobody said
    """

    number: str
    title: str
    scale: str = ""
    drawn_by: str = ""
    checked_by: str = ""
    kind: str = ""
    state: str = ""
    width_mm: float | None = None


LABELS = dict(
    zip(
        TitleBlock._fields,
        ("Number", "Title", "Scale", "Drawn by", "Checked by", "Kind", "State shown", "Paper"),
        strict=True,
    )
)
"""What each field is called, in the order in which they stand."""

TEXTS = ("number", "title", "scale", "drawn_by", "checked_by")
"""Those that are typed as they are; issued contents have held them, blank or not, since ever."""


class AskedSheet(NamedTuple):
    """A sheet of the hand-in list."""

    title: str = ""
    kind: str = ""
    state: str = ""


class Asked(NamedTuple):
    """What a brief says of sheets: those on its hand-in list by number, and its states."""

    sheets: Mapping[str, AskedSheet]
    states: tuple[str, ...] = ()


def title_block_of(sheet: TitleBlockFields) -> TitleBlock:
    """What a sheet's title block says now."""
    return TitleBlock(*(getattr(sheet, name) for name in TitleBlock._fields))


def as_contents(said: TitleBlock) -> dict[str, Any]:
    """A title block as a revision freezes it; what an earlier version didn't know, where said."""
    return {name: value for name, value in said._asdict().items() if value or name in TEXTS}


def kind_words(kind: str) -> str:
    """What a kind of drawing is called; blank of none."""
    return DrawingKind(kind).label if kind in DrawingKind.values else kind


def proposed_words(proposed: Mapping[str, str]) -> str:
    """Say what of a title block was read, and from what.

    >>> proposed_words({"number": "file name", "scale": "file name", "title": "hand-in list"})
    'number and scale from the file name, title from the hand-in list'
    """
    by_source: dict[str, list[str]] = {}
    for name, label in LABELS.items():
        if source := proposed.get(name):
            by_source.setdefault(source, []).append(label.lower())
    return ", ".join(
        f"{' and '.join(filter(None, (', '.join(names[:-1]), names[-1])))} "
        f"{'' if source.startswith('next') else 'from the '}{source}"
        for source, names in by_source.items()
    )


def proposed_from(source: str) -> str:
    """Say what one field was read from.

    >>> proposed_from("file name"), proposed_from("next on the hand-in list")
    ('Read from the file name', 'Next on the hand-in list')
    """
    return source.capitalize() if source.startswith("next") else f"Read from the {source}"


def paper_words(width_mm: float | None, shape: float, system: System = System.METRIC) -> str:
    """Say a paper by its name where it has one, else by its width.

    shape   width ÷ height of the picture of it

    >>> paper_words(841, 841 / 594), paper_words(841, 841 / 1189), paper_words(1700, 1.4)
    ('A1', 'A0', '1700 mm')
    >>> paper_words(914.4, 1.5, System.US), paper_words(700, 1.4, System.US), paper_words(None, 1)
    ('ARCH D', '27.56 in', '')
    """
    if width_mm is None:
        return ""
    for name, sides in PAPERS_MM.items():
        wide, high = sides if shape < 1 else sides[::-1]
        if abs(wide - width_mm) <= NEAR_MM and abs(high - width_mm / shape) <= high * 0.02:
            return name
    if system is System.US:
        return f"{rounded(width_mm / 25.4, 2, None)} in"
    return f"{rounded(width_mm, 0, None)} mm"


def read_paper(text: str, shape: float, notation: Notation = PLAIN) -> float | None:
    """Read the width of a paper [mm], from its name or a length; a blank is None.

    Raises Refused.

    >>> read_paper("a1", 1.41), read_paper("A1", 0.7), read_paper("36 in", 1.5), read_paper("", 1)
    (841.0, 594.0, 914.4, None)
    """
    folded = " ".join(text.upper().replace("-", " ").split())
    if not folded:
        return None
    if sides := PAPERS_MM.get(folded):
        return float(sides[0] if shape < 1 else sides[1])
    try:
        width = 1000 * float(quantities.read(text, LENGTH, notation))
    except Refused:
        raise Refused(text, EXPECTED_PAPER) from None
    if not LEAST_MM <= width <= MOST_MM:
        raise Refused(text, EXPECTED_PAPER)
    return round(width, 3)
