"""Steps of setting up: what is done between packed and set up, and what goes before what."""

from __future__ import annotations

import re

from criteria.schedules.by_state import says_something
from criteria.typed.columns import count, mark, quantity, reference, text, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import LENGTH, MASS, WIND

_SEVERAL = re.compile(r"(.+?)(?:\s*×|\s+[x*])\s*([1-9]\d{0,2})")
"""A tool and how many of it: “jack × 4”, “jack x 4”."""

MOST_MINUTES, MOST_HANDS = 10_000, 1000
"""Most minutes of one step, and most people at one."""


def _as_long(row: SetUpStep) -> int:
    """A step that says no other time takes as long to undo."""
    minutes: int = row.minutes
    return minutes


@schedule(
    "steps",
    "Set-up steps",
    mark_prefix="Q",
    purpose="Everything that is done between packed and set up, and what goes before what. Times "
    "of setting up and packing, hands and lifts are counted from it.",
)
class SetUpStep(Row):
    """One step, from one state of the building to another."""

    mark: str = mark()
    step: str | None = text("step", required=True, eg="Pull out the bed box").says(
        "Verb and thing."
    )
    from_state: str | None = reference("from", "states", "From").says(
        "The state that it is done in; blank is packed.", blank=None
    )
    to_state: str | None = reference("to", "states", "To").says(
        "The state that it leads to; blank is set up. From one lived-in state to another isn't "
        "setting up.",
        blank=None,
    )
    after: str | None = text("after", longest=400).says(
        "Marks of the steps that must have ended, parted by spaces; blank is none."
    )
    people: int = count("people", within=(1, MOST_HANDS), eg="2").says("At it all the while.")
    minutes: int = count("minutes", within=(1, MOST_MINUTES), eg="15").says(
        "Whole minutes that it takes so many."
    )
    minutes_back: int = count(
        "minutes_back", "Minutes to undo", within=(1, MOST_MINUTES), eg="10"
    ).says("Whole minutes when packing; blank is as many.", blank=_as_long)
    tool: str | None = text("tool", eg="Hand winch").says(
        "What is needed beside hands, parted by commas. There is one of each, or as many as one "
        "step takes: “jack × 4”."
    )
    mass_kg: float = quantity("kg", MASS, "Weight", within=(0, 100_000), eg="40").says(
        "Lifted by hand, all together; 0 where it rolls, slides or hangs from a winch."
    )
    lift_to_m: float | None = quantity(
        "lift_to", LENGTH, "Lifted to", within=(0, 10), eg="900"
    ).says("Height of the hands when it is up; blank where nothing is lifted.", blank=None)
    opens: str | None = text("opens", eg="roof gap").says(
        "Openings in the shell through which it may rain in from now on, parted by commas; “none” "
        "if nothing is ever open."
    )
    closes: str | None = text("closes", eg="roof gap").says(
        "Those that are closed once it has ended, by the same names."
    )
    gust_most_m_s: float | None = quantity("gust_most", WIND, "Gust at most", within=(0, 60)).says(
        "In which it can be done; blank is any.", blank=None
    )
    is_dry: bool | None = yes_no("dry", "Dry weather").says(
        "Whether it can't be done in rain; blank is nothing said.", blank=None
    )
    is_adult: bool | None = yes_no("adult", "Adults alone").says(
        "Whether children keep away; blank is nothing said.", blank=None
    )
    leaves: str | None = text("leaves").says(
        "What stays in the ground when the building is gone; “none” if nothing does."
    )
    pieces: str | None = text("pieces", longest=400, eg="M2").says(
        "Marks of the pieces that it moves, parted by spaces; what stands in them rides along."
    )
    legs: str | None = text("legs", longest=400, eg="G3 G4").says(
        "Marks of the legs and wheels that it sets down or takes up, parted by spaces."
    )

    @property
    def forerunners(self) -> tuple[str, ...]:
        """Marks of the steps that must have ended before."""
        return marks_in(self.after)

    @property
    def moved(self) -> tuple[str, ...]:
        """Marks of the pieces that it moves."""
        return marks_in(self.pieces)

    @property
    def trodden(self) -> tuple[str, ...]:
        """Marks of the legs that it sets down or takes up."""
        return marks_in(self.legs)

    @property
    def tools(self) -> dict[str, int]:
        """How many of each tool it takes, by names in small letters."""
        return tools_in(self.tool)

    @property
    def opened(self) -> tuple[str, ...]:
        """Names of the openings that it opens, in small letters."""
        return names_in(self.opens)

    @property
    def closed(self) -> tuple[str, ...]:
        """Names of the openings that it closes, in small letters."""
        return names_in(self.closes)


def tools_in(words: str | None) -> dict[str, int]:
    """Return how many of each tool are named, in small letters; one where no number stands.

    >>> tools_in("Tag lines, jack × 4, box 3, none")
    {'tag lines': 1, 'jack': 4, 'box 3': 1}
    """
    found: dict[str, int] = {}
    for name in filter(says_something, names_in(words)):
        match = _SEVERAL.fullmatch(name)
        tool, number = (match[1], int(match[2])) if match else (name, 1)
        found[tool] = found.get(tool, 0) + number
    return found


def marks_in(words: str | None) -> tuple[str, ...]:
    """Return marks parted by spaces, each once.

    >>> marks_in("M2 M5 M2")
    ('M2', 'M5')
    """
    return tuple(dict.fromkeys((words or "").split()))


def names_in(words: str | None) -> tuple[str, ...]:
    """Return names parted by commas, in small letters.

    >>> names_in("Roof gap, flap 2,")
    ('roof gap', 'flap 2')
    """
    names = (name.strip().casefold() for name in re.split("[,;]", words or ""))
    return tuple(dict.fromkeys(name for name in names if name))
