"""Studios and their people, page by page."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import RequestFactory
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from reviews import access
from reviews.access import Viewer
from reviews.deeds.person_links import renew_link
from reviews.deeds.record_changes import last_change
from reviews.deeds.record_versions import version_of
from reviews.deeds.studio_opening import open_studio, studio_parts
from reviews.deeds.studio_roster import PEOPLE
from reviews.models import Membership, StoredFinding, Studio
from tests import factories
from tests.reviews.page_steps import text_of

PARTS = {"title": "Low Water", "cohort": "cohort E", "year_line": "", "is_wall_open": True}
SENT = {"title": "Low Water", "cohort": "cohort E", "is_wall_open": "on"}


def test_opening_a_studio_makes_its_leader_and_a_brief(cast):
    client = cast.client(cast.leader)
    answer = client.post("/studios/new/", SENT)
    studio = Studio.objects.get(title="Low Water")
    assert answer["Location"] == f"/studios/{studio.pk}/"
    assert access.can_lead(Viewer(cast.leader), studio.pk)
    assert not studio.brief.is_issued
    assert "Write the brief" in text_of(client.get(answer["Location"]))


def test_opening_the_same_studio_twice_opens_one(cast):
    assert open_studio(cast.leader, PARTS) == open_studio(cast.leader, PARTS)


def test_a_studio_without_a_title_is_refused_and_the_rest_is_kept(cast):
    text = text_of(cast.client(cast.leader).post("/studios/new/", SENT | {"title": "x" * 121}))
    assert "(121 characters)" in text
    assert "Expected a title of at most 120 characters." in text
    assert 'value="cohort E"' in text
    assert not Studio.objects.filter(cohort="cohort E").exists()


def test_others_do_not_open_studios(cast):
    assert cast.client(cast.student).post("/studios/new/", SENT).status_code == 403


def test_a_studio_is_renamed_and_a_newer_name_is_not_run_over(cast):
    client, url = cast.client(cast.leader), f"/studios/{cast.studio.pk}/edit/"
    seen = version_of(studio_parts(cast.studio))
    assert client.post(url, SENT | {"seen": seen}).status_code == 302
    late = client.post(url, SENT | {"title": "High Water", "seen": seen})
    assert late.status_code == 409
    assert "Somebody changed this since" in text_of(late)
    assert "Low Water" in text_of(late)
    assert 'value="High Water"' in text_of(late)
    again = late.context["form"]["seen"].value()
    assert client.post(url, SENT | {"title": "High Water", "seen": again}).status_code == 302
    cast.studio.refresh_from_db()
    assert cast.studio.title == "High Water"


def test_a_leader_reads_states_and_checks_by_number(cast):
    revision = factories.RevisionFactory(scheme=cast.scheme, letter="B", lacks=["Sheet 02 Plan"])
    for ref, state in (("T01", "short"), ("T02", "over"), ("T03", "meets"), ("T04", "no_data")):
        StoredFinding.objects.create(
            revision=revision, ref=ref, check_slug="x", title="x", state=state
        )
    text = text_of(cast.client(cast.leader).get(f"/studios/{cast.studio.pk}/"))
    assert "Issued rev B" in text
    assert "2 of 4" in text
    assert "Sheet 02 Plan" in text
    assert text.index("R01") < text.index("R02")


@pytest.mark.parametrize(("wall", "sees"), [(True, True), (False, False)])
def test_a_classmate_sees_issued_sheets_where_the_wall_is_open(cast, wall, sees):
    revision = factories.RevisionFactory(scheme=cast.scheme, letter="B", lacks=["Sheet 02 Plan"])
    StoredFinding.objects.create(
        revision=revision, ref="T01", check_slug="x", title="x", state="short"
    )
    cast.studio.is_wall_open = wall
    cast.studio.save()
    text = text_of(cast.client(cast.classmate).get(f"/studios/{cast.studio.pk}/"))
    assert (f"/revisions/{revision.pk}/" in text) is sees
    assert "1 of 1" not in text
    assert "Sheet 02 Plan" not in text
    assert f"/schemes/{cast.scheme.pk}/" not in text
    assert f"/schemes/{cast.other_scheme.pk}/" in text


def test_a_withdrawn_scheme_says_so(cast):
    cast.scheme.withdrawn_at = timezone.now()
    cast.scheme.save()
    assert "Withdrawn" in text_of(cast.client(cast.leader).get(f"/studios/{cast.studio.pk}/"))


@pytest.mark.parametrize("ending", ["", "people/"])
def test_queries_do_not_grow_with_schemes(cast, ending):
    client, url = cast.client(cast.leader), f"/studios/{cast.studio.pk}/{ending}"

    def add(first: int, count: int) -> None:
        for n in range(first, first + count):
            person = factories.PersonFactory(name=f"Student {n}")
            person.set_unusable_password()
            person.save()
            factories.MembershipFactory(studio=cast.studio, person=person)
            scheme = factories.SchemeFactory(studio=cast.studio, number=f"Q{n}", members=[person])
            factories.RevisionFactory(scheme=scheme)

    def asked() -> int:
        with CaptureQueriesContext(connection) as held:
            client.get(url)
        return len(held)

    add(0, 10)
    few = asked()
    add(10, 90)
    assert asked() == few


# people

ROSTER = "name,email,number,scheme\nAda,ada@example.org,R09,Ladder\n"


def test_a_roster_is_previewed_before_it_is_kept(cast):
    client, url = cast.client(cast.leader), f"/studios/{cast.studio.pk}/people/bring-in/"
    text = text_of(client.post(url, {"text": ROSTER}))
    assert "new here, new scheme R09" in text
    assert "Ada,ada@example.org,R09,Ladder" in text
    assert not cast.studio.schemes.filter(number="R09").exists()
    assert client.post(url, {"text": ROSTER, "keep": "yes"}).status_code == 302
    assert cast.studio.schemes.get(number="R09").by == "Ada"


def test_a_refused_line_is_shown_and_nothing_is_kept(cast):
    client, url = cast.client(cast.leader), f"/studios/{cast.studio.pk}/people/bring-in/"
    text = text_of(client.post(url, {"text": ROSTER + "Bo,bo,R10,Lid", "keep": "yes"}))
    assert "Expected an e-mail address, such as ada@example.org." in text
    assert "Bo,bo,R10,Lid" in text
    assert "Ladder" in text
    assert not cast.studio.schemes.filter(number="R09").exists()


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("big.csv", b"x" * 1_000_001, "Read “big.csv, 1,000,001 bytes”. Expected 1 MB at most."),
        ("book.xlsx", b"PK\x03\x04\0\0", "Read “book.xlsx”. Expected a text file"),
        ("empty.csv", b"", "Read nothing. Expected at least one line, pasted or in a file."),
    ],
)
def test_files_that_are_no_tables_are_refused(cast, name, content, said):
    url = f"/studios/{cast.studio.pk}/people/bring-in/"
    sent = {"file": SimpleUploadedFile(name, content)}
    text = text_of(cast.client(cast.leader).post(url, sent))
    assert said in text.replace("&#x27;", "'")


def test_a_file_is_read_and_shown_in_the_box(cast):
    url = f"/studios/{cast.studio.pk}/people/bring-in/"
    file = SimpleUploadedFile("people.csv", "name,email\nZoë,zoe@example.org".encode("cp1252"))
    text = text_of(cast.client(cast.leader).post(url, {"file": file}))
    assert "Zoë,zoe@example.org</textarea>" in text


def test_links_are_for_those_without_a_password_and_for_leaders(cast):
    cast.student.set_unusable_password()
    cast.student.save()
    url = f"/studios/{cast.studio.pk}/people/?links=print"
    text = text_of(cast.client(cast.leader).get(url))
    assert text.count("/enter/") == 2  # once as address, once as words
    assert "/enter/" not in text_of(cast.client(cast.coordinator).get(url))


def test_a_new_link_ends_the_former_where_no_password_is_set(cast):
    cast.student.set_unusable_password()
    cast.student.save()
    former = renew_link(RequestFactory().get("/"), cast.student)
    place = Membership.objects.get(person=cast.student, studio=cast.studio)
    answer = cast.client(cast.leader).post(f"/studios/{cast.studio.pk}/people/{place.pk}/link/")
    assert "A link for Stef Student" in text_of(answer)
    assert cast.client().get(former).status_code == 410


def test_a_link_opens_no_account_beyond_the_leaders_studios(cast):
    """A leader who brings somebody in could otherwise set their password and become them."""
    for person in (cast.coordinator, cast.other_leader, cast.other_student):
        place = factories.MembershipFactory(studio=cast.studio, person=person, role="scribe")
        url = f"/studios/{cast.studio.pk}/people/{place.pk}/link/"
        assert cast.client(cast.leader).post(url).status_code == 403


@pytest.mark.parametrize("is_invited", [True, False])
def test_no_leader_opens_an_account_that_belongs_elsewhere_though_it_has_no_password(
    cast, is_invited
):
    cast.other_student.set_unusable_password()
    cast.other_student.save()
    factories.MembershipFactory(
        studio=cast.studio, person=cast.other_student, is_invited=is_invited
    )
    assert not access.can_make_link(Viewer(cast.leader), cast.other_student)
    assert access.can_make_link(Viewer(cast.other_leader), cast.other_student) is is_invited


def test_no_leader_opens_an_account_whose_work_was_issued_elsewhere(cast):
    assert access.can_make_link(Viewer(cast.leader), cast.student)
    factories.RevisionFactory(students=[cast.student])
    assert not access.can_make_link(Viewer(cast.leader), cast.student)


def test_a_link_given_before_a_person_joined_another_studio_has_ended(cast):
    link = renew_link(RequestFactory().get("/"), cast.student)
    assert cast.client().get(link).status_code == 200
    place = factories.MembershipFactory(
        studio=cast.other_studio, person=cast.student, is_invited=True
    )
    assert cast.client().get(link).status_code == 200
    cast.client(cast.student).post(f"/invitations/{place.pk}/", {"answer": "join"})
    link_again = cast.client().get(link)
    assert link_again.status_code == 410


def test_who_is_invited_is_named_as_their_leader_did_and_sees_nothing_before_joining(cast):
    client, url = cast.client(cast.leader), f"/studios/{cast.studio.pk}/people/"
    sent = "name,email,number,scheme\nO. Student,osk@example.org,R09,Ladder\n"
    preview = text_of(client.post(f"{url}bring-in/", {"text": sent}))
    kept = text_of(client.post(f"{url}bring-in/", {"text": sent, "keep": "yes"}, follow=True))
    strips = text_of(client.get(f"{url}?links=print"))
    for text in (preview, kept, strips):
        assert "O. Student" in text
        assert "Osk Otherstudent" not in text
    assert "invited, joins by signing in" in kept
    assert "Sign in there as osk@example.org and join." in strips
    invited = cast.client(cast.other_student)
    assert invited.get(f"/studios/{cast.studio.pk}/").status_code == 404
    assert "to draw R09 Ladder" in text_of(invited.get("/"))
    place = Membership.objects.get(studio=cast.studio, person=cast.other_student)
    assert client.post(f"{url}{place.pk}/link/").status_code == 403
    assert "You belong to Ridge" in text_of(invited.post(f"/invitations/{place.pk}/", follow=True))
    assert cast.studio.schemes.get(number="R09").by == "Osk Otherstudent"
    assert "Osk Otherstudent" in text_of(client.get(url))
    assert invited.post(f"/invitations/{place.pk}/").status_code == 404


def test_who_declines_is_gone_from_the_list(cast):
    place = factories.MembershipFactory(
        studio=cast.other_studio, person=cast.student, is_invited=True, called="Stef"
    )
    client = cast.client(cast.student)
    client.post(f"/invitations/{place.pk}/", {"answer": "decline"})
    assert not cast.other_studio.memberships.filter(person=cast.student).exists()
    assert cast.scheme.members.filter(pk=cast.student.pk).exists()


def test_a_member_is_removed_and_the_only_leader_is_not(cast):
    client = cast.client(cast.leader)
    base = f"/studios/{cast.studio.pk}/people/"
    place = Membership.objects.get(person=cast.scribe, studio=cast.studio)
    assert "no longer scribe here" in text_of(client.post(f"{base}{place.pk}/remove/", follow=True))
    own = Membership.objects.get(person=cast.leader, studio=cast.studio)
    assert "A studio keeps at least one" in text_of(
        client.post(f"{base}{own.pk}/remove/", follow=True)
    )


def test_the_last_change_of_a_roster_is_named_and_can_be_undone(cast):
    client, page = cast.client(cast.leader), f"/studios/{cast.studio.pk}/people/"
    assert "Undo it" not in text_of(client.get(page))
    place = Membership.objects.get(person=cast.scribe, studio=cast.studio)
    client.post(f"{page}{place.pk}/remove/")
    change = cast.studio.changes.get()
    said = f"Last change: Skye Scribe removed, scribe, by {cast.leader}, "
    assert said in text_of(client.get(page))
    assert "Last change" not in text_of(cast.client(cast.coordinator).get(page))
    late = client.post(f"{page}undo/", {"change": "x"}, follow=True)
    assert "The roster was changed meanwhile. Nothing was undone" in text_of(late)
    done = client.post(f"{page}undo/", {"change": change.pk}, follow=True)
    assert "Undone: Skye Scribe removed, scribe." in text_of(done)
    assert Membership.objects.contains(place)


def test_a_leader_who_undoes_their_own_place_is_led_home(cast):
    page = f"/studios/{cast.studio.pk}/people/"
    typed = f"name,email,role\nOlaf,{cast.other_leader.email},leader"
    cast.client(cast.leader).post(f"{page}bring-in/", {"text": typed, "keep": "yes"})
    client = cast.client(cast.other_leader)
    place = Membership.objects.invited().get(person=cast.other_leader)
    client.post(f"/invitations/{place.pk}/", {"answer": "join"})
    change = last_change(cast.studio, PEOPLE.slug)
    done = client.post(f"{page}undo/", {"change": change.pk}, follow=True)
    assert done.redirect_chain == [("/", 302)]
    assert client.get(page).status_code == 404


def test_a_place_in_another_studio_is_not_there(cast):
    place = Membership.objects.get(person=cast.other_student)
    for deed in ("link", "remove"):
        url = f"/studios/{cast.studio.pk}/people/{place.pk}/{deed}/"
        assert cast.client(cast.leader).post(url).status_code == 404
