"""Windows: glass, frame, what opens and where each faces."""

from criteria.typed.columns import count, mark, quantity, reference, word
from criteria.typed.rows import Row, schedule
from criteria.units import ANGLE, LENGTH, RESISTANCE, ROOM_LENGTH, SHARE, U_VALUE

OPENINGS = (
    "fixed",
    "side-hung",
    "tilt-and-turn",
    "top-hung",
    "bottom-hung",
    "half side-hung",
    "sliding",
    "pivot",
    "roof light",
    "louvre",
)
"""How a window opens; a roof light that doesn't open has an open share of 0."""
ALSO_SAID = (
    ("casement", "side-hung"),
    ("awning", "top-hung"),
    ("hopper", "bottom-hung"),
    ("slider", "sliding"),
    ("double-hung", "sliding"),
    ("single-hung", "sliding"),
    ("jalousie", "louvre"),
    ("skylight", "roof light"),
    ("picture", "fixed"),
)
"""What people call the same. Common practice."""

CLEAR_DOUBLE = 0.7
"""Transmittance of clear double glass, for light from all sides [1]. BRE practice, quoted."""
KEPT = 0.9
"""Part of the light that dirt leaves on upright glass [1]. BRE practice, quoted."""

BEARINGS_DEG = {"N": 0, "NE": 45, "E": 90, "SE": 135, "S": 180, "SW": 225, "W": 270, "NW": 315}
"""Bearing of an upright face, clockwise from north [°]."""

FACES = (*BEARINGS_DEG, "up")

BLINDS = ("none", "outside", "inside")
"""Where a blind hangs that somebody draws on hot sunny hours."""


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
    """One window, or several alike."""

    mark: str = mark()
    room: str = reference("room", "rooms", required=True, eg="R2").says(
        "Mark of the room it lights."
    )
    n: int = count("n", "No.", within=(1, 200), eg="2").says("How many alike.")
    frame_w_m: float = quantity("frame_w", LENGTH, within=(0.05, 12), eg="1400").says(
        "Outside width of the frame."
    )
    frame_h_m: float = quantity("frame_h", LENGTH, within=(0.05, 12), eg="1200").says(
        "Outside height of the frame."
    )
    glass_w_m: float = quantity("glass_w", LENGTH, within=(0.01, 12), eg="1240").says(
        "Width of clear glass, frame and bars left out."
    )
    glass_h_m: float = quantity("glass_h", LENGTH, within=(0.01, 12), eg="1040").says(
        "Height of clear glass."
    )
    sill_m: float = quantity("sill", LENGTH, within=(0, 9), eg="700").says(
        "Finished floor to the underside of the glass."
    )
    opens: str | None = word("opens", OPENINGS, eg="side-hung", also=ALSO_SAID).says(
        "How it opens; the open share is what counts.", blank=None
    )
    open_share: float = quantity("open_share", SHARE, within=(0, 1), eg="0.9").says(
        "Part of the glass area that opens clear: 0 if fixed, 0.9 for a full casement."
    )
    u_w_m2k: float = quantity("u", U_VALUE, within=(0.2, 7), eg="0.85").says(
        "Whole window, frame included."
    )
    faces: str = word("faces", FACES, eg="S").says("The way you look out.")
    transmittance: float = quantity(
        "transmittance", SHARE, "Light transmittance", within=(0.01, 0.95), eg="0.7"
    ).says(
        "Of the glass: 0.8 clear single, 0.7 clear double, 0.6 triple; blank is clear double.",
        blank=CLEAR_DOUBLE,
    )
    solar_factor: float = quantity("solar_factor", SHARE, within=(0.05, 0.92), eg="0.5").says(
        "Part of the sun's heat that comes in, g or SHGC."
    )
    sun_share: float = quantity("sun_share", SHARE, "Sun let past", within=(0, 1), eg="1").says(
        "Part of the sun at the hottest hour that eaves, fins or a shutter outside let reach the "
        "glass; blank is 1, no shade.",
        blank=1.0,
    )
    left_m: float | None = quantity("left", LENGTH, "From the left", within=(0, 30)).says(
        "Left end of the wall, seen from inside, to the glass; blank spreads them over what is "
        "free.",
        blank=None,
    )
    gap_m: float | None = quantity("gap", LENGTH, "Glass to glass", within=(0, 30)).says(
        "From the glass of one to that of the next alike; blank spreads them between equal ends.",
        blank=None,
    )
    from_wall_m: float | None = quantity(
        "from_wall", LENGTH, "From the lower wall", within=(0, 30)
    ).says(
        "Roof lights only: from the wall at the foot of the plan to the glass; left is then the "
        "plan's left. Blank is in the middle.",
        blank=None,
    )
    shutter_m2k_w: float = quantity(
        "shutter_r", RESISTANCE, "Shutter adds", within=(0, 5), eg="0.25"
    ).says(
        "Resistance that a closed shutter or blind adds at night, its air space with it; blank is "
        "none.",
        blank=0.0,
    )
    kept_share: float = quantity("kept", SHARE, "Light kept", within=(0.3, 1), eg="0.9").says(
        "Part of its light that dirt leaves; blank is 0.9.", blank=KEPT
    )
    sky_deg: float = quantity("sky_angle", ANGLE, within=(0, 180), eg="90").says(
        "Sky seen from its centre; blank is all of it, 90 of a window in a wall and 180 of a roof "
        "light.",
        blank=_all_the_sky,
    )
    outside_m: float | None = quantity(
        "outside", ROOM_LENGTH, "To what stands outside", within=(0.1, 9000)
    ).says("From the wall to what cuts the sky off; blank is far away.", blank=None)
    escape_w_m: float = quantity("escape_w", LENGTH, "Clear opening w", within=(0.05, 6)).says(
        "Net clear width when it is fully open."
    )
    escape_h_m: float = quantity("escape_h", LENGTH, "Clear opening h", within=(0.05, 6)).says(
        "Net clear height when it is fully open."
    )
    bearing_deg: float | None = quantity("bearing", ANGLE, within=(0, 360), eg="170").says(
        "Of the way you look out, clockwise from north; blank is that of the letters.", blank=None
    )
    tilt_deg: float | None = quantity("tilt", ANGLE, within=(0, 90), eg="90").says(
        "Of the glass above the horizontal; blank is 90 in a wall and the slope of the roof in a "
        "roof.",
        blank=None,
    )
    overhang_m: float = quantity("overhang", LENGTH, within=(0, 6), eg="600").says(
        "How far eaves stand out above it, from the glass; blank is none.", blank=0.0
    )
    overhang_up_m: float = quantity("overhang_up", LENGTH, within=(0, 9), eg="300").says(
        "From the top of the glass up to the underside of those eaves; blank is none.", blank=0.0
    )
    fins_m: float = quantity("fins", LENGTH, "Fins", within=(0, 6)).says(
        "How far walls or fins stand out on both sides, from the glass; blank is none.", blank=0.0
    )
    fins_off_m: float = quantity("fins_off", LENGTH, "Fins off the glass", within=(0, 9)).says(
        "From the glass sideways to them; blank is none.", blank=0.0
    )
    reveal_m: float = quantity("reveal", LENGTH, within=(0, 2), eg="120").says(
        "How far the glass lies behind the outer face of the wall; blank is none.", blank=0.0
    )
    blind: str = word("blind", BLINDS, eg="outside").says(
        "Drawn by somebody in strong sun when it is hot: 0.4 of the heat passes one outside, 0.7 "
        "one inside; blank is none.",
        blank="none",
    )

    @property
    def is_fixed(self) -> bool:
        """Whether it is said not to open."""
        return self.opens == "fixed"

    @property
    def is_rooflight(self) -> bool:
        """Whether it lies in the roof, by how it opens or the way it looks."""
        return self.opens == "roof light" or self.unless_blank("faces") == "up"
