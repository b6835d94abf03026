"""A hut as it is typed, whole enough for its year; each test changes what it looks at."""

from typing import Any

from criteria.package import Package, read_package

Rows = list[dict[str, str]]

HUT: dict[str, Rows] = {
    "site": [
        {
            "latitude": "46.7",
            "altitude_m": "2640",
            "people": "4",
            "fresh_air_l_s": "4",
            "design_inside_c": "16",
            "design_outside_c": "-18",
            "system_factor": "0.76",
        }
    ],
    "rooms": [
        {
            "mark": "R1",
            "room": "Day room",
            "floor_m2": "24",
            "clear_height_m": "2.5",
            "use": "day",
            "depth_m": "4",
            "width_m": "6",
        }
    ],
    "windows": [
        {
            "mark": "W1",
            "room": "R1",
            "n": "2",
            "frame_w": "1200",
            "frame_h": "1000",
            "glass_w": "1000",
            "glass_h": "800",
            "sill": "700",
            "open_share": "0.5",
            "u": "0.9",
            "faces": "S",
            "solar_factor": "0.5",
        }
    ],
    "doors": [
        {
            "mark": "D1",
            "place": "Porch",
            "leaf_w": "1000",
            "height": "2000",
            "u": "1.25",
            "outside": "yes",
            "faces": "N",
        },
        {"mark": "D2", "place": "Inner", "outside": "no"},
    ],
    "envelope": [
        {"part": part, "layer": layer, "mm": mm, "lambda": conducts, "gross_area_m2": area}
        for part, area, layer, mm, conducts in (
            ("wall", "50", "Wood fibre between studs", "160", "0.04"),
            ("wall", "50", "Solid timber panel", "60", "0.13"),
            ("roof", "30", "Wood fibre", "200", "0.04"),
            ("roof", "30", "Solid timber panel", "60", "0.13"),
            ("floor", "28", "Wood fibre", "200", "0.04"),
            ("floor", "28", "Pine boards", "30", "0.13"),
        )
    ],
    "vents": [{"mark": "V1", "room": "R1", "type": "slot vent", "n": "2", "l_s_each": "5"}],
    "occupants": [{"mark": "O1", "who": "Walkers", "n": "4", "sleeps_here": "yes"}],
    "plant": [{"heater": "wood stove", "heat_w": "4000", "timber_kg": "300", "stone_kg": "100"}],
    "loads": [
        {
            "mark": "L1",
            "item": "Lamps",
            "n": "5",
            "w_each": "6",
            "h_day": "4",
            "essential": "yes",
            "when": "evening",
        }
    ],
    "power": [
        {
            "pv_kwp": "1",
            "tilt": "60",
            "battery_kwh": "5",
            "usable_share": "0.8",
            "battery_kind": "lithium iron",
            "battery_stands": "heated",
        }
    ],
    "supports": [{"roof_slope": "30", "roof_faces": "N and S", "clear_under_m": "0.4"}],
}


def hut(**changes: dict[str, str] | Rows) -> Package:
    """Return the hut; a dict changes cells of a first row, a list stands for all rows."""
    tables: dict[str, Any] = {slug: [dict(row) for row in rows] for slug, rows in HUT.items()}
    for slug, change in changes.items():
        if isinstance(change, list):
            tables[slug] = change
        else:
            tables.setdefault(slug, [{}])[0].update(change)
    return read_package(tables).package
