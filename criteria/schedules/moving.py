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
    """A piece, or several alike.

    n                       how many alike [no.]
    length_m, width_m, height_m   outside sizes as packed, eyes and eaves included [m]
    mass_kg                 mass of each as lifted [kg]
    order                   its number in the order of arrival [no.]
    at_m                    its centre from the hitch, as loaded on a trailer [m]
    inside_l_m …            clear inside sizes, for a piece that holds another [m]
    """

    mark: str = mark()
    piece: str | None = text("piece", "Piece", "What it is.", required=True,
                             example="Roof cassette")  # fmt: skip
    n: int = count("n", "No.", "How many alike.", least=1, most=500, example="8")
    length_m: float = quantity(
        "l_m", "Length", ROOM_LENGTH, "As packed, lifting eyes included.", least=0.01, most=30,
        example="4.8",
    )  # fmt: skip
    width_m: float = quantity("w_m", "Width", ROOM_LENGTH, least=0.01, most=30, example="2.2")
    height_m: float = quantity("h_m", "Height", ROOM_LENGTH, least=0.01, most=30, example="0.38")
    mass_kg: float = quantity(
        "kg_each", "kg each", MASS, "As it is lifted, wet if it may be.", least=0.1, most=100_000,
        example="610",
    )  # fmt: skip
    order: int = count("order", "Order", "Its place in the order of arrival.", least=1)
    inside_l_m: float = quantity(
        "inside_l_m", "Inside length", ROOM_LENGTH, "Clear, if another piece packs into it.",
        least=0.01, most=30,
    )  # fmt: skip
    inside_w_m: float = quantity("inside_w_m", "Inside width", ROOM_LENGTH, least=0.01, most=30)
    inside_h_m: float = quantity("inside_h_m", "Inside height", ROOM_LENGTH, least=0.01, most=30)
    at_m: float | None = quantity(
        "at_m", "Centre from the hitch", ROOM_LENGTH, "Its own centre, as loaded on the trailer; "
        "blank is not on it, or in the piece that it packs into.", least=0, most=30, blank=None,
    )  # fmt: skip
    packs_into: str | None = reference(
        "packs_into", "Packs into", "pieces", "Mark of the piece that it travels in; blank is "
        "none.", blank=None,
    )  # fmt: skip

    @property
    def sizes_m(self) -> tuple[float, float, float]:
        """Length, width and height as packed [m]."""
        return self.length_m, self.width_m, self.height_m

    @property
    def inside_m(self) -> tuple[float, float, float]:
        """Clear length, width and height inside [m]."""
        return self.inside_l_m, self.inside_w_m, self.inside_h_m
