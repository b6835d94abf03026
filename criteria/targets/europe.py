"""Figures of European and British standards; metric in either system."""

from criteria.sources import (
    AD_M,
    AD_M_TURN,
    ADF,
    BS_8206,
    EN_17037,
    EU_ROAD,
    NDSS,
    NDSS_CEILING,
    NDSS_SINGLE,
    ROAD_EU,
    SUN_HOURS,
)
from criteria.targets.published import PublishedSet, PublishedTarget

EN_17037_SUN = PublishedSet(
    slug="en-17037",
    title="Sunlight, Europe (EN 17037, least level)",
    source=EN_17037,
    targets=(
        PublishedTarget(
            "EN1", "possible_sun", SUN_HOURS, "Possible sun in one lived-in room", uses=("day",)
        )
        .at_least("1.5 h")
        .noting("Daylight by EN 17037 needs the daylight plan: no closed formula shows it."),
    ),
)

UK_DAYLIGHT = PublishedSet(
    slug="bs-8206",
    title="Average daylight factor, United Kingdom (BS 8206-2, superseded)",
    source=BS_8206,
    targets=tuple(
        PublishedTarget(f"BS{number}", "average_daylight_factor", ADF, words, uses=uses).at_least(
            figure
        )
        for number, (words, figure, uses) in enumerate(
            (
                ("Average daylight factor of a kitchen", "2 %", ("kitchen",)),
                ("Average daylight factor of a living room", "1.5 %", ("day",)),
                ("Average daylight factor of a bedroom", "1 %", ("sleep",)),
            ),
            start=1,
        )
    ),
)

UK_SPACE = PublishedSet(
    slug="ndss-2015",
    title="Space, England (nationally described space standard, 2015)",
    source=NDSS,
    targets=(
        PublishedTarget(
            "NDS1", "room_floor", NDSS_SINGLE, "Floor of a bedroom for one", uses=("sleep",)
        )
        .at_least("7.5 m²")
        .noting("And at least 2.15 m wide; a double takes 11.5 m²."),
        PublishedTarget(
            "NDS2", "clear_height", NDSS_CEILING, "Ceiling height", uses=("day", "kitchen", "sleep")
        )
        .at_least("2.3 m")
        .noting("Over three quarters of the floor."),
    ),
)

UK_ACCESS = PublishedSet(
    slug="ad-m-2015",
    title="Access, England (Approved Document M, volume 2)",
    source=AD_M,
    targets=(
        PublishedTarget("ADM1", "turning_circle", AD_M_TURN, uses=("day", "wc")).at_least(
            "1500 mm"
        ),
        PublishedTarget("ADM2", "step_free_doors", AD_M_TURN)
        .at_least("800 mm")
        .noting("Straight on, without a turn."),
    ),
)

EU_ROADS = PublishedSet(
    slug="eu-road",
    title="On the road, European Union (96/53/EC)",
    source=EU_ROAD,
    targets=(
        PublishedTarget("EUR1", "road_width", ROAD_EU)
        .at_most("2.55 m")
        .noting("2.60 m for conditioned bodies alone."),
        PublishedTarget("EUR2", "road_height", ROAD_EU).at_most("4.00 m"),
    ),
)

EUROPE: tuple[PublishedSet, ...] = (
    EN_17037_SUN,
    UK_DAYLIGHT,
    UK_SPACE,
    UK_ACCESS,
    EU_ROADS,
)
