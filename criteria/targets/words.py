"""Read a target that is only written in words: “Day room daylight ratio … not over 22 %”.

A brief that names its checks needs none of this. A table of targets taken from an old brief
has words alone; the table below says which words mean which check, and which rooms.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from criteria.schedules.rooms import LIVED_IN
from criteria.typed import quantities


@dataclass(frozen=True)
class Meaning:
    """What some words were taken to mean; an empty check where they mean none."""

    check: str = ""
    uses: tuple[str, ...] = ()
    not_over: str = ""


CHECK_WORDS: tuple[tuple[str, str], ...] = (
    (r"daylight ratio", "daylight_ratio"),
    (r"openable ratio", "openable_ratio"),
    (r"floor area per person", "floor_per_person"),
    (r"living floor per person", "living_floor_per_person"),
    (r"floor area indoors", "floor_area"),
    (r"floor per sleeper", "floor_per_sleeper"),
    (r"air volume per sleeper", "air_volume_per_sleeper"),
    (r"fresh air per sleeper", "night_air"),
    (r"wall u-value", "wall_u"),
    (r"roof u-value", "roof_u"),
    (r"floor u-value", "floor_u"),
    (r"heat loss", "heat_loss"),
    (r"water days", "water_days"),
    (r"grey tank days|grey days", "grey_days"),
    (r"urine tank days|urine days", "urine_days"),
    (r"solids days", "solids_days"),
    (r"power made", "power_ratio"),
    (r"battery (days )?in the cold", "battery_in_cold"),
    (r"battery days", "battery_days"),
    (r"ramp length", "ramp_length"),
    (r"step-free doors", "step_free_doors"),
    (r"step-free way", "way_step_free"),
    (r"beds .*out of .*sight", "beds_out_of_sight"),
    (r"way to (?:what is used|(?:each |every |the )?(?:seat|worktop)s?)", "way_to_use"),
    (r"way to (?:each |every |the )?bed", "way_to_bed"),
    (r"way .*to the toilet", "way_to_toilet"),
    (r"second way out", "second_way_out"),
    (r"walked (?:from .*)?(?:to outside|out)", "walked_out"),
    (r"circle .*reached", "circle_reached"),
    (r"doors? opens? fully", "doors_open_fully"),
    (r"room before", "room_before"),
    (r"escape windows? .*(?:free|at night)", "escape_at_night"),
    (r"exits .*apart", "exits_apart"),
    (r"ways out", "ways_out"),
    (r"furthest bunk", "furthest_bunk"),
    (r"second exit threshold", "second_exit_threshold"),
    (r"finished floor above datum", "floor_above_datum"),
    (r"every piece within", "piece_envelope"),
    (r"every piece by weight", "piece_mass"),
    (r"number of lifts|^crossings", "lifts"),
    (r"mould|temperature factor", "surface_mould"),
    (r"wetting between|interstitial", "inside_wetting"),
    (r"snow (on|to) each leg", "snow_on_legs"),
    (r"held down|uplift", "held_down"),
    (r"stairs and ladders|loft stair", "loft_stair"),
    (r"inverter", "inverter_start"),
    (r"hot water", "hot_water"),
    (r"fuel (days|lasts)|days (of|that the) fuel", "fuel_days"),
    (r"stove clear|clear of the stove", "stove_clear"),
    (r"exits (beyond|by count)", "exits_by_count"),
    (r"sling (leg|tension)|tension .*sling", "sling_tension"),
    (r"lifting eyes", "lifting_eyes"),
    (r"gross (mass|weight) .*plate|axles and tyres", "gross_on_plate"),
    (r"static stability|goes? over sideways", "static_stability"),
    (r"set[- ]?up time|time to set up", "setup_time"),
    (r"packing time|time to pack", "pack_time"),
    (r"least crew|people to set up", "least_crew"),
    (r"person-hours", "person_hours"),
    (r"heaviest (set-up lift|lift of setting up)", "heaviest_set_up_lift"),
    (r"open to rain", "open_to_rain"),
    (r"stands after (every|each) step|tipping .*step", "steps_stand"),
    (r"order (is )?possible|can move in (the|that) order", "order_possible"),
    (r"stowage per (guest|resident)", "stowage_per_guest"),
    (r"day-to-night change|change of use", "change_of_use"),
    (r"precedents", "precedents"),
)
"""Pattern and check, the first that is found taken."""

ROOM_WORDS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (r"lived-in", LIVED_IN),
    (r"day room|common room|living room", ("day",)),
    (r"kitchen", ("kitchen",)),
    (r"bunk[ -]?room|cabin|bedroom|sleeping room", ("sleep",)),
    (r"\blab\b", ("lab",)),
)
"""Pattern and uses; every one that is found counts."""

_FIGURE = r"(?<![\d.,])(-?\d(?:[\d.,\u202f]*\d)?)"
"""A whole figure, thousands and decimals and all, as a group: never the end of another."""

FIGURE_WORDS: tuple[tuple[str, str], ...] = (
    (r"\((\d+) people\)", "people"),
    (r"\bcrew of (\d+)", "crew"),
    (rf"water days.*?{_FIGURE} L per person-day", "water_l_pd"),
    (rf"grey tank days.*?{_FIGURE} L per person-day", "grey_l_pd"),
    (rf"urine tank days.*?{_FIGURE} L per person-day", "urine_l_pd"),
    (rf"solids days.*?{_FIGURE} L per person-day", "solids_l_pd"),
    (rf"at {_FIGURE} C out", "design_outside_c"),
    (rf"{_FIGURE} C in\b", "design_inside_c"),
    (rf"{_FIGURE} sun-hours", "sun_hours"),
    (rf"sun-hours, {_FIGURE}", "system_factor"),
    (rf"{_FIGURE} Wh/m3K air", "air_wh_m3k"),
    (rf"storm tide \+?{_FIGURE} m\b", "flood_m"),
    (rf"air at {_FIGURE} m\b", "altitude_m"),
    (r"power used in ([A-Z][a-z]{2})|power made / used in ([A-Z][a-z]{2})", "design_month"),
    (rf"every piece within {_FIGURE} x [\d.,]+ x [\d.,]+ m\b", "piece_l_m"),
    (rf"every piece within [\d.,]+ x {_FIGURE} x [\d.,]+ m\b", "piece_w_m"),
    (rf"every piece within [\d.,]+ x [\d.,]+ x {_FIGURE} m\b", "piece_h_m"),
)
"""Pattern and head of the site sheet, for figures that a brief only says in its targets."""


VALUE_WORDS: tuple[tuple[str, str], ...] = ((r"fresh air per sleeper", "fresh_air_l_s"),)
"""Pattern and head of the site sheet, where the target's own value is that figure too."""


def meaning_of(words: str, note: str = "") -> Meaning:
    """Return what the words of a target mean.

    >>> meaning_of("Kitchen daylight ratio")
    Meaning(check='daylight_ratio', uses=('kitchen',), not_over='')
    >>> meaning_of("Day room daylight ratio", "not over 22 %").not_over
    '22 %'
    """
    folded = words.casefold()
    check = next((slug for pattern, slug in CHECK_WORDS if re.search(pattern, folded)), "")
    found = [use for pattern, uses in ROOM_WORDS if re.search(pattern, folded) for use in uses]
    return Meaning(check, tuple(dict.fromkeys(found)), _upper_bound(note))


def _upper_bound(note: str) -> str:
    over = re.search(rf"not over {_FIGURE}\s*(\S*)", note)
    if over is None:
        return ""
    unit = over[2].rstrip(".,;:)")
    return f"{over[1]} {unit}".strip() if quantities.is_unit(unit) else over[1]


def uses_in(words: str) -> tuple[str, ...]:
    """Return the uses of rooms that words name.

    >>> uses_in("Openable ratio, day room and kitchen")
    ('day', 'kitchen')
    """
    folded = words.casefold()
    found = [use for pattern, uses in ROOM_WORDS if re.search(pattern, folded) for use in uses]
    return tuple(dict.fromkeys(found))


def figures_in(words: str) -> dict[str, str]:
    """Return figures of the site sheet that the words of a target give.

    >>> figures_in("Floor area per person (13 people)")
    {'people': '13'}
    """
    found = {}
    for pattern, head in FIGURE_WORDS:
        if match := re.search(pattern, words, re.IGNORECASE):
            found[head] = next(group for group in match.groups() if group)
    return found


def figures_of(record: Mapping[str, str]) -> dict[str, str]:
    """Return figures of the site sheet that a typed target gives, in words or as its value.

    >>> figures_of({"what": "Night fresh air per sleeper", "value": "4.0", "unit": "L/s"})
    {'fresh_air_l_s': '4.0 L/s'}
    """
    words = f"{record.get('what') or ''} {record.get('note') or ''}"
    found = figures_in(words)
    for pattern, head in VALUE_WORDS:
        if re.search(pattern, words, re.IGNORECASE) and record.get("value"):
            found[head] = f"{record['value']} {record.get('unit') or ''}".strip()
    return found
