"""Figures that US codes and standards print. Where two systems are printed, both are held."""

from criteria.findings import Rule
from criteria.schedules.rooms import LIVED_IN
from criteria.sources import (
    ADA,
    ADA_DOOR,
    ADA_FLOOR,
    ADA_RAIL,
    ADA_RAMP,
    ADA_RAMP_WIDTH,
    ADA_REACH,
    ADA_TABLE,
    ADA_THRESHOLD,
    ADA_TURN,
    BRIDGE_FORMULA,
    IECC,
    IECC_U,
    IPMC,
    IPMC_AIR,
    IPMC_BEDROOM,
    IPMC_CEILING,
    IPMC_LIGHT,
    IPMC_PASSAGE,
    IRC,
    IRC_ALARM,
    IRC_ESCAPE,
    IRC_GUARD,
    ROAD_US,
    US_ROAD,
)
from criteria.targets.published import PublishedSet, PublishedTarget

IRC_WAYS_OUT = PublishedSet(
    slug="irc-2021-ways-out",
    title="Ways out of a dwelling, United States (IRC 2021 R310, R312, R314)",
    source=IRC,
    targets=(
        PublishedTarget(
            key="OUT1", words="An escape opening from every sleeping room", check="escape_window",
            metric="yes", us="yes", rule=Rule.ALL, uses=("sleep",), citation=IRC_ESCAPE,
            note="5.0 ft² (0.465 m²) is enough at grade, which this check does not tell apart.",
        ),
        PublishedTarget(
            key="OUT2", words="Smoke alarms beyond those needed", check="smoke_alarms",
            metric="0", us="0", citation=IRC_ALARM,
        ),
        PublishedTarget(
            key="OUT3", words="A carbon monoxide alarm where anything burns", check="co_alarm",
            metric="yes", us="yes", rule=Rule.ALL, citation=IRC_ALARM,
        ),
        PublishedTarget(
            key="OUT4", words="Guard at the largest drop", check="guard_height",
            metric="914 mm", us="36 in", citation=IRC_GUARD,
            note="Where the drop is over 30 in (762 mm); this check asks from 600 mm.",
        ),
    ),
)  # fmt: skip

ADA_2010 = PublishedSet(
    slug="ada-2010",
    title="Access, United States (2010 ADA Standards)",
    source=ADA,
    targets=(
        PublishedTarget(
            key="ADA1", words="Ramp slope", check="ramp_slope", metric="1/12", us="1/12",
            rule=Rule.AT_MOST, citation=ADA_RAMP,
        ),
        PublishedTarget(
            key="ADA2", words="Ramp length drawn / needed", check="ramp_length", metric="1.00",
            us="1.00", citation=ADA_RAMP,
        ),
        PublishedTarget(
            key="ADA3", words="Clear width of the ramp", check="ramp_width", metric="915 mm",
            us="36 in", citation=ADA_RAMP_WIDTH,
        ),
        PublishedTarget(
            key="ADA4", words="Handrails of the ramp", check="ramp_handrails", metric="2", us="2",
            citation=ADA_RAIL, note="Where the rise is over 150 mm (6 in).",
        ),
        PublishedTarget(
            key="ADA5", words="Step-free doors, clear width", check="step_free_doors",
            metric="815 mm", us="32 in", citation=ADA_DOOR,
        ),
        PublishedTarget(
            key="ADA6", words="Thresholds of the step-free way", check="step_free_thresholds",
            metric="13 mm", us="1/2 in", rule=Rule.AT_MOST, citation=ADA_THRESHOLD,
        ),
        PublishedTarget(
            key="ADA7", words="Turning circle", check="turning_circle", metric="1525 mm",
            us="60 in", uses=("day", "wc"), citation=ADA_TURN,
        ),
        PublishedTarget(
            key="ADA8", words="Furniture within usual heights", check="furniture_heights",
            metric="yes", us="yes", rule=Rule.ALL, citation=ADA_TABLE,
            note="Tables 28 to 34 in (710 to 865 mm) are the standard's; seats are practice.",
        ),
        PublishedTarget(
            key="ADA9", words="Wet floors that drain and turn", check="wet_room_fall",
            metric="yes", us="yes", rule=Rule.ALL, citation=ADA_FLOOR,
        ),
        PublishedTarget(
            key="ADA10", words="Handles and hooks within reach", check="reach",
            metric="yes", us="yes", rule=Rule.ALL, citation=ADA_REACH,
        ),
    ),
)  # fmt: skip

IPMC_2021 = PublishedSet(
    slug="ipmc-2021",
    title="Existing dwelling, United States (IPMC 2021)",
    source=IPMC,
    targets=(
        PublishedTarget(
            key="IPMC1", words="Glazing of habitable rooms", check="daylight_ratio",
            metric="8 %", us="8 %", uses=LIVED_IN, citation=IPMC_LIGHT,
            note="A window that faces an obstruction nearer than 3 ft (914 mm) counts for none.",
        ),
        PublishedTarget(
            key="IPMC2", words="Openable area of habitable rooms", check="openable_ratio",
            metric="3.6 %", us="3.6 %", uses=LIVED_IN, citation=IPMC_AIR,
        ),
        PublishedTarget(
            key="IPMC3", words="Floor of a bedroom", check="room_floor", metric="6.5 m²",
            us="70 ft²", uses=("sleep",), citation=IPMC_BEDROOM,
        ),
        PublishedTarget(
            key="IPMC4", words="Bedroom floor for each of several people",
            check="floor_per_sleeper", metric="4.6 m²", us="50 ft²", citation=IPMC_BEDROOM,
            note="Two people take 100 ft², not 70 and 50.",
        ),
        PublishedTarget(
            key="IPMC5", words="Ceiling height of habitable rooms", check="clear_height",
            metric="2134 mm", us="7 ft", uses=LIVED_IN, citation=IPMC_CEILING,
        ),
        PublishedTarget(
            key="IPMC6", words="Clear passage of a kitchen", check="passage_width",
            metric="914 mm", us="3 ft", uses=("kitchen",), citation=IPMC_PASSAGE,
        ),
    ),
)  # fmt: skip

_ZONES = {
    3: ("0.060", "0.026", "0.047"),
    5: ("0.045", "0.024", "0.033"),
    7: ("0.045", "0.024", "0.028"),
}
"""Climate zone, and U of wood-framed wall, ceiling and floor [Btu/h·ft²·°F]. From memory."""


def _iecc(zone: int) -> PublishedSet:
    parts = zip(("wall", "roof", "floor"), _ZONES[zone], strict=True)
    return PublishedSet(
        slug=f"iecc-2021-zone-{zone}",
        title=f"Dwelling envelope, United States (IECC 2021, climate zone {zone})",
        source=IECC,
        targets=tuple(
            PublishedTarget(
                key=f"IECC{number}", words=f"{part.capitalize()} U-value", check=f"{part}_u",
                metric=f"{u} Btu/h·ft²·°F", us=f"{u} Btu/h·ft²·°F", rule=Rule.AT_MOST,
                citation=IECC_U,
                note="Framing is to be counted. Not for tiny houses on wheels, or other units "
                "that are built to rules of their own.",
            )
            for number, (part, u) in enumerate(parts, start=1)
        ),
    )  # fmt: skip


US_ROADS = PublishedSet(
    slug="us-road",
    title="On the road without a permit, United States (23 CFR 658)",
    source=US_ROAD,
    targets=(
        PublishedTarget(
            key="USR1", words="Width on the road", check="road_width", metric="2.6 m", us="102 in",
            rule=Rule.AT_MOST, citation=ROAD_US,
            note="No federal limit of height: states mostly say 13 ft 6 in to 14 ft.",
        ),
        PublishedTarget(
            key="USR2", words="Load on a group of axles / allowed", check="axle_group",
            metric="1.00", us="1.00", rule=Rule.AT_MOST, citation=BRIDGE_FORMULA,
            note="Hold each group of axles in turn.",
        ),
    ),
)  # fmt: skip

UNITED_STATES: tuple[PublishedSet, ...] = (
    IRC_WAYS_OUT,
    ADA_2010,
    IPMC_2021,
    *(_iecc(zone) for zone in _ZONES),
    US_ROADS,
)
