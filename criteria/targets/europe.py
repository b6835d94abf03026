"""Figures of European and British standards; metric in either system."""

from criteria.findings import Rule
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
            key="EN1", words="Possible sun in one lived-in room", check="possible_sun",
            metric="1.5 h", us="1.5 h", uses=("day",), citation=SUN_HOURS,
            note="Daylight by EN 17037 needs the daylight plan: no closed formula shows it.",
        ),
    ),
)  # fmt: skip

UK_DAYLIGHT = PublishedSet(
    slug="bs-8206",
    title="Average daylight factor, United Kingdom (BS 8206-2, superseded)",
    source=BS_8206,
    targets=tuple(
        PublishedTarget(
            key=f"BS{number}", words=words, check="average_daylight_factor", metric=figure,
            us=figure, uses=uses, citation=ADF,
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
)  # fmt: skip

UK_SPACE = PublishedSet(
    slug="ndss-2015",
    title="Space, England (nationally described space standard, 2015)",
    source=NDSS,
    targets=(
        PublishedTarget(
            key="NDS1", words="Floor of a bedroom for one", check="room_floor", metric="7.5 m²",
            us="7.5 m²", uses=("sleep",), citation=NDSS_SINGLE,
            note="And at least 2.15 m wide; a double takes 11.5 m².",
        ),
        PublishedTarget(
            key="NDS2", words="Ceiling height", check="clear_height", metric="2.3 m", us="2.3 m",
            uses=("day", "kitchen", "sleep"), citation=NDSS_CEILING,
            note="Over three quarters of the floor.",
        ),
    ),
)  # fmt: skip

UK_ACCESS = PublishedSet(
    slug="ad-m-2015",
    title="Access, England (Approved Document M, volume 2)",
    source=AD_M,
    targets=(
        PublishedTarget(
            key="ADM1", words="Turning circle", check="turning_circle", metric="1500 mm",
            us="1500 mm", uses=("day", "wc"), citation=AD_M_TURN,
        ),
        PublishedTarget(
            key="ADM2", words="Step-free doors, clear width", check="step_free_doors",
            metric="800 mm", us="800 mm", citation=AD_M_TURN, note="Straight on, without a turn.",
        ),
    ),
)  # fmt: skip

EU_ROADS = PublishedSet(
    slug="eu-road",
    title="On the road, European Union (96/53/EC)",
    source=EU_ROAD,
    targets=(
        PublishedTarget(
            key="EUR1", words="Width on the road", check="road_width", metric="2.55 m",
            us="2.55 m", rule=Rule.AT_MOST, citation=ROAD_EU,
            note="2.60 m for conditioned bodies alone.",
        ),
        PublishedTarget(
            key="EUR2", words="Height on the road", check="road_height", metric="4.00 m",
            us="4.00 m", rule=Rule.AT_MOST, citation=ROAD_EU,
        ),
    ),
)  # fmt: skip

EUROPE: tuple[PublishedSet, ...] = (
    EN_17037_SUN,
    UK_DAYLIGHT,
    UK_SPACE,
    UK_ACCESS,
    EU_ROADS,
)
