"""A file is brought, looked at, answered, taken over: on pages, by its students alone."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from criteria.errors import Refused
from reviews.deeds import file_bringing, package_keeping
from reviews.deeds.file_bringing import clear_waiting
from reviews.deeds.file_taking import set_aside
from reviews.deeds.revision_issuing import issue
from reviews.exchange.proposed import How, Proposal, ProposedCell, ProposedRow, Question
from reviews.models import BroughtFile
from reviews.models.brought import OPEN_FOR
from tests import factories
from tests.reviews.exchange.test_known_again import row

BARE = {"statement": "", "site": {}, "sheets": [], "schedules": {}, "targets": []}
UNIT = Question(
    name="unit", asked="What is it drawn in?", choices=(("mm", "4.00 m"), ("m", "4 km"))
)


@pytest.fixture
def student(cast):
    return cast.client(cast.student)


@pytest.fixture
def at(cast):
    return f"/schemes/{cast.scheme.pk}/files/"


@pytest.fixture
def reads(monkeypatch, settings, tmp_path):
    """Stands in for the process that reads: what it says, and with which answers it was asked."""
    settings.MEDIA_ROOT = tmp_path
    asked = []

    def says(told) -> list:
        def read_apart(kind, name, file, answers=None):
            asked.append((kind, name, file.read(), dict(answers or {})))
            if isinstance(told, Refused):
                raise told
            return told(answers or {}) if callable(told) else told

        monkeypatch.setattr(file_bringing, "read_apart", read_apart)
        return asked

    return says


def seen_on(page) -> dict:
    """What a page carries of what it showed."""
    return {"seen": page.seen, "read": page.read}


def a_file(inside=b"ISO-10303-21;", name="house.ifc"):
    return {"file": SimpleUploadedFile(name, inside)}


def guessed_room() -> ProposedRow:
    cells = {
        "mark": ProposedCell(text="R1", how=How.RECKONED),
        "room": ProposedCell(text="Day room"),
        "floor_m2": ProposedCell(
            text="20", how=How.MEASURED, place="its floor", beside="19.4 written"
        ),
        "use": ProposedCell(text="day", how=How.GUESSED, place="its name"),
    }
    return ProposedRow(schedule="rooms", source="a", cells=cells)


def test_a_file_is_read_shown_and_taken_over(student, at, reads, package, cast):
    asked = reads(
        Proposal(kind="model", made_by="A program", rows=(guessed_room(),), said=("No roof.",))
    )
    answer = student.post(f"{at}bring/", a_file(), follow=True)
    page = answer.content.decode()
    assert asked == [("model", "house.ifc", b"ISO-10303-21;", {})]
    assert all(
        words in page for words in ("No roof.", "A program", "19.4 written", "20 m²", "its name")
    )
    brought = BroughtFile.objects.get()
    taken = seen_on(answer.context["page"]) | {"row": ["0"], "cell": ["0:use"]}
    page = student.post(f"{at}{brought.pk}/take/", taken, follow=True).content.decode()
    assert "Kept: rooms: 1 new, from house.ifc." in page
    assert package.rows.get().cells == {
        "mark": "R1",
        "room": "Day room",
        "floor_m2": "20",
        "use": "day",
    }
    origins = student.get(f"/schemes/{cast.scheme.pk}/schedules/rooms/origins/").content.decode()
    assert "Measured: its floor; 19.4 written" in origins
    assert "house.ifc, a building model (IFC)" in origins


def test_a_file_without_questions_is_not_kept_and_one_with_is_until_it_is_taken(student, at, reads):
    reads(Proposal(kind="model"))
    student.post(f"{at}bring/", a_file())
    assert not BroughtFile.objects.get().file
    reads(
        lambda answers: Proposal(
            kind="model", rows=(row(source="a", mark="R1"),), questions=(UNIT,)
        )
    )
    student.post(f"{at}bring/", a_file())
    brought = BroughtFile.objects.first()
    name, storage = brought.file.name, brought.file.storage
    assert storage.exists(name)


def test_what_is_done_with_ends_its_file(student, at, reads, django_capture_on_commit_callbacks):
    reads(Proposal(kind="model", questions=(UNIT,)))
    student.post(f"{at}bring/", a_file())
    brought = BroughtFile.objects.get()
    with django_capture_on_commit_callbacks(execute=True):
        student.post(f"{at}{brought.pk}/aside/")
    assert not brought.file.storage.exists(brought.file.name)
    answer = student.post(f"{at}{brought.pk}/answer/", {"answer-unit": "mm"}, follow=True)
    assert "isn’t kept here any more" in answer.content.decode().replace("&#x27;", "’")


def test_answers_go_back_to_the_reader_and_only_those_it_asked_for(student, at, reads):
    asked = reads(lambda answers: Proposal(kind="plan", questions=(UNIT,), said=(str(answers),)))
    student.post(f"{at}bring/", a_file(b"0\nSECTION\n", "plan.dxf"))
    brought = BroughtFile.objects.get()
    sent = {"answer-unit": "mm", "answer-else": "x", "answer-": "y"}
    page = student.post(f"{at}{brought.pk}/answer/", sent, follow=True).content.decode()
    assert asked[-1] == ("plan", "plan.dxf", b"0\nSECTION\n", {"unit": "mm"})
    assert "unit" in page
    student.post(f"{at}{brought.pk}/answer/", {"answer-unit": "furlong"})
    assert asked[-1][3] == {"unit": "mm"}


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({}, "Read nothing. Expected a file."),
        (a_file(b""), "an empty file"),
        (a_file(b"\x89PNG\r\n\x1a\n"), "nothing that is read here"),
    ],
)
def test_what_is_no_file_is_refused_beside_the_field(student, at, reads, sent, said):
    asked = reads(Proposal(kind="model"))
    answer = student.post(f"{at}bring/", sent)
    assert answer.status_code == 409
    assert said in answer.content.decode()
    assert not asked
    assert not BroughtFile.objects.exists()


def test_what_the_reader_refuses_stands_beside_the_field_and_nothing_is_kept(student, at, reads):
    reads(Refused("house.ifc, for 30 seconds and not to its end", "the part that is this building"))
    answer = student.post(f"{at}bring/", a_file())
    assert answer.status_code == 409
    assert "for 30 seconds and not to its end" in answer.content.decode()
    assert not BroughtFile.objects.exists()


def test_rows_of_the_brief_are_left_out_and_said(student, at, reads):
    rows = (row("site", wind_ms="4"), row("rooms", mark="R1"), row("people", name="A"))
    reads(Proposal(kind="workbook", rows=rows))
    answer = student.post(f"{at}bring/", a_file(), follow=True)
    assert (
        "Left out, for it is the brief’s: Site sheet, people."
        in answer.content.decode().replace("&#x27;", "’")
    )
    assert [each.schedule for each in BroughtFile.objects.get().proposal.rows] == ["rooms"]


def test_who_meets_a_newer_package_sees_it_with_the_ticks(student, at, reads, package, cast):
    reads(Proposal(kind="model", rows=(row(source="a", mark="R1"), row(source="b", mark="R2"))))
    seen = seen_on(student.post(f"{at}bring/", a_file(), follow=True).context["page"])
    brought = BroughtFile.objects.get()
    package_keeping.add_row(package, "rooms", {"mark": "R1", "room": "x"}, cast.mate)
    answer = student.post(f"{at}{brought.pk}/take/", seen | {"row": ["1"]})
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Changed meanwhile" in page
    assert 'value="1" checked' in page
    assert 'value="0" checked' not in page
    assert package.rows.count() == 1
    student.post(f"{at}{brought.pk}/take/", seen_on(answer.context["page"]) | {"row": ["1"]})
    assert package.rows.count() == 2


def test_sentences_of_the_file_call_rows_by_the_marks_they_have_here(
    student, at, reads, package, cast
):
    package_keeping.add_row(package, "rooms", {"mark": "R1", "room": "x"}, cast.student)
    reads(Proposal(kind="model", rows=(guessed_room(),), said=("R1 has no window; R10 has.",)))
    answer = student.post(f"{at}bring/", a_file(), follow=True)
    assert answer.context["page"].said == ["R2 has no window; R10 has."]


def test_all_that_is_guessed_can_be_ticked_at_once(student, at, reads):
    reads(Proposal(kind="model", rows=(guessed_room(),)))
    student.post(f"{at}bring/", a_file())
    pk = BroughtFile.objects.get().pk
    assert 'value="0:use" checked' not in student.get(f"{at}{pk}/").content.decode()
    assert 'value="0:use" checked' in student.get(f"{at}{pk}/?tick=guessed").content.decode()


def test_undoing_takes_all_of_it_back_and_says_so(student, at, reads, package):
    reads(Proposal(kind="model", rows=(guessed_room(),)))
    seen = seen_on(student.post(f"{at}bring/", a_file(), follow=True).context["page"])
    pk = BroughtFile.objects.get().pk
    student.post(f"{at}{pk}/take/", seen | {"row": ["0"]})
    assert "Undone" in student.post(f"{at}{pk}/undo/", follow=True).content.decode()
    assert not package.rows.exists()
    assert "nothing of it stands here" in student.get(f"{at}{pk}/").content.decode()
    page = student.post(f"{at}{pk}/undo/", follow=True).content.decode()
    assert package.rows.count() == 0
    assert "Undone" in page


def test_an_earlier_revision_is_copied_row_by_row(student, at, cast, package):
    held = {"rooms": [{"mark": "R1", "room": "Day"}, {"mark": "R2", "room": "Loft"}]}
    revision = factories.RevisionFactory(
        scheme=cast.scheme, issued_by=cast.student, contents=BARE | {"schedules": held}
    )
    package_keeping.add_row(package, "rooms", {"mark": "R1", "room": "Hall"}, cast.student)
    answer = student.post(f"{at}revision/{revision.pk}/", follow=True)
    [part] = answer.context["page"].parts
    assert ([each.name for each in part.new], [each.name for each in part.known]) == (
        ["R2"],
        ["R1"],
    )
    brought = BroughtFile.objects.get()
    student.post(f"{at}{brought.pk}/take/", seen_on(answer.context["page"]) | {"row": ["1"]})
    assert [each.cells["room"] for each in package.rows.all()] == ["Hall", "Loft"]


def test_ones_own_of_another_year_may_be_copied_and_nobody_elses(student, at, cast):
    own = factories.SchemeFactory(studio=cast.other_studio, number="O9", members=[])
    last_year = factories.RevisionFactory(scheme=own, issued_by=cast.student, contents=BARE)
    last_year.students.add(cast.student)
    others = factories.RevisionFactory(
        scheme=cast.other_scheme, issued_by=cast.classmate, contents=BARE
    )
    assert str(last_year) in student.get(at).content.decode()
    assert student.post(f"{at}revision/{last_year.pk}/").status_code == 302
    assert student.post(f"{at}revision/{others.pk}/").status_code == 404


def test_a_file_of_another_package_is_not_here(student, at, cast):
    other = BroughtFile.objects.create(
        package=cast.other_scheme.package,
        by=cast.classmate,
        name="theirs.ifc",
        kind="model",
        told=Proposal(kind="model").as_json(),
    )
    assert student.get(f"{at}{other.pk}/").status_code == 404
    assert "theirs.ifc" not in student.get(at).content.decode()


def test_reading_a_real_table_needs_no_stand_in(student, at, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    table = io.BytesIO(b"mark,room,floor_m2\nR1,Day room,22.4\n").getvalue()
    page = student.post(f"{at}bring/", a_file(table, "rooms.csv"), follow=True).content.decode()
    assert "22.4 m²" in page


def test_what_is_issued_says_where_its_cells_come_from_and_goes_on_saying_it(
    student, at, reads, package, cast
):
    reads(Proposal(kind="model", rows=(guessed_room(),)))
    seen = seen_on(student.post(f"{at}bring/", a_file(), follow=True).context["page"])
    brought = BroughtFile.objects.get()
    student.post(f"{at}{brought.pk}/take/", seen | {"row": ["0"]})
    room = package.rows.get()
    package_keeping.save_row(package, room.pk, {"room": "Hall"}, room.version, cast.student)
    revision = issue(package, cast.student)
    room.refresh_from_db()
    package_keeping.save_row(package, room.pk, {"floor_m2": "21"}, room.version, cast.student)
    page = student.get(f"/revisions/{revision.pk}/schedules/rooms/").content.decode()
    assert "Measured: its floor; 19.4 written" in page
    [[row_]] = revision.contents["origins"].values()
    assert sorted(revision.contents["origins"]["rooms"][row_]) == ["floor_m2", "mark"]
    origins = student.get(f"/schemes/{cast.scheme.pk}/schedules/rooms/origins/").content.decode()
    assert "changed here; the file had 20 m²" in origins


def test_a_package_that_was_typed_says_nothing_of_files(package, cast):
    package_keeping.add_row(package, "rooms", {"mark": "R1", "room": "Day"}, cast.student)
    assert "origins" not in issue(package, cast.student).contents


def test_proposals_that_nobody_wanted_go_in_time_and_what_was_taken_over_stays(
    student, at, reads, django_capture_on_commit_callbacks
):
    reads(Proposal(kind="model", rows=(guessed_room(),), questions=(UNIT,)))
    for _ in range(3):
        student.post(f"{at}bring/", a_file())
    taken, late, fresh = BroughtFile.objects.order_by("pk")
    set_aside(taken)
    BroughtFile.objects.exclude(pk=fresh.pk).update(at=timezone.now() - OPEN_FOR * 2)
    with django_capture_on_commit_callbacks(execute=True):
        assert clear_waiting() == 1
    assert not late.file.storage.exists(late.file.name)
    assert set(BroughtFile.objects.all()) == {taken, fresh}


def test_ticks_of_a_file_that_was_read_otherwise_meanwhile_take_nothing(
    student, at, reads, package
):
    def told(answers):
        marks = ("R1", "R2") if not answers else ("R2", "R1")
        rows = tuple(row(source=mark, mark=mark, room="x") for mark in marks)
        return Proposal(kind="model", rows=rows, questions=(UNIT,))

    reads(told)
    seen = seen_on(student.post(f"{at}bring/", a_file(), follow=True).context["page"])
    pk = BroughtFile.objects.get().pk
    student.post(f"{at}{pk}/answer/", {"answer-unit": "mm"})
    answer = student.post(f"{at}{pk}/take/", seen | {"row": ["0"]})
    assert answer.status_code == 409
    assert "read with another answer" in answer.content.decode()
    assert answer.context["page"].ticked is None
    assert not package.rows.exists()


def test_an_answer_that_comes_late_changes_nothing_that_was_taken_over(student, at, reads):
    reads(Proposal(kind="model", rows=(guessed_room(),), questions=(UNIT,)))
    student.post(f"{at}bring/", a_file())
    brought = BroughtFile.objects.get()

    def while_it_is_read(answers):
        set_aside(BroughtFile.objects.get())
        return Proposal(kind="model", said=("Otherwise.",))

    reads(while_it_is_read)
    page = student.post(f"{at}{brought.pk}/answer/", {"answer-unit": "mm"}, follow=True)
    assert "done with meanwhile" in page.content.decode()
    assert BroughtFile.objects.get().told == brought.told


def test_what_was_left_before_can_still_be_taken(student, at, cast, package):
    package_keeping.add_row(package, "rooms", {"mark": "R1", "floor_m2": "8"}, cast.student)
    url = f"/schemes/{cast.scheme.pk}/schedules/rooms/paste/"
    block = {"text": "mark,floor_m2\nR1,9\n", "bare_in": "metric"}
    for ticked in ([], ["0:floor_m2"]):
        page = student.post(url, block, follow=True).context["page"]
        take = f"{at}{page.brought.pk}/take/"
        student.post(take, seen_on(page) | {"cell": ticked})
        assert page.can_be_taken
    assert package.rows.get().cells["floor_m2"] == "9"
    assert not student.post(url, block, follow=True).context["page"].can_be_taken
