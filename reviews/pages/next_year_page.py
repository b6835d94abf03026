"""What of a studio would be carried to the next year: each part with what it holds."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.schedules import CASES, STATES
from reviews.deeds.studio_carrying import PARTS, crit_words, criteria_sheets, text_carried
from reviews.models import Crit, Studio
from reviews.pages.brief_page import hand_in_names
from reviews.reading.brief_days import days_named

NAMES = {
    "text": "Text of the brief",
    "targets": "Targets",
    "site": "Site sheet and climate",
    "use": f"{STATES.title} and {CASES.title.lower()}",
    "hand-in": "Hand-in list",
    "standards": "Map from criteria to published standards",
}
assert NAMES.keys() == PARTS.keys()

MOST_SHOWN = 8


@dataclass(frozen=True)
class CarriedPart:
    """A part with what it holds, in words: how much, and the first lines of it."""

    slug: str
    name: str
    holds: str
    lines: tuple[str, ...]

    @property
    def more(self) -> int:
        """How many lines there are besides those that are shown."""
        return max(0, len(self.lines) - MOST_SHOWN)

    @property
    def shown(self) -> tuple[str, ...]:
        return self.lines[:MOST_SHOWN]


@dataclass(frozen=True)
class NextYearPage:
    """What is carried, what is left behind, and what must be put right by hand.

    days   days that the text names, as it writes them
    """

    parts: list[CarriedPart]
    crits: list[tuple[Crit, str]]
    days: list[str]
    left: str


def next_year_page(studio: Studio) -> NextYearPage:
    """Read what a studio holds that can be carried."""
    brief = studio.brief
    tables, text = brief.leader_tables(), text_carried(brief)
    targets = tuple(_target_words(cells) for cells in brief.target_records())
    hand_in = tuple(name for names in hand_in_names(brief).values() for name in names)
    use = tuple(_first(row) for name in ("states", "cases") for row in tables[name])
    standards = tuple(str(line) for line in studio.standards.all())
    site = tuple(f"{head} {cell}" for head, cell in tables["site"][0].items())
    addenda = brief.addenda.count()
    worked_in = f", {addenda} addend{'um' if addenda == 1 else 'a'} below it" if addenda else ""
    holds = {
        "text": (f"{len(text.split())} words{worked_in}", ()),
        "targets": (f"{len(targets)} as they stood last", targets),
        "site": (f"{len(site)} figures, {len(tables['climate'])} months", site),
        "use": (f"{len(use)} rows", use),
        "hand-in": (f"{len(hand_in)} things", hand_in),
        "standards": (f"{len(standards)} lines", standards),
    }
    return NextYearPage(
        [CarriedPart(slug, NAMES[slug], *holds[slug]) for slug in PARTS],
        [(crit, crit_words(crit)) for crit in criteria_sheets(studio)],
        days_named(text),
        _left_behind(studio),
    )


def _target_words(cells: dict[str, str]) -> str:
    parts = ("id", "what", "rule", "value", "unit")
    return " ".join(filter(None, (cells.get(part, "") for part in parts)))


def _first(row: dict[str, str]) -> str:
    return next(iter(row.values()), "")


def _left_behind(studio: Studio) -> str:
    """What is left behind, counted."""
    people, schemes = studio.memberships.count(), studio.schemes.count()
    crits = studio.crits.count()
    told = f"{people} people, {schemes} schemes with all that they issued, {crits} crits with their"
    return f"{told} jurors, days and results, questions on the brief and their answers"
