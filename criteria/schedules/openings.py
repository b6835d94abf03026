"""Windows: glass, frame, what opens and where each faces."""

from criteria.typed.columns import count, mark, quantity, reference, word
from criteria.typed.rows import Row, schedule
from criteria.units import ANGLE, LENGTH, RESISTANCE, ROOM_LENGTH, SHARE, U_VALUE

OPENINGS = (
    "fixed", "side-hung", "tilt-and-turn", "top-hung", "bottom-hung", "half side-hung",
    "sliding", "pivot", "roof light", "louvre",
)  # fmt: skip
"""How a window opens; a roof light that doesn't open has an open share of 0."""

CLEAR_DOUBLE = 0.7
"""Transmittance of clear double glass, for light from all sides [1]. BRE practice, quoted."""
KEPT = 0.9
"""Part of the light that dirt leaves on upright glass [1]. BRE practice, quoted."""

BEARINGS_DEG = {"N": 0, "NE": 45, "E": 90, "SE": 135, "S": 180, "SW": 225, "W": 270, "NW": 315}
"""Bearing of an upright face, clockwise from north [°]."""

FACES = (*BEARINGS_DEG, "up")


def _all_the_sky(row: "Window") -> float:
    """What a blank sky angle means: nothing stands outside [°]."""
    return 180.0 if row.is_rooflight else 90.0


@schedule(
    "windows",
    "Window schedule",
    mark_prefix="W",
    purpose="Every window with clear glass and frame apart. Daylight and opening air are "
    "counted from the glass.",
)
class Window(Row):
    """One window, or several alike.

    n                      how many alike [no.]
    frame_w_m, frame_h_m   outside of the frame [m]
    glass_w_m, glass_h_m   clear glass between beads [m]
    sill_m                 finished floor to the underside of the glass [m]
    open_share             part of the glass area that opens clear [1]
    u_w_m2k                whole-window U-value [W/m²K]
    left_m, gap_m          to the first glass, and from glass to glass of those alike [m]
    from_wall_m            of a roof light: from the plan's lower wall to the glass [m]
    outside_m              outer face of the wall to what stands before it; None is far [m]
    sun_share              part of the sun that its shade lets past [1]
    """

    mark: str = mark()
    room: str = reference(
        "room", "Room", "rooms", "Mark of the room it lights.", required=True, example="R2"
    )
    n: int = count("n", "No.", "How many alike.", least=1, most=200, example="2")
    frame_w_m: float = quantity(
        "frame_w", "Frame w", LENGTH, "Outside width of the frame.",
        least=0.05, most=12, example="1400",
    )  # fmt: skip
    frame_h_m: float = quantity(
        "frame_h", "Frame h", LENGTH, "Outside height of the frame.",
        least=0.05, most=12, example="1200",
    )  # fmt: skip
    glass_w_m: float = quantity(
        "glass_w", "Glass w", LENGTH, "Width of clear glass, frame and bars left out.",
        least=0.01, most=12, example="1240",
    )  # fmt: skip
    glass_h_m: float = quantity(
        "glass_h", "Glass h", LENGTH, "Height of clear glass.",
        least=0.01, most=12, example="1040",
    )  # fmt: skip
    sill_m: float = quantity(
        "sill", "Sill", LENGTH, "Finished floor to the underside of the glass.",
        least=0, most=9, example="700",
    )  # fmt: skip
    opens: str | None = word(
        "opens", "Opens", OPENINGS, "How it opens; the open share is what counts.", blank=None,
        example="side-hung",
    )  # fmt: skip
    open_share: float = quantity(
        "open_share", "Open share", SHARE,
        "Part of the glass area that opens clear: 0 if fixed, 0.9 for a full casement.",
        least=0, most=1, example="0.9",
    )  # fmt: skip
    u_w_m2k: float = quantity(
        "u", "U", U_VALUE, "Whole window, frame included.", least=0.2, most=7, example="0.85"
    )
    faces: str = word("faces", "Faces", FACES, "The way you look out.", example="S")
    transmittance: float = quantity(
        "transmittance", "Light transmittance", SHARE,
        "Of the glass: 0.8 clear single, 0.7 clear double, 0.6 triple; blank is clear double.",
        least=0.01, most=0.95, blank=CLEAR_DOUBLE, example="0.7",
    )  # fmt: skip
    solar_factor: float = quantity(
        "solar_factor", "Solar factor", SHARE, "Part of the sun's heat that comes in, g or SHGC.",
        least=0.05, most=0.92, example="0.5",
    )  # fmt: skip
    sun_share: float = quantity(
        "sun_share", "Sun let past", SHARE,
        "Part of the sun at the hottest hour that eaves, fins or a shutter outside let reach the "
        "glass; blank is 1, no shade.",
        least=0, most=1, blank=1.0, example="1",
    )  # fmt: skip
    left_m: float | None = quantity(
        "left", "From the left", LENGTH, "Left end of the wall, seen from inside, to the glass; "
        "blank spreads them over what is free.", least=0, most=30, blank=None,
    )  # fmt: skip
    gap_m: float | None = quantity(
        "gap", "Glass to glass", LENGTH, "From the glass of one to that of the next alike; blank "
        "spreads them between equal ends.", least=0, most=30, blank=None,
    )  # fmt: skip
    from_wall_m: float | None = quantity(
        "from_wall", "From the lower wall", LENGTH, "Roof lights only: from the wall at the foot "
        "of the plan to the glass; left is then the plan's left. Blank is in the middle.",
        least=0, most=30, blank=None,
    )  # fmt: skip
    shutter_m2k_w: float = quantity(
        "shutter_r", "Shutter adds", RESISTANCE, "Resistance that a closed shutter or blind adds "
        "at night, its air space with it; blank is none.", least=0, most=5, blank=0.0,
        example="0.25",
    )  # fmt: skip
    kept_share: float = quantity(
        "kept", "Light kept", SHARE, "Part of its light that dirt leaves; blank is 0.9.",
        least=0.3, most=1, blank=KEPT, example="0.9",
    )  # fmt: skip
    sky_deg: float = quantity(
        "sky_angle", "Sky angle", ANGLE, "Sky seen from its centre; blank is all of it, 90 "
        "of a window in a wall and 180 of a roof light.", least=0, most=180, blank=_all_the_sky,
        example="90",
    )  # fmt: skip
    outside_m: float | None = quantity(
        "outside", "To what stands outside", ROOM_LENGTH, "From the wall to what cuts the sky off; "
        "blank is far away.", least=0.1, most=9000, blank=None,
    )  # fmt: skip
    escape_w_m: float = quantity(
        "escape_w", "Clear opening w", LENGTH, "Net clear width when it is fully open.", least=0.05,
        most=6,
    )  # fmt: skip
    escape_h_m: float = quantity(
        "escape_h", "Clear opening h", LENGTH, "Net clear height when it is fully open.",
        least=0.05, most=6,
    )  # fmt: skip

    @property
    def is_fixed(self) -> bool:
        """Whether it is said not to open."""
        return self.opens == "fixed"

    @property
    def is_rooflight(self) -> bool:
        """Whether it lies in the roof, by how it opens or the way it looks."""
        return self.opens == "roof light" or self.unless_blank("faces") == "up"
