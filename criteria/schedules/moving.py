"""Pieces: what the building comes apart into."""

from criteria.typed.columns import count, mark, quantity, reference, text
from criteria.typed.rows import Row, schedule
from criteria.units import MASS, ROOM_LENGTH


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
    mass_kg: float = quantity("kg_each", MASS, "kg each", within=(0.1, 100_000), eg="610").says(
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

    @property
    def sizes_m(self) -> tuple[float, float, float]:
        """Length, width and height as packed [m]."""
        return self.length_m, self.width_m, self.height_m

    @property
    def inside_m(self) -> tuple[float, float, float]:
        """Clear length, width and height inside [m]."""
        return self.inside_l_m, self.inside_w_m, self.inside_h_m
