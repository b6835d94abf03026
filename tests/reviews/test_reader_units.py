"""What a person is told of a package is in the units that they chose, wherever it is said."""

from html import unescape

import pytest
from django.urls import reverse

from reviews.deeds import package_keeping

ROOM = {"mark": "R1", "room": "Day room", "use": "day", "floor_m2": "12"}
PANE = {
    "mark": "W1",
    "room": "R1",
    "frame_w": "1000",
    "frame_h": "1000",
    "glass_w": "1001",
    "glass_h": "800",
}
ASKED = {
    "metric": "W1: glass 1\u202f001 mm in a frame of 1\u202f000 mm. Which is it?",
    "us": "W1: glass 3'-3 7/16\" in a frame of 3'-3 3/8\". Which is it?",
}


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize(
    "name", ["show-schedule", "show-checks", "show-questions", "issue-package"]
)
def test_an_odd_value_is_asked_in_the_readers_units(cast, name, units):
    cast.student.units = units
    cast.student.save()
    package_keeping.add_row(cast.scheme.package, "rooms", ROOM, cast.student)
    package_keeping.add_row(cast.scheme.package, "windows", PANE, cast.student)
    slugs = ["windows"] if name == "show-schedule" else []
    page = cast.client(cast.student).get(reverse(name, args=[cast.scheme.pk, *slugs]))
    text = unescape(page.content.decode())
    other = "us" if units == "metric" else "metric"
    assert ASKED[units] in text
    assert ASKED[other] not in text
