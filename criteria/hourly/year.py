"""What a year came to: the runs of its room, its electricity and its tanks, hour by hour."""

from collections.abc import Mapping
from dataclasses import dataclass

from criteria.hourly.weather import Flags, Hours, Weather


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Run:
    """One run of the room through the year.

    air_k, operative_k  of the room [K]
    coldest_face_k      the coldest face inside, glass and frames with it [K]
    heat_w, cool_w      what plant gives and takes [W], both ≥ 0
    open_share          how far windows stand open [1]
    opened_m3_s         air that comes in by them [m³/s]; None where a run doesn't say it
    flows_w             heat into the room by what brings it [W], negative where it is lost; by
                        name of element ("wall N", "roof", "floor", "window W1"), and "air",
                        "open windows", "people", "loads", "plant"; sun that came through glass is
                        in the faces on which it fell
    sun_w       sun that came in by glass and stayed [W]
    closure             greatest of: the year's imbalance over the year's throughput, and the worst
                        hour's over the mean hour's [1]
    """

    air_k: Hours
    operative_k: Hours
    coldest_face_k: Hours
    heat_w: Hours
    cool_w: Hours
    open_share: Hours
    flows_w: Mapping[str, Hours]
    closure: float
    sun_w: Hours | None = None
    opened_m3_s: Hours | None = None


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class PowerYear:
    """Electricity, hour by hour, on the side of the loads.

    made_w          panels and wind, before what is spilled [W]
    essential_w     what essential loads ask for [W]
    rest_w          what other loads ask for [W]
    plant_w         what heating and cooling took [W]
    unserved_essential_w, unserved_rest_w  what wasn't given of it [W]
    spilled_w       what was made and neither used nor kept [W]
    stored_j        in the battery at the end of the hour, down to nothing [J]
    least_j, most_j between which it is used [J]
    """

    made_w: Hours
    essential_w: Hours
    rest_w: Hours
    plant_w: Hours
    unserved_essential_w: Hours
    unserved_rest_w: Hours
    spilled_w: Hours
    stored_j: Hours
    least_j: float
    most_j: float


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class TankYear:
    """A rain tank by day, shape (365,), for one people case.

    case        name of the people case; "" where the brief names none
    rains       how a month's rain was spread, as a page says it: "by the hour of the file",
                "every fourth day", "in the first ten days"
    caught_m3, drawn_m3, short_m3, stored_m3, spilled_m3  of each day [m³]
    capacity_m3 usable [m³]
    """

    case: str
    rains: str
    caught_m3: Hours
    drawn_m3: Hours
    short_m3: Hours
    stored_m3: Hours
    spilled_m3: Hours
    capacity_m3: float


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Year:
    """A package through a year.

    is_there    whether somebody is in the building
    is_asleep   whether its sleepers are in bed
    warm_k, cool_k  what is wanted at least and at most [K]
    bare        without plant, windows opened as far as needed
    held        with plant of any power
    drawn       with plant as the schedules have it, on the battery where it is electric
    power       of the drawn run; None where neither panels nor battery are given
    tanks       by people case and by how rain falls; () where nothing is caught
    """

    weather: Weather
    is_there: Flags
    is_asleep: Flags
    warm_k: Hours
    cool_k: Hours
    bare: Run
    held: Run
    drawn: Run
    power: PowerYear | None
    tanks: tuple[TankYear, ...]
