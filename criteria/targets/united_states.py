"""Figures that US codes and standards print. Where two systems are printed, both are held."""

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
        PublishedTarget("OUT1", "escape_window", IRC_ESCAPE, uses=("sleep",))
        .all_of_them()
        .noting("5.0 ft² (0.465 m²) is enough at grade, which this check does not tell apart."),
        PublishedTarget("OUT2", "smoke_alarms", IRC_ALARM).at_least("0"),
        PublishedTarget("OUT3", "co_alarm", IRC_ALARM).all_of_them(),
        PublishedTarget("OUT4", "guard_height", IRC_GUARD)
        .at_least("914 mm", us="36 in")
        .noting("Where the drop is over 30 in (762 mm); this check asks from 600 mm."),
    ),
)

ADA_2010 = PublishedSet(
    slug="ada-2010",
    title="Access, United States (2010 ADA Standards)",
    source=ADA,
    targets=(
        PublishedTarget("ADA1", "ramp_slope", ADA_RAMP).at_most("1/12"),
        PublishedTarget("ADA2", "ramp_length", ADA_RAMP).at_least("1.00"),
        PublishedTarget("ADA3", "ramp_width", ADA_RAMP_WIDTH).at_least("915 mm", us="36 in"),
        PublishedTarget("ADA4", "ramp_handrails", ADA_RAIL)
        .at_least("2")
        .noting("Where the rise is over 150 mm (6 in)."),
        PublishedTarget("ADA5", "step_free_doors", ADA_DOOR).at_least("815 mm", us="32 in"),
        PublishedTarget("ADA6", "step_free_thresholds", ADA_THRESHOLD).at_most(
            "13 mm", us="1/2 in"
        ),
        PublishedTarget("ADA7", "turning_circle", ADA_TURN, uses=("day", "wc")).at_least(
            "1525 mm", us="60 in"
        ),
        PublishedTarget("ADA8", "furniture_heights", ADA_TABLE)
        .all_of_them()
        .noting("Tables 28 to 34 in (710 to 865 mm) are the standard's; seats are practice."),
        PublishedTarget("ADA9", "wet_room_fall", ADA_FLOOR).all_of_them(),
        PublishedTarget("ADA10", "reach", ADA_REACH).all_of_them(),
    ),
)

IPMC_2021 = PublishedSet(
    slug="ipmc-2021",
    title="Existing dwelling, United States (IPMC 2021)",
    source=IPMC,
    targets=(
        PublishedTarget(
            "IPMC1", "daylight_ratio", IPMC_LIGHT, "Glazing of habitable rooms", uses=LIVED_IN
        )
        .at_least("8 %")
        .noting("A window that faces an obstruction nearer than 3 ft (914 mm) counts for none."),
        PublishedTarget(
            "IPMC2", "openable_ratio", IPMC_AIR, "Openable area of habitable rooms", uses=LIVED_IN
        ).at_least("3.6 %"),
        PublishedTarget(
            "IPMC3", "room_floor", IPMC_BEDROOM, "Floor of a bedroom", uses=("sleep",)
        ).at_least("6.5 m²", us="70 ft²"),
        PublishedTarget(
            "IPMC4", "floor_per_sleeper", IPMC_BEDROOM, "Bedroom floor for each of several people"
        )
        .at_least("4.6 m²", us="50 ft²")
        .noting("Two people take 100 ft², not 70 and 50."),
        PublishedTarget(
            "IPMC5",
            "clear_height",
            IPMC_CEILING,
            "Ceiling height of habitable rooms",
            uses=LIVED_IN,
        ).at_least("2134 mm", us="7 ft"),
        PublishedTarget(
            "IPMC6", "passage_width", IPMC_PASSAGE, "Clear passage of a kitchen", uses=("kitchen",)
        ).at_least("914 mm", us="3 ft"),
    ),
)

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
            PublishedTarget(f"IECC{number}", f"{part}_u", IECC_U, f"{part.capitalize()} U-value")
            .at_most(f"{u} Btu/h·ft²·°F")
            .noting(
                "Framing is to be counted. Not for tiny houses on wheels, or other units that are "
                "built to rules of their own."
            )
            for number, (part, u) in enumerate(parts, start=1)
        ),
    )


US_ROADS = PublishedSet(
    slug="us-road",
    title="On the road without a permit, United States (23 CFR 658)",
    source=US_ROAD,
    targets=(
        PublishedTarget("USR1", "road_width", ROAD_US)
        .at_most("2.6 m", us="102 in")
        .noting("No federal limit of height: states mostly say 13 ft 6 in to 14 ft."),
        PublishedTarget("USR2", "axle_group", BRIDGE_FORMULA)
        .at_most("1.00")
        .noting("Hold each group of axles in turn."),
    ),
)

UNITED_STATES: tuple[PublishedSet, ...] = (
    IRC_WAYS_OUT,
    ADA_2010,
    IPMC_2021,
    *(_iecc(zone) for zone in _ZONES),
    US_ROADS,
)
