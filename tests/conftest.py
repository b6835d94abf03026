"""One cast for all tests of the site: who is who, so that a test of access reads aloud."""

import functools
import gc
import os
import sys
from collections import Counter
from collections.abc import Generator
from dataclasses import dataclass
from pathlib import Path

import coverage
import hypothesis
import pytest
from django.db import connection
from django.test import Client
from django.utils import timezone

import criteria
from reviews import worked_out
from reviews.access import SEAT_KEY
from reviews.models import Crit, Criterion, Membership, Person, Scheme, Seat, Studio
from tests import factories

Role = Membership.Role

# the same examples on every run: a build that fails, fails again
hypothesis.settings.register_profile("steady", derandomize=True, deadline=None)
hypothesis.settings.load_profile("steady")


LIBRARY = (Path(__file__).parent / "criteria", Path(criteria.__file__).parent)


def _is_counted(item: pytest.Item) -> bool:
    """Whether a test's lines are counted: the library's own tests take all of its lines."""
    is_of_library = item.config.getoption("cov_source", None) == ["criteria"]
    in_browser = "browser" in item.path.parts
    is_library = any(item.path.is_relative_to(folder) for folder in LIBRARY)
    is_uncounted = item.get_closest_marker("uncounted") is not None
    return not in_browser and not is_uncounted and (is_library or not is_of_library)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Generator[None, object, object]:
    """Count no lines of a test whose lines don't count, from its first fixture to its last.

    Counting is switched where a test of the other kind begins, not round each, and with all who
    count: a worker has two, and the lower takes over where the upper alone stops. Two threads of
    a server that begin while lines are counted end one the other before it answers.
    """
    if not _is_counted(item):
        while counting := coverage.Coverage.current():
            counting.stop()
            STOPPED.append(counting)
    elif STOPPED:
        _forget()
        while STOPPED:
            STOPPED.pop().start()
    return (yield)


STOPPED: list[coverage.Coverage] = []
"""Who counted lines until a test came whose lines don't count, the upper first."""


def _forget() -> None:
    """Keep nothing that the library worked out uncounted: its own tests work it out again."""
    for name in [name for name in sys.modules if name.partition(".")[0] == criteria.__name__]:
        for each in vars(sys.modules[name]).values():
            if isinstance(each, functools._lru_cache_wrapper):
                each.cache_clear()


CASES = 1


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Run the first case of each test where the site's own database has run them all.

    Another database answers a query otherwise, not a figure in a cell: what asks it something
    else in each case is marked. `.ci/long` runs all.
    """
    if connection.vendor == "sqlite" or os.environ.get("MUNTIN_LONG"):
        return
    cases: Counter[str] = Counter()
    left = []
    for item in items:
        name = item.nodeid.partition("[")[0]
        cases[name] += 1
        if cases[name] > CASES and item.get_closest_marker("each_case_asks") is None:
            left.append(item)
    if left:
        config.hook.pytest_deselected(items=left)
        gone = set(left)
        items[:] = [item for item in items if item not in gone]


def pytest_collection_finish() -> None:
    """Let the collector of garbage pass over what stands to the end: a million objects."""
    gc.collect()
    gc.freeze()


@dataclass
class Cast:
    """A studio with an issued brief, two schemes and one crit, and another studio beside it."""

    studio: Studio
    scheme: Scheme
    other_scheme: Scheme
    crit: Crit
    criterion: Criterion
    other_criterion: Criterion
    leader: Person
    student: Person
    mate: Person
    classmate: Person
    scribe: Person
    examiner: Person
    coordinator: Person
    other_studio: Studio
    other_leader: Person
    other_student: Person
    seat: Seat
    other_crit: Crit
    other_seat: Seat

    def client(self, who: Person | Seat | None = None) -> Client:
        """A browser in which a person is signed in, or a juror's link is open."""
        client = Client()
        if isinstance(who, Person):
            client.force_login(who)
        elif isinstance(who, Seat):
            session = client.session
            session[SEAT_KEY] = [who.pk, who.code]
            session.save()
        return client


def _member(studio: Studio, role: str, name: str) -> Person:
    person = factories.PersonFactory(name=name, email=f"{name.split()[0].lower()}@example.org")
    factories.MembershipFactory(studio=studio, person=person, role=role)
    return person


def _studio(title: str, leader: Person) -> Studio:
    studio = factories.StudioFactory(title=title, opened_by=leader)
    factories.BriefFactory(studio=studio, issued_at=timezone.now(), issued_by=leader)
    factories.TargetLineFactory(brief=studio.brief)
    factories.MembershipFactory(studio=studio, person=leader, role=Role.LEADER)
    return studio


@pytest.fixture(autouse=True)
def nothing_kept():
    """What a process works out once, each test works out anew."""
    worked_out.forget()


@pytest.fixture
def at_a_working_hour(monkeypatch):
    """A release may go out now, whatever the hour at which the tests run."""
    for where in ("deeds.crit_release_setting", "pages.release_page"):
        monkeypatch.setattr(f"reviews.{where}.why_not_now", lambda at: "")


@pytest.fixture
def cast(db) -> Cast:
    return make_cast()


def make_cast() -> Cast:
    leader = factories.PersonFactory(
        name="Lena Leader", email="lena@example.org", opens_studios=True
    )
    studio = _studio("Ridge", leader)
    student = _member(studio, Role.STUDENT, "Stef Student")
    mate = _member(studio, Role.STUDENT, "Mira Mate")
    classmate = _member(studio, Role.STUDENT, "Clem Classmate")
    scheme = factories.SchemeFactory(
        studio=studio, number="R01", name="Lee", members=[student, mate]
    )
    other_scheme = factories.SchemeFactory(
        studio=studio, number="R02", name="Keel", members=[classmate]
    )
    crit = factories.CritFactory(studio=studio)
    criterion = factories.CriterionFactory(crit=crit, code="F1", name="Light", evidence="T01")
    other_criterion = factories.CriterionFactory(crit=crit, code="F2", name="Making", position=1)
    factories.SlotFactory(crit=crit, scheme=scheme, position=1)
    factories.SlotFactory(crit=crit, scheme=other_scheme, position=2)
    other_leader = factories.PersonFactory(name="Olaf Other", email="olaf@example.org")
    other_studio = _studio("Shore", other_leader)
    other_crit = factories.CritFactory(studio=other_studio)
    return Cast(
        studio=studio,
        scheme=scheme,
        other_scheme=other_scheme,
        crit=crit,
        criterion=criterion,
        other_criterion=other_criterion,
        leader=leader,
        student=student,
        mate=mate,
        classmate=classmate,
        scribe=_member(studio, Role.SCRIBE, "Skye Scribe"),
        examiner=_member(studio, Role.EXAMINER, "Edda Examiner"),
        coordinator=factories.PersonFactory(
            name="Cora Coordinator", email="cora@example.org", is_coordinator=True
        ),
        other_studio=other_studio,
        other_leader=other_leader,
        other_student=_member(other_studio, Role.STUDENT, "Osk Otherstudent"),
        seat=factories.SeatFactory(crit=crit, name="Jo Juror"),
        other_crit=other_crit,
        other_seat=factories.SeatFactory(crit=other_crit, name="Jan Otherjuror"),
    )
