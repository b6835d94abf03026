"""What carries the building and what brings it: first figures for a licensed engineer."""

from criteria.schedules.openings import BEARINGS_DEG
from criteria.typed.columns import count, quantity, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import ANGLE, LENGTH, MASS, RATIO, ROOM_LENGTH

ROOF_FACES = (*BEARINGS_DEG, "N and S", "E and W", "NE and SW", "SE and NW")
"""Ways that a roof's slopes face; of two each has half."""

STANDS_ON = ("posts", "ground")
"""What the floor has beneath it: air, or soil."""

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
    """Legs and pads."""

    legs: int = count("legs", within=(1, 200), eg="8").says("Feet on the ground.")
    pad_l_m: float = quantity("pad_l", LENGTH, "Pad length", within=(0.02, 5), eg="400")
    pad_w_m: float = quantity("pad_w", LENGTH, "Pad width", within=(0.02, 5), eg="400")
    travel_m: float = quantity("travel", LENGTH, "Leg travel", within=(0, 10), eg="350").says(
        "Shortest to longest."
    )
    length_m: float = quantity(
        "building_l_m", ROOM_LENGTH, "Building length", within=(0.5, 60), eg="6.0"
    )
    width_m: float = quantity(
        "building_w_m", ROOM_LENGTH, "Building width", within=(0.5, 60), eg="2.4"
    )
    height_m: float = quantity(
        "building_h_m", ROOM_LENGTH, "Building height", within=(0.5, 30), eg="2.6"
    ).says("Without its legs.")
    clear_m: float = quantity(
        "clear_under_m", ROOM_LENGTH, "Clear under", within=(0, 10), eg="0.4"
    ).says("Ground to underside.")
    base_m: float = quantity("base_m", ROOM_LENGTH, "Base width", within=(0.2, 60), eg="2.2").says(
        "Between outer legs, across."
    )
    mass_kg: float = quantity("empty_kg", MASS, "Mass empty", within=(1, 1e6), eg="2500").says(
        "Nothing in it."
    )
    full_kg: float = quantity("load_kg", MASS, "Load when full", within=(0, 1e6), eg="3000").says(
        "Water, people and things."
    )
    friction: float = quantity(
        "ground_friction", RATIO, "Friction on ground", within=(0.05, 1), eg="0.3"
    ).says("Pads on the ground: 0.25 to 0.35 on soil.")
    anchors: str | None = text("anchors").says("What holds it down, and what is left behind.")
    roof_deg: float = quantity("roof_slope", ANGLE, "Roof slope", within=(0, 90), eg="5").says(
        "Of the roof as set up; the flattest where slopes differ. Asked for snow and the year."
    )
    roof_faces: str | None = word("roof_faces", ROOF_FACES, eg="N and S").says(
        "The way the roof slopes down; blank is half to each long side.",
        blank=None,
    )
    floor_on: str | None = word("floor_on", STANDS_ON, "Floor on", eg="posts").says(
        "What is under the floor: air between posts or skids, or the ground; blank is posts, the "
        "ground where nothing is clear under it.",
        blank=None,
    )


@schedule(
    "transport",
    "Transport",
    purpose="One row: what brings the pieces and what it may carry. Height, width and loads on the "
    "road are checked from it.",
    is_single=True,
)
class Transport(Row):
    """A vehicle."""

    vehicle: str | None = text("vehicle", eg="Flat trailer").says(
        "Lorry, trailer, helicopter, boat."
    )
    deck_m: float = quantity("deck_m", ROOM_LENGTH, "Deck height", within=(0, 3), eg="0.95").says(
        "Above the road."
    )
    axle_m: float = quantity(
        "axle_m", ROOM_LENGTH, "Axle from the hitch", within=(0.3, 30), eg="4.2"
    ).says("Middle of the axles, of a trailer.")
    payload_kg: float = quantity("payload_kg", MASS, "Payload", within=(1, 1e6), eg="3500").says(
        "What it may carry."
    )
    axles: int = count("axles", within=(2, 20), eg="5").says(
        "Of the group that carries most: all axles, or the rear ones."
    )
    spread_m: float = quantity(
        "axle_spread_m", ROOM_LENGTH, "First to last axle", within=(0.5, 40), eg="15.5"
    ).says("Of that group, middle to middle.")
    group_kg: float = quantity(
        "axle_group_kg", MASS, "On those axles", within=(1, 1e6), eg="34000"
    ).says("Vehicle, load and all, as weighed or reckoned.")
    container: str = word("container", ("20 ft", "40 ft", "40 ft high")).says(
        "If the pieces travel in one."
    )
    trailer_kg: float = quantity("trailer_kg", MASS, "Trailer empty", within=(1, 1e6)).says(
        "Its own mass, of a trailer."
    )
    trailer_at_m: float = quantity(
        "trailer_at_m", ROOM_LENGTH, "Its centre from the hitch", within=(0, 30)
    ).says("Of the empty trailer, by its maker or as weighed.")
    trailer_h_m: float = quantity(
        "trailer_h_m", ROOM_LENGTH, "Its centre above the road", within=(0.05, 3)
    ).says("The same.")
    plate_kg: float = quantity("plate_kg", MASS, "Gross on its plate", within=(1, 1e6)).says(
        "The most that the trailer may weigh, laden."
    )
    trailer_axles: int = count("trailer_axles", within=(1, 6), eg="2").says(
        "Of the trailer, all of them."
    )
    axle_plate_kg: float = quantity(
        "axle_plate_kg", MASS, "Plate of one axle", within=(1, 50_000)
    ).says("The most that each axle may carry.")
    tyres: int = count("tyres", "Tyres of one axle", within=(2, 8), eg="2").says("On each axle.")
    tyre_kg: float = quantity("tyre_kg", MASS, "Load of one tyre", within=(1, 20_000)).says(
        "By the load index on its side, as mounted."
    )
    aboard_kg: float = quantity("aboard_kg", MASS, "Tools aboard", within=(0, 100_000)).says(
        "Tools, jacks, straps and whatever else travels that is no piece; 0 is nothing."
    )
    track_m: float = quantity("track_m", ROOM_LENGTH, "Track", within=(0.5, 4), eg="2.0").says(
        "Between the middles of the tyres left and right."
    )
