"""Who sees what: a plan of the day by which schemes can be compared afterwards.

Three ways to join rooms, none costing more than it must: an opening pair that
every juror sees before rooms split; one juror of each room who changes rooms
at half-time; or panels that rotate. What can be compared, and how surely, is
said with every plan, and an unconnected one never passes in silence.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from math import floor, sqrt

import numpy as np

from criteria.errors import InputError
from criteria.scoring.connections import WEAKEST_LINK, groups, link_factor, pair_variances
from criteria.scoring.levels import shown
from criteria.scoring.rooms import share_out
from criteria.scoring.rotation import Seen, pair_counts, rotate

SMALLEST_PANEL = 3
MOST_SCHEMES = 9
MOST_HOURS = 4
SLOT_MIN = 27
"""Common practice: jurors for a scheme; schemes and hours for a juror in a day; a final's slot."""


class Join(Enum):
    """How rooms are joined."""

    OPENING = "opening schemes seen by all"
    HALF_TIME = "one juror of each room changes at half-time"
    NONE = "nothing joins the rooms"


@dataclass(frozen=True, slots=True)
class Sitting:
    """One scheme before its panel.

    slot     place in the room's day, from 1
    aside    jurors of the room who step aside for an interest
    """

    scheme: str
    room: str
    slot: int
    jurors: tuple[str, ...]
    aside: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Plan:
    """A plan of a day.

    sittings   in the order of rooms and slots
    jurors     everyone asked
    slot_min   length of a slot [min]
    hours      by juror, how long they have [h]; nobody named has as long as it takes
    """

    sittings: tuple[Sitting, ...]
    jurors: tuple[str, ...]
    slot_min: float = SLOT_MIN
    hours: Mapping[str, float] | None = None

    @cached_property
    def seen(self) -> Seen:
        """Sittings × jurors."""
        return np.array([[j in sitting.jurors for j in self.jurors] for sitting in self.sittings])

    @cached_property
    def groups(self) -> tuple[tuple[str, ...], ...]:
        """Schemes that can be compared with one another."""
        names = [sitting.scheme for sitting in self.sittings]
        return tuple(
            tuple(names[i] for i in group.schemes) for group in groups(self.seen) if group.schemes
        )

    @property
    def connected(self) -> bool:
        """Whether every two schemes can be compared."""
        return len(self.groups) == 1

    @property
    def pair_spread(self) -> int:
        """How much oftener some two jurors sit together than some other two."""
        counts = pair_counts(self.seen)
        return int(np.ptp(counts)) if counts.size else 0

    @cached_property
    def pair_variance(self) -> tuple[float, float] | None:
        """Mean and greatest variance of a difference of schemes over σ²e; None if unconnected."""
        if not self.connected or len(self.sittings) < 2:
            return None
        pairs = pair_variances(self.seen.astype(float))[np.triu_indices(len(self.sittings), 1)]
        return float(pairs.mean()), float(pairs.max())

    @cached_property
    def loads(self) -> dict[str, int]:
        """How many schemes each juror sees."""
        return dict(zip(self.jurors, self.seen.sum(axis=0).tolist(), strict=True))

    def load_hours(self, juror: str) -> float:
        """How long a juror sits, without breaks [h]."""
        return self.loads[juror] * self.slot_min / 60

    @property
    def comparable(self) -> str:
        """What can be compared, in words."""
        if not self.connected:
            return (
                f"Not everything can be compared: {len(self.groups)} groups have no juror in "
                "common, and no arithmetic tells a kinder panel from stronger work. Groups: "
                + "; ".join(", ".join(group) for group in self.groups)
                + "."
            )
        factor = link_factor(self.seen.astype(float))
        if factor < 1 + 1e-9:
            return "Every scheme has the same panel: all can be compared, and severity cancels."
        said = (
            "All schemes can be compared; the least sure difference is "
            f"{shown(sqrt(factor), 2)} times as uncertain as with one panel"
        )
        if factor >= WEAKEST_LINK * (1 - 1e-9):
            return f"{said}: too loose to adjust levels by, enough to talk about."
        return f"{said}."

    @property
    def warnings(self) -> tuple[str, ...]:
        """What to see to while there is time, in words."""
        said = [] if self.connected else [self.comparable]
        for sitting in self.sittings:
            if len(sitting.jurors) < SMALLEST_PANEL:
                who = f" ({', '.join(sitting.aside)} steps aside)" if sitting.aside else ""
                said.append(
                    f"{sitting.scheme} has a panel of {len(sitting.jurors)}{who}; "
                    f"{SMALLEST_PANEL} is the least."
                )
        for juror, load in self.loads.items():
            sits = self.load_hours(juror)
            has = (self.hours or {}).get(juror)
            if load > MOST_SCHEMES or sits > MOST_HOURS:
                said.append(
                    f"{juror} sees {load} schemes in {shown(sits, 1)} h; "
                    f"{MOST_SCHEMES} and {MOST_HOURS} h are the most for good attention."
                )
            if has is not None and sits > has + 1e-9:
                said.append(f"{juror} has {shown(has, 1)} h and is needed {shown(sits, 1)} h.")
        if self.connected:
            for juror in self.jurors:
                if self.loads[juror] and not self.without(juror).connected:
                    said.append(f"Without {juror} the plan would fall apart.")
        return tuple(said)

    def without(self, absent: str) -> "Plan":
        """The plan when a juror drops out; sittings left without a juror go too."""
        left = (
            Sitting(s.scheme, s.room, s.slot, tuple(j for j in s.jurors if j != absent), s.aside)
            for s in self.sittings
        )
        jurors = tuple(juror for juror in self.jurors if juror != absent)
        return Plan(tuple(s for s in left if s.jurors), jurors, self.slot_min, self.hours)


def plan_rooms(
    schemes: Sequence[str],
    jurors: Sequence[str],
    rooms: Sequence[str] = ("A", "B"),
    *,
    join: Join = Join.OPENING,
    opening: int = 2,
    interests: Collection[tuple[str, str]] = (),
    kinds: Mapping[str, str] | None = None,
    slot_min: float = SLOT_MIN,
    hours: Mapping[str, float] | None = None,
) -> Plan:
    """Plan parallel rooms.

    schemes     in the order drawn by lot; the order is kept
    rooms       names; one room needs no join
    join        how rooms are joined
    opening     how many schemes all jurors see first, for Join.OPENING: the first
                in the draw in which no juror has an interest
    interests   (juror, scheme) who have to do with each other
    kinds       by juror, where from; each room gets some of each kind

    Jurors and schemes are shared out by a solver so that the fewest interests
    meet; whoever is left with one steps aside, and that is said.

    Errors: InputError for fewer jurors than rooms, a name given twice, or more
        opening schemes than there are.
    """
    _check(schemes, jurors, interests)
    if len(jurors) < len(rooms) or not rooms:
        raise InputError(f"{len(jurors)} jurors for {len(rooms)} rooms")
    first = opening if join is Join.OPENING and len(rooms) > 1 else 0
    if not 0 <= first <= len(schemes):
        raise InputError(f"opening schemes are {first}; expected 0 to {len(schemes)}")
    taken = set(interests)
    known = {scheme for _, scheme in taken}
    together = sorted(schemes, key=lambda scheme: scheme in known)[:first]
    rest = [scheme for scheme in schemes if scheme not in together]
    sittings = [
        _sitting(scheme, "all", slot, jurors, taken) for slot, scheme in enumerate(together, 1)
    ]
    of_juror, of_scheme = share_out(rest, jurors, len(rooms), taken, kinds or {})
    movers = _movers(jurors, of_juror, len(rooms), join)
    for place, room in enumerate(rooms):
        here = [scheme for scheme in rest if of_scheme[scheme] == place]
        half = (len(here) + 1) // 2
        for slot, scheme in enumerate(here, 1):
            late = slot > half
            panel = [
                juror
                for juror in jurors
                if place
                == (
                    (of_juror[juror] + 1) % len(rooms)
                    if late and juror in movers
                    else of_juror[juror]
                )
            ]
            sittings.append(_sitting(scheme, room, first + slot, panel, taken))
    return Plan(tuple(sittings), tuple(jurors), slot_min, hours)


def plan_rotation(
    schemes: Sequence[str],
    jurors: Sequence[str],
    per_scheme: int = SMALLEST_PANEL,
    *,
    interests: Collection[tuple[str, str]] = (),
    slot_min: float = SLOT_MIN,
    hours: Mapping[str, float] | None = None,
    seed: int = 1,
) -> Plan:
    """Plan panels that rotate: `per_scheme` jurors for each scheme, loads and pairs even.

    Interests never meet, and nobody sits longer than their hours.

    Errors: InputError where that can't be, and why.
    """
    _check(schemes, jurors, interests)
    apart = frozenset((schemes.index(s), jurors.index(j)) for j, s in interests if s in schemes)
    most = {
        jurors.index(juror): floor(has * 60 / slot_min + 1e-9)
        for juror, has in (hours or {}).items()
    }
    seen = rotate(len(schemes), len(jurors), per_scheme, apart=apart, most=most, seed=seed)
    for j, limit in most.items():
        if seen[:, j].sum() > limit:
            raise InputError(
                f"{jurors[j]} would see {seen[:, j].sum()} schemes and has time for {limit}"
            )
    sittings = (
        Sitting(scheme, "one", slot, tuple(jurors[j] for j in np.flatnonzero(row)))
        for slot, (scheme, row) in enumerate(zip(schemes, seen, strict=True), 1)
    )
    return Plan(tuple(sittings), tuple(jurors), slot_min, hours)


def _sitting(
    scheme: str, room: str, slot: int, panel: Sequence[str], taken: set[tuple[str, str]]
) -> Sitting:
    aside = tuple(juror for juror in panel if (juror, scheme) in taken)
    return Sitting(scheme, room, slot, tuple(j for j in panel if j not in aside), aside)


def _movers(
    jurors: Sequence[str], of_juror: Mapping[str, int], rooms: int, join: Join
) -> frozenset[str]:
    """The juror of each room who changes: the last named of it. Never a whole room."""
    if join is not Join.HALF_TIME or rooms < 2:
        return frozenset()
    by_room = [[juror for juror in jurors if of_juror[juror] == room] for room in range(rooms)]
    return frozenset(members[-1] for members in by_room if len(members) > 1)


def _check(
    schemes: Sequence[str], jurors: Sequence[str], interests: Collection[tuple[str, str]]
) -> None:
    for what, names in (("scheme", schemes), ("juror", jurors)):
        if not names:
            raise InputError(f"a plan needs a {what}")
        twice = [name for name in dict.fromkeys(names) if list(names).count(name) > 1]
        if twice:
            raise InputError(f"{what} {twice[0]} is given twice")
    for juror, scheme in interests:
        if juror not in jurors or scheme not in schemes:
            raise InputError(f"interest of {juror} in {scheme}: expected a juror and a scheme")
