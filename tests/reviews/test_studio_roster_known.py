"""Who of a roster is known again by the school's id, and what becomes of another address."""

import pytest
from django.core import mail as outbox
from django.utils import timezone

from criteria.errors import Refused
from reviews.deeds import mail_choosing, studio_roster
from reviews.deeds.mail_sending import send_due
from reviews.deeds.person_erasing import erase, find
from reviews.deeds.record_changes import last_change, undo_part
from reviews.deeds.studio_roster import PEOPLE
from reviews.models import AuditLine, Mail, Membership, Person, UnwantedMail
from tests import factories

HEADS = "name,email,number,scheme,role,school_id\n"


@pytest.fixture
def studio(db):
    studio = factories.StudioFactory()
    factories.MembershipFactory(studio=studio, person=studio.opened_by, role="leader")
    _keep(studio, "Ada,ada@example.org,H01,Ridge,student,u1\nLio,lio@example.org,H02,Lamps,,u2")
    return studio


def _keep(studio, lines):
    return studio_roster.bring_in(studio, HEADS + lines, studio.opened_by)


def _look(studio, lines):
    return studio_roster.read_roster(studio, HEADS + lines, studio.opened_by)


def _refused(studio, lines):
    return [(c.row, c.column, c.read, c.expected) for c in _look(studio, lines).refused]


def _letters(kind):
    return sorted(Mail.objects.filter(kind=kind).values_list("address", flat=True))


MOVED = "Ada,Ada@New.example,H01,,student,u1"


def test_whoever_has_another_address_at_the_school_is_known_and_gets_it(studio):
    ada = Person.objects.get(email="ada@example.org")
    assert _look(studio, MOVED).news == ("e-mail ada@example.org → ada@new.example",)
    assert ada.email == Person.objects.get(pk=ada.pk).email  # nothing is kept by looking
    Mail.objects.update(state="sent")
    _keep(studio, MOVED)
    ada.refresh_from_db()
    assert (ada.email, ada.schemes.get().number) == ("ada@new.example", "H01")
    assert studio.memberships.count() == 3
    assert _look(studio, MOVED).news == ("the same",)
    line = AuditLine.objects.get(deed="readdressed")
    assert (line.person, line.of_person, line.about) == (studio.opened_by, ada, "")
    # who never came in is sent the way in where they can read it
    assert _letters("readdressed") == []
    assert _letters("invitation") == ["ada@example.org", "ada@new.example", "lio@example.org"]


def test_whoever_uses_the_account_is_told_at_both_addresses_and_keeps_the_way_in(studio):
    ada = Person.objects.get(email="ada@example.org")
    ada.set_password("a long password")
    ada.save()
    Mail.objects.all().delete()
    mail_choosing.choose(ada.email, ["results"])
    _keep(studio, MOVED)
    assert Person.objects.get(pk=ada.pk).check_password("a long password")
    assert mail_choosing.wanted("ada@new.example") == ["results"]
    assert not UnwantedMail.objects.filter(address="ada@example.org").exists()
    assert _letters("readdressed") == ["ada@example.org", "ada@new.example"]
    send_due.call()
    assert sorted(letter.to[0] for letter in outbox.outbox) == _letters("readdressed")
    for letter in outbox.outbox:
        (to,) = letter.to
        other = ({*_letters("readdressed")} - {to}).pop()
        assert "Your account has another address" in letter.subject
        assert other not in letter.body


def test_letters_that_wait_go_to_the_address_now(studio):
    ada = Person.objects.get(email="ada@example.org")
    Mail.objects.create(key="a", kind="receipt", person=ada, address=ada.email)
    Mail.objects.create(key="b", kind="receipt", person=ada, address=ada.email, state="sent")
    _keep(studio, MOVED)
    assert _letters("receipt") == ["ada@example.org", "ada@new.example"]


@pytest.mark.parametrize("where", ["another studio", "coordinates", "invited"])
def test_an_account_that_its_leader_could_not_open_keeps_its_address(studio, where):
    ada = Person.objects.get(email="ada@example.org")
    if where == "another studio":
        factories.MembershipFactory(person=ada)
    elif where == "coordinates":
        Person.objects.filter(pk=ada.pk).update(is_coordinator=True)
    else:
        Membership.objects.filter(person=ada).update(is_invited=True, called="Ada")
        factories.MembershipFactory(person=ada)
    kept = "e-mail stays ada@example.org: the account isn’t yours to change"
    assert kept in _look(studio, MOVED).news[0]
    _keep(studio, MOVED)
    assert Person.objects.get(pk=ada.pk).email == "ada@example.org"
    assert studio.memberships.count() == 3
    assert not Person.objects.filter(email="ada@new.example").exists()


def test_an_address_of_another_account_is_not_told_before_it_is_refused(studio):
    news = _look(studio, MOVED).news
    factories.PersonFactory(email="ada@new.example", last_login=timezone.now())
    assert _look(studio, MOVED).news == news
    with pytest.raises(Refused) as refused:
        _keep(studio, f"{MOVED}\nNoor,noor@example.org,,,,u9")
    assert (refused.value.read, refused.value.expected) == (
        "ada@new.example",
        "an address that no other account has",
    )
    assert not Person.objects.filter(email="noor@example.org").exists()


@pytest.mark.parametrize(
    ("lines", "column", "said"),
    [
        ("Ada,lio@example.org,,,,u1", "E-mail", "nobody else here has: it is Lio’s"),
        ("Bea,ada@example.org,,,,u7", "School id", "u1, the id of Ada, who is here by this"),
        ("Bea,b@example.org,,,,u7\nCas,c@example.org,,,,u7", "School id", "nobody above has"),
        (f"{MOVED}\nAda,ada@example.org,,,,", "E-mail", "an address that no student above has"),
    ],
    ids=["another's address", "an address given on", "two of one id", "one person twice"],
)
def test_a_line_that_may_mean_two_people_is_refused(studio, lines, column, said):
    ((_, at, _, expected),) = _refused(studio, lines)
    assert at == column
    assert said in expected


def test_an_id_is_noted_beside_an_address_that_is_known_and_may_become_another(studio):
    factories.MembershipFactory(studio=studio, person__email="noor@example.org")
    line = "Noor,noor@example.org,,,,s-12"
    assert _look(studio, line).news == ("school id s-12",)
    _keep(studio, line)
    assert last_change(studio, PEOPLE.slug).what == "Noor: school id"
    other = _look(studio, "Ada,ada@example.org,,,,u8")
    assert (other.news, other.is_clean) == (("school id u1 → u8",), True)
    undo_part(studio, PEOPLE, last_change(studio, PEOPLE.slug).pk)
    assert not Membership.objects.filter(school_id="s-12").exists()
    assert Membership.objects.get(school_id="u1").person.email == "ada@example.org"


def test_an_id_left_blank_stays_and_one_of_two_places_knows_both(studio):
    _keep(studio, "Ada,ada@example.org,,,,\nAda,ada@example.org,,,scribe,")
    assert studio.memberships.get(person__email="ada@example.org", role="student").school_id == "u1"
    _keep(studio, "Ada,ada@new.example,,,student,u1\nAda,ada@new.example,,,scribe,u1")
    given = studio.memberships.filter(person__email="ada@new.example")
    assert [place.school_id for place in given] == ["u1", "u1"]


def test_another_studios_ids_are_no_ids_here(studio):
    other = factories.StudioFactory()
    assert _look(other, "Zoe,zoe@example.org,,,,u1").news == ("new here",)


def test_what_the_school_calls_somebody_goes_and_comes_back_by_no_undoing(cast):
    lines = [f"{who.name},{who.email},s-{who.pk}" for who in (cast.student, cast.mate)]
    studio_roster.bring_in(cast.studio, "\n".join(["name,email,sourcedId", *lines]), cast.leader)
    studio_roster.bring_in(cast.studio, "name,email\nNoor,noor@example.org", cast.leader)
    old = "stef@before.example"
    Mail.objects.create(key="a", kind="readdressed", address=old, person=cast.student)
    erase(find(cast.student.email), although_a_crit_is_open=True)
    changes = cast.studio.changes.filter(schedule=PEOPLE.slug)
    kept = str([[each.what, each.before, each.after] for each in changes])
    assert f"s-{cast.student.pk}" not in kept
    assert f"s-{cast.mate.pk}" in kept
    undo_part(cast.studio, PEOPLE, changes.first().pk)
    given = Membership.objects.exclude(school_id="").values_list("person", flat=True)
    assert {*given} == {cast.mate.pk}
    assert not Mail.objects.filter(address=old).exists()
