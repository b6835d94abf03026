"""What a claim of never or always says: “our panels run the heating”, “the rain fills the tank”.

Such words assert no figure but that something never lacks, which a year by the hour settles.
Words that hedge, or say when or how much, assert no such thing.
"""

import re
from dataclasses import dataclass
from enum import Enum

from criteria.check_sheet.claim_reading import figures_in


class By(Enum):
    """What a claim says does it."""

    PANELS = "panels"
    STOVE = "stove"
    ANYTHING = ""


@dataclass(frozen=True)
class Never:
    """What is said never to lack: the check whose hours or days tell, and what is said to do it."""

    slug: str
    by: By = By.ANYTHING


_PANELS = (
    r"(?!.*\bwater\b).*\b(?:panels?|pv|photovoltaics?|solar (?:cells?|power)|batter(?:y|ies))\b"
)
_RUN = (
    r"\b(?:runs?|powers?|drives?|carry|carries|covers?|feeds?|does|do|supply|supplies|heats?|cools?"
    r"|warms?|enough|suffices?)\b"
)
_IT = (
    r"(?:it|us|all|everyone|everybody|everything|"
    r"the (?:whole )?(?:hut|house|building|cabin|station|refuge|shelter|place))\b"
)
_ENOUGH = (
    r"(?:,? alone)?:? (?:(?:is|are) )?(?:enough|suffices?)"
    rf"(?: for {_IT}| all year| all winter)?$"
)
_KEEPS = rf"\b(?:(?:heats?|warms?) {_IT}|keeps? {_IT} warm\b)"
_ALONE = (
    r"(?:by itself|on its own"
    r"|without (?:any )?(?:plant|cooling|heating|heaters?|(?:a |the )?(?:stove|heater|fan)))\b"
)
_STAYS = r"\b(?:stays?|keeps?|is|remains?)(?: itself)?"
_NONE = (
    r"\b(?:needs?|wants?) no {0}\b|\bno {0} (?:is )?(?:needed|wanted)\b"
    r"|\bno need (?:of|for) {0}\b"
)
_A_STOVE = r"(?:heating|heater|stove|a heater|a stove)"

NEVERS: tuple[tuple[str, Never], ...] = (
    (
        rf"^{_PANELS}.*{_RUN}.*(?:\bheating\b|\bheaters?\b|\bthe heat\b|{_KEEPS})"
        rf"|^{_PANELS}.*{_KEEPS}|\bheating\b.*\bruns? on the (?:panels|sun)\b",
        Never("hours_not_held", By.PANELS),
    ),
    (
        rf"^{_PANELS}.*{_RUN}.*\bcooling\b|\bcooling\b.*\bruns? on the (?:panels|sun)\b",
        Never("hot_not_held", By.PANELS),
    ),
    (
        rf"^{_PANELS}.*{_RUN}.*\b(?:lamps?|lights?|lighting|everything|all loads)\b"
        rf"|^(?:.*: )?(?:our |the |these )?(?:solar )?(?:panels|battery){_ENOUGH}",
        Never("dark_hours"),
    ),
    (
        rf"\b(?:stove|the fire)(?: (?:alone|by itself))?{_ENOUGH}|\b(?:stove|the fire)\b.*{_KEEPS}",
        Never("hours_not_held", By.STOVE),
    ),
    (
        rf"{_STAYS} cool,? {_ALONE}|\b(?:cool|cooling) {_ALONE}|{_NONE.format('cooling')}"
        r"|\bnever (?:overheats?|(?:(?:gets?|is) )?too (?:hot|warm))\b",
        Never("hot_hours"),
    ),
    (rf"{_STAYS} warm,? {_ALONE}|{_NONE.format(_A_STOVE)}", Never("cold_hours")),
    (
        rf"\brain(?: ?water)?{_ENOUGH}"
        r"|\brain(?: ?water)?\b.*\bfills? (?:the|our|all) (?:\w+ )?tanks?\b"
        r"|\brain(?: ?water)?\b.*\b(?:supplies|feeds) (?:it|us|all|everyone|everything)\b"
        r"|\btanks?:? never (?:runs? dry|goes? dry|(?:is|are) (?:dry|empty))\b",
        Never("rain_days"),
    ),
    (
        r"\b(?:lamps?|lights?|lighting|power|electricity)\b.*"
        r"\b(?:never (?:go(?:es)? (?:out|off)|fails?|runs? out)|always (?:on|there|lit))\b"
        r"|\bbatter(?:y|ies)\b.*\bnever (?:empty|flat|runs? (?:down|out|flat|empty))\b"
        r"|\bnever (?:dark|in the dark|without (?:power|light|electricity))\b",
        Never("dark_hours"),
    ),
)
"""Words, and what they say never lacks; a text may say several."""

_HEDGED = re.compile(
    r"\bnot\b|n['’]t\b|\bcannot\b|\b(?:nearly|almost|mostly|most|partly|some|sometimes|half|helps?"
    r"|hardly|except|but|unless|until|mainly|usually|often|rarely|seldom|if|when|while|aims?|hopes?"
    r"|should|could|might|may|maybe|try|tries|spring|autumn|midday|noon|day|daytime|days|mornings?"
    r"|evenings?|weekends?|weekdays|january|february|march|april|may|june|july|august|september"
    r"|october|november|december|jan|feb|mar|apr|jun|jul|aug|sept?|oct|nov|dec|percent"
    r"|more|less|than|too little|too small)\b|[?%]",
    re.IGNORECASE,
)
_OF_WALLS = re.compile(
    r"\b(?:walls?|roof|floor|ceiling|timber|wood|insulated|straw|glass|radiant) panels?\b",
    re.IGNORECASE,
)
_SEASON = {"summer": ("hot_hours", "hot_not_held"), "winter": ("cold_hours", "hours_not_held")}
_LIMITS = frozenset({"time", "temperature", "share", "temperature difference"})
"""Figures that say for how long, how warm or how much."""


def nevers_named(about: str, wording: str) -> tuple[Never, ...]:
    """Return what a claim says never lacks; () where it says a figure, hedges, or says none.

    >>> [never.slug for never in nevers_named("Heating", "Our panels run the heating and cooling")]
    ['hours_not_held', 'hot_not_held']
    >>> nevers_named("Heating", "Our panels run most of the heating")
    ()
    """
    whole = f"{about}: {wording}"
    whole = _OF_WALLS.sub("", whole).rstrip(" .!")
    if _HEDGED.search(whole) or any(each.dimension in _LIMITS for each in figures_in(wording)):
        return ()
    said = (never for words, never in NEVERS if re.search(words, whole, re.IGNORECASE))
    return tuple(never for never in dict.fromkeys(said) if _is_of_season(never, whole))


def _is_of_season(never: Never, whole: str) -> bool:
    """Whether a season that is named is the one in which it could lack."""
    return all(
        never.slug in slugs
        for season, slugs in _SEASON.items()
        if re.search(rf"\b{season}", whole, re.IGNORECASE)
    )
