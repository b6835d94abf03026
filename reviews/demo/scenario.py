"""The demo's invented studios: words, days and people. Nothing here is real."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.utils import timezone

from reviews.demo.tables import read_csv

CRIT_DAY = date(2026, 12, 4)
"""The day of the scenario's running crit; a loaded demo moves every date so that it is today."""

HOUR = time(11, 5)
"""The hour at which a loaded demo's clock stands."""


@dataclass(frozen=True)
class Calendar:
    """The scenario's dates, moved so that the running crit is on a day of choice."""

    today: date

    def day(self, year: int, month: int, day: int) -> date:
        """Return a day of the scenario, moved."""
        return date(year, month, day) + (self.today - CRIT_DAY)

    def at(self, year: int, month: int, day: int, clock: str) -> datetime:
        """Return a moment of the scenario, moved; the clock is "17:12"."""
        hour, minute = (int(part) for part in clock.split(":"))
        moment = datetime.combine(self.day(year, month, day), time(hour, minute))
        return timezone.make_aware(moment)

    def working(self, year: int, month: int, day: int, clock: str) -> datetime:
        """The same, on the Monday after where it falls on a weekend: nothing is released then."""
        moment = self.at(year, month, day, clock)
        return moment + timedelta(days=7 - moment.weekday() if moment.weekday() > 4 else 0)


@dataclass(frozen=True, kw_only=True)
class StudioStory:
    """One studio of the scenario."""

    letter: str
    title: str
    cohort: str
    year_line: str
    brief: str
    issued: tuple[int, int, int, str]
    interim: tuple[int, int, int]
    interim_pens_down: tuple[int, int, int, str]
    interim_released: tuple[int, int, int, str]
    final: tuple[int, int, int]
    final_pens_down: tuple[int, int, int, str]
    final_released: tuple[int, int, int, str] | None


_WORDS = {row["letter"]: row for row in read_csv("studios")}
HUT = StudioStory(
    **_WORDS["H"],
    issued=(2026, 9, 7, "09:30"),
    interim=(2026, 10, 22),
    interim_pens_down=(2026, 10, 21, "18:00"),
    interim_released=(2026, 10, 26, "09:30"),
    final=(2026, 12, 4),
    final_pens_down=(2026, 12, 3, "18:00"),
    final_released=None,
)

STATION = StudioStory(
    **_WORDS["E"],
    issued=(2026, 1, 19, "09:30"),
    interim=(2026, 3, 12),
    interim_pens_down=(2026, 3, 11, "18:00"),
    interim_released=(2026, 3, 16, "09:30"),
    final=(2026, 5, 7),
    final_pens_down=(2026, 5, 6, "18:00"),
    final_released=(2026, 5, 12, "09:30"),
)

STUDIOS = (STATION, HUT)

ADDENDUM = (
    "The helicopter that will fly the season lifts 750 kg, not 800. Every piece is to weigh no "
    "more than that, rigging included."
)
ADDENDUM_AT = (2026, 9, 28, "10:00")

SHEETS = (
    ("00", "Title and statement", "", "title", ""),
    ("01", "Site and approach", "1:500", "site", ""),
    ("02", "Plan", "1:50", "plan", "day"),
    ("03", "Sections", "1:50", "section", ""),
    ("04", "Inside views", "", "view", ""),
    ("05", "Furniture and stowage, day and night", "1:20", "furniture", "night"),
    ("06", "Pieces as packed, order, removal", "", "sequence", "packed"),
    ("07", "Schedules", "", "schedule", ""),
)
"""The eight sheets of both studios: number, title, scale, kind and the state that each shows."""

ASKED_STATES = {"E": {"05": "supper"}}
"""Where a brief asks of a sheet another state than it shows."""

ISSUED = {
    ("H03", "B"): (2026, 12, 3, "17:12"),
    ("H07", "A"): (2026, 10, 21, "17:58"),
    ("H07", "B"): (2026, 12, 3, "17:59"),
    ("H13", "B"): (2026, 12, 3, "18:41"),
    ("E11", "A"): (2026, 2, 16, "09:10"),
    ("E11", "B"): (2026, 3, 11, "16:40"),
    ("E11", "C"): (2026, 5, 6, "17:31"),
}
"""Issues whose hour the scenario tells; the others come in the last two hours before pens down."""

DRAWN = (("H03", "B"), ("H07", "A"), ("H07", "B"), ("E11", "C"), ("H14", "B"))
OPENING = (("H12", "B"), ("H06", "B"))
"""Packages whose eight sheets are drawn, the opening pair's later; of others, the final plan."""

SETS = (("H07", "B"),)
"""Packages whose sheets came as one PDF, so that marks could be read on them."""

PLAN = ("02",)

RELEASE_WORDS = (
    "Thank you for a day in which the numbers were said aloud and then looked at. Read the "
    "comments first, twice, and the levels last; answer each comment by the date in the brief."
)


def email_of(name: str) -> str:
    """Return an address at a domain kept for examples."""
    return f"{name.lower().replace(' ', '.')}@example.org"


def issue_hour(number: str) -> str:
    """Return a plausible hour of issue before pens down, the same on every run."""
    minute = int(number[1:]) * 37 % 115
    moment = datetime(2026, 1, 1, 18, 0) - timedelta(minutes=minute + 3)
    return moment.strftime("%H:%M")
