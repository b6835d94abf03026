"""How long ten cohorts of 28 take beside a bare page; and what their intervals hold.

    python -m tests.benchmarks.cohorts_compared [--rounds 25] [--coverage CRITS]

Ten studios of a line, each with its released final crit: 28 schemes before 5 jurors by 8 criteria,
27 targets of each on the revision that was judged, three comments a sheet. Prints as
tests.benchmarks.archive does: median processor time [ms], its ratio to a bare signed-in page asked
for in turn with it, and queries; and once what the page takes in a process that keeps nothing yet.
With --coverage no page: in how many of so many simulated pairs of cohorts, under juries of their
own, the intervals said to hold 95 in 100 hold the truth. Not collected by pytest.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
import time
import uuid
from collections.abc import Iterator, Sequence
from datetime import timedelta
from itertools import product
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

from tests.benchmarks.adjust_rule import cohorts_held
from tests.benchmarks.archive import Asked, measured, print_table, signed_in, with_bare_page
from tests.served import manage, surroundings

if TYPE_CHECKING:
    from reviews.models import Crit, Criterion, Person, Revision, Studio

COHORTS, SCHEMES, JURORS, CRITERIA, TARGETS, COMMENTS = 10, 28, 5, 8, 27, 3
MOST = 30
"""The goal [times a bare page]."""


def ten_cohorts() -> tuple[Studio, Person]:
    """The last of ten studios of a line, and who leads them all."""
    from reviews.models import Membership, Person, Studio

    leader = Person.objects.create_user("leads.ten@example.org", "Lou of Ten")
    before = None
    for year in range(COHORTS):
        before = Studio.objects.create(
            title="Ten Years", cohort=f"cohort {year}", opened_by=leader, follows=before
        )
        Membership.objects.create(studio=before, person=leader, role=Membership.Role.LEADER)
        _judged(before, leader, year, Random(year))
    assert before is not None
    return before, leader


def _judged(studio: Studio, leader: Person, year: int, rng: Random) -> None:
    from django.utils import timezone

    from reviews.models import Brief, Crit, Criterion, Revision, Scheme, Seat, StoredFinding

    now = timezone.now() - timedelta(days=365 * (COHORTS - year))
    Brief.objects.create(studio=studio, issued_at=now, issued_by=leader)
    crit = Crit.objects.create(
        studio=studio, day=now.date(), pens_down=now, released_at=now, released_by=leader
    )
    criteria = [
        Criterion.objects.create(
            crit=crit, position=n, code=f"F{n}", name=f"Criterion {n}", weight=10,
            **{f"level_{each}": f"What a level {each} looks like on {n}." for each in range(1, 6)},
        )
        for n in range(CRITERIA)
    ]  # fmt: skip
    seats = [Seat.objects.create(crit=crit, name=f"Juror {year} {n}") for n in range(JURORS)]
    schemes = Scheme.objects.bulk_create(
        Scheme(studio=studio, number=f"S{n:02}", name=f"Scheme {n}") for n in range(SCHEMES)
    )
    revisions = Revision.objects.bulk_create(
        Revision(
            scheme=scheme, letter="A", issued_at=now, issued_by=leader, crit=crit,
            fingerprint="0" * 64,
        )
        for scheme in schemes
    )  # fmt: skip
    StoredFinding.objects.bulk_create(_findings(revisions, rng))
    _sheets(crit, seats, revisions, criteria, rng)


def _findings(revisions: Sequence[Revision], rng: Random) -> Iterator[object]:
    from reviews.models import StoredFinding

    for revision, n in product(revisions, range(TARGETS)):
        ratio = rng.gauss(1.05 + 0.01 * n * (rng.random() < 0.5), 0.2)
        yield StoredFinding(
            revision=revision, ref=f"T{n:02}", check_slug=f"check_{n}", rule="at least",
            title=f"Target {n}", state="meets" if ratio >= 1 else "short",
            value=ratio, target=1.0, ratio=ratio,
        )  # fmt: skip


def _sheets(
    crit: Crit,
    seats: Sequence[object],
    revisions: Sequence[Revision],
    criteria: Sequence[Criterion],
    rng: Random,
) -> None:
    from reviews.models import Comment, JurySheet, LevelGiven

    sheets = JurySheet.objects.bulk_create(
        JurySheet(seat=seat, scheme=each.scheme, revision=each, locked_at=crit.released_at)
        for seat, each in product(seats, revisions)
    )
    LevelGiven.objects.bulk_create(
        LevelGiven(
            jury_sheet=sheet, criterion=criterion, revision=sheet.revision,
            level=min(5, max(1, round(rng.gauss(3.2, 0.9)))),
        )
        for sheet, criterion in product(sheets, criteria)
    )  # fmt: skip
    kinds = Comment.Kind.values
    Comment.objects.bulk_create(
        Comment(
            jury_sheet=sheet, key=uuid.UUID(int=rng.getrandbits(128)), kind=rng.choice(kinds),
            words=f"What carries it, and where is T{rng.randrange(TARGETS):02} shown?",
            revision=sheet.revision, criterion=rng.choice(criteria),
        )
        for sheet, _ in product(sheets, range(COMMENTS))
    )  # fmt: skip


def _measure(rounds: int) -> None:
    import django

    django.setup()
    with_bare_page()

    from django.urls import reverse

    from reviews import worked_out

    studio, leader = ten_cohorts()
    client = signed_in(leader)
    address = reverse("compare-cohorts", args=[studio.pk])
    pages = [
        Asked("ten cohorts of 28", client, address, MOST),
        Asked("two of them", client, f"{address}?other={studio.follows_id}", MOST),
        Asked("failures drawer of ten", client, reverse("show-failures", args=[studio.pk])),
    ]
    client.get("/bare/")
    worked_out.forget()
    start = time.process_time()
    answer = client.get(address)
    took = time.process_time() - start
    print(f"Ten cohorts, nothing kept: {took:.1f} s of processor; {len(answer.content)} bytes sent")
    found = {page.name: {1: measured(page, client, rounds)} for page in pages}
    print_table(found, {page.name: page.most for page in pages})


def _cover(crits: int) -> None:
    print(f"Coverage of difference, g and δ, % of {crits} pairs of cohorts of 14")
    for jurors, severity, gap in product((3, 6), (0.2, 0.4, 0.8), (0.0, 0.5)):
        held = 100 * cohorts_held(jurors, severity, gap, crits)
        words = f"{jurors} jurors a year, σ_b {severity}, true difference {gap}"
        print("  ".join(f"{figure:5.1f}" for figure in held), words, flush=True)


def main(arguments: Sequence[str]) -> None:
    """Build ten cohorts in a folder of their own and print what their page takes."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=25)
    parser.add_argument("--coverage", type=int, default=0)
    asked = parser.parse_args(arguments)
    if asked.coverage:
        _cover(asked.coverage)
        return
    with tempfile.TemporaryDirectory() as folder:
        for command in (["migrate"], ["collectstatic", "--noinput"]):
            done = manage(*command, **surroundings(Path(folder)))
            assert done.returncode == 0, done.stderr
        os.environ |= surroundings(Path(folder), DJANGO_SETTINGS_MODULE="reviews.settings")
        os.environ["MUNTIN_HOSTS"] = "testserver"
        _measure(asked.rounds)


if __name__ == "__main__":
    main(sys.argv[1:])
