"""A school's roster brought into a studio, looked at first."""

import re
import zipfile
from html import unescape
from io import BytesIO
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from reviews.models import Membership
from tests import factories
from tests.reviews.page_steps import text_of

ROSTER = Path(__file__).parent / "exchange" / "data" / "roster.zip"


@pytest.fixture
def led(cast):
    """The leader's browser and the address where people are brought in."""
    client, url = cast.client(cast.leader), f"/studios/{cast.studio.pk}/people/bring-in/"

    def post(**sent):
        return unescape(text_of(client.post(url, sent)))

    return post


def _file(raw=None, name="roster.zip"):
    return SimpleUploadedFile(name, raw or ROSTER.read_bytes())


def _hidden(page, name):
    found = re.search(rf'name="{name}"(?: value="([^"]*)")?', page)
    return found and (found[1] or "")


def test_a_roster_asks_for_its_class_and_then_shows_its_people(cast, led):
    asked = led(file=_file())
    assert "Which class is this studio?" in asked
    assert "Studio 4: 5 people" in asked
    assert "The roster holds 2 classes. Choose one." in asked
    assert "What was read" not in asked
    again = led(held=_hidden(asked, "held"), which="c1")
    assert "Addie Merrowby,ada@example.org,,,student,u1" in again
    assert "R. Okafor,rok@example.org,,,leader,u4" in again
    assert "No Mail,,,,student,u5" in again
    assert "Left Already isn’t enabled in the file, and is left out." in again
    assert "3 students have no scheme number." in again
    # the row without an address stands, its cell refused: nothing can be kept
    assert "1 cell can't be read." in again
    assert "Expected an e-mail address" in again
    assert _hidden(again, "held") == ""


def test_what_was_said_of_the_file_stays_while_its_table_is_mended_and_kept(cast, led):
    first = led(held=_hidden(led(file=_file()), "held"), which="c1")
    mended = (
        "Name,E-mail,Scheme number,Scheme name,Role\n"
        "Addie Merrowby,ada@example.org,R09,Ladder,student\n"
        "R. Okafor,rok@example.org,,,leader\n"
    )
    looked = led(text=mended, told=_hidden(first, "told"))
    assert "Left Already isn’t enabled in the file" in looked
    led(text=mended, told=_hidden(looked, "told"), keep="yes")
    assert cast.studio.schemes.get(number="R09").by == "Addie Merrowby"
    assert Membership.objects.get(person__email="rok@example.org").role == "leader"


def test_a_second_roster_tells_who_is_new_who_left_and_keeps_their_numbers(cast, led):
    ada = factories.PersonFactory(email="ada@example.org", name="Addie Merrowby")
    factories.MembershipFactory(studio=cast.studio, person=ada, role="student")
    cast.scheme.members.add(ada)
    li = factories.PersonFactory(email="li@other.example", name="Li Ōta, jr")
    factories.MembershipFactory(studio=cast.studio, person=li, role="student")
    again = led(held=_hidden(led(file=_file()), "held"), which="c1")
    assert f"Addie Merrowby,ada@example.org,{cast.scheme.number},,student,u1" in again
    assert "Li Ōta, jr is here by li@other.example and new by another address." in again
    assert f"{cast.student.name}, student" in again
    assert "Nobody is taken out by a file" in again
    # whoever brings it in, and places that a school knows nothing of, haven't left
    assert f"{cast.leader.name}, studio leader" not in again
    assert f"{cast.scribe.name}, scribe" not in again


def test_a_third_roster_knows_people_by_the_schools_id(cast, led):
    """Addie has another address at the school, No Mail none there, and u7 has left."""
    places = {
        given: factories.MembershipFactory(
            studio=cast.studio, person__email=f"{given}@old.example", school_id=given
        )
        for given in ("u1", "u5", "u7")
    }
    cast.scheme.members.add(places["u1"].person)
    looked = led(file=_file(), which="c1")
    table = looked.split("What was read")[0]
    assert f"Addie Merrowby,ada@example.org,{cast.scheme.number},,student,u1" in table
    assert "No Mail,u5@old.example,,,student,u5" in table
    assert "e-mail u1@old.example → ada@example.org" in looked
    other = "The school has another address now: Addie Merrowby, u1@old.example → ada@example.org."
    assert other in looked
    assert f"{places['u7'].person.name}, student" in looked
    assert f"{places['u1'].person.name}, student" not in looked
    cells = "Addie,ada@example.org,student,u1\nNo Mail,u5@old.example,student,u5\n"
    led(text=f"name,email,role,school_id\n{cells}", keep="yes")
    assert {p.person.email for p in Membership.objects.exclude(school_id="")} == {
        "ada@example.org",
        "u5@old.example",
        "u7@old.example",
    }
    assert cast.scheme.members.filter(email="ada@example.org").exists()


def _with(**parts):
    out = BytesIO()
    with zipfile.ZipFile(ROSTER) as held, zipfile.ZipFile(out, "w") as made:
        for name in held.namelist():
            made.writestr(name, parts.get(name.split(".")[0], held.read(name)))
    return out.getvalue()


def test_a_file_of_changes_says_nobody_left(led):
    manifest = "propertyName,value\noneroster.version,1.2\nfile.enrollments,delta\n"
    again = led(file=_file(_with(manifest=manifest)), which="c1")
    assert "whoever isn’t in it hasn’t left for that" in again
    assert "not in the class" not in again


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        (
            {"file": b"PK\x03\x04\0 cut"},
            "Expected a text file of commas or tabs (CSV), or a ZIP with",
        ),
        ({"held": "no base64", "which": "c1"}, "Expected a whole ZIP without a password"),
        ({"file": ROSTER, "which": "c9"}, "Read “roster.zip: c9”. Expected a class of this file."),
        ({"file": _with(enrollments="sourcedId\n")}, "enrollments.csv without classSourcedId"),
        (
            {"file": _with(enrollments="classSourcedId,userSourcedId,role\n"), "which": "c1"},
            "Read “Studio 4: 0 people”. Expected a class with somebody in it to bring in.",
        ),
    ],
    ids=["cut", "not as it went", "another class", "heads", "nobody"],
)
def test_what_is_no_roster_is_refused_beside_the_field(led, sent, said):
    if (file := sent.get("file")) is not None:
        raw = file if isinstance(file, bytes) else file.read_bytes()
        sent = {**sent, "file": _file(raw)}
    page = led(**sent)
    assert said in page
    assert "What was read" not in page


def test_pasted_lines_count_where_a_class_is_left_open(led):
    held = _hidden(led(file=_file()), "held")
    page = led(held=held, text="name,email\nZoë,zoe@example.org")
    assert "new here" in page
    assert "Which class" not in page


USERS = (
    "sourcedId,enabledUser,givenName,familyName,email,phone,preferredGivenName\n"
    "u1,true,Ada,Merrowby,ada@example.org,555,Addie\n"
    "u2,false,Bea,Lantry,bea@example.org,555,\n"
)


def test_pasted_users_are_known_by_their_heads(led):
    page = led(text=USERS)
    assert "Addie Merrowby" in page.split("What was read")[1]
    assert "not enabled" in page.split("What was read")[1]
    assert "left out: phone" in page
    assert "1 cell can't be read" in page
