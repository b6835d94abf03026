"""What is told of a year beside its figures: how each part is reckoned, whence, and its limits."""

from typing import NamedTuple


class Way(NamedTuple):
    """How a part of the year is reckoned, and the source of that."""

    part: str
    way: str
    source: str


WAYS = (
    Way(
        "Sun",
        "the sun's place at each half hour; direct, sky and ground light on each plane by its tilt "
        "and bearing, brighter about the sun and near the horizon",
        "Spencer 1971; Perez et al. 1990, Solar Energy 44:271; Kasten and Young 1989",
    ),
    Way(
        "Shade",
        "eaves, fins and reveals followed ray by ray from points on the glass; what stands outside "
        "by the angle of sky that each window sees",
        "geometry",
    ),
    Way(
        "Glass",
        "what plain panes let through by angle, scaled to the row's solar factor; loss by its U",
        "Fresnel and Bouguer; EN 410 and ISO 15099, from memory",
    ),
    Way(
        "Walls, roof and floor",
        "the layers of the envelope schedule cut into slices, solved exactly for inputs held over "
        "an hour; one air, one mean radiant temperature",
        "the room of ISO 52016-1:2017 with the layers themselves in place of its five nodes",
    ),
    Way(
        "Films",
        "constant: 1.8, 1.7 and 2.5 W/m²K to air inside at walls, ceiling and floor, long wave "
        "beside; outside by the year's mean wind. Other checks keep 0.13, 0.10 and 0.17 m²K/W, so "
        "that they differ by a few per cent",
        "ANSI/ASHRAE Standard 140-2020, case 450; ISO 6946:2017, Annex C, from memory",
    ),
    Way(
        "Air",
        "leaks and vents by their rows; windows opened as far as is needed and no further, by wind "
        "and warmth",
        "de Gids and Phaff 1982; EN 16798-7:2017, from memory",
    ),
    Way(
        "Plant",
        "gives up to its power what is wanted while it can run; electric plant no more than panels "
        "and battery leave after essential loads",
        "energy balance",
    ),
    Way(
        "Electricity",
        "panels by the sun on their plane and their warmth; a battery hour by hour between what it "
        "may hold and what must stay in it",
        "Faiman 2008; Dobos, NREL/TP-6A20-62641, 2014",
    ),
    Way(
        "Rain",
        "caught by day, snow when it melts; the tank gives before it takes",
        "Fewkes and Butler 2000; the family of BS EN 16941-1, from memory",
    ),
    Way(
        "Worst night and week",
        "the night from 22:00 to 07:00 that is coldest inside while somebody is there; the seven "
        "days in which most of what plant should give is missing",
        "common practice",
    ),
)
"""In the order in which the page tells them."""

LIMITS = (
    "One zone, its air well mixed: a cold corner or a warm loft isn't seen.",
    "Films are constant; sun through glass isn't traced to the surface on which it falls.",
    "No moisture: no latent cooling, and nothing condenses in it.",
    "Plant is perfectly controlled; means of an hour hide a stove's lighting and a passing cloud.",
    "A typical year holds no record cold.",
    "Neighbours count by the sky that windows see; hills take the sun alone, not the sky.",
)
"""What the year doesn't know."""

NOT_SETTLED = (
    "The weather is made of the twelve months without the cold spell, several kelvins too mild at "
    "its worst: the coldest night isn't settled by it. The site sheet's design temperature "
    "outside, or a weather file with the brief, settles it."
)
"""Said wherever the worst night stands and the weather doesn't hold one."""
