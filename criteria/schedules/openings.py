"""Windows: glass, frame, what opens and where each faces."""

from criteria.columns import count, mark, quantity, reference, schedule, word
from criteria.units import LENGTH, SHARE, U_VALUE

OPENINGS = (
    "fixed", "side-hung", "tilt-and-turn", "top-hung", "bottom-hung", "half side-hung",
    "sliding", "pivot", "roof light", "louvre",
)  # fmt: skip
"""How a window opens; a roof light that doesn't open has an open share of 0."""

FACES = ("N", "NE", "E", "SE", "S", "SW", "W", "NW", "up")


@schedule(
    "windows",
    "Window schedule",
    mark_prefix="W",
    purpose="Every window with clear glass and frame apart. Daylight and opening air are "
    "counted from the glass.",
)
class Window:
    """One window, or several alike.

    n                      how many alike [no.]
    frame_w_m, frame_h_m   outside of the frame [m]
    glass_w_m, glass_h_m   clear glass between beads [m]
    sill_m                 finished floor to the underside of the glass [m]
    open_share             part of the glass area that opens clear [1]
    u_w_m2k                whole-window U-value [W/m²K]
    """

    mark: str = mark()
    room: str | None = reference(
        "room", "Room", "rooms", "Mark of the room it lights.", required=True, example="R2"
    )
    n: int | None = count("n", "No.", "How many alike.", least=1, most=200, example="2")
    frame_w_m: float | None = quantity(
        "frame_w", "Frame w", LENGTH, "Outside width of the frame.",
        least=0.05, most=12, example="1400",
    )  # fmt: skip
    frame_h_m: float | None = quantity(
        "frame_h", "Frame h", LENGTH, "Outside height of the frame.",
        least=0.05, most=12, example="1200",
    )  # fmt: skip
    glass_w_m: float | None = quantity(
        "glass_w", "Glass w", LENGTH, "Width of clear glass, frame and bars left out.",
        least=0.01, most=12, example="1240",
    )  # fmt: skip
    glass_h_m: float | None = quantity(
        "glass_h", "Glass h", LENGTH, "Height of clear glass.",
        least=0.01, most=12, example="1040",
    )  # fmt: skip
    sill_m: float | None = quantity(
        "sill", "Sill", LENGTH, "Finished floor to the underside of the glass.",
        least=0, most=9, example="700",
    )  # fmt: skip
    opens: str | None = word("opens", "Opens", OPENINGS, "How it opens.", example="side-hung")
    open_share: float | None = quantity(
        "open_share", "Open share", SHARE,
        "Part of the glass area that opens clear: 0 if fixed, 0.9 for a full casement.",
        least=0, most=1, example="0.9",
    )  # fmt: skip
    u_w_m2k: float | None = quantity(
        "u", "U", U_VALUE, "Whole window, frame included.", least=0.2, most=7, example="0.85"
    )
    faces: str | None = word("faces", "Faces", FACES, "The way you look out.", example="S")

    @property
    def is_fixed(self) -> bool:
        """Whether it is said not to open."""
        return self.opens == "fixed"
