"""The way in and what waits there."""

import re
from datetime import time, timedelta

import pytest
from django.contrib.auth.tokens import default_token_generator
from django.db import connection
from django.test import Client, RequestFactory
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from criteria.units import System
from reviews.access import Viewer
from reviews.deeds.person_links import link_for
from reviews.models import Answer, ClockEntry, Crit, HandInItem, Person, Scheme, Slot
from reviews.pages import waiting
from tests import factories
from tests.reviews.page_steps import text_of


@pytest.fixture
def known(db) -> Person:
    return Person.objects.create_user("ada@example.org", "Ada", "lee-shelf-1")


def test_an_account_signs_in_however_the_address_is_capitalised(known):
    answer = Client().post("/sign-in/", {"username": "ADA@Example.org", "password": "lee-shelf-1"})
    assert (answer.status_code, answer["Location"]) == (302, "/")


def test_a_wrong_password_is_refused_and_the_address_is_kept(known):
    answer = Client().post("/sign-in/", {"username": "ada@example.org", "password": "no"})
    assert "No account has this e-mail address and this password" in text_of(answer)
    assert 'value="ada@example.org"' in text_of(answer)


def test_a_blank_sign_in_names_what_was_expected(db):
    text = text_of(Client().post("/sign-in/", {"username": "", "password": ""}))
    assert "Read nothing. Expected an e-mail address." in text
    assert "Read nothing. Expected a password." in text


@pytest.mark.parametrize(
    ("wanted", "where"), [("/you/", "/you/"), ("https://elsewhere.example/", "/"), ("//x.y", "/")]
)
def test_signing_in_goes_on_to_a_page_of_this_site_alone(known, wanted, where):
    sent = {"username": "ada@example.org", "password": "lee-shelf-1", "next": wanted}
    assert Client().post("/sign-in/", sent)["Location"] == where


def test_signing_out_takes_a_post(cast):
    client = cast.client(cast.student)
    assert client.get("/sign-out/").status_code == 405
    assert client.post("/sign-out/")["Location"] == "/sign-in/"
    assert client.get("/").status_code == 302


def test_a_person_sets_name_units_lamp_and_letters(cast):
    client = cast.client(cast.student)
    sent = {"name": "Stef S", "units": "us", "lamp": "off", "plain_type": "on"}
    assert client.post("/you/", sent).status_code == 302
    cast.student.refresh_from_db()
    assert cast.student.name == "Stef S"
    assert (cast.student.units, cast.student.lamp, cast.student.plain_type) == ("us", "off", True)


def test_odd_choices_are_refused_and_nothing_is_kept(cast):
    text = text_of(cast.client(cast.student).post("/you/", {"name": "", "units": "furlongs"}))
    assert "Read nothing. Expected a name of at most 120 characters." in text
    assert "Read “furlongs”. Expected metric or US." in text
    cast.student.refresh_from_db()
    assert cast.student.name == "Stef Student"


def test_the_password_is_changed_with_the_one_in_use(known):
    client = Client()
    client.force_login(known)
    sent = {"old_password": "no", "new_password1": "dry-cairn-2", "new_password2": "dry-cairn-2"}
    assert "This is not the password in use now." in text_of(client.post("/you/password/", sent))
    sent["old_password"] = "lee-shelf-1"
    assert client.post("/you/password/", sent)["Location"] == "/you/"
    assert client.get("/").status_code == 200
    known.refresh_from_db()
    assert known.check_password("dry-cairn-2")


def test_a_personal_link_sets_a_password_once(cast):
    url = link_for(RequestFactory().get("/"), cast.student)
    twice = {"new_password1": "long-table-9", "new_password2": "long-table-9"}
    client = Client()
    assert "Set a password" in text_of(client.get(url))
    assert client.post(url, twice)["Location"] == "/"
    assert client.get("/").status_code == 200
    ended = Client().get(url)
    assert ended.status_code == 410
    assert "This link has ended" in text_of(ended)
    assert Client().post(url, twice).status_code == 410


def test_two_passwords_that_differ_are_refused(cast):
    url = link_for(RequestFactory().get("/"), cast.student)
    answer = Client().post(url, {"new_password1": "long-table-9", "new_password2": "long-table-8"})
    assert answer.status_code == 200
    cast.student.refresh_from_db()
    assert not cast.student.check_password("long-table-9")


@pytest.mark.parametrize("uid", ["MQ", "__", "OTk5OTk5OTk5OTk5OTk5OTk5OTk5OTk5", "é"])
def test_a_link_that_was_never_made_has_ended(db, uid):
    assert Client().get(f"/enter/{uid}/x-y/").status_code == 410


def test_a_link_of_one_person_opens_nothing_of_another(cast):
    url = link_for(RequestFactory().get("/"), cast.student)
    token = default_token_generator.make_token(cast.mate)
    other = url.rsplit("/", 2)[0] + f"/{token}/"
    assert Client().get(other).status_code == 410


def test_the_lamp_is_kept_with_the_account_or_on_the_device(cast):
    client = cast.client(cast.student)
    assert client.post("/lamp/", {"lamp": "off", "next": "/you/"})["Location"] == "/you/"
    cast.student.refresh_from_db()
    assert cast.student.lamp == "off"
    juror = cast.client(cast.seat)
    juror.post("/lamp/", {"lamp": "off"})
    assert juror.cookies["lamp"].value == "off"
    juror.post("/lamp/", {"lamp": "bright"})
    assert juror.cookies["lamp"].value == "on"


def test_until_it_is_touched_the_lamp_is_as_the_device_wishes(cast):
    client = cast.client(cast.student)
    page = client.get("/").content.decode()
    assert 'data-lamp="device"' in page
    assert '<meta name="color-scheme" content="light dark">' in page
    client.post("/lamp/", {"lamp": "on"})
    assert 'data-lamp="on"' in client.get("/").content.decode()
    Person.objects.update(lamp="off")  # by another device
    assert 'data-lamp="off"' in cast.client(cast.student).get("/").content.decode()
    assert 'data-lamp="device"' in Client().get("/sign-in/").content.decode()


def test_a_juror_has_the_switch_of_units_on_each_page_of_the_jury(cast):
    juror, way = cast.client(cast.seat), "/jury/"
    assert "Feet, inches" in juror.get(way).content.decode()
    assert juror.post("/units/", {"units": "us", "next": way})["Location"] == way
    page = juror.get(way)
    assert (page.context["system"], "Metres" in page.content.decode()) == ("us", True)
    client = cast.client(cast.student)
    client.post("/units/", {"units": "us"})
    cast.student.refresh_from_db()
    assert cast.student.units == "us"


def test_the_demo_offers_everybody_in_one_click(cast, mark_as_demo):
    mark_as_demo()
    client = Client()
    text = text_of(client.get("/sign-in/"))
    for name in ("Lena Leader", "Stef Student", "Cora Coordinator", "Edda Examiner", "Jo Juror"):
        assert name in text
    assert client.post(f"/demo/sign-in/{cast.leader.pk}/")["Location"] == "/"
    assert "Lena Leader" in text_of(client.get("/"))


def test_the_demo_begins_at_its_top_with_one_door_of_each_role(cast, mark_as_demo):
    mark_as_demo()
    text = text_of(Client().get("/sign-in/"))
    hut, _, rest = text.partition('<details class="screen-only doors">')
    roles = re.findall(r'door-role">(.*?)</span>', hut)
    assert roles == ["Studio leader", "Student", "Juror", "Examiner"]
    assert "Its doors: Studio leader, Student, Juror, Examiner." in hut
    assert "autofocus" not in text
    assert "Cora Coordinator" in rest
    assert "Cora Coordinator" not in hut
    assert 'name="password"' in rest.partition('<div class="title-block">')[2]
    wrong = Client().post("/sign-in/", {"username": "a@b.example", "password": "no"})
    assert "autofocus" in text_of(wrong)


def test_without_the_demo_there_is_no_such_door(cast):
    client = Client()
    assert "Lena Leader" not in text_of(client.get("/sign-in/"))
    assert client.post(f"/demo/sign-in/{cast.leader.pk}/").status_code == 404
    assert client.get("/specimen/").status_code == 404


def test_the_specimen_is_there_in_the_demo(mark_as_demo):
    mark_as_demo()
    assert Client().get("/specimen/").status_code == 200


def test_a_leader_reads_who_has_not_issued_and_not_locked(cast):
    factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme, locked_at=timezone.now())
    (item,) = waiting.led(Viewer(cast.leader))
    assert item.not_issued == [cast.other_scheme]
    assert item.not_locked == [(cast.seat, 1)]
    text = text_of(cast.client(cast.leader).get("/"))
    assert "1 of 2" in text
    assert "Jo Juror: 1" in text


def test_a_scheme_that_a_juror_stepped_aside_from_is_not_waited_for(cast):
    for scheme in (cast.scheme, cast.other_scheme):
        factories.JurySheetFactory(seat=cast.seat, scheme=scheme)
    cast.seat.interests.create(scheme=cast.scheme)
    (item,) = waiting.led(Viewer(cast.leader))
    assert item.not_locked == [(cast.seat, 1)]


def test_a_new_studio_says_what_is_to_be_set_up(cast):
    studio = factories.StudioFactory(opened_by=cast.other_leader)
    factories.BriefFactory(studio=studio)
    cast.other_studio.delete()
    factories.MembershipFactory(studio=studio, person=cast.other_leader, role="leader")
    (item,) = waiting.led(Viewer(cast.other_leader))
    assert [words for words, _ in item.to_do] == [
        "Write and issue the brief",
        "Bring in the students",
        "Set the first crit",
    ]


def test_a_student_reads_state_next_date_and_what_is_lacking(cast):
    HandInItem.objects.create(brief=cast.studio.brief, kind="sheet", code="02", title="Plan")
    cast.crit.pens_down = timezone.now() + timedelta(hours=3)
    cast.crit.save()
    text = text_of(cast.client(cast.student).get("/"))
    assert "In preparation" in text
    assert "Pens down" in text
    assert "Sheet 02 Plan" in text
    factories.RevisionFactory(scheme=cast.scheme, letter="B")
    assert "Issued rev B" in text_of(cast.client(cast.student).get("/"))


@pytest.mark.parametrize(
    ("who", "heading"),
    [
        ("scribe", "Studios you scribe for"),
        ("examiner", "Studios you examine"),
        ("coordinator", "Every studio"),
    ],
)
def test_others_read_their_own_lists(cast, who, heading):
    assert heading in text_of(cast.client(getattr(cast, who)).get("/"))


def test_queries_of_home_do_not_grow_with_schemes(cast):

    client = cast.client(cast.leader)

    def asked() -> int:
        with CaptureQueriesContext(connection) as held:
            client.get("/")
        return len(held)

    for n in range(10):
        scheme = factories.SchemeFactory(studio=cast.studio, number=f"Q{n}")
        factories.SlotFactory(crit=cast.crit, scheme=scheme)
    few = asked()
    for n in range(90):
        scheme = factories.SchemeFactory(studio=cast.studio, number=f"R{n + 10}")
        factories.SlotFactory(crit=cast.crit, scheme=scheme)
    assert asked() == few


def test_a_leader_of_a_crit_with_more_than_a_thousand_schemes_has_a_home(cast):
    many = [Scheme(studio=cast.studio, number=f"M{n}", name="One of many") for n in range(1_100)]
    Scheme.objects.bulk_create(many)
    Slot.objects.bulk_create(Slot(crit=cast.crit, scheme=s, position=9) for s in many)
    answer = cast.client(cast.leader).get("/")
    assert "1102 of 1102" in text_of(answer)


@pytest.fixture
def on_today(cast):
    """The crit's day is today: the first scheme was on at midnight, the second is."""
    cast.crit.day = timezone.localdate()
    cast.crit.pens_down = timezone.now() - timedelta(days=1)
    cast.crit.save()
    Slot.objects.all().delete()
    shown, on = (
        factories.SlotFactory(crit=cast.crit, scheme=scheme, room="A", starts_at=time(0, minute))
        for scheme, minute in ((cast.scheme, 0), (cast.other_scheme, 30))
    )
    for n, (slot, deed) in enumerate(((shown, "started"), (shown, "ended"), (on, "started"))):
        at = timezone.now() - timedelta(minutes=30 - 9 * n)
        slot.clock.create(deed=deed, at=at, by=cast.leader)
    return cast


def test_on_the_day_a_student_reads_slot_room_and_what_is_short(on_today):
    target = {"id": "T01", "check": "floor_area", "rule": "at least", "value": "60"}
    factories.TargetLineFactory(brief=on_today.studio.brief, cells=target)
    text = text_of(on_today.client(on_today.student).get("/"))
    assert "Shown at 00:00 in room A" in text
    assert "T01" in text.partition("Short or not known")[2]
    assert 'class="drawn"' in text
    assert "locked" not in text
    ClockEntry.objects.filter(deed="ended").delete()
    (item,) = waiting.own(Viewer(on_today.student), System.METRIC)
    assert item.slot == "On now, at 00:00 in room A"
    ClockEntry.objects.all().delete()  # its hour is past, and nobody has started it
    (item,) = waiting.own(Viewer(on_today.student), System.METRIC)
    assert item.slot == "On at 00:00 in room A"


def test_on_the_day_a_leader_reads_who_is_on_and_what_is_to_be_decided(on_today):
    ClockEntry.objects.filter(slot__scheme=on_today.scheme).update(deed="agreed")
    (item,) = waiting.led(Viewer(on_today.leader))
    (room,) = item.today.rooms
    assert (room.room, room.on.scheme, room.next) == ("Room A", on_today.other_scheme, None)
    assert item.today.to_lock == 1
    order = f"/crits/{on_today.crit.pk}/order/"
    assert (f"{on_today.scheme} stood down: find it another time", order) in item.to_decide
    for scheme in (on_today.scheme, on_today.other_scheme):
        factories.JurySheetFactory(seat=on_today.seat, scheme=scheme, locked_at=timezone.now())
    (item,) = waiting.led(Viewer(on_today.leader))
    assert item.today.to_lock == 0
    assert ("Every sheet is locked: release the crit", f"/crits/{on_today.crit.pk}/release/") in (
        item.to_decide
    )


def test_a_leader_is_not_told_of_levels_on_a_jury_of_their_own(on_today):
    """Their own sheet isn't locked, so nothing of what others gave is decided yet."""
    seat = on_today.crit.seats.create(name=on_today.leader.name, email=on_today.leader.email)
    sheet = factories.JurySheetFactory(
        seat=on_today.seat, scheme=on_today.other_scheme, locked_at=timezone.now()
    )
    factories.CommentFactory(jury_sheet=sheet, kind="Hazard", words="The stair ends in the air.")
    assert "hazard" not in text_of(on_today.client(on_today.leader).get("/"))
    factories.JurySheetFactory(seat=seat, scheme=on_today.other_scheme, locked_at=timezone.now())
    (item,) = waiting.led(Viewer(on_today.leader))
    assert f"{on_today.other_scheme}: 1 hazard named" in [words for words, _ in item.to_decide]


def test_after_release_both_sides_read_which_comments_wait_for_an_answer(cast):
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme, locked_at=timezone.now())
    factories.CommentFactory(jury_sheet=sheet, kind="Ask", words="Where does the rain go?")
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    assert "1 comment to answer" in text_of(cast.client(cast.student).get("/"))
    (item,) = waiting.led(Viewer(cast.leader))
    assert item.unanswered == [(str(cast.scheme), 1)]


def test_on_the_day_jurors_scribes_and_coordinators_see_it_drawn(on_today):
    for who in ("scribe", "coordinator"):
        text = text_of(on_today.client(getattr(on_today, who)).get("/"))
        assert str(on_today.other_scheme) in text.partition("<h3>Now</h3>")[2]
    factories.MembershipFactory(studio=on_today.studio, person=on_today.student, role="scribe")
    ids = re.findall(r' id="(.*?)"', text_of(on_today.client(on_today.student).get("/")))
    assert len(ids) == len(set(ids))
    text = text_of(on_today.client(on_today.seat).get("/jury/"))
    assert "2 sheets to lock" in text
    assert f'href="/jury/{on_today.other_scheme.pk}/"' in text.partition("<h3>Now</h3>")[2]


def test_a_student_s_home_shows_the_own_plan_and_each_flag_that_waits_for_an_answer(cast):
    cells = {"mark": "R1", "room": "Hearth room", "floor_m2": "20", "width_m": "5", "depth_m": "4"}
    cells |= {"use": "day", "at_x": "0", "at_y": "0"}
    factories.RowFactory(package=cast.scheme.package, schedule="rooms", cells=cells)
    page = cast.client(cast.student)
    assert "New flags" not in text_of(page.get("/"))
    sheet = factories.JurySheetFactory(
        seat=cast.seat, scheme=cast.scheme, locked_at=timezone.now() - timedelta(hours=2)
    )
    asked, answered = (
        factories.CommentFactory(jury_sheet=sheet, kind="Prove", words=words)
        for words in ("Where does the snow go?", "Already answered.")
    )
    Answer.objects.create(comment=answered, kind="taken", words="So.", answered_by=cast.student)
    Crit.objects.update(released_at=timezone.now())
    text = text_of(page.get("/"))
    assert "Hearth room" in text
    assert "New flags" in text
    assert asked.words in text
    assert answered.words not in text
    results = f"/crits/{cast.crit.pk}/results/{cast.scheme.pk}/"
    (number,) = re.findall(rf'href="{results}#comment-(\d)"[^>]*>The scheme', text)
    assert f'id="comment-{number}"' in text_of(page.get(results))


def test_an_examiner_s_home_is_a_drawer_a_year_of_what_is_released_alone(cast):
    revision = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    client = cast.client(cast.examiner)
    text = text_of(client.get("/"))
    assert "Nothing is released yet" in text
    assert f"/revisions/{revision.pk}/" not in text
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    text = text_of(client.get("/"))
    assert f"<b>{cast.studio.opened_at.year}</b>" in text
    links = re.findall(r'href="(/(?:revisions|crits/\d+/results)/[^"]+)"', text)
    assert f"/revisions/{revision.pk}/" in links
    assert f"/crits/{cast.crit.pk}/results/{cast.scheme.pk}/" in links
    assert all(client.get(link).status_code == 200 for link in links)
