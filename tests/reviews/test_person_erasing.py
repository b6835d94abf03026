"""Somebody is made anonymous: what goes, what stays without a name, and who can't be yet."""

import json
from datetime import timedelta
from io import StringIO

import pytest
from allauth.mfa.models import Authenticator
from allauth.socialaccount.models import SocialAccount
from axes.models import AccessAttempt
from django.apps import apps
from django.contrib.sessions.models import Session
from django.core.management import CommandError, call_command
from django.core.serializers import serialize
from django.utils import timezone

from reviews import access
from reviews.access import Viewer
from reviews.deeds import (
    crit_jury_keeping,
    crit_releasing,
    crit_seating,
    mail_choosing,
    person_erasing,
)
from reviews.deeds.person_erasing import erase, find, plan
from reviews.deeds.person_links import link_for, person_of
from reviews.deeds.record_versions import version_of
from reviews.deeds.studio_roster import remove_member
from reviews.models import (
    AuditLine,
    Change,
    IssuedPackage,
    Mail,
    Membership,
    Person,
    Revision,
    Seat,
    SentPicture,
    Sheet,
    SheetFile,
    UnwantedMail,
)
from reviews.models.briefs import Frozen
from tests import factories
from tests.reviews.page_steps import text_of


@pytest.fixture
def judged(cast, issued):
    """An issued revision with the student's name on it, judged and released, and a newer draft."""
    issued.sheets.filter(number="02").update(drawn_by="Stef Student", checked_by="Mira Mate")
    contents = issued.contents | {
        "sheets": [{"number": "02", "drawn_by": "Stef Student", "checked_by": "Mira Mate"}]
    }
    IssuedPackage.objects.filter(revision=issued).update(contents=contents)
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, 3, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    cast.scheme.package.statement = "A lamp in the ridge."
    cast.scheme.package.save()
    factories.RowFactory(package=cast.scheme.package, changed_by=cast.student)
    factories.SheetFactory(
        package=cast.scheme.package, number="07", changed_by=cast.student, drawn_by="stef student"
    )
    return issued


def run(*words: str) -> str:
    out = StringIO()
    call_command("person", *words, stdout=out)
    return out.getvalue()


def everything() -> str:
    """Every row of the site, but for sessions."""
    ours = ("reviews", "allauth")
    models = [model for model in apps.get_models() if model.__module__.startswith(ours)]
    return "\n".join(serialize("json", model._base_manager.order_by("pk")) for model in models)


def test_without_yes_nothing_is_done_and_all_is_said(cast, judged):
    before = everything()
    said = run(cast.student.email, "--erase")
    assert everything() == before
    goes, anonymous = said.index("Goes:"), said.index("Is made anonymous:")
    stays = said.index("Is kept for an examination, and why:")
    assert goes < said.index("the address stef@example.org") < anonymous
    assert anonymous < said.index("Stef Student is called Former student") < stays
    assert stays < said.index("R01 Lee, revision A with its check sheet")
    assert "the draft of R01 Lee, which Mira Mate draws too" in said
    assert "--yes does it" in said


def test_name_address_password_sessions_and_links_go(cast, judged, rf):
    cast.student.set_password("a long enough one")
    cast.student.save()
    client = cast.client(cast.student)
    token = link_for(rf.get("/"), cast.student).split("/")[-2]
    told = {"provider": "https://id.example", "uid": "s-1"}
    SocialAccount.objects.create(user=cast.student, extra_data={"email": "stef@x"}, **told)
    Authenticator.objects.create(user=cast.student, type="webauthn", data={"name": "stef's"})
    run(cast.student.email, "--erase", "--yes")
    person = Person.objects.get(pk=cast.student.pk)
    assert person.name == f"Former student {person.pk}"
    assert person.email == f"former-{person.pk}@erased.invalid"
    assert not person.has_usable_password()
    assert client.get("/")["Location"].startswith("/sign-in/")
    assert person_of(link_for(rf.get("/"), person).split("/")[-3]) is None
    assert cast.client().get(f"/enter/MQ/{token}/").status_code == 410
    assert not access.can_make_link(Viewer(cast.leader), person)
    assert "stef" not in everything().lower()


def test_other_people_stay_signed_in(cast, judged):
    others = [cast.client(who) for who in (cast.mate, cast.leader, cast.seat)]
    own = cast.client(cast.student).cookies["sessionid"].value
    kept = set(Session.objects.exclude(pk=own))
    run(cast.student.email, "--erase", "--yes")
    assert set(Session.objects.all()) == kept
    assert len(kept) == 3
    assert others[0].get("/").status_code == 200
    assert others[1].get("/").status_code == 200
    assert others[2].get("/jury/").status_code == 200


def test_what_an_examination_rests_on_stays_without_the_name(cast, judged):
    run(cast.student.email, "--erase", "--yes")
    revision = Revision.objects.get(pk=judged.pk)
    former = f"Former student {cast.student.pk}"
    assert set(revision.by.split(" and ")) == {former, "Mira Mate"}
    assert revision.sheets.get(number="02").drawn_by == former
    assert revision.contents["sheets"][0]["drawn_by"] == former
    assert revision.contents["sheets"][0]["checked_by"] == "Mira Mate"
    assert revision.fingerprint == judged.fingerprint
    assert cast.scheme.jury_sheets.get().levels.count() == 2
    page = text_of(cast.client(cast.leader).get(f"/revisions/{revision.pk}/"))
    assert former in page
    assert "Stef Student" not in page


def test_a_team_s_draft_stays_until_nobody_named_draws_it(
    cast, judged, django_capture_on_commit_callbacks
):
    package = cast.scheme.package
    run(cast.student.email, "--erase", "--yes")
    package.refresh_from_db()
    assert (bool(package.statement), package.rows.count()) == (True, 1)
    assert Sheet.objects.get(number="07").drawn_by == f"Former student {cast.student.pk}"
    stored = Sheet.objects.get(number="07").file.image
    with django_capture_on_commit_callbacks(execute=True):
        said = run(cast.mate.email, "--erase", "--yes")
    assert "the draft of R01 Lee: statement, 1 row, 1 sheet, changes, desk crits, options" in said
    package.refresh_from_db()
    assert (package.statement, package.rows.exists(), Sheet.objects.exists()) == ("", False, False)
    assert not stored.storage.exists(stored.name)


def test_an_issued_picture_stays_and_its_file_as_sent_goes_with_the_last_name(cast, judged):
    issued = judged.sheets.filter(number="02")
    file, sent = issued.get().file, factories.OriginalFactory()
    issued.update(original=sent, original_name="Plan by Stef Student.pdf")
    factories.SheetFactory(package=cast.scheme.package, number="02", file=file, original=sent)
    erase(find(cast.student.email))
    now = issued.get().original, issued.get().original_name
    assert now == (sent, f"Plan by Former student {cast.student.pk}.pdf")  # the other has a name
    assert "the files as sent of 1 issued sheet" in " ".join(plan(find(cast.mate.email)).goes)
    erase(find(cast.mate.email))
    assert SheetFile.objects.filter(pk=file.pk).exists()
    assert issued.get().file == file
    assert (issued.get().original, issued.get().original_name) == (None, "")


def test_a_name_in_another_studio_or_within_a_word_is_not_touched(cast, judged):
    other = factories.SchemeFactory(studio=cast.other_studio)
    there = factories.SheetFactory(package=other.package, drawn_by="Stef Student")
    within = factories.SheetFactory(package=cast.scheme.package, drawn_by="Stef Studentski")
    erase(find(cast.student.email))
    kept = dict(Sheet.objects.values_list("pk", "drawn_by"))
    assert (kept[there.pk], kept[within.pk]) == ("Stef Student", "Stef Studentski")


def test_a_name_with_signs_of_patterns_is_a_name(cast, judged):
    odd = r"S. (Stef) \1 [S]*"
    Person.objects.filter(pk=cast.student.pk).update(name=odd)
    judged.sheets.filter(number="02").update(drawn_by=f"{odd} / Mira Mate")
    erase(find(cast.student.email))
    former = f"Former student {cast.student.pk}"
    assert judged.sheets.get(number="02").drawn_by == f"{former} / Mira Mate"


def test_a_credit_grown_too_long_is_cut_and_not_refused(cast, judged):
    long = ", ".join(["Stef Student"] * 8)
    judged.sheets.filter(number="02").update(drawn_by=long)
    erase(find(cast.student.email))
    credit = judged.sheets.get(number="02").drawn_by
    assert len(credit) == 120
    assert "Stef" not in credit


def test_somebody_without_a_name_masks_nothing(cast, judged):
    Person.objects.filter(pk=cast.student.pk).update(name="")
    erase(find(cast.student.email))
    assert judged.sheets.get(number="02").drawn_by == "Stef Student"


def test_a_change_says_the_new_name_too(cast, judged):
    remove_member(Membership.objects.get(person=cast.classmate), cast.leader)
    cast.other_scheme.members.add(cast.classmate)
    erase(find(cast.classmate.email))
    assert Change.objects.get().what == f"Former student {cast.classmate.pk} removed, student"


def test_erasing_twice_changes_nothing_more(cast, judged):
    run(cast.student.email, "--erase", "--yes")
    once = everything()
    with pytest.raises(CommandError) as refused:
        run("stef@example.org", "--erase", "--yes")
    assert refused.value.returncode == 2
    with pytest.raises(CommandError):
        run(f"former-{cast.student.pk}@erased.invalid", "--erase", "--yes")
    assert everything() == once


@pytest.mark.parametrize("deed", [["--erase"], ["--erase", "--yes"], ["--export", "x.zip"]])
@pytest.mark.parametrize("email", ["nobody@example.org", "", " ", "%"])
def test_an_address_of_nobody_is_said_in_words(cast, deed, email, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    before = everything()
    with pytest.raises(CommandError, match="Expected the address of an account") as refused:
        run(email, *deed)
    assert refused.value.returncode == 2
    assert everything() == before
    assert list(tmp_path.iterdir()) == []


def test_a_crit_that_is_not_released_is_waited_for_unless_it_is_said(cast):
    assert "is not released" in run(cast.student.email, "--erase")
    with pytest.raises(CommandError, match="although-a-crit-is-open") as refused:
        run(cast.student.email, "--erase", "--yes")
    assert refused.value.returncode == 2
    assert Person.objects.get(pk=cast.student.pk).email == "stef@example.org"
    run(cast.student.email, "--erase", "--yes", "--although-a-crit-is-open")
    assert Person.objects.get(pk=cast.student.pk).erased_at


def test_a_crit_of_any_studio_of_theirs_is_waited_for(cast, judged):
    factories.MembershipFactory(studio=cast.other_studio, person=cast.student)
    with pytest.raises(Frozen, match="Shore"):
        erase(find(cast.student.email))


def test_a_crit_that_is_over_and_was_never_begun_holds_nothing_back(cast):
    cast.crit.day = timezone.localdate() - timedelta(days=1)
    cast.crit.save()
    erase(find(cast.student.email))
    assert Person.objects.get(pk=cast.student.pk).erased_at


def test_a_crit_that_was_begun_and_never_released_holds_back_for_as_long(cast):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    cast.crit.day = timezone.localdate() - timedelta(days=400)
    cast.crit.save()
    with pytest.raises(Frozen, match="is not released"):
        erase(find(cast.student.email))


def test_a_studio_s_only_leader_stays_until_another_is_there(cast, judged):
    with pytest.raises(Frozen, match="only leader of Ridge"):
        erase(find(cast.leader.email), although_a_crit_is_open=True)
    factories.MembershipFactory(studio=cast.studio, person=cast.mate, role="leader")
    erase(find(cast.leader.email))
    former = Person.objects.get(pk=cast.leader.pk)
    assert former.name == f"Former studio leader {former.pk}"
    assert not former.opens_studios


def test_a_juror_without_an_account_loses_name_address_and_link(cast, judged):
    Seat.objects.filter(pk=cast.seat.pk).update(email="jo@example.org")
    interest = factories.InterestFactory(seat=cast.seat, scheme=cast.other_scheme, words="Cousin.")
    client, code = cast.client(cast.seat), cast.seat.code
    cast.client(cast.mate)
    said = run("JO@example.org", "--erase")
    assert "1 jury sheet of" in said
    run("JO@example.org", "--erase", "--yes")
    seat = Seat.objects.get(pk=cast.seat.pk)
    assert (seat.name, seat.email) == (f"Former juror {seat.pk}", "")
    interest.refresh_from_db()
    assert interest.words == ""
    assert Session.objects.count() == 1
    assert client.get("/jury/").status_code == 404
    for each in (code, seat.code):
        assert cast.client().get(f"/j/{each}/").status_code == 404
    assert seat.sheets.get().levels.count() == 2
    assert "Jo Juror" not in everything()


def test_what_changes_of_jurors_repeat_is_masked_and_still_undone(cast, judged):
    lines = crit_seating.lines_of(cast.crit)
    seen = version_of(lines)
    lines[0]["email"] = "jo@example.org"
    crit_seating.keep_seats(cast.crit, lines, seen, cast.leader)
    code = cast.seat.code
    erase(find("jo@example.org"))
    kept = json.dumps(list(Change.objects.values("what", "before", "after")))
    assert "Jo Juror" not in kept
    assert "jo@example.org" not in kept
    assert code not in kept


def test_a_leader_who_is_a_juror_is_one_person_to_erase(cast, judged):
    factories.MembershipFactory(studio=cast.studio, person=cast.mate, role="leader")
    Seat.objects.filter(pk=cast.seat.pk).update(email=cast.leader.email, name=cast.leader.name)
    erase(find(cast.leader.email))
    former = f"Former studio leader {cast.leader.pk}"
    assert Seat.objects.get(pk=cast.seat.pk).name == former
    assert "Lena" not in everything()


def test_a_seat_of_the_same_name_without_an_address_is_named_and_not_touched(cast, judged):
    seat = factories.SeatFactory(crit=cast.crit, name="stef student")
    factories.SeatFactory(crit=cast.other_crit, name="Stef Student")
    said = run(cast.student.email, "--erase", "--yes")
    assert said.count("which has no address") == 1
    seat.refresh_from_db()
    assert seat.name == "stef student"
    assert seat.erased_at is None


def test_the_audit_list_tells_that_it_was_done_and_no_name(cast, judged):
    erase(find(cast.student.email))
    (line,) = AuditLine.objects.named().of_deed("erased")
    assert line.studio == cast.studio
    assert line.who == "The administrator, by a command"
    assert line.of_whom == f"Former student {cast.student.pk}"


def test_an_administrator_exports_into_a_file_and_never_over_one(cast, judged, tmp_path):
    path = tmp_path / "stef.zip"
    assert str(path) in run(cast.student.email, "--export", str(path))
    assert path.stat().st_mode & 0o077 == 0
    written = path.read_bytes()
    assert b"data.json" in written
    for again in (path, tmp_path / "no" / "folder.zip"):
        with pytest.raises(CommandError, match="No file was written") as refused:
            run(cast.student.email, "--export", str(again))
        assert refused.value.returncode == 2
    assert path.read_bytes() == written


def test_the_people_of_a_studio_show_no_address_of_a_former_one(cast, judged):
    erase(find(cast.student.email))
    page = text_of(cast.client(cast.leader).get(f"/studios/{cast.studio.pk}/people/"))
    assert "made anonymous" in page
    assert "erased.invalid" not in page


def test_an_invitation_goes_with_the_name_that_its_leader_typed_and_holds_nothing_back(
    cast, judged
):
    place = factories.MembershipFactory(
        studio=cast.other_studio, person=cast.student, is_invited=True, called="Stephanie S."
    )
    sheet = factories.SheetFactory(
        package=factories.SchemeFactory(studio=cast.other_studio).package, drawn_by="Stephanie S."
    )
    erase(find(cast.student.email))
    assert not Membership.objects.filter(pk=place.pk).exists()
    sheet.refresh_from_db()
    assert sheet.drawn_by == f"Former student {cast.student.pk}"
    assert not AuditLine.objects.filter(studio=cast.other_studio).exists()


def test_what_links_an_account_to_a_school_is_taken_away_on_request(cast):
    SocialAccount.objects.create(user=cast.student, provider="https://id.example", uid="s-1")
    SocialAccount.objects.create(user=cast.mate, provider="https://id.example", uid="s-2")
    assert run(cast.student.email, "--unlink") == "1 link to a school taken away.\n"
    assert SocialAccount.objects.get().user == cast.mate
    assert run(cast.student.email, "--unlink") == "0 links to a school taken away.\n"


def test_what_was_sent_and_what_was_tried_at_the_account_goes(cast, judged):
    SentPicture.objects.create(package=cast.scheme.package, by=cast.student, name="stef.jpg")
    AccessAttempt.objects.create(
        username=cast.student.email, ip_address="192.0.2.7", failures_since_start=3
    )
    Mail.objects.create(key="a", kind="receipt", address=cast.student.email.upper())
    stays = Mail.objects.create(key="b", kind="receipt", address=cast.mate.email)
    mail_choosing.choose(cast.student.email, [])
    erase(find(cast.student.email))
    assert not SentPicture.objects.exists()
    assert not AccessAttempt.objects.exists()
    assert Mail.objects.filter(kind="receipt").get() == stays
    assert not UnwantedMail.objects.exists()


def test_the_name_is_made_of_the_highest_place(cast):
    assert person_erasing.former_name(cast.coordinator).startswith("Former coordinator ")
    assert person_erasing.former_name(cast.examiner).startswith("Former external examiner ")
