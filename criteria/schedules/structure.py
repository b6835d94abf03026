"""What carries the building and what brings it: first figures for a licensed engineer."""

from criteria.typed.columns import count, quantity, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import LENGTH, MASS, RATIO, ROOM_LENGTH

SOILS = ("bedrock", "foliated rock", "gravel", "sand", "clay or silt", "peat or fill")
"""Classes of soil as presumptive bearing values part them."""

EXPOSURES = ("B", "C", "D")


@schedule(
    "supports",
    "Supports",
    purpose="One row: legs, pads and the building's size and mass. A first look at bearing, "
    "levelling and wind; a licensed engineer decides.",
    is_single=True,
)
class Supports(Row):
    """Legs and pads.

    legs                    how many [no.]
    pad_l_m, pad_w_m        of each pad [m]
    travel_m                that each leg can be adjusted [m]
    length_m, width_m, height_m   of the building [m]
    clear_m                 ground to the underside [m]
    mass_kg                 of the whole, empty [kg]
    full_kg                 of water, people and things when full [kg]
    """

    legs: int = count("legs", "Legs", "Feet on the ground.", least=1, most=200, example="8")
    pad_l_m: float = quantity("pad_l", "Pad length", LENGTH, least=0.02, most=5,
                                     example="400")  # fmt: skip
    pad_w_m: float = quantity("pad_w", "Pad width", LENGTH, least=0.02, most=5,
                                     example="400")  # fmt: skip
    travel_m: float = quantity(
        "travel", "Leg travel", LENGTH, "Shortest to longest.", least=0, most=10, example="350"
    )
    length_m: float = quantity(
        "building_l_m", "Building length", ROOM_LENGTH, least=0.5, most=60, example="6.0"
    )
    width_m: float = quantity(
        "building_w_m", "Building width", ROOM_LENGTH, least=0.5, most=60, example="2.4"
    )
    height_m: float = quantity(
        "building_h_m", "Building height", ROOM_LENGTH, "Without its legs.", least=0.5, most=30,
        example="2.6",
    )  # fmt: skip
    clear_m: float = quantity(
        "clear_under_m", "Clear under", ROOM_LENGTH, "Ground to underside.", least=0, most=10,
        example="0.4",
    )  # fmt: skip
    base_m: float = quantity(
        "base_m", "Base width", ROOM_LENGTH, "Between outer legs, across.", least=0.2, most=60,
        example="2.2",
    )  # fmt: skip
    mass_kg: float = quantity(
        "empty_kg", "Mass empty", MASS, "Nothing in it.", least=1, most=1e6, example="2500"
    )
    full_kg: float = quantity(
        "load_kg", "Load when full", MASS, "Water, people and things.", least=0, most=1e6,
        example="3000",
    )  # fmt: skip
    friction: float = quantity(
        "ground_friction", "Friction on ground", RATIO,
        "Pads on the ground: 0.25 to 0.35 on soil.", least=0.05, most=1, example="0.3",
    )  # fmt: skip
    anchors: str | None = text("anchors", "Anchors", "What holds it down, and what is left behind.")


@schedule(
    "transport",
    "Transport",
    purpose="One row: what brings the pieces and what it may carry. Road height and width are "
    "checked from it.",
    is_single=True,
)
class Transport(Row):
    """A vehicle.

    deck_m      height of its deck above the road [m]
    axle_m      middle of a trailer's axles from its hitch [m]
    payload_kg  what it may carry [kg]
    axles       of the group that is looked at: all of them, or the rear ones [no.]
    spread_m    first to last axle of that group [m]
    group_kg    what stands on that group, laden [kg]
    """

    vehicle: str | None = text("vehicle", "Vehicle", "Lorry, trailer, helicopter, boat.",
                               example="Flat trailer")  # fmt: skip
    deck_m: float = quantity("deck_m", "Deck height", ROOM_LENGTH, "Above the road.",
                                    least=0, most=3, example="0.95")  # fmt: skip
    axle_m: float = quantity(
        "axle_m", "Axle from the hitch", ROOM_LENGTH, "Middle of the axles, of a trailer.",
        least=0.3, most=30, example="4.2",
    )  # fmt: skip
    payload_kg: float = quantity("payload_kg", "Payload", MASS, "What it may carry.",
                                        least=1, most=1e6, example="3500")  # fmt: skip
    axles: int = count(
        "axles", "Axles", "Of the group that carries most: all axles, or the rear ones.", least=2,
        most=20, example="5",
    )  # fmt: skip
    spread_m: float = quantity(
        "axle_spread_m", "First to last axle", ROOM_LENGTH, "Of that group, middle to middle.",
        least=0.5, most=40, example="15.5",
    )  # fmt: skip
    group_kg: float = quantity(
        "axle_group_kg", "On those axles", MASS, "Vehicle, load and all, as weighed or reckoned.",
        least=1, most=1e6, example="34000",
    )  # fmt: skip
    container: str = word(
        "container", "Container", ("20 ft", "40 ft", "40 ft high"),
        "If the pieces travel in one.",
    )  # fmt: skip
