"""Citations: what is marked as read was read, and what isn't sure says so."""

import pytest

from criteria import sources
from criteria.checks.catalogue import CATALOGUE, CHECKS
from criteria.sources import Certainty, Citation

READ_IN = {
    "IRC_LIGHT": "a city's law that adopts R303.1",
    "IRC_AIR": "the same",
    "R_CLAIMS": "16 CFR 460.5 and 460.22, the federal code as published",
    "EXCRETA": "the guide's own chapter 5",
    "ADA_RAIL": "405.8 of the Architectural Barriers Act's identical standard",
    "ADA_RAMP_WIDTH": "405.5, as a federal guide reproduces it",
    "ADA_FLOOR": "304.2, as the California code 11B-304.2 restates it",
    "IPMC_LIGHT": "a town's law that reproduces 402.1",
    "IPMC_CEILING": "a city's law that reproduces 404.3 to 404.4.1",
    "IPMC_BEDROOM": "the same",
    "IPMC_PASSAGE": "a township's law that reproduces 404.2",
    "IRC_SHOWER": "P2709.1 reproduced word for word",
    "ROAD_EU": "Annex I of the directive, in the UK's legislation",
    "ROAD_US": "23 CFR 658.15; the report to Congress of May 2015",
    "NDSS_SINGLE": "the space standard, in a district's design guide",
}
"""Where the text of each clause was read; the rest was quoted, remembered or common practice."""


def test_only_what_was_read_is_marked_as_read():
    marked = {
        name
        for name, value in vars(sources).items()
        if isinstance(value, Citation) and value.certainty is Certainty.READ
    }
    assert marked == READ_IN.keys()


@pytest.mark.parametrize(
    ("check", "says"),
    [
        ("floor_per_sleeper", "10(f), floor under 1.5 m headroom (from memory"),
        ("hitch_share", "Common practice"),
        ("bearing_ratio", "Table 1806.2 (quoted from a secondary source)"),
        ("container_fit", "(quoted from a secondary source)"),
        ("hand_carry", "two thirds of the sum for two, half for three (from memory"),
    ],
)
def test_a_check_says_how_sure_its_source_is(check, says):
    assert any(says in str(citation) for citation in CHECKS[check].citations)


def test_every_check_has_a_source():
    assert [check.slug for check in CATALOGUE if not check.citations] == []
