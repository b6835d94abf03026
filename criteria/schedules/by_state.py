"""What differs in a state: rows that repeat of a base row only what is otherwise there.

A blank cell is as in the base row, never nothing; to say nothing, people type 0 or “none”.
"""

from __future__ import annotations

from typing import Any, ClassVar

from criteria.schedules.access import Door
from criteria.schedules.openings import Window
from criteria.schedules.rooms import USES
from criteria.schedules.states import NIGHT, BuildingState
from criteria.typed.columns import count, key, quantity, reference, text, word, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import ANGLE, LENGTH, ROOM_LENGTH, SHARE

OPENINGS = "openings"
"""By what name a reference takes the marks of windows and doors alike."""

NONE = ("none", "no", "nothing")
"""Words by which a cell of free words says that there is nothing."""


def says_something(words: str | None) -> bool:
    """Tell whether a cell of words names something: blank, or “none”, it doesn't."""
    return bool(words) and str(words).strip().casefold() not in NONE


class StateRow(Row):
    """What differs of one base row in one state.

    of   slugs of the schedules whose rows it changes
    """

    of: ClassVar[tuple[str, ...]] = ()

    @property
    def base(self) -> str:
        """The mark of the row that it changes."""
        return str(getattr(self, self.schedule.keys[0].attribute))

    @property
    def is_away(self) -> bool:
        """Whether what it changes isn't there at all. Raises Lacking where that can't be read."""
        return False

    @classmethod
    def stands_for(cls, kind: str) -> dict[str, str]:
        """Return, where names differ, which attribute of the base row a cell of its stands for.

        kind   of the state
        """
        return {}

    def changed(self, base: Row, state: BuildingState) -> Row | None:
        """Return the base row as it is in the state, or None where it isn't there.

        Raises Lacking where it can't be read whether it is there.
        """
        if self.is_away:
            return None
        other = self.stands_for(state.kind)
        known = {column.attribute for column in base.schedule.columns}
        keys = {column.attribute for column in self.schedule.keys}
        own = (column.attribute for column in self.schedule.columns)
        pairs = {other.get(name, name): name for name in own if name not in keys}
        return base.overlaid(self, {to: name for to, name in pairs.items() if to in known})


@schedule(
    "rooms_by_state",
    "Rooms by state",
    purpose="What a room is used for, and how many sleep in it, where a state differs from the "
    "room schedule.",
)
class RoomState(StateRow):
    """A room in one state."""

    of = ("rooms",)

    room: str = key("room", "rooms", eg="R1").says("Mark of the room.")
    state: str = key("state", "states", eg="night").says("In which state.")
    use: str = word("use", USES, eg="sleep").says("What it is mainly for then.")
    sleepers: int = count("sleepers", within=(0, 200), eg="3").says("People who sleep in it then.")
    is_private: bool = yes_no("private", "Can be closed").says(
        "Whether one person can close it then."
    )
    clear_height_m: float = quantity(
        "clear_height_m", ROOM_LENGTH, "Clear height", within=(0.5, 12)
    ).says("Finished floor to ceiling then.")
    is_absent: bool = yes_no("absent", "Not there").says(
        "Whether it is folded in, and no room then; blank is that it is there.", blank=False
    )

    @property
    def is_away(self) -> bool:
        """Whether the room is folded in."""
        return self.is_absent


@schedule(
    "furniture_by_state",
    "Furniture by state",
    purpose="Where furniture stands, how large it is and who sits or sleeps on it, where a state "
    "differs from the furniture schedule.",
)
class FurnitureState(StateRow):
    """A piece of furniture in one state."""

    of = ("furniture",)

    mark: str = key("mark", "furniture", eg="U1").says("Mark of the furniture.")
    state: str = key("state", "states", eg="night").says("In which state.")
    room: str = reference("room", "rooms").says("Mark of the room it is in then.")
    plan_x_m: float = quantity("x", LENGTH, "On the plan, across", within=(0, 30)).says(
        "To its middle, as in the furniture schedule."
    )
    plan_y_m: float = quantity("y", LENGTH, "On the plan, up", within=(0, 30)).says(
        "To its middle, as in the furniture schedule."
    )
    turn_deg: float = quantity("turn", ANGLE, "Turned", within=(-360, 360)).says(
        "Anticlockwise on the plan."
    )
    used_l_m: float = quantity("l", LENGTH, "Length", within=(0.005, 6), eg="2000").says(
        "Out, as it is used then."
    )
    used_w_m: float = quantity("w", LENGTH, "Width", within=(0.005, 6), eg="1400").says(
        "Out, as it is used then."
    )
    height_m: float = quantity("h", LENGTH, "Height", within=(0, 3), eg="400").says(
        "Of the seat, table top or mattress then."
    )
    seats: int = count("seats", eg="0").says("People who sit on one then.")
    sleeps: int = count("sleeps", eg="2").says("People who sleep on one then.")
    is_made: bool = yes_no("made", "Bed made", eg="yes").says(
        "Whether it lies there as a bed; blank is yes of whatever somebody sleeps on.", blank=None
    )
    inside: str | None = text("inside", longest=40).says(
        "The cupboard or piece that it is put away in then: it is out of the way, nobody sits or "
        "sleeps on it."
    )

    @property
    def is_away(self) -> bool:
        """Whether it is put away."""
        return says_something(self.inside)

    @classmethod
    def stands_for(cls, kind: str) -> dict[str, str]:
        """Seats are those by day or at night, as the state is."""
        return {"seats": "seats_at_night" if kind == NIGHT else "day", "sleeps": "night"}


@schedule(
    "openings_by_state",
    "Openings by state",
    purpose="Windows and doors that are covered, locked or opened less in a state. View, air and "
    "ways out are counted from what is left.",
)
class OpeningState(StateRow):
    """A window or door in one state."""

    of = ("windows", "doors")

    mark: str = key("mark", OPENINGS, eg="W2").says("Mark of the window or door.")
    state: str = key("state", "states", eg="packed").says("In which state.")
    open_share: float = quantity("open_share", SHARE, within=(0, 1)).says(
        "Part of the glass that opens clear then."
    )
    covered_by: str | None = text("covered_by", eg="M5", longest=40).says(
        "The shutter, flap or piece before it then: nobody looks or climbs through."
    )
    is_locked: bool = yes_no("locked").says(
        "Whether it can't be opened from inside without a key then; blank is that it can.",
        blank=False,
    )

    @property
    def is_away(self) -> bool:
        """Whether it is no opening then."""
        return says_something(self.covered_by)

    def changed(self, base: Row, state: BuildingState) -> Row | None:
        """Return the same; what is locked is a wall to whoever wants out, though not to light."""
        row = super().changed(base, state)
        if row is None or not self.is_locked:
            return row
        if isinstance(row, Door):
            return None
        locked: dict[str, Any] = {"opens": "fixed", "open_share": 0.0}
        return row.but(**locked) if isinstance(row, Window) else row


@schedule(
    "pieces_by_state",
    "Pieces by state",
    purpose="Where each piece stands in a state: pulled out, folded down, packed into another. "
    "Tipping and legs are worked out from it.",
)
class PieceState(StateRow):
    """A piece in one state."""

    of = ("pieces",)

    mark: str = key("mark", "pieces", eg="M2").says("Mark of the piece.")
    state: str = key("state", "states", eg="day").says("In which state.")
    at_x_m: float = quantity("x_m", ROOM_LENGTH, "Across", within=(-90, 90), eg="2.32").says(
        "To its lower left corner, as in the piece schedule."
    )
    at_y_m: float = quantity("y_m", ROOM_LENGTH, "Up", within=(-90, 90)).says("The same, up.")
    length_m: float = quantity("l_m", ROOM_LENGTH, "Length", within=(0.01, 30)).says(
        "Across the plan then."
    )
    width_m: float = quantity("w_m", ROOM_LENGTH, "Width", within=(0.01, 30)).says(
        "Up the plan then."
    )
    packs_into: str | None = reference("inside", "pieces", "Inside", eg="M1").says(
        "Mark of the piece that it stands in then; blank is as in the piece schedule.", blank=None
    )
    is_absent: bool = yes_no("absent", "Not there").says(
        "Whether it isn't part of the building then; blank is that it is.", blank=False
    )
    at_z_m: float = quantity("z_m", ROOM_LENGTH, "Underside", within=(-20, 20), eg="0.12").says(
        "From the plan's own level to its underside then."
    )
    height_m: float = quantity("h_m", ROOM_LENGTH, "Height", within=(0.01, 30)).says(
        "Of the piece itself then: of what lies flat, its thickness."
    )
    at_m: float = quantity("at_m", ROOM_LENGTH, "Centre from the hitch", within=(0, 30)).says(
        "Its own centre then, as loaded on the trailer."
    )

    @property
    def is_away(self) -> bool:
        """Whether it isn't part of the building then."""
        return self.is_absent


@schedule(
    "tanks_by_state",
    "Tanks by state",
    purpose="How full each tank is in a state, where that differs: empty on the road, full by day.",
)
class TankState(StateRow):
    """A tank in one state."""

    of = ("tanks",)

    mark: str = key("mark", "tanks", eg="T1").says("Mark of the tank.")
    state: str = key("state", "states", eg="packed").says("In which state.")
    full_share: float = quantity("full", SHARE, "Full", within=(0, 1), eg="0").says(
        "Part of it that is full then."
    )


@schedule(
    "legs_by_state",
    "Legs by state",
    purpose="Which legs are not down in a state. A leg stands in every state that says nothing.",
)
class LegState(StateRow):
    """A leg in one state."""

    of = ("legs",)

    mark: str = key("mark", "legs", eg="G3").says("Mark of the leg.")
    state: str = key("state", "states", eg="packed").says("In which state.")
    is_down: bool = yes_no("down", eg="no").says("Whether it stands on the ground then.")

    @property
    def is_away(self) -> bool:
        """Whether it is up."""
        return not self.is_down


STATE_ROWS: tuple[type[StateRow], ...] = (
    RoomState,
    FurnitureState,
    OpeningState,
    PieceState,
    TankState,
    LegState,
)
"""Every schedule of rows by state."""
