"""A person's data as a file: all that is about them, and nothing that they may not see."""

import io
import json
from zipfile import ZipFile

import pytest
from allauth.mfa.models import Authenticator
from allauth.socialaccount.models import SocialAccount

from reviews.access import Viewer
from reviews.deeds import comment_answering, crit_jury_keeping, crit_moderating, crit_releasing
from reviews.forms.answers import AnswerSent
from reviews.models import AuditLine, Comment, IssuedSheet, Opening, Person, Seat
from reviews.pages import person_data
from reviews.reading import person_relations
from tests import factories
from tests.reviews.page_steps import text_of


@pytest.fixture
def judged(cast, issued):
    """A draft with a sheet, an issued revision, and a locked jury sheet with two comments."""
    package = cast.scheme.package
    package.statement = "A lamp in the ridge."
    package.save()
    factories.RowFactory(package=package, changed_by=cast.student)
    factories.SheetFactory(package=package, number="07", changed_by=cast.mate)
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, 3, 0)
    sheet = crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    factories.CommentFactory(jury_sheet=sheet, words="Weigh it wet.")
    unkind = factories.CommentFactory(jury_sheet=sheet, words="You gave up.")
    crit_moderating.hold_comment(unkind, cast.leader, "About the person.")
    return sheet


def taken_out(cast, person) -> tuple[dict, list[str], str]:
    """The data of a person by their own page, the names of the pictures, and the whole text."""
    answer = cast.client(person).post("/you/export/")
    assert answer.status_code == 200
    return _read(b"".join(answer.streaming_content))


def exported(person, seats=None) -> tuple[dict, list[str], str]:
    """The same as an administrator exports it."""
    none = Seat.objects.none() if seats is None else seats
    with person_data.export_person(person, none) as file:
        return _read(file.read())


def _read(written: bytes) -> tuple[dict, list[str], str]:
    with ZipFile(io.BytesIO(written)) as held:
        assert held.testzip() is None
        text = held.read("data.json").decode()
        return json.loads(text), [n for n in held.namelist() if n != "data.json"], text


def test_every_key_to_a_person_is_told_or_left_out_with_the_reason():
    keys = person_relations.keys_to_a_person()
    assert len(keys) > 20
    told, left_out = person_relations.TOLD.keys(), person_relations.LEFT_OUT.keys()
    assert set(keys) == told | left_out
    assert not told & left_out
    assert all(person_relations.LEFT_OUT.values())


def test_every_field_of_an_account_is_told_or_left_out_with_the_reason():
    told, left_out = person_relations.ACCOUNT.split(), person_relations.ACCOUNT_LEFT_OUT
    assert {field.name for field in Person._meta.fields} == set(told) | left_out.keys()
    assert not set(told) & left_out.keys()


def test_no_table_tells_a_secret_or_another_s_words():
    secrets = {"password", "code", "contents", "before", "after", "level", "impression"}
    assert [key for key, names in person_relations.TOLD.items() if secrets & set(names)] == []


def test_a_student_takes_out_drafts_revisions_and_pictures(cast, judged):
    sent = factories.OriginalFactory(sha256="ab" * 32)
    IssuedSheet.objects.filter(number="02").update(original=sent, original_name="Plan.pdf")
    cast.student.memberships.update(school_id="s-7")
    data, pictures, _ = taken_out(cast, cast.student)
    assert data["account"]["email"] == "stef@example.org"
    (scheme,) = data["schemes"]
    assert scheme["statement"] == "A lamp in the ridge."
    assert scheme["schedules"]["rooms"][0]["room"] == "Day room"
    (revision,) = data["revisions"]
    assert revision["letter"] == "A"
    assert [sheet["number"] for sheet in revision["sheets"]] == ["02", "03"]
    shown = [sheet["picture"] for sheet in (*scheme["sheets"], *revision["sheets"])]
    as_sent = f"sent/{sent.sha256}.pdf"
    assert sorted([*shown, as_sent]) == sorted(pictures)
    assert [sheet.get("sent") for sheet in revision["sheets"]] == [as_sent, None]
    assert len(pictures) == 4
    assert data["written"]["Membership.person"] == [
        {"studio": str(cast.studio), "role": "student", "is_invited": False, "school_id": "s-7"}
    ]
    assert data["written"]["Row.changed_by"][0]["package"] == "Package of R01 Lee"


def test_nothing_unreleased_is_in_it(cast, judged):
    data, _, text = taken_out(cast, cast.student)
    assert data["results"] == []
    assert "Weigh it wet." not in text
    assert not Opening.objects.exists()


def test_what_is_released_is_in_it_as_students_read_it_and_is_opened(cast, judged):
    crit_releasing.release_crit(cast.crit, cast.leader, "Well drawn.")
    comment = Comment.objects.get(words="Weigh it wet.")
    comment_answering.answer_comment(comment, cast.mate, AnswerSent("Taken up", "Done.", ""), 0)
    data, _, text = taken_out(cast, cast.student)
    (results,) = data["results"]
    assert results["leaders_words"] == "Well drawn."
    assert [level["level"] for level in results["levels"]] == [3, 3]
    (said,) = results["comments"]
    assert (said["words"], said["answer"]["words"]) == ("Weigh it wet.", "Done.")
    assert "You gave up." not in text
    assert "About the person." not in text
    assert Opening.objects.get().person == cast.student
    cast.crit.refresh_from_db()
    assert "opened it" in crit_releasing.why_not_called_back(cast.crit)


def test_jurors_who_are_not_named_to_students_are_not_named_in_it(cast, judged):
    cast.crit.names_jurors = False
    cast.crit.save()
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    data, _, text = taken_out(cast, cast.student)
    assert data["results"][0]["comments"][0]["juror"] == "Juror A"
    assert "Jo Juror" not in text


def test_a_classmate_s_work_and_levels_are_not_in_it(cast, judged):
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    data, pictures, text = taken_out(cast, cast.classmate)
    assert [scheme["number"] for scheme in data["schemes"]] == ["R02"]
    assert data["revisions"] == []
    assert pictures == []
    assert "Weigh it wet." not in text


def test_what_the_school_said_of_somebody_is_in_it_and_passkeys(cast):
    Authenticator.objects.create(user=cast.student, type="webauthn", data={"name": "phone"})
    said = {"provider": "https://id.example", "uid": "s-1", "extra_data": {"email": "s@x.example"}}
    SocialAccount.objects.create(user=cast.student, **said)
    data, _, _ = taken_out(cast, cast.student)
    (told,) = data["written"]["SocialAccount.user"]
    assert {name: told[name] for name in said} == said
    assert data["written"]["Authenticator.user"][0]["data"] == {"name": "phone"}


def test_neither_password_nor_any_link_is_in_it(cast, judged):
    cast.leader.set_password("a long enough one")
    cast.leader.save()
    cast.seat.email = cast.leader.email
    cast.seat.save()
    _, _, text = exported(cast.leader, Seat.objects.filter(crit=cast.crit))
    assert cast.leader.password not in text
    assert cast.seat.code not in text
    assert "Jo Juror" in text


def test_a_leader_takes_out_what_they_wrote_and_no_juror_s_words(cast, judged):
    data, _, text = taken_out(cast, cast.leader)
    assert data["written"]["Comment.held_by"][0]["held_reason"] == "About the person."
    assert "Studio.opened_by" in data["written"]
    assert "You gave up." not in text
    assert "Weigh it wet." not in text


def test_a_leader_who_is_a_juror_takes_own_words_out_once_they_are_released(cast, judged):
    Seat.objects.filter(pk=cast.seat.pk).update(email=cast.leader.email.upper())
    assert taken_out(cast, cast.leader)[0]["jury"] == []
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    (seat,) = taken_out(cast, cast.leader)[0]["jury"]
    assert seat["sheets"][0]["levels"] == {"F1": "3", "F2": "3"}
    assert [c["words"] for c in seat["sheets"][0]["comments"]] == ["Weigh it wet.", "You gave up."]


def test_another_studio_s_juror_with_the_same_address_is_not_theirs_to_take_out(cast, judged):
    Seat.objects.filter(pk=cast.seat.pk).update(email=cast.other_leader.email)
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    data, _, text = taken_out(cast, cast.other_leader)
    assert data["jury"] == []
    assert "Weigh it wet." not in text


def test_a_student_of_two_studios_takes_out_both(cast, judged):
    factories.MembershipFactory(studio=cast.other_studio, person=cast.student)
    factories.SchemeFactory(studio=cast.other_studio, number="S09", members=[cast.student])
    data, _, _ = taken_out(cast, cast.student)
    assert [scheme["number"] for scheme in data["schemes"]] == ["R01", "S09"]
    lines = AuditLine.objects.named().order_by("studio")
    assert [(line.deed, line.who, line.of_whom) for line in lines.of_deed("data-exported")] == [
        ("data-exported", "Stef Student", "Stef Student")
    ] * 2


def test_a_student_who_left_takes_out_what_was_issued_while_it_was_theirs(cast, judged):
    cast.scheme.members.remove(cast.mate)
    data, _, _ = taken_out(cast, cast.mate)
    assert data["schemes"] == []
    assert [revision["letter"] for revision in data["revisions"]] == ["A"]


def test_somebody_without_a_studio_takes_out_the_account(cast):
    lone = factories.PersonFactory(name="Lone", email="lone@example.org")
    data, _, _ = taken_out(cast, lone)
    assert data["account"]["name"] == "Lone"
    assert AuditLine.objects.get().studio is None


def test_a_picture_that_is_lost_is_named_and_keeps_nothing_else_back(cast, judged):
    lost = judged.scheme.revisions.get().sheets.first().file
    lost.image.storage.delete(lost.image.name)
    data, pictures, _ = taken_out(cast, cast.student)
    assert data["pictures_missing"] == [f"pictures/{lost.sha256}.jpg"]
    assert len(pictures) == 2


def test_the_page_about_oneself_leads_there(cast):
    assert 'action="/you/export/"' in text_of(cast.client(cast.student).get("/you/"))


def test_whose_seats_are_asked_is_told_by_the_viewer_alone(cast):
    assert not person_data.own_seats(Viewer(cast.student)).exists()


def test_what_is_of_the_desk_is_told_to_its_students_alone(cast, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    photo = factories.SheetFileFactory()
    desk = factories.DeskCritFactory(scheme=cast.scheme, by=cast.leader, photo=photo)
    factories.NextStepFactory(desk_crit=desk, words="Draw the stair.")
    pin_up = factories.CritFactory(studio=cast.studio, kind="pin-up")
    factories.QuietNoteFactory(crit=pin_up, scheme=cast.scheme, by=cast.classmate, words="Lamp.")
    told, pictures, text = exported(cast.student)
    (noted,) = told["schemes"][0]["desk_crits"]
    assert noted["next_steps"] == [{"words": "Draw the stair.", "done_at": None}]
    assert noted["picture"] in pictures
    assert "Lamp." not in text
    pin_up.quiet_closed_at = desk.at
    pin_up.save()
    told, _, text = exported(cast.student)
    assert told["schemes"][0]["left_in_quiet_rounds"][0]["by"] == "Clem Classmate"
    assert "The stair" not in exported(cast.classmate)[2]
