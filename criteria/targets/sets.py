"""Sets of targets that publications give, for a studio leader to start from.

Each says whom it binds. All are teaching checks: none is a code approval. A clause that
prints two values, 70 ft² and 6.5 m², is held in the system in which the studio works,
because the two aren't the same figure.
"""

from criteria.schedules.rooms import HABITABLE, LIVED_IN
from criteria.sources import (
    IRC,
    IRC_AIR,
    IRC_CEILING,
    IRC_LIGHT,
    IRC_ROOM,
    SPHERE,
    SPHERE_SPACE,
    SPHERE_WATER,
)
from criteria.targets.europe import EUROPE
from criteria.targets.published import PublishedSet, PublishedTarget
from criteria.targets.reading import Target, read_targets
from criteria.targets.united_states import UNITED_STATES
from criteria.units import Notation, System

__all__ = [
    "IRC_2021",
    "SETS",
    "SPHERE_2018",
    "PublishedSet",
    "PublishedTarget",
    "targets_of",
    "typed_targets",
]

IRC_2021 = PublishedSet(
    slug="irc-2021",
    title="Dwelling, United States (IRC 2021 R303.1, R304, R305)",
    source=IRC,
    targets=(
        PublishedTarget(
            "IRC1", "daylight_ratio", IRC_LIGHT, "Glazing of habitable rooms", uses=LIVED_IN
        )
        .at_least("8 %")
        .noting("Not needed where artificial light gives 6 fc (65 lx) and air is mechanical."),
        PublishedTarget(
            "IRC2", "openable_ratio", IRC_AIR, "Openable area of habitable rooms", uses=LIVED_IN
        )
        .at_least("4 %")
        .noting("Or mechanical ventilation as the code gives it."),
        PublishedTarget(
            "IRC3",
            "room_floor",
            IRC_ROOM,
            "Floor of a habitable room, kitchens excepted",
            uses=HABITABLE,
        ).at_least("6.5 m²", us="70 ft²"),
        PublishedTarget(
            "IRC4", "clear_height", IRC_CEILING, "Ceiling height of habitable rooms", uses=LIVED_IN
        ).at_least("2134 mm", us="7 ft"),
    ),
)

SPHERE_2018 = PublishedSet(
    slug="sphere-2018",
    title="Humanitarian shelter and water (Sphere 2018)",
    source=SPHERE,
    targets=(
        PublishedTarget(
            "SPH1",
            "living_floor_per_person",
            SPHERE_SPACE,
            "Living space per person, cooking and washing left out",
        ).at_least("3.5 m²"),
        PublishedTarget(
            "SPH2",
            "floor_per_person",
            SPHERE_SPACE,
            "Living space per person in the cold, cooking and washing included",
        )
        .at_least("4.5 m²")
        .noting("The handbook gives 4.5 to 5.5 m²."),
        PublishedTarget(
            "SPH3",
            "clear_height",
            SPHERE_SPACE,
            "Ceiling height at the highest point",
            uses=LIVED_IN,
        )
        .at_least("2.0 m")
        .noting("2.6 m in hot climates."),
        PublishedTarget("SPH4", "water_per_person_day", SPHERE_WATER, "Water per person and day")
        .at_least("15 L/day")
        .noting("Drinking and domestic hygiene; 7.5 L/day for the first days only."),
    ),
)

SETS: tuple[PublishedSet, ...] = (IRC_2021, SPHERE_2018, *UNITED_STATES, *EUROPE)


def typed_targets(chosen: PublishedSet, system: System = System.METRIC) -> list[dict[str, str]]:
    """Return a set as typed target records, so that it enters a brief as if typed."""
    return [
        {
            "id": item.key,
            "what": item.words,
            "check": item.check,
            "rooms": " ".join(item.uses),
            "rule": str(item.rule),
            "value": item.figure(system),
            "note": f"{item.citation}. {item.note}".strip(),
        }
        for item in chosen.targets
    ]


def targets_of(chosen: PublishedSet, system: System = System.METRIC) -> tuple[Target, ...]:
    """Return a set as targets, each naming its clause."""
    read = read_targets(typed_targets(chosen, system), Notation(system)).targets
    return tuple(
        target.asked(str(item.citation)) for target, item in zip(read, chosen.targets, strict=True)
    )
