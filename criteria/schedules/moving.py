"""Pieces: what the building comes apart into."""

from dataclasses import replace

from criteria.errors import Refused
from criteria.typed.cells import Lacking
from criteria.typed.columns import count, mark, quantity, reference, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import ANGLE, LENGTH, MASS, ROOM_LENGTH

SIDES = {"left": "-x", "right": "+x", "front": "-y", "back": "+y", "bottom": "-z", "top": "+z"}
"""Sides of a piece as the plan is seen, and what they are called along axes."""

EDGES = tuple(
    f"{one} {other}"
    for group in (("left", "right"), ("front", "back"), ("bottom", "top"))
    for one in SIDES
    for other in SIDES
    if one not in group and other in group and list(SIDES).index(one) < list(SIDES).index(other)
)
"""Edges of a piece by the two sides that meet there."""

CARRIED = "carried"
OPENS_BY = ("slides", "drops", "lifts", "folds", CARRIED)


@schedule(
    "pieces",
    "Piece schedule",
    mark_prefix="M",
    purpose="Every piece that is carried to the site, as packed. Sizes, masses and the number of "
    "lifts are counted from it.",
)
class Piece(Row):
    """A piece, or several alike."""

    mark: str = mark()
    piece: str | None = text("piece", required=True, eg="Roof cassette").says("What it is.")
    n: int = count("n", "No.", within=(1, 500), eg="8").says("How many alike.")
    length_m: float = quantity("l_m", ROOM_LENGTH, "Length", within=(0.01, 30), eg="4.8").says(
        "As packed, lifting eyes included."
    )
    width_m: float = quantity("w_m", ROOM_LENGTH, "Width", within=(0.01, 30), eg="2.2")
    height_m: float = quantity("h_m", ROOM_LENGTH, "Height", within=(0.01, 30), eg="0.38")
    mass_kg: float = quantity("kg_each", MASS, "Weight each", within=(0.1, 100_000), eg="610").says(
        "As it is lifted, wet if it may be."
    )
    order: int = count("order", within=(1, 999)).says("Its place in the order of arrival.")
    inside_l_m: float = quantity(
        "inside_l_m", ROOM_LENGTH, "Inside length", within=(0.01, 30)
    ).says("Clear, if another piece packs into it.")
    inside_w_m: float = quantity("inside_w_m", ROOM_LENGTH, "Inside width", within=(0.01, 30))
    inside_h_m: float = quantity("inside_h_m", ROOM_LENGTH, "Inside height", within=(0.01, 30))
    at_m: float | None = quantity(
        "at_m", ROOM_LENGTH, "Centre from the hitch", within=(0, 30)
    ).says(
        "Its own centre, as loaded on the trailer; blank is not on it, or in the piece that it "
        "packs into.",
        blank=None,
    )
    packs_into: str | None = reference("packs_into", "pieces").says(
        "Mark of the piece that it travels in; blank is none.", blank=None
    )

    at_x_m: float = quantity("x_m", ROOM_LENGTH, "Set up, across", within=(-90, 90)).says(
        "From the plan's own corner to the piece's lower left corner, its length lying across."
    )
    at_y_m: float = quantity("y_m", ROOM_LENGTH, "Set up, up", within=(-90, 90)).says(
        "The same, up the plan."
    )
    at_z_m: float = quantity("z_m", ROOM_LENGTH, "Set up, height", within=(-20, 20)).says(
        "From the plan's own level to the piece's underside. Asked where pieces stand in each "
        "other's way."
    )
    wall_m: float | None = quantity("wall", LENGTH, within=(0.001, 1), eg="60").says(
        "Thickness of its walls, floor and roof; blank is solid all through.", blank=None
    )
    open_sides: str | None = text("open_sides", eg="back").says(
        "Sides without a wall, as packed: left, right, front, back, bottom, top, parted by spaces; "
        "blank is closed all round."
    )
    opens_by: str | None = word("opens_by", OPENS_BY).says(
        "How it goes from one state to another; carried by hand or hook it may go any way, blank "
        "is straight.",
        blank=None,
    )
    hinge: str = word("hinge", EDGES, eg="left bottom").says(
        "The edge about which it folds, by the two sides that meet there, as packed."
    )
    hinge_deg: float = quantity("hinge_turn", ANGLE, within=(90, 270), eg="90").says(
        "By how much it folds, whichever way: 90, 180 or 270."
    )

    eyes: int = count("eyes", "Lifting eyes", within=(0, 16), eg="4").says(
        "To which a leg of the sling goes each; 0 is carried, rolled or pushed, never slung."
    )
    sling_deg: float = quantity("sling", ANGLE, "Sling", within=(5, 90), eg="60").says(
        "Of its legs, from the level, as it hangs; 90 is straight up from each eye."
    )
    eye_h_m: float = quantity("eye_h_m", ROOM_LENGTH, "Height of its eyes", within=(0, 30)).says(
        "Above its own underside."
    )

    @property
    def open_faces(self) -> frozenset[str]:
        """Its open sides along axes. Raises Lacking where one is no side."""
        words = (self.open_sides or "").replace(",", " ").casefold().split()
        if odd := next((each for each in words if each not in SIDES), None):
            refusal = Refused(odd, "sides of: " + ", ".join(SIDES))
            raise Lacking(replace(self.cell("open_sides"), refusal=refusal))
        return frozenset(SIDES[each] for each in words)

    @property
    def sizes_m(self) -> tuple[float, float, float]:
        """Length, width and height as packed [m]."""
        return self.length_m, self.width_m, self.height_m

    @property
    def inside_m(self) -> tuple[float, float, float]:
        """Clear length, width and height inside [m]."""
        return self.inside_l_m, self.inside_w_m, self.inside_h_m
