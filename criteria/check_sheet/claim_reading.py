"""What a claim's words mean: which check they name, of which subject, and the figure they assert.

Nothing is guessed: words that name no check, or more than one, are answered with “which check?”,
and a text with two figures of one kind asserts none.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from criteria.checks.catalogue import CHECKS
from criteria.checks.check import Check
from criteria.errors import Refused
from criteria.findings import Measured, Rule
from criteria.typed import quantities
from criteria.units import COUNT, LITRES, PLAIN, RESISTANCE, UNITS, Notation, Scale, System

U_CHECKS = ("wall_u", "roof_u", "floor_u")

_A_RESISTANCE = re.compile(
    r"\b(?P<sign>RSI|R)(?:[- ]value)?\s*(?:of|=|:)?\s*(?P<dash>[-‐‑–]?)\s*"
    r"(?P<number>\d(?:[\d.,\u202f]*\d)?)\s*(?P<unit>[^\s,;()]+)?"
)
_A_U_VALUE = re.compile(r"\bU\b|\bU-value")

CLAIM_WORDS: tuple[tuple[str, str, str], ...] = (
    (r"(?:coldest|worst) night", "", "coldest_night"),
    (r"hottest (?:hour|afternoon|day)", "", "hottest_hour"),
    (r"(?:hours )?(?:too )?cold", r"\bwithout (?:heating|plant)\b", "cold_hours"),
    (r"hours too cold|unheld hours", "", "hours_not_held"),
    (r"dark hours|hours (?:dark|without (?:power|light))", "", "dark_hours"),
    (r"days without sun", "", "days_without_sun"),
    (r"thrown away|spilled", "", "spilled_share"),
    (r"rain(?: ?water)?", r"\bdays\b", "rain_days"),
    (r"fuel|firewood|logs|wood", r"\b(?:year|season)\b", "fuel_year"),
    (r"fuel|firewood|logs|wood", r"\bweek\b", "fuel_week"),
    (r"gr[ea]y(?: water)?(?: tank)?", "", "grey_days"),
    (r"gr[ea]y(?: water)?", "", "grey_made"),
    (r"urine(?: tank)?", "", "urine_days"),
    (r"solids?", "", "solids_days"),
    (r"water", r"\buse", "fixture_use"),
    (r"water", r"person|head", "water_per_person_day"),
    (r"water", "", "water_days"),
    (r"openable(?: glass)?|opening", "", "openable_ratio"),
    (r"views?", r"\bbeds?\b|\bbunks?\b|\blying\b", "lying_view"),
    (r"views?", "", "seated_view"),
    (r"daylight factor", "", "average_daylight_factor"),
    (r"glass|daylight|light|lit", "", "daylight_ratio"),
    (r"sills?", "", "lowest_sill"),
    (r"sun(?:light|shine)?", r"\bhours?\b|\d ?h\b", "possible_sun"),
    (r"(?:night|fresh) air", "", "night_air"),
    (r"carbon dioxide|co[2₂]", "", "night_co2"),
    (r"air", "", "air_volume_per_sleeper"),
    (r"air", "", "night_air"),
    (r"warm(?:ing)?[- ]?up", "", "warm_up"),
    (r"walls?", "", "wall_u"),
    (r"roof", "", "roof_u"),
    (r"floor(?: area)? per person", "", "floor_per_person"),
    (r"floor per sleeper", "", "floor_per_sleeper"),
    (r"floor", r"\bu\b|\bu-value|\bR\b|\brsi\b", "floor_u"),
    (r"floor", r"\bdatum\b|\btide\b|\bflood\b", "floor_above_datum"),
    (r"floor", r"\bper person\b", "floor_per_person"),
    (r"heat(?:ing)?(?: loss)?", "", "heat_loss"),
    (r"batter(?:y|ies)", "", "battery_days"),
    (r"power", r"^(?!.*\b(?:hours|dark)\b)", "power_ratio"),
    (r"energy|sun", r"\bused?\b|\buses\b", "power_ratio"),
    (r"open to (?:the )?(?:rain|sky)", "", "open_to_rain"),
    (r"person[- ]hours", "", "person_hours"),
    (r"set(?:s|ting)?[- ]?up(?: time)?|puts? up", r"\bh\b|\bhours?\b|\bmin", "setup_time"),
    (r"pack(?:s|ed|ing)?(?: up| time)?", r"\bh\b|\bhours?\b|\bmin", "pack_time"),
    (r"panels?|tilt", r"\btilt|°", "panel_tilt"),
    (r"ramp", r"\bfits\b", "ramp_length"),
    (r"ramp|slope", r"\b1\s*(?:in|:)\s*\d", "ramp_slope"),
    (r"(?:ramp )?slope", "", "ramp_slope"),
    (r"ramp", r"\bwide\b|\bwidth\b|\bclear\b", "ramp_width"),
    (r"ramp", "", "ramp_length"),
    (r"second exit|threshold", r"\bsecond exit\b", "second_exit_threshold"),
    (r"doors?", r"\bthreshold", "step_free_thresholds"),
    (r"doors?", r"\bclear\b|\bwide\b|\bwidth\b|^doors?:", "step_free_doors"),
    (r"ways? out|exits?", "", "ways_out"),
    (r"furthest (?:bunk|bed)|escape(?: distance)?", "", "furthest_bunk"),
    (r"datum|tide|flood", "", "floor_above_datum"),
    (r"pieces?", r"\bfits?\b|\bwithin\b|\binside\b", "piece_envelope"),
    (r"heaviest(?: piece)?|pieces?|weight|mass", "", "piece_mass"),
    (r"crossings?|lifts?|helicopter|pieces", "", "lifts"),
    (r"stowage|storage", "", "stowage_per_guest"),
    (r"change(?: of use)?|day[- ]to[- ]night", "", "change_of_use"),
    (r"change(?: of use)?|day[- ]to[- ]night", "", "change_lift"),
    (r"precedents", "", "precedents"),
    (r"per person", "", "floor_per_person"),
    (r"sleepers?", "", "floor_per_sleeper"),
    (r"sleepers?", "", "air_volume_per_sleeper"),
    (r"sleepers?", "", "night_air"),
    (r"ceilings?|clear height|headroom", "", "clear_height"),
    (r"passages?", "", "passage_width"),
    (r"turning(?: circle)?", "", "turning_circle"),
    (r"guards?", "", "guard_height"),
    (r"floor(?: area)?|area|size|footprint", "", "floor_area"),
)
"""Words of what a claim is about, what else must be said, and the check that is meant.

Read in order: the words of a line whose unit fits are spoken for, so that “floor per person” is
no claim of the floor. What the lines then name more than once is asked about.
"""

ROOM_FIGURES = {"area": "room_floor", "length": "clear_height"}
"""What an area or a length is of, where nothing but a room is named."""

_TWO_TO_TWELVE = "two three four five six seven eight nine ten eleven twelve"
_MANY = {word: number for number, word in enumerate(_TWO_TO_TWELVE.split(), start=2)}
_A_MANY = re.compile(r"\b(" + "|".join(_MANY) + r")\b", re.IGNORECASE)

_A_CREW = re.compile(
    rf"\b(?:by|with|crew of)\s+(?P<crew>\d{{1,3}}|one|{'|'.join(_MANY)})\b"
    r"(?![:.,]?\d|\s*(?:h|min)\w*)",
    re.IGNORECASE,
)

_PRIMES = str.maketrans("′’″”", "''\"\"")

_A_FIGURE = re.compile(
    r"(?<![\w.,])(?P<number>\d+\s*'\s*-?\s*\d+(?:[ -]\d+/\d+)?\s*\""
    r"|\d(?:[\d.,\u202f]*\d)?|\.\d+)"
    r"(?:\s*-?(?P<unit>[^\s\d,;:()]+)(?:\s+(?P<more>[^\s\d,;:()]+))?)?"
)
_A_SLOPE = re.compile(r"\b1\s*(?:in|:)\s*(\d{1,4}(?:\.\d+)?)")
_SO_MUCH_MORE = re.compile(
    r"\b(\d{1,4}(?:\.\d+)?)\s*%\s*(?:more|extra|over|above|to spare|in hand)\b"
)
_EACH = re.compile(r"\b(?:per|each|person|head|sleeper|guest)\b", re.IGNORECASE)
_EVERY = re.compile(r"\b(?:every|each|all|both|any|everyone|everything|fits?)\b", re.IGNORECASE)
_NOT = re.compile(r"\b(?:no|not|none|never|without|except|but)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Figure:
    """A number in a text, and the unit that stands behind it, or nothing."""

    number: str
    unit: str = ""

    @property
    def dimension(self) -> str:
        """What it measures, or nothing where it stands bare."""
        return _DIMENSIONS.get(self.unit, "length" if "'" in self.number else "")


def _spelling(word: str) -> str:
    return re.sub(r"\s+", " ", word).strip().casefold()


_DIMENSIONS = {
    _spelling(name): unit.dimension
    for unit in UNITS
    for name in (unit.symbol, *unit.spellings)
    if name
}


def figures_in(text: str) -> Iterator[Figure]:
    """Yield the numbers of a text, each with its unit where one stands behind it.

    >>> [(f.number, f.unit) for f in figures_in("lasts eleven days for 13, 790 sq ft")]
    [('11', 'days'), ('13', ''), ('790', 'sq ft')]
    """
    plain = text.translate(_PRIMES)
    plain = _A_MANY.sub(lambda word: str(_MANY[word[0].casefold()]), plain)
    for match in _A_FIGURE.finditer(plain):
        unit, more = match["unit"] or "", match["more"] or ""
        said = (_spelling(word).rstrip(".") for word in (f"{unit} {more}", unit) if word.strip())
        known = "" if "'" in match["number"] else next((w for w in said if w in _DIMENSIONS), "")
        yield Figure(match["number"], known)


def _is_of(check: Check, dimension: str, text: str) -> bool:
    scale = check.scales[0]
    if dimension == "share" and scale == COUNT:
        return False
    if dimension == "volume" and scale.dimension == "daily volume":
        return re.search(r"\b(?:person|head|day)\b", text) is not None
    return dimension == scale.dimension


def _fits(check: Check, text: str) -> bool:
    """Whether a text has a figure that the check could give, or none with a unit."""
    if _A_RESISTANCE.search(text) or _A_U_VALUE.search(text):
        return check.slug in U_CHECKS
    dimensions = {figure.dimension for figure in figures_in(text)} - {""}
    return not dimensions or any(_is_of(check, each, text) for each in dimensions)


def checks_named(about: str, wording: str, rooms: Sequence[str] = ()) -> tuple[Check, ...]:
    """Return the checks that a claim's words name: none, one, or more where it isn't plain.

    What it is about is read first, then its wording. Where no check that gives such a figure is
    named, the one that is named stands, so that it can be said why they don't compare.

    >>> [check.slug for check in checks_named("Floor per person", "6 m²")]
    ['floor_per_person']
    >>> [check.slug for check in checks_named("Water and power", "enough")]
    ['water_days', 'power_ratio']
    """
    whole = f"{about}: {wording}"
    unlike: list[Check] = []
    for text in (about, whole):
        left, found = text, []
        for words, also, slug in CLAIM_WORDS:
            match = re.search(rf"\b(?:{words})\b", left, re.IGNORECASE)
            if not match or (also and not re.search(also, whole, re.IGNORECASE)):
                continue
            check = CHECKS[slug]
            if not _fits(check, wording):
                unlike.append(check)
                continue
            left = f"{left[: match.start()]} {left[match.end() :]}"
            found.append(check)
        if found:
            break
    names_room = any(_likeness(name, about) for name in rooms) and not _EACH.search(wording)
    if names_room and (found or unlike) in ([], [CHECKS["floor_area"]]):
        dimensions = [figure.dimension for figure in figures_in(wording)]
        found = [CHECKS[ROOM_FIGURES[d]] for d in dimensions[:1] if d in ROOM_FIGURES]
    return tuple(dict.fromkeys(found or unlike[:1]))


def figure_of(wording: str, check: Check, notation: Notation = PLAIN) -> float | None:
    """Return the figure that a claim asserts in its check's unit [SI], or None.

    A bare number takes the unit in which the studio draws. Of what a check asks of all, the
    figure is how many are said to fall short: none.

    >>> figure_of("under 3.5 kW", CHECKS["heat_loss"])
    3500.0
    >>> round(figure_of("R-18", CHECKS["wall_u"]), 3)
    0.315
    """
    if check.rule is Rule.ALL:
        return 0.0 if _EVERY.search(wording) and not _NOT.search(wording) else None
    if check.slug in U_CHECKS and (match := _A_RESISTANCE.search(wording)):
        resistance = _resistance(match, notation)
        return 1 / resistance if resistance else None
    if check.slug == "ramp_slope" and (match := _A_SLOPE.search(wording)):
        return 1 / float(match[1]) if float(match[1]) else None
    if check.slug == "ramp_length" and re.search(r"\bfits\b", wording):
        return 1.0  # to say that it fits is to say that it is long enough
    if check.slug == "power_ratio" and (match := _SO_MUCH_MORE.search(wording)):
        return 1 + float(match[1]) / 100
    return _only_figure(wording, check, notation)


def crew_of(wording: str) -> int | None:
    """Return by how many people a claim says that something is done, or None.

    >>> crew_of("set up in two hours by two"), crew_of("up by 18:00"), crew_of("with 4, in 2 h")
    (2, None, 4)
    """
    if not (match := _A_CREW.search(wording)):
        return None
    crew = match["crew"].casefold()
    return int(crew) if crew.isdecimal() else _MANY.get(crew, 1)


def _resistance(match: re.Match[str], notation: Notation) -> float | None:
    """Read a resistance: RSI is metric, a dash (R-18) the US way of writing it."""
    unit = match["unit"] or ""
    if _DIMENSIONS.get(_spelling(unit)) == "thermal resistance":
        return _si(Figure(match["number"], unit), RESISTANCE, notation)
    if match["sign"] == "RSI":
        notation = replace(notation, system=System.METRIC)
    elif match["dash"]:
        notation = replace(notation, system=System.US)
    return _si(Figure(match["number"]), RESISTANCE, notation)


def _only_figure(wording: str, check: Check, notation: Notation) -> float | None:
    scale, found = check.scales[0], list(figures_in(wording))
    of_its_kind = [f for f in found if f.dimension and _is_of(check, f.dimension, wording)]
    if not of_its_kind and any(figure.dimension for figure in found):
        return None  # a unit of another kind: the bare number would mislead
    bare = [figure for figure in found if not figure.dimension]
    if len(check.scales) > 1:
        bare = bare[:1]
    values = {_si(figure, scale, notation) for figure in of_its_kind or bare}
    return values.pop() if len(values) == 1 else None


def _si(figure: Figure, scale: Scale, notation: Notation) -> float | None:
    if figure.dimension == "volume" and scale.dimension == "daily volume":
        scale = LITRES  # so many litres a day are so many litres
    try:
        typed = f"{figure.number} {figure.unit}".strip()
        return float(quantities.read(typed, scale, notation).si)
    except Refused:
        return None


_PLAIN_WORDS = {"room", "door", "the", "and", "of", "to", "in", "at", "by", "with", "for"}


def _words(text: str) -> set[str]:
    """Return the words of a name that tell it apart; a single letter is a name as a capital."""
    found = set()
    for word in re.findall(r"\w+", text):
        if len(word) > 1 or word.isdigit() or word.isupper():
            plain = word.casefold()
            found.add(plain.removesuffix("s") if len(plain) > 3 else plain)
    return found - _PLAIN_WORDS


def _likeness(name: str, text: str) -> int:
    return len(_words(name) & _words(text))


def subjects_named(
    measured: Sequence[Measured], about: str, wording: str, subject: str = ""
) -> list[Measured]:
    """Return those of a check's subjects that a claim names, or none where it names none.

    A subject that was chosen is a mark, or words of a name. Else the names are sought in what
    the claim is about, then in its wording.
    """
    if subject:
        by_mark = [m for m in measured if m.subject.casefold() == subject.casefold()]
        return by_mark or _most_like(measured, subject)
    return _most_like(measured, about) or _most_like(measured, wording)


def _most_like(measured: Sequence[Measured], text: str) -> list[Measured]:
    likeness = {m.subject: _likeness(f"{m.subject} {m.name}", text) for m in measured}
    most = max(likeness.values(), default=0)
    return [m for m in measured if most and likeness[m.subject] == most]
