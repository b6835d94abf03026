"""Draft a scheme: sizes that a student might have drawn, near some headline figures."""

import math
from collections.abc import Iterable
from typing import Any

from criteria.targets.reading import Target, read_targets
from reviews.demo import arranging, furnishing
from reviews.demo.tables import Rows, climate_of, read_csv

SIX_DOORS, LONG_SLOT = "E07", "E10"
"""Schemes whose names promise a front door for each resident, and one long opening."""


class Cohort:
    """What one brief asks, in the figures that the generator needs."""

    def __init__(self, letter: str) -> None:
        self.letter = letter
        self.is_hut = letter == "H"
        self.site = next(row for row in read_csv("site") if row["cohort"] == letter)
        self.climate = climate_of(self.site)
        self.people = int(self.site["people"])
        lines = [row for row in read_csv("targets") if row["cohort"] == letter]
        self.targets: tuple[Target, ...] = read_targets(lines).targets


def draft(number: str, told: dict[str, float], cohort: Cohort, slips: set[str]) -> dict[str, Rows]:
    """Return every schedule of a scheme that makes some slips."""
    rooms = _rooms(told, cohort)
    lying = arranging.arrange(number, rooms)
    doors = arranging.hung(number, _doors(number, rooms, cohort, slips), rooms, lying)
    windows = arranging.glazed(_windows(number, rooms, told, cohort, slips), lying, doors)
    climbs = arranging.climbs(rooms, lying)
    loads, single = _power(number, told, cohort, slips)
    return {
        "rooms": arranging.placed(rooms, lying, windows),
        "climbs": climbs,
        "furniture": furnishing.furnish(number, rooms, lying, doors, climbs),
        "occupants": _occupants(cohort),
        "windows": windows,
        "vents": _vents(rooms, cohort, slips),
        "envelope": _envelope(rooms, windows, doors, told, cohort, slips, single),
        "doors": doors,
        "tanks": _tanks(told, cohort, slips),
        "loads": loads,
        "pieces": _pieces(told, cohort, slips),
        "stowage": _stowage(told, cohort),
        "moves": _moves(slips),
        "precedents": _precedents(number, slips),
        "single_values": [single],
    }


def _rooms(told: dict[str, float], cohort: Cohort) -> Rows:
    total = round(told["floor m²/p"] * cohort.people, 1)
    if cohort.is_hut:
        each = told["bunk floor m²/p"]
        kept = [
            ("Boot porch", "circulation", round(total * 0.08, 1), 0),
            ("Kitchen", "kitchen", round(total * 0.09, 1), 0),
            ("Bunk room A", "sleep", round(each * 8, 1), 8),
            ("Bunk room B", "sleep", round(each * 4 + 0.04, 1), 4),
            ("Warden", "sleep", 5.6, 1),
            ("Dry toilet", "wc", 3.4, 0),
            ("Plant and store", "plant", round(total * 0.05, 1), 0),
        ]
        lead = ("Day room", "day")
    else:
        each = round(told["cabin floor m²/p"] * 2, 1)
        kept = [
            ("Wet entry", "circulation", round(total * 0.08, 1), 0),
            ("Wet lab", "lab", round(total * 0.16, 1), 0),
            *((f"Cabin {n}", "sleep", each, 2) for n in (1, 2, 3)),
            ("Shower", "wc", round(total * 0.04, 1), 0),
            ("Dry toilet", "wc", round(total * 0.03, 1), 0),
            ("Plant", "plant", round(total * 0.06, 1), 0),
        ]
        each = told["cabin floor m²/p"]
        lead = ("Common room", "day")
    rest = round(total - sum(floor for _, _, floor, _ in kept), 1)
    volume = 5.25 if cohort.is_hut else 10.3
    height = round(min(3.0, max(2.4, volume / each)), 2)
    everything = [kept[0], (*lead, rest, 0), *kept[1:]]
    heights = {"sleep": height, "day": height}
    lines = [
        (name, floor, heights.get(use, 2.4), use, sleepers, 0, "floor" if sleepers else "")
        for name, use, floor, sleepers in everything
    ]
    heads = "room floor_m2 clear_height_m use sleepers low_headroom_m2 reached_by"
    return _marked("R", heads, lines)


def _marked(letter: str, heads: str, lines: Iterable[tuple[Any, ...]]) -> Rows:
    """Return the rows of a schedule, marked from one."""
    return [
        {"mark": f"{letter}{n}", **dict(zip(heads.split(), line, strict=True))}
        for n, line in enumerate(lines, start=1)
    ]


def _occupants(cohort: Cohort) -> Rows:
    if cohort.is_hut:
        groups = [("Walkers", 9, 0), ("Early starters", 2, 0)]
        groups += [("Walker who can't climb", 1, 1), ("Warden", 1, 0)]
    else:
        groups = [("Residents", 5, 0), ("Resident who can't climb", 1, 1)]
    lines = [(who, count, "yes", step_free, "") for who, count, step_free in groups]
    return _marked("O", "who n sleeps_here step_free note", lines)


def _windows(
    number: str, rooms: Rows, told: dict[str, float], cohort: Cohort, slips: set[str]
) -> Rows:
    low = "light" in slips
    wanted = {
        "day": told["day-room light %" if cohort.is_hut else "common light %"],
        "kitchen": 6.4 if "kitchen" in slips else 9.2,
        "sleep": (4.1 if low else 5.7) if cohort.is_hut else (6.6 if low else 8.6),
        "lab": told.get("lab light %", 0),
    }
    share = {"kitchen": 0.35, "lab": 0.2} if "openable" in slips else {}
    faces = {"day": "S", "kitchen": "E", "sleep": "N", "lab": "N"}
    lines = []
    for room in rooms:
        use = room["use"]
        if use not in wanted:
            continue
        glass = wanted[use] / 100 * room["floor_m2"]
        is_slot = number == LONG_SLOT and use == "day"
        n = 2 if is_slot else max(1, math.ceil(glass / 1.6))
        high = 480 if is_slot else 1040 if glass / n > 0.6 else 640
        wide = max(200, round(glass / n / high * 1e6))
        sizes = (wide + 160, high + 160, wide, high, 750 if use == "day" else 1050)
        opening = ("side-hung", share.get(use, 0.9), 0.9 if cohort.is_hut else 1.1, faces[use])
        lines.append((room["mark"], n, *sizes, *opening))
    return _marked(
        "W", "room n frame_w frame_h glass_w glass_h sill opens open_share u faces", lines
    )


def _vents(rooms: Rows, cohort: Cohort, slips: set[str]) -> Rows:
    asked = float(cohort.site["fresh_air_l_s"])
    each = asked * (0.75 if "air" in slips else 1.1)
    lines = [
        (room["mark"], "wall vent", 1, round(each * room["sleepers"], 1))
        for room in rooms
        if room["use"] == "sleep"
    ]
    return _marked("V", "room type n l_s_each", lines)


def _envelope(
    rooms: Rows,
    windows: Rows,
    doors: Rows,
    told: dict[str, float],
    cohort: Cohort,
    slips: set[str],
    single: dict[str, Any],
) -> Rows:
    """Lay up wall, roof and floor; the wall's area, then the recovery, meets the told loss."""
    floor = sum(room["floor_m2"] for room in rooms)
    thick = {
        "wall": 170 if "wall" in slips else 215,
        "roof": 210 if "roof" in slips else 260,
        "floor": 170 if "floor_u" in slips else 225,
    }
    fixed = {"wall": 0.17 + 0.06 / 0.13, "roof": 0.14 + 0.06 / 0.13, "floor": 0.21 + 0.045 / 0.13}
    u = {part: 1 / (fixed[part] + mm / 1000 / 0.04) for part, mm in thick.items()}
    glass = sum(w["n"] * w["frame_w"] * w["frame_h"] / 1e6 for w in windows)
    more = sum(d["leaf_w"] * d["height"] / 1e6 for d in doors if d["role"] == "other exit")
    outside = (3.9 if cohort.is_hut else 4.2) + more
    through = 1.1 * (
        u["roof"] * floor * 1.07 + u["floor"] * floor + windows[0]["u"] * glass + 1.2 * outside
    )
    volume = sum(room["floor_m2"] * room["clear_height_m"] for room in rooms)
    flow = max(0.5 * volume, 3.6 * float(cohort.site["fresh_air_l_s"]) * cohort.people)
    air = flow * float(cohort.site["air_wh_m3k"])
    across = float(cohort.site["design_inside_c"]) - float(cohort.site["design_outside_c"])
    asked = told["heat loss w"] / across
    recovery = 0.0
    net = (asked - through - air) / (1.1 * u["wall"])
    if net < 75:
        recovery = round(min(0.85, 1 - (asked - through - 1.1 * u["wall"] * 90) / air), 2)
        net = (asked - through - air * (1 - recovery)) / (1.1 * u["wall"])
    single["hrv_as_typed"] = recovery
    gross = round(min(185, max(60, net)) + glass + outside, 1)
    covers = {"wall": gross, "roof": round(floor * 1.07, 1), "floor": round(floor, 1)}
    layers = [
        ("wall", "Wood fibre between studs", thick["wall"], 0.04),
        ("wall", "Solid timber panel", 60, 0.13),
        ("roof", "Wood fibre between rafters", thick["roof"], 0.04),
        ("roof", "Solid timber panel", 60, 0.13),
        ("floor", "Larch boards", 27, 0.13),
        ("floor", "Wood fibre between joists", thick["floor"], 0.04),
        ("floor", "Underside plywood", 18, 0.13),
    ]
    heads = ("part", "layer", "mm", "lambda", "gross_area_m2")
    return [dict(zip(heads, (*layer, covers[layer[0]]), strict=True)) for layer in layers]


def _doors(number: str, rooms: Rows, cohort: Cohort, slips: set[str]) -> Rows:
    clear = 790 if "door" in slips else 830
    high = _bridge_mm(slips) if cohort.is_hut else 20
    leaf = 900 if cohort.is_hut else 1000
    lines = [
        ("Main, from the porch", 1000, 905, 2100, 1.2, "yes", 20, "main exit"),
        ("Second way out", leaf, 820, 2000, 1.2, "yes", high, "second exit"),
        ("Day room", 900, 840, 2050, "", "no", 0, "internal"),
        ("Dry toilet", 900, clear, 2050, "", "no", 0, "internal"),
    ]
    if number == SIX_DOORS:
        cabins = [room["room"] for room in rooms if room["use"] == "sleep"]
        front = (850, 780, 2000, 1.2, "yes", 20, "other exit")
        lines += [(cabin, *front) for cabin in cabins for _ in range(2)]
    return _marked("D", "place leaf_w clear_w height u outside threshold_mm role", lines)


def _bridge_mm(slips: set[str]) -> int:
    """Return how high the hut's second way out lies over the snow."""
    return 2000 if "threshold" in slips else 2300


def _tanks(told: dict[str, float], cohort: Cohort, slips: set[str]) -> Rows:
    site, people = cohort.site, cohort.people
    wanted = (5.0, 14.0, 60.0) if cohort.is_hut else (7.0, 21.0, 90.0)
    potable = told["water days"] * people * float(site["water_l_pd"]) / 0.92
    rows = [("potable", round(potable / 20) * 10, 0.92, "plant room, heated")] * 2
    for holds, days in zip(("grey", "urine", "solids"), wanted, strict=True):
        share = 0.9 if holds == "solids" else 0.95
        held = days * people * float(site[f"{holds}_l_pd"]) / share
        factor = 0.86 if holds in slips else 1.06
        rows.append((holds, math.ceil(held * factor / 5) * 5, share, "under the floor, insulated"))
    return _marked("T", "holds litres usable_share place", rows)


def _power(
    number: str, told: dict[str, float], cohort: Cohort, slips: set[str]
) -> tuple[Rows, dict[str, Any]]:
    items = [
        (row["item"], row["n"] or cohort.people, row["w_each"], row["h_day"])
        for row in read_csv("drafted_loads")
        if cohort.letter in row["cohorts"]
    ]
    used = sum(int(n) * float(watts) * float(hours) for _, n, watts, hours in items)
    site = cohort.site
    yield_wh = 1000 * float(site["sun_hours"]) * float(site["system_factor"])
    wind = 0 if cohort.is_hut else 1600
    panels = (told["power ratio"] * used - wind) / yield_wh
    battery = used * (2.6 if "battery" in slips else 3.15) / 0.85 / 1000
    rise = 400 + int(number[1:]) % 5 * 20 if cohort.is_hut else 1400
    runs = math.ceil(rise / 760)
    need = rise * 12 + (runs + 1) * 1525
    drawn = round(told["ramp ratio"] * need / 10) * 10
    single = {
        "hrv_as_typed": 0,
        "pv_kwp": round(panels, 2),
        "tilt": 70 if cohort.is_hut else 60,
        "battery_kwh": round(battery, 1),
        "usable_share": 0.85,
        "sun_hours_on_sheet": site["sun_hours"],
        "wind_wh": wind,
        "rise_mm": rise,
        "slope_drawn": 12,
        "ramp_drawn_mm": drawn,
        "landings_drawn": runs + 1 if drawn else 0,
        "furthest_m": (16.2 if cohort.is_hut else 13.1) if "travel" in slips else 11.2,
        "ways_out": 1 if "ways" in slips else 2,
        "second_exit_threshold_mm": _bridge_mm(slips) if cohort.is_hut else 0,
    }
    return _marked("L", "item n w_each h_day", items), single


def _pieces(told: dict[str, float], cohort: Cohort, slips: set[str]) -> Rows:
    """Share the loads out among the kinds of piece; the last kind has the rest."""
    total = rest = int(told["lifts" if cohort.is_hut else "crossings"])
    lines = []
    for row in read_csv("drafted_pieces"):
        if row["cohort"] == cohort.letter:
            n = max(1, round(total * float(row["share"])) if row["share"] else rest)
            rest -= n
            is_roof = row["piece"].startswith("Roof")
            long = float(row["l_m"]) + (0.9 if is_roof and "size" in slips else 0)
            mass = row["kg_slip" if is_roof and "weight" in slips else "kg_each"]
            lines.append((row["piece"], n, long, row["w_m"], row["h_m"], mass))
    return _marked("M", "piece n l_m w_m h_m kg_each", lines)


def _stowage(told: dict[str, float], cohort: Cohort) -> Rows:
    guests = int(cohort.site["guests"])
    each = told["stowage l"]
    lines = [
        ("Locker at the bunk", guests, round(each * 0.6), "guest"),
        ("Shelf and net", guests, round(each) - round(each * 0.6), "guest"),
        ("Hooks in the porch", guests + 2, 0, "wet gear"),
        ("Boot rack", guests + 2, 0, "boots"),
    ]
    return _marked("S", "what n l_each for also_used_as", [(*line, "") for line in lines])


def _moves(slips: set[str]) -> Rows:
    long = 150 if "change" in slips else 45
    lines = [
        ("Tables", "out", "folded to the wall", 1, 9, long),
        ("Bench lids", "seat", "bed", 1, 6, 50),
    ]
    return _marked("X", "item from to people kg s", lines)


def _precedents(number: str, slips: set[str]) -> Rows:
    n = int(number[1:])
    studied = [tuple(row.values()) for row in read_csv("studied")]
    broken = [row for row in studied if row[1].startswith("failed")]
    usual = [row for row in studied if row not in broken]
    first = usual[:1] if n % 2 else []
    rest = [usual[1 + (n + k) % (len(usual) - 1)] for k in range(3 if first else 4)]
    chosen = [*first, *rest[: 3 - len(first)], broken[n % len(broken)]]
    if "precedents" in slips:
        chosen = chosen[:-1]
    return _marked("P", "building outcome lesson sheet", chosen)
