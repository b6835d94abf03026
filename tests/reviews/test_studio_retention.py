"""A studio's day of retention: set by its leader, shown to its people, carried out once."""

from datetime import timedelta
from io import StringIO

import pytest
from django.core.management import call_command
from django.utils import timezone

from reviews.deeds import crit_jury_keeping, crit_releasing
from reviews.deeds.record_versions import version_of
from reviews.deeds.studio_opening import NOTICE, studio_parts
from reviews.deeds.studio_retention import carry_out, due
from reviews.models import AuditLine, Change, Person, Revision, Seat, Sheet, SheetFile, Studio
from reviews.moments import day_words
from tests import factories
from tests.reviews.page_steps import text_of
from tests.reviews.test_person_erasing import everything


def kept_until(studio, days: int) -> None:
    day = timezone.localdate() + timedelta(days=days)
    Studio.objects.filter(pk=studio.pk).update(kept_until=day)


def run(*words: str) -> str:
    out = StringIO()
    call_command("retention", *words, stdout=out)
    return out.getvalue()


@pytest.fixture
def over(cast, issued):
    """A studio that is released, whose day is over; its leader opens studios."""
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, 3, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    factories.SheetFactory(package=cast.scheme.package, number="07", changed_by=cast.student)
    kept_until(cast.studio, -1)
    return cast.studio


# set and shown


def sent(cast, **more):
    parts = {"title": "Ridge", "cohort": cast.studio.cohort, "is_wall_open": "on"}
    return parts | {"seen": version_of(studio_parts(cast.studio))} | more


def test_a_leader_sets_the_day_and_the_audit_list_tells_of_it(cast):
    client, url = cast.client(cast.leader), f"/studios/{cast.studio.pk}/edit/"
    assert "nobody can bring them back" in text_of(client.get(url))
    day = timezone.localdate() + NOTICE
    assert client.post(url, sent(cast, kept_until=str(day))).status_code == 302
    cast.studio.refresh_from_db()
    assert cast.studio.kept_until == day
    (line,) = AuditLine.objects.named()
    assert (line.deed, line.who) == ("dated", "Lena Leader")
    assert line.about == f"until {day_words(day)}"
    client.post(url, sent(cast, kept_until=str(day), title="Ridge again"))
    assert AuditLine.objects.count() == 1
    cast.studio.refresh_from_db()
    client.post(url, sent(cast))
    assert AuditLine.objects.first().about == "until somebody says"


@pytest.mark.parametrize("days", [29, 0, -400])
def test_a_day_without_notice_is_refused(cast, days):
    day = timezone.localdate() + timedelta(days=days)
    answer = cast.client(cast.leader).post(
        f"/studios/{cast.studio.pk}/edit/", sent(cast, kept_until=str(day))
    )
    assert "Expected a day at least 30 days from today, or nothing." in text_of(answer)
    cast.studio.refresh_from_db()
    assert cast.studio.kept_until is None


def test_a_day_that_stands_does_not_keep_other_changes_back(cast):
    kept_until(cast.studio, 3)
    cast.studio.refresh_from_db()
    url = f"/studios/{cast.studio.pk}/edit/"
    more = {"title": "Low", "kept_until": str(cast.studio.kept_until)}
    assert cast.client(cast.leader).post(url, sent(cast, **more)).status_code == 302


@pytest.mark.parametrize("who", ["leader", "student", "scribe", "examiner", "coordinator"])
def test_everybody_of_the_studio_reads_the_day(cast, who):
    url = f"/studios/{cast.studio.pk}/"
    client = cast.client(getattr(cast, who))
    assert "no day of retention is set" in text_of(client.get(url))
    kept_until(cast.studio, 60)
    text, day = text_of(client.get(url)), timezone.localdate() + timedelta(days=60)
    assert f"Kept until {day_words(day)}" in text
    assert "nobody can bring them back" in text
    brief = text_of(client.get(f"{url}brief/"))
    assert f"<dt>Kept until</dt><dd>{day_words(day)}</dd>" in brief


def test_jurors_read_the_day_too(cast, juror):
    kept_until(cast.studio, 60)
    assert "<dt>Kept until</dt>" in text_of(juror.get("/jury/"))


# carried out


def test_a_studio_without_a_day_or_before_it_is_left_alone(cast):
    kept_until(cast.other_studio, 0)  # the day itself is still kept
    before = everything()
    assert "No studio has anything left to do." in run("--yes")
    assert everything() == before


def test_without_yes_nothing_is_done(over):
    before = everything()
    said = run()
    assert "5 accounts and 1 juror made anonymous, 1 sheet never issued taken down" in said
    assert "--yes does it" in said
    assert everything() == before


def test_names_go_and_what_an_examination_needs_stays(cast, over):
    assert "made anonymous" in run("--yes")
    for who in (cast.student, cast.mate, cast.classmate, cast.scribe, cast.examiner):
        assert Person.objects.get(pk=who.pk).erased_at
    assert Seat.objects.get(pk=cast.seat.pk).name == f"Former juror {cast.seat.pk}"
    kept = everything()
    for name in ("Stef", "Mira", "Clem", "Skye", "Edda", "Jo Juror"):
        assert name not in kept
    revision = Revision.objects.get()
    assert revision.sheets.count() == 2
    assert revision.students.count() == 2
    assert cast.scheme.jury_sheets.get().levels.count() == 2
    assert not Change.objects.filter(studio=over).exists()


def test_pictures_that_were_never_issued_go_and_issued_ones_stay(
    cast, over, django_capture_on_commit_callbacks
):
    issued = list(SheetFile.objects.exclude(issued=None))
    stored = Sheet.objects.get().file.image
    # drawn by somebody who keeps a place elsewhere: the draft's words stay, its picture goes
    factories.MembershipFactory(studio=cast.other_studio, person=cast.student)
    with django_capture_on_commit_callbacks(execute=True):
        run("--yes")
    assert not Sheet.objects.exists()
    assert not stored.storage.exists(stored.name)
    assert list(SheetFile.objects.all()) == issued
    assert all(file.image.storage.exists(file.image.name) for file in issued)


def test_people_of_another_studio_and_those_of_the_programme_keep_their_names(cast, over):
    factories.MembershipFactory(studio=cast.other_studio, person=cast.student)
    factories.SchemeFactory(studio=cast.other_studio, members=[cast.classmate])
    work = factories.RevisionFactory(scheme__studio=cast.other_studio)
    work.students.add(cast.examiner)
    run("--yes")
    named = Person.objects.filter(erased_at=None).values_list("name", flat=True)
    assert {"Stef Student", "Clem Classmate", "Edda Examiner", "Lena Leader"} <= set(named)
    assert "Mira Mate" not in named


def test_another_studio_whose_day_is_over_too_keeps_no_name(cast, over):
    factories.MembershipFactory(studio=cast.other_studio, person=cast.student)
    kept_until(cast.other_studio, -1)
    Studio.objects.get(pk=cast.other_studio.pk).crits.all().delete()
    run("--yes")
    assert Person.objects.get(pk=cast.student.pk).erased_at


def test_an_invitation_makes_nobody_one_of_the_studio(cast, over):
    lone = factories.PersonFactory(name="Lone")
    factories.MembershipFactory(studio=over, person=lone, is_invited=True, called="Lo")
    run("--yes")
    assert Person.objects.get(pk=lone.pk).name == "Lone"


def test_somebody_who_left_but_whose_work_was_issued_is_found(cast, over):
    cast.mate.memberships.all().delete()
    cast.scheme.members.remove(cast.mate)
    run("--yes")
    assert Person.objects.get(pk=cast.mate.pk).erased_at


def test_two_runs_change_nothing_more(over):
    run("--yes")
    once = everything()
    assert due() == []
    assert "No studio has anything left to do." in run("--yes")
    carry_out(over)
    assert everything() == once


def test_an_open_crit_holds_it_back_and_is_named_each_time(cast, over):
    later = factories.CritFactory(studio=over)
    before = everything()
    for _ in range(2):
        assert f"waits for the release of {later}" in run("--yes")
    assert everything() == before


def test_what_it_did_stands_in_the_audit_list(over):
    run("--yes")
    (line,) = AuditLine.objects.named().of_deed("retained")
    assert line.who == "The administrator, by a command"
    assert line.about == "5 accounts and 1 juror made anonymous, 1 sheet never issued taken down"


def test_a_studio_whose_day_was_moved_meanwhile_is_not_touched(over):
    (found,) = due()
    kept_until(over, 5)
    before = everything()
    carry_out(found.studio)
    assert everything() == before
