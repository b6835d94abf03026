"""The demo's invented studios: words, days and people. Nothing here is real."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.utils import timezone

CRIT_DAY = date(2026, 12, 4)
"""The day of the scenario's running crit; a loaded demo moves every date so that it is today."""


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


HUT = StudioStory(
    letter="H",
    title="Twelve Bunks",
    cohort="Cohort H, autumn 2026",
    year_line="Third year interior design, 7 credits: read Resolved as a third-year student would "
    "reach it in a term.",
    brief=(
        "Harl Saddle lies at 2,640 m on the ridge path between two valleys. The path is open from "
        "June to mid-October. There is no road, no water main, no cable; the nearest flat ground "
        "is a rock terrace of 14 by 9 metres, blown clear on the west and drifted to 2.2 m on the "
        "east. Design a hut for twelve walkers and one warden that arrives by helicopter in pieces "
        "of no more than 800 kg, is put together by six people in ten fair days, and can be taken "
        "away leaving nothing but drilled holes.\n\n"
        "It should be a good place to arrive wet, to eat together, to sleep near strangers and to "
        "leave at four in the morning without waking them. One bunk, one toilet and the day room "
        "must be reached without a step from the terrace.\n\n"
        "Study at least four buildings that tried something similar, one of which failed, and say "
        "what you take and what you refuse. Give numbers for light, air, heat, water, waste, "
        "power, weight and stowage, and let them change your drawings."
    ),
    issued=(2026, 9, 7, "09:30"),
    interim=(2026, 10, 22),
    interim_pens_down=(2026, 10, 21, "18:00"),
    interim_released=(2026, 10, 26, "09:30"),
    final=(2026, 12, 4),
    final_pens_down=(2026, 12, 3, "18:00"),
    final_released=None,
)

STATION = StudioStory(
    letter="E",
    title="Low Water",
    cohort="Cohort E, spring 2026",
    year_line="Third year interior design: read Resolved as a third-year student would reach it "
    "in a term.",
    brief=(
        "Ebb Holm is reached on foot or by tractor across a causeway that is uncovered for 2 h "
        "20 min around low water, less when the wind is in the west. Design a station for six "
        "people who count birds and weed for up to five weeks at a time from February to "
        "November. Ground is 2.10 m above datum; the storm tide is 3.20 m; no floor may be lower "
        "than 3.45 m. Everything crosses on one flat trailer, 7.0 by 2.5 by 3.0 metres and 3.5 "
        "tonnes a time, in at most eighteen crossings.\n\n"
        "Wet boots and dry notebooks must never meet. A wet lab for four must face steady light. "
        "The station will stand fifteen years and then leave. Study four buildings, one of which "
        "failed."
    ),
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

STATEMENTS = {
    "H03": "The outcrop has already made a calm place eight metres long. The hut is a shelf set "
    "into that calm. You enter out of the wind, turn once, and everything you need is at hand "
    "height along one wall: boots, food, fire, bunk. The view is kept for the end of the shelf. "
    "Nothing tops the rock but the chimney.",
    "H07": "A hut is a fire with people round it. We built the fire large enough to sit inside "
    "and wrapped two shelves for sleeping round its back. Heat goes up, stories go round. There "
    "is one room by day and one by night and it is the same room. The wall is thick so that the "
    "window can be wide.",
    "E11": "The sea draws a line of weed each winter and never asks a surveyor. The station is "
    "set out along that line, stern to the storm. What gets wet stays below it, what must stay "
    "dry sits above. A reef station failed because its legs could not be replaced. Ours can, by "
    "two people, at low water.",
}

SHEETS = (
    ("00", "Title and statement", ""),
    ("01", "Site and approach", "1:500"),
    ("02", "Plan", "1:50"),
    ("03", "Sections", "1:50"),
    ("04", "Inside views", ""),
    ("05", "Furniture and stowage", "1:20"),
    ("06", "Pieces, order, removal", ""),
    ("07", "Schedules", ""),
)
"""What the hand-in list of both briefs asks for."""

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

DRAWN = (("H03", "B"), ("H07", "A"), ("H07", "B"), ("E11", "C"))
"""Packages whose eight sheets are drawn; of the others, the final plan."""

PLAN = ("02",)

RELEASE_WORDS = (
    "Thank you for a day in which the numbers were said aloud and then looked at. Read the "
    "comments first, twice, and the levels last; answer each comment by the date in the brief."
)

ROLE_WORDS = {
    "studio leader": "leads both studios",
    "coordinator": "coordinates the programme",
    "external examiner": "reads what is released",
    "scribe": "student and scribe",
    "timekeeper": "student and timekeeper",
}


def email_of(name: str) -> str:
    """Return an address at a domain kept for examples."""
    return f"{name.lower().replace(' ', '.')}@example.org"


def issue_hour(number: str) -> str:
    """Return a plausible hour of issue before pens down, the same on every run."""
    minute = int(number[1:]) * 37 % 115
    moment = datetime(2026, 1, 1, 18, 0) - timedelta(minutes=minute + 3)
    return moment.strftime("%H:%M")
