"""Bringing people in from a table."""

import pytest
from django.utils import timezone
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from reviews.deeds import studio_roster
from reviews.deeds.record_changes import last_change, undo_part
from reviews.deeds.studio_roster import PEOPLE, LastLeader, join
from reviews.deeds.table_bringing import NotClean
from reviews.models import Membership, Person, Revision, Scheme
from reviews.versions import Newer
from tests import factories

PAIR = """name,email,scheme number,scheme name
Ada Merrowby,ada@example.org,H01,Ridge Ladder
Lio Marchbank,lio@example.org,H04,Twelve Lamps
Rue Castellow,RUE@example.org,H04,
"""


@pytest.fixture
def studio(db):
    return factories.StudioFactory()


def bring_in(studio, typed):
    return studio_roster.bring_in(studio, typed, studio.opened_by)


def read_roster(studio, typed):
    return studio_roster.read_roster(studio, typed, studio.opened_by)


def remove_member(membership):
    studio_roster.remove_member(membership, membership.studio.opened_by)


def place_of(studio, person):
    return Membership.objects.get(studio=studio, person=person)


def undo_last(studio):
    return undo_part(studio, PEOPLE, last_change(studio, PEOPLE.slug).pk)


def _refusals(studio, text):
    return [(c.row, c.column, c.read, c.expected) for c in read_roster(studio, text).refused]


def test_a_pair_shares_a_scheme_number(studio):
    bring_in(studio, PAIR)
    assert [str(scheme) for scheme in studio.schemes.all()] == [
        "H01 Ridge Ladder",
        "H04 Twelve Lamps",
    ]
    pair = studio.schemes.get(number="H04")
    assert pair.by == "Lio Marchbank and Rue Castellow"
    assert pair.package.letter == "A"
    assert not Person.objects.get(email="rue@example.org").has_usable_password()


def test_bringing_in_twice_changes_nothing(studio):
    bring_in(studio, PAIR)
    before = [list(model.objects.values()) for model in (Person, Membership, Scheme)]
    assert set(read_roster(studio, PAIR).news) == {"the same"}
    bring_in(studio, PAIR)
    assert [list(model.objects.values()) for model in (Person, Membership, Scheme)] == before


@pytest.mark.parametrize(
    "text",
    [
        PAIR.replace(",", "\t"),
        PAIR.replace(",", ";"),
        PAIR.replace(
            "name,email,scheme number,scheme name", "Student name,E-mail address,No.,Handle"
        ),
        "\ufeff" + PAIR.replace("\n", "\r\n"),
        "\n".join(PAIR.splitlines()[1:]),
    ],
    ids=["tabs", "semicolons", "other heads", "from a spreadsheet", "no heads"],
)
def test_tables_are_read_as_people_have_them(studio, text):
    bring_in(studio, text)
    assert studio.schemes.count() == 2
    assert studio.memberships.count() == 3


def test_columns_may_stand_in_any_order(studio):
    bring_in(
        studio, "email,role,Name\nskye@example.org,scribe,Skye\ned@example.org,External examiner,Ed"
    )
    assert set(studio.memberships.values_list("role", flat=True)) == {"scribe", "examiner"}


def test_an_account_that_exists_stays_as_it_is_and_is_invited(studio):
    elsewhere = factories.MembershipFactory(person__name="Ada M.", person__email="ada@example.org")
    before = Person.objects.values().get(email="ada@example.org")
    bring_in(studio, PAIR)
    assert Person.objects.values().get(email="ada@example.org") == before
    place = studio.memberships.get(person=elsewhere.person)
    assert (place.is_invited, place.name, str(place.scheme)) == (
        True,
        "Ada Merrowby",
        "H01 Ridge Ladder",
    )
    assert not elsewhere.person.schemes.exists()
    assert studio.memberships.joined().count() == 2


def test_a_preview_is_the_same_for_an_address_that_has_an_account_and_one_that_has_none(studio):
    before = read_roster(studio, PAIR).news
    factories.MembershipFactory(person__name="Ada M.", person__email="ada@example.org")
    assert read_roster(studio, PAIR).news == before
    assert before[0] == "new here, new scheme H01"


def test_who_joins_draws_the_scheme_of_the_invitation(studio):
    factories.MembershipFactory(person__email="ada@example.org")
    bring_in(studio, PAIR)
    assert set(read_roster(studio, PAIR).news) == {"the same"}
    place = studio.memberships.invited().get()
    join(place)
    assert studio.schemes.get(number="H01").by == place.person.name
    assert (studio.memberships.joined().count(), place.person.memberships.count()) == (3, 2)
    assert set(read_roster(studio, PAIR).news) == {"the same"}


def test_an_invitation_to_another_scheme_moves(studio):
    factories.MembershipFactory(person__email="ada@example.org")
    bring_in(studio, PAIR)
    moved = "name,email,number,scheme\nAda Merrowby,ada@example.org,H04,"
    assert read_roster(studio, moved).news == ("moves from H01, joins H04",)
    bring_in(studio, moved)
    assert studio.memberships.invited().get().scheme.number == "H04"


def test_an_account_that_nobody_entered_is_as_new(studio):
    bring_in(studio, PAIR)
    other = factories.StudioFactory()
    remove_member(studio.memberships.get(person__email="ada@example.org"))
    bring_in(other, "name,email\nAda Marsh,ada@example.org")
    assert other.memberships.get().name == "Ada Marsh"
    assert not other.memberships.invited().exists()


@pytest.mark.parametrize(
    "use",
    [
        {"is_coordinator": True},
        {"opens_studios": True},
        {"password": "md5$x$y"},
        {"last_login": timezone.now()},
    ],
)
def test_an_account_that_somebody_uses_is_invited_wherever_it_belongs(studio, use):
    factories.PersonFactory(email="ada@example.org", **{"password": "!", **use})
    bring_in(studio, PAIR)
    assert studio.memberships.invited().get().person.email == "ada@example.org"


def test_whose_work_was_issued_elsewhere_is_invited(studio):
    person = factories.PersonFactory(email="ada@example.org", password="!")
    factories.RevisionFactory(students=[person])
    bring_in(studio, PAIR)
    assert studio.memberships.invited().get().person == person


def test_who_belongs_to_the_studio_takes_another_part_at_once(studio):
    bring_in(studio, PAIR)
    Person.objects.update(password="md5$x$y")
    bring_in(studio, "name,email,role\nAda,ada@example.org,scribe")
    assert not studio.memberships.invited().exists()


def test_an_invited_leader_does_not_free_the_only_one(studio):
    only = factories.MembershipFactory(studio=studio, role="leader")
    invited = factories.MembershipFactory(studio=studio, role="leader", is_invited=True)
    with pytest.raises(LastLeader):
        remove_member(only)
    remove_member(invited)
    assert studio.memberships.get() == only


@pytest.mark.parametrize(
    ("line", "refusal"),
    [
        (
            "Ada,ada at example,H01,Lee",
            ("E-mail", "ada at example", "an e-mail address, such as ada@example.org"),
        ),
        (",ada@example.org,H01,Lee", ("Name", "nothing", "text of at most 120 characters")),
        (
            "Ada,,H01,Lee",
            ("E-mail", "nothing", "an e-mail address, such as ada@example.org"),
        ),
        ("Ada,ada@example.org,H01,", ("Scheme name", "nothing", "a name for the new scheme H01")),
        ("Ada,ada@example.org,,Lee", ("Scheme number", "nothing", "the number of Lee")),
        (
            "Ada,ada@example.org,H0123456789012,Lee",
            ("Scheme number", "H0123456789012", "text of at most 12 characters"),
        ),
        (
            "Ada,ada@example.org,H01,Lee,juror",
            ("Role", "juror", "one of: leader, student, scribe, examiner"),
        ),
        (
            "Ada,ada@example.org,H01,,scribe",
            ("Scheme number", "H01", "a blank: a scribe draws no scheme"),
        ),
    ],
)
def test_a_cell_that_cannot_be_used_is_named(studio, line, refusal):
    text = f"name,email,number,scheme,role\n{line}{',' * (4 - line.count(','))}"
    assert _refusals(studio, text) == [(1, *refusal)]
    with pytest.raises(NotClean, match="refused"):
        bring_in(studio, text)
    assert not studio.memberships.exists()


def test_lines_are_held_to_the_lines_above_them(studio):
    text = PAIR + "Ada,ada@example.org,H01,\nNoor,noor@example.org,H01,Hearthbox\n"
    assert _refusals(studio, text) == [
        (4, "E-mail", "ada@example.org", "an address that no student above has"),
        (5, "Scheme name", "Hearthbox", "“Ridge Ladder”, as H01 is called above, or a blank"),
    ]


def test_nothing_at_all_is_refused(studio):
    assert _refusals(studio, "  \n") == [(0, "heads", "nothing", "at least one row")]
    with pytest.raises(NotClean, match="refused"):
        bring_in(studio, "name,email")


def test_a_student_who_changes_scheme_leaves_the_other(studio):
    bring_in(studio, PAIR)
    moved = "name,email,number,scheme\nAda Merrowby,ada@example.org,H04,"
    assert read_roster(studio, moved).news == ("moves from H01, joins H04",)
    bring_in(studio, moved)
    assert studio.schemes.get(number="H01").withdrawn_at is not None
    assert studio.schemes.get(number="H04").members.count() == 3
    back = "name,email,number\nAda Merrowby,ada@example.org,H01"
    assert "H01 is taken up again" in read_roster(studio, back).news[0]
    bring_in(studio, back)
    assert studio.schemes.get(number="H01").withdrawn_at is None


def test_a_scheme_is_renamed_in_the_open(studio):
    bring_in(studio, PAIR)
    text = "name,email,number,scheme\nAda Merrowby,ada@example.org,H01,Ridge Stair"
    assert read_roster(studio, text).news == ("H01 is renamed from Ridge Ladder",)
    bring_in(studio, text)
    assert studio.schemes.get(number="H01").name == "Ridge Stair"


def test_whoever_leaves_is_taken_off_and_what_is_issued_is_kept(cast):
    factories.RevisionFactory(scheme=cast.other_scheme)
    remove_member(Membership.objects.get(person=cast.classmate, studio=cast.studio))
    cast.other_scheme.refresh_from_db()
    assert cast.other_scheme.withdrawn_at is not None
    assert Revision.objects.filter(scheme=cast.other_scheme).exists()


def test_a_mate_draws_on_alone(cast):
    remove_member(Membership.objects.get(person=cast.mate, studio=cast.studio))
    cast.scheme.refresh_from_db()
    assert cast.scheme.withdrawn_at is None
    assert cast.scheme.by == "Stef Student"


def test_the_last_leader_stays(cast):
    with pytest.raises(LastLeader, match="keeps"):
        remove_member(Membership.objects.get(person=cast.leader, studio=cast.studio))
    assert Membership.objects.filter(person=cast.leader, studio=cast.studio).exists()


# undoing


def test_each_change_of_a_roster_is_named_and_put_back(cast):
    studio = cast.studio
    lines = {
        "Ada,ada@example.org,R09,Ladder": "Ada: new here, new scheme R09",
        "Mira,mira@example.org,R02,": "Mira: moves from R01, joins R02",
        "Clem,clem@example.org,R01,": "Clem: moves from R02, joins R01",
        "Clem,clem@example.org,R02,Bilge": "Clem: R02 is renamed from Keel",
        "Ed,ed@example.org,,,examiner\nAl,al@example.org,,,scribe": "Ed and 1 more brought in",
    }
    before = PEOPLE.read(studio)
    for line, what in lines.items():
        bring_in(studio, f"name,email,number,scheme,role\n{line}")
        change = last_change(studio, PEOPLE.slug)
        assert (change.what, change.by) == (what, studio.opened_by)
        assert PEOPLE.read(studio) != before
        undo_last(studio)
        assert PEOPLE.read(studio) == before
    assert last_change(studio, PEOPLE.slug) is None
    assert not studio.schemes.filter(number="R09").exists()


def test_a_removed_student_is_back_in_the_team_with_the_password_of_today(cast):
    cast.classmate.set_password("before it")
    cast.classmate.save()
    place = place_of(cast.studio, cast.classmate)
    remove_member(place)
    assert last_change(cast.studio, PEOPLE.slug).what == "Clem Classmate removed, student"
    cast.classmate.set_password("after it")
    cast.classmate.save()
    undo_last(cast.studio)
    cast.other_scheme.refresh_from_db()
    assert cast.other_scheme.withdrawn_at is None
    assert list(cast.other_scheme.members.all()) == [cast.classmate]
    assert place_of(cast.studio, cast.classmate) == place
    assert Person.objects.get(pk=cast.classmate.pk).check_password("after it")


def test_undoing_keeps_the_account_and_the_work_of_a_scheme_that_was_begun(studio):
    bring_in(studio, PAIR)
    scheme = studio.schemes.get(number="H04")
    row = factories.RowFactory(package=scheme.package)
    undo_last(studio)
    assert not studio.memberships.exists()
    assert [each.number for each in studio.schemes.all()] == ["H04"]
    scheme.refresh_from_db()
    assert scheme.withdrawn_at is not None
    assert not scheme.members.exists()
    assert list(scheme.package.rows.all()) == [row]
    assert Person.objects.filter(email="lio@example.org").exists()


@pytest.mark.parametrize("work", ["statement", "slot", "interest", "sheet", "revision"])
def test_no_work_of_any_kind_goes_with_an_undone_scheme(studio, work):
    bring_in(studio, PAIR)
    scheme = studio.schemes.get(number="H01")
    {
        "statement": lambda: type(scheme.package).objects.update(statement_version=1),
        "slot": lambda: factories.SlotFactory(scheme=scheme),
        "interest": lambda: factories.InterestFactory(scheme=scheme),
        "sheet": lambda: factories.SheetFactory(package=scheme.package),
        "revision": lambda: factories.RevisionFactory(scheme=scheme),
    }[work]()
    undo_last(studio)
    assert studio.schemes.get(number="H01").withdrawn_at is not None


def test_a_roster_that_another_changed_meanwhile_is_not_put_back(studio):
    bring_in(studio, PAIR)
    first = last_change(studio, PEOPLE.slug)
    bring_in(studio, "name,email\nNoor,noor@example.org")
    before = PEOPLE.read(studio)
    with pytest.raises(Newer) as later:
        undo_part(studio, PEOPLE, first.pk)
    assert later.value.kept.what == "Noor: new here"
    assert PEOPLE.read(studio) == before


def test_an_invitation_and_a_joining_are_undone_one_by_one(studio):
    person = factories.MembershipFactory(person__email="ada@example.org").person
    bring_in(studio, PAIR)
    join(studio.memberships.invited().get())
    assert last_change(studio, PEOPLE.slug).what == f"{person} joined"
    undo_last(studio)
    place = studio.memberships.invited().get()
    assert (place.name, place.scheme.number) == ("Ada Merrowby", "H01")
    assert not person.schemes.exists()
    undo_last(studio)
    assert not studio.memberships.exists()
    assert person.memberships.count() == 1


def test_a_roster_is_kept_by_the_change_that_its_preview_saw(studio):
    seen = read_roster(studio, PAIR).seen
    studio_roster.bring_in(studio, PAIR, studio.opened_by, seen=seen)
    studio_roster.bring_in(studio, PAIR, studio.opened_by, seen=seen)
    before = PEOPLE.read(studio)
    with pytest.raises(Newer, match="brought in"):
        studio_roster.bring_in(
            studio, "name,email\nNoor,noor@example.org", studio.opened_by, seen=seen
        )
    assert PEOPLE.read(studio) == before
    assert studio.changes.count() == 1


class AnyText(TestCase):
    @given(st.text(max_size=200))
    @settings(max_examples=60, deadline=None)
    def test_any_text_is_read_or_refused(self, text):
        preview = read_roster(factories.StudioFactory(), text)
        assert preview.is_clean or preview.refused or not preview.records
        assert len(preview.lines) == len(preview.records)
