"""Firefox and WebKit go the way too: typed, judged on a tablet, released, read, printed."""

import os
import time
from collections.abc import Callable
from contextlib import suppress

import pytest
from django.urls import reverse

from reviews.deeds import package_keeping
from reviews.models import Comment, JurySheet, LevelGiven, Row
from tests import factories
from tests.browser.test_daylight import ROOM, WINDOW, left
from tests.browser.test_every_page import PAGES
from tests.browser.test_offline import line, order
from tests.conftest import Cast
from tests.engines import Engine, Gecko, engine, missing
from tests.prints import sheets_of
from tests.test_access import ROWS, _args
from tests.world import world

__all__ = ["line", "order", "world"]  # fixtures are asked for by name

pytestmark = pytest.mark.django_db(transaction=True)

SET = "#impression [aria-checked=true], [id^=level-] [aria-checked=true]"
AT = "document.querySelector('[role=slider]')"


@pytest.fixture(scope="module", params=["firefox", "webkit"])
def driven(request, tmp_path_factory):
    if lacking := missing(request.param):
        why = f"{request.param} can't be driven; on Debian: apt-get install {lacking}"
        (pytest.fail if os.environ.get("MUNTIN_REQUIRE_BROWSER") else pytest.skip)(why)
    with engine(request.param, tmp_path_factory.mktemp(request.param)) as started:
        yield started


def _arrive(has_arrived: Callable[[], bool]) -> None:
    """Wait for what a page shows as set to be kept."""
    for _ in range(100):
        with suppress(JurySheet.DoesNotExist):
            if has_arrived():
                return
        time.sleep(0.1)
    pytest.fail("what was set has not arrived in ten seconds")


def _become(driven: Engine, cast: Cast, who: object, url: str) -> None:
    driven.become(url, cast.client(who).cookies["sessionid"].value)


def test_a_package_is_typed_judged_released_and_answered(
    driven, live_server, cast, tmp_path, at_a_working_hour
):
    url, scheme = live_server.url, cast.scheme
    package_keeping.bring_in(scheme.package, "windows", [WINDOW], cast.student)
    _become(driven, cast, cast.student, url)
    driven.go(url + reverse("show-schedule", args=[scheme.pk, "rooms"]))
    for head, text in (("mark", "R1"), ("room", "Day room"), ("floor_m2", "86 sq ft")):
        driven.type(f"#row-new [name=cell-{head}]", text)
    driven.run("document.querySelector('#row-new [name=cell-use]').value = 'day'")
    driven.press("#row-new button")
    driven.see("8.0 m²")
    assert Row.objects.get(schedule="rooms").cells["floor_m2"] == "86 sq ft"
    driven.go(url + reverse("show-check", args=[scheme.pk, "T01"]))
    driven.see("12.5 %")

    revision = factories.RevisionFactory(scheme=scheme, crit=cast.crit)
    factories.IssuedSheetFactory(revision=revision, number="02")
    driven.ask("window/rect", width=820, height=1180)
    driven.ask("cookies/delete")
    driven.go(f"{url}/j/{cast.seat.code}/")
    driven.go(url + reverse("show-jury-sheet", args=[scheme.pk]))
    for asked in ("#impression", *(f"#level-{c.pk}" for c in cast.crit.criteria.all())):
        driven.press(f"{asked} button[value='3']")
        driven.wait(f'return !!document.querySelector("{asked} [aria-checked=true]")')
    _arrive(lambda: JurySheet.objects.get().levels.count() == cast.crit.criteria.count())
    comment = factories.CommentFactory(jury_sheet=JurySheet.objects.get(), words="Prove day five.")
    driven.press(".thumb-bar button.main")
    driven.wait("return !!document.querySelector('#locked')")
    assert JurySheet.objects.get().is_locked

    _become(driven, cast, cast.leader, url)
    driven.go(url + reverse("release-crit", args=[cast.crit.pk]))
    driven.type("[name=words]", "Read the comments first.")
    driven.run(
        "for (const why of document.querySelectorAll('[name^=why-]')) { why.value = 'A try.'; }"
    )
    driven.press("[name=do][value=release]")
    driven.see("Who has opened it")

    _become(driven, cast, cast.student, url)
    driven.go(url + reverse("show-results", args=[cast.crit.pk, scheme.pk]))
    driven.see("Prove day five.")
    assert Comment.objects.get(pk=comment.pk).words == "Prove day five."
    if isinstance(driven, Gecko):
        driven.printed(tmp_path / "results.pdf")
        sheets = sheets_of(tmp_path / "results.pdf")
        assert [problem for sheet in sheets for problem in sheet.outside()] == []
        assert all("Muntin" in sheet.text for sheet in sheets)


def test_a_day_is_turned_to_and_set_without_a_network_and_arrives_once(driven, line, order):
    """The worker, the shelf and the queue, without the doors that Chromium alone opens."""
    driven.ask("window/rect", width=820, height=1180)
    driven.go(f"http://localhost:{line.port}/healthz")
    driven.ask("cookies/delete")
    driven.go(f"http://localhost:{line.port}/j/{order.seat.code}/")
    driven.see("can be read and set without a network")
    line.cut()
    asked = ["#impression", *(f"#level-{each.pk}" for each in order.crit.criteria.all())]
    schemes = [order.scheme, *order.studio.schemes.filter(name__startswith="Far Hut")[:1]]
    for scheme in schemes:
        driven.go(f"http://localhost:{line.port}/jury/{scheme.pk}/")
        driven.see(scheme.name)
        for each in asked:
            driven.press(f"{each} button[value='3']")
    driven.see("Waiting to be sent: 6.")
    driven.go(f"http://localhost:{line.port}/jury/{schemes[0].pk}/")
    driven.wait(f"return document.querySelectorAll('{SET}').length == 3")
    assert not JurySheet.objects.exists()
    line.mend()
    driven.wait("return document.querySelector('[data-waiting]').hidden")
    _arrive(lambda: LevelGiven.objects.count() == 4)
    _arrive(lambda: JurySheet.objects.filter(impression=3).count() == 2)
    assert {given.version for given in LevelGiven.objects.all()} == {1}
    assert {sheet.impression_version for sheet in JurySheet.objects.all()} == {1}


def test_a_window_moves_by_the_keys(driven, live_server, cast):
    package = cast.scheme.package
    package_keeping.bring_in(package, "rooms", [ROOM], cast.student)
    package_keeping.bring_in(package, "windows", [WINDOW], cast.student)
    driven.ask("window/rect", width=1280, height=900)
    _become(driven, cast, cast.student, live_server.url)
    driven.go(live_server.url + reverse("show-daylight", args=[cast.scheme.pk, "R1"]))
    driven.wait(f"return !!{AT}")
    driven.run(f"{AT}.focus()")
    driven.type("[role=slider]", "\ue014")
    driven.wait(f"return {AT}.getAttribute('aria-valuenow') == 1450")
    assert left(package) == ""


@pytest.mark.skipif(not os.environ.get("MUNTIN_LONG"), reason="every page is printed by hand")
def test_every_page_prints_within_its_border(driven, live_server, world, tmp_path):
    if not isinstance(driven, Gecko):
        pytest.skip("this driver prints nothing")
    found: dict[str, list[str]] = {}
    for name in PAGES:
        who = world.who(ROWS[name].ok.split()[0])
        if who is None:
            driven.ask("cookies/delete")
        else:
            _become(driven, world.cast, who, live_server.url)
        driven.go(live_server.url + reverse(name, kwargs=_args(name, world)))
        driven.printed(tmp_path / f"{name}.pdf")
        sheets = sheets_of(tmp_path / f"{name}.pdf")
        if wrong := [each for sheet in sheets for each in (*sheet.outside(), *sheet.overprinted())]:
            found[name] = wrong[:8]
    assert found == {}
