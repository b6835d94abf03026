"""Climbs: stairs, loft stairs, ship's ladders and ladders inside the building."""

from criteria.typed.columns import count, mark, quantity, reference, text, word, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import LENGTH

CLIMB_KINDS = ("stair", "loft stair", "ship's ladder", "ladder")
"""What a climb is: a stair as of a house, a steeper one to a loft, or a ladder."""


@schedule(
    "climbs",
    "Climbs",
    mark_prefix="K",
    purpose="Every stair and ladder between floors, and to each loft. Risers, treads, width and "
    "headroom are held to what its kind allows.",
)
class Climb(Row):
    """A stair or ladder."""

    mark: str = mark()
    place: str | None = text("place", required=True, eg="To the loft").says(
        "Where it is, and what it leads to."
    )
    kind: str = word("kind", CLIMB_KINDS, eg="loft stair").says(
        "A loft stair is one of a small house, up to 37 m²."
    )
    room: str | None = reference("room", "rooms", "Leads to").says(
        "Mark of the room that it leads to; blank is none.", blank=None
    )
    rise_m: float = quantity("rise", LENGTH, within=(0.1, 10), eg="2100").says(
        "Floor to floor, finished."
    )
    risers: int = count("risers", within=(1, 60), eg="8").says(
        "Steps up from floor to floor; of a ladder its rungs and the last step."
    )
    tread_m: float = quantity("tread", LENGTH, within=(0.01, 1), eg="160").says(
        "Depth of a step, nosing to nosing; nothing is asked of a ladder's."
    )
    width_m: float = quantity("width", LENGTH, within=(0.1, 5), eg="560").says(
        "Clear, of the treads or rungs."
    )
    headroom_m: float = quantity("headroom", LENGTH, within=(0.3, 6), eg="1900").says(
        "Least, straight up from the nosings; nothing is asked of a ladder's."
    )
    has_rail: bool = yes_no("rail", "Handrail", eg="yes").says(
        "Whether there is one along it; nothing is asked of a ladder's."
    )
    from_room: str = reference("from_room", "rooms", "Leads from", eg="R1").says(
        "Mark of the room that its foot stands in. With foot and head, ways to upper rooms are "
        "walked over it."
    )
    foot_x_m: float = quantity("foot_x", LENGTH, "Foot, across", within=(0, 30), eg="900").says(
        "From the left wall of that room's plan to the middle of where somebody stands before its "
        "first step."
    )
    foot_y_m: float = quantity("foot_y", LENGTH, "Foot, up", within=(0, 30), eg="600").says(
        "From the lower wall of that plan."
    )
    head_x_m: float = quantity("head_x", LENGTH, "Head, across", within=(0, 30), eg="900").says(
        "The same above, where they stand once up, in the room that it leads to."
    )
    head_y_m: float = quantity("head_y", LENGTH, "Head, up", within=(0, 30), eg="600").says(
        "From the lower wall of that room's plan."
    )
