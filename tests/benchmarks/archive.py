"""How long every main page takes beside archives of one to a hundred demos, and what it asks.

    python -m tests.benchmarks.archive [--times 1 10 50 100] [--rounds 15] [--only WORD]

Loads the demo into a folder of its own, copies its studios in the database (tests/archive.py), and
asks for pages as the people of the first studio do, by Django's test client: as served, without
debugging and compressed as for a browser over HTTPS. Prints for each size the median processor
time [ms], its ratio to a bare signed-in Django page asked for in turn with it, and the number of
queries; beside them the goal, and a mark where it is missed. Nothing changes meanwhile, and each
page was asked for once before. Not collected by pytest.
"""

from __future__ import annotations

import argparse
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from tests.served import manage, surroundings

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse
    from django.test import Client

MANY = 20
"""Studios that somebody leads."""


class Asked(NamedTuple):
    """One page: whose browser asks, where it stands, and its goal [times a bare page]."""

    name: str
    client: Client
    address: str
    most: float | None = None


@dataclass(frozen=True)
class Measured:
    """What a page took [ms], a bare page asked in turn with it [ms], and its queries."""

    ms: float
    bare_ms: float
    queries: int

    @property
    def ratio(self) -> float:
        return self.ms / self.bare_ms


def bare(request: HttpRequest) -> HttpResponse:
    """A signed-in page that shows a name."""
    from django.shortcuts import render

    return render(request, "bare.html")


def with_bare_page() -> None:
    """Put the bare page beside the site's own."""
    from django.conf import settings
    from django.urls import path

    from reviews.urls import urlpatterns

    urlpatterns.append(path("bare/", bare))
    settings.TEMPLATES[0]["OPTIONS"]["loaders"] = [
        (
            "django.template.loaders.cached.Loader",
            [
                "django.template.loaders.filesystem.Loader",
                "django.template.loaders.app_directories.Loader",
                ("django.template.loaders.locmem.Loader", {"bare.html": "<p>{{ user }}</p>"}),
            ],
        )
    ]
    settings.TEMPLATES[0]["APP_DIRS"] = False


def signed_in(person: object) -> Client:
    from django.test import Client

    client = Client(headers={"accept-encoding": "gzip, deflate, br"})
    client.force_login(person)
    return client


def at_a_seat(seat) -> Client:
    from django.test import Client

    from reviews.access import SEAT_KEY

    client = Client(headers={"accept-encoding": "gzip, deflate, br"})
    session = client.session
    session[SEAT_KEY] = [seat.pk, seat.code]
    session.save()
    return client


def pages_of_the_demo() -> list[Asked]:
    """The main pages of the demo's first full package, its studio and its crits."""
    from django.urls import reverse

    from reviews.models import Crit, JurySheet, Person, Scheme, Studio

    scheme = Scheme.objects.get(number="H07")
    studio = scheme.studio
    other = Studio.objects.get(schemes__number="E07")
    student = signed_in(scheme.members.all()[0])
    leader = signed_in(Person.objects.get(memberships__studio=studio, memberships__role="leader"))
    interim, final = (studio.crits.get(kind=kind) for kind in (Crit.Kind.INTERIM, Crit.Kind.FINAL))
    before = other.crits.get(kind=Crit.Kind.FINAL)
    revision = scheme.revisions.last()
    sheet = JurySheet.objects.filter(seat__crit=final, scheme__number="H03").first()
    juror = at_a_seat(sheet.seat)

    def asked(
        name: str,
        who: Client,
        view: str,
        *args: int | str,
        most: float | None = None,
        more: str = "",
    ) -> Asked:
        return Asked(name, who, reverse(view, args=args) + more, most)

    pk = scheme.pk
    return [
        asked("package", student, "show-package", pk, most=10),
        asked("check sheet", student, "show-checks", pk, most=10),
        asked("one check", student, "show-check", pk, "T01"),
        asked("schedule", student, "show-schedule", pk, "windows", most=10),
        asked("questions", student, "show-questions", pk, most=10),
        asked("sheets", student, "edit-sheets", pk),
        asked("daylight", student, "list-daylight", pk),
        asked("year", student, "show-year", pk),
        asked("issue", student, "issue-package", pk),
        asked("student's home", student, "home"),
        asked("brief", student, "show-brief", studio.pk),
        asked("results", student, "show-results", interim.pk, pk, most=10),
        asked("revision", student, "show-revision", revision.pk),
        asked("issued checks", student, "show-issued-checks", revision.pk),
        asked("issued schedule", student, "show-issued-schedule", revision.pk, "windows"),
        asked("jury's order", juror, "show-jury"),
        asked("jury sheet", juror, "show-jury-sheet", sheet.scheme_id, most=10),
        asked("leader's home", leader, "home"),
        asked("studio", leader, "show-studio", studio.pk),
        asked("people", leader, "show-people", studio.pk),
        asked("crit", leader, "show-crit", final.pk),
        asked("running order", leader, "edit-order", final.pk),
        asked("jurors", leader, "edit-jurors", final.pk),
        asked("moderation", leader, "show-table", before.pk),
        asked("one scheme's levels", leader, "moderate-scheme", final.pk, pk),
        asked("release", leader, "release-crit", final.pk),
        asked("audit list", leader, "show-audit", studio.pk),
        asked("compare", leader, "compare-cohorts", studio.pk, more=f"?other={other.pk}", most=30),
    ]


def large_pages() -> list[Asked]:
    """The pages of a crit of 60 × 12 × 10, and of a schedule of 400 rows."""
    from django.urls import reverse

    from tests.archive import large_crit

    crit = large_crit()
    leader = signed_in(crit.studio.opened_by)
    scheme = crit.studio.schemes.first()
    student = scheme.members.create(email="draws.much@example.org", name="Mo of Much")
    return [
        Asked("moderation 60×12×10", leader, reverse("show-table", args=[crit.pk]), 60),
        Asked("400 rows", signed_in(student), reverse("show-schedule", args=[scheme.pk, "pieces"])),
        Asked("leader's home, 60×12×10", leader, reverse("home")),
    ]


def measured(page: Asked, plain: Client, rounds: int) -> Measured:
    """Ask for a page and, as somebody with an account, for a bare one in turn."""
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    took: list[float] = []
    bare_took: list[float] = []
    both = (page.client, page.address, took), (plain, "/bare/", bare_took)
    for client, address, _ in both:
        answer = client.get(address)
        assert answer.status_code == 200, (page.name, address, answer.status_code)
    for _ in range(rounds):
        for client, address, times in both:
            start = time.process_time()
            client.get(address)
            times.append(1000 * (time.process_time() - start))
    with CaptureQueriesContext(connection) as queries:
        page.client.get(page.address)
    return Measured(statistics.median(took), statistics.median(bare_took), len(queries))


def print_table(found: dict[str, dict[int, Measured]], goals: dict[str, float | None]) -> None:
    """Print a line a page, and for each size its time, ratio and queries."""
    times = sorted({size for by_size in found.values() for size in by_size})
    print(f"{'':26}{'goal':>6}" + "".join(f"{f'{size}×':>22}" for size in times))
    print(f"{'page':26}{'':6}" + f"{'ms':>9}{'ratio':>7}{'asks':>6}" * len(times))
    for name, by_size in found.items():
        most = goals[name]
        line = f"{name:26}{f'{most:.0f}×' if most else '':>6}"
        for size in times:
            if size not in by_size:
                line += f"{'–':>22}"
                continue
            each = by_size[size]
            over = "!" if most and each.ratio > most else " "
            line += f"{each.ms:9.1f}{each.ratio:6.1f}{over}{each.queries:6}"
        print(line)


def main(arguments: Sequence[str]) -> None:
    """Load the demo, let it grow, and print what its pages take."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, nargs="+", default=[1, 10, 50, 100])
    parser.add_argument("--rounds", type=int, default=15)
    parser.add_argument("--only", default="", help="measure pages with this word in their name")
    asked = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as folder:
        done = manage("demo", "--no-serve", **surroundings(Path(folder)))
        assert done.returncode == 0, done.stderr
        os.environ |= surroundings(Path(folder), DJANGO_SETTINGS_MODULE="reviews.settings")
        os.environ["MUNTIN_HOSTS"] = "testserver"
        _measure(asked.times, asked.rounds, asked.only)


def _measure(times: Sequence[int], rounds: int, only: str) -> None:
    import django

    django.setup()
    with_bare_page()

    from django.urls import reverse

    from tests import archive

    own = archive.last_keys()
    pages = [*pages_of_the_demo(), *large_pages()]
    many: list[Asked] = []
    found: dict[str, dict[int, Measured]] = {}
    size = 1
    for wanted in sorted(times):
        archive.grow(own, range(size, wanted))
        size = max(size, wanted)
        if not many and size * 2 >= MANY:
            leader = signed_in(archive.leader_of(MANY))
            many = [Asked(f"home of {MANY} studios", leader, reverse("home"), 20)]
        for page in (*pages, *many):
            if only in page.name:
                found.setdefault(page.name, {})[wanted] = measured(page, pages[0].client, rounds)
    print_table(found, {page.name: page.most for page in (*pages, *many)})


if __name__ == "__main__":
    main(sys.argv[1:])
