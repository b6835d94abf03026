"""A box of one room whose heat is worked out by hand in the tests of envelope, heat, cooling."""

BUNKS = {"mark": "R1", "room": "Bunks", "use": "sleep", "floor_m2": "20", "clear_height_m": "2.5",
         "sleepers": "4", "depth_m": "5"}  # fmt: skip
SITE = {
    "people": "4",
    "fresh_air_l_s": "4",
    "design_outside_c": "-10",
    "design_inside_c": "20",
    "altitude_m": "0",
    "air_wh_m3k": "0.33",
}
# A box of one room by hand: wall 100 m² gross less 4 m² of window and 2 m² of door.
BOX = {
    "rooms": BUNKS,
    "windows": {"mark": "W1", "room": "R1", "n": "2", "frame_w": "1000", "frame_h": "2000",
                "glass_w": "900", "glass_h": "1800", "u": "1.0", "solar_factor": "0.5",
                "faces": "S"},
    "doors": {"mark": "D1", "place": "Porch", "leaf_w": "1000", "height": "2000", "u": "1.5",
              "outside": "yes"},
    "envelope": [
        {"part": "wall", "layer": "Batt", "mm": "166", "lambda": "0.04", "gross_area_m2": "100"},
        {"part": "roof", "layer": "Batt", "mm": "194.4", "lambda": "0.04", "gross_area_m2": "20"},
        {"part": "floor", "layer": "Batt", "mm": "151.6", "lambda": "0.04", "gross_area_m2": "20"},
    ],
    "site": SITE,
}  # fmt: skip
