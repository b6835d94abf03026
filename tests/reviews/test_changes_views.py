"""What changed between revisions, on its pages: sheets in pairs, clouds, and what isn't known."""

import pytest
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import picture_comparing
from reviews.deeds.revision_issuing import issue
from reviews.deeds.sheet_keeping import hang_sheet, save_sheet
from reviews.models import PictureChange, Studio
from reviews.reading.sheet_changes import paired
from reviews.reading.title_block import TitleBlock
from tests.factories import PENS_DOWN, SheetFileFactory, prepare

CLOUD = {"box": [0.5, 0.5, 0.6, 0.55], "what": "redrawn"}
FOUND = {
    "like": 0.98, "lies": [1, 0, 0, 1, 0.01, 0], "covered": 0.9, "is_anew": False,
    "clouds": [CLOUD], "more": 0,
}  # fmt: skip


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def package(cast):
    return prepare(cast, ("01", "Site"), ("02", "Plan"), ("03", "Sections"))


@pytest.fixture
def second(cast, package):
    """Revision B: the plan is drawn anew, the sections are gone, a view is new."""
    issue(package, cast.student, PENS_DOWN)
    plan = package.sheets.get(number="02")
    save_sheet(package, plan.pk, TitleBlock("02", "Plan"), 1, cast.mate, file=SheetFileFactory())
    package.sheets.get(number="03").delete()
    hang_sheet(package, SheetFileFactory(), TitleBlock("04", "View"), cast.mate)
    return issue(package, cast.mate, PENS_DOWN)


@pytest.fixture
def held(monkeypatch):
    """Pairs wait: nothing is compared while a page is asked for."""
    monkeypatch.setattr(picture_comparing, "queue_waiting", lambda: None)


def compared(found: dict) -> None:
    assert PictureChange.objects.update(found=found, found_at=timezone.now()) == 1


def page(client, revision, more="", number=None):
    name, args = ("show-changes", []) if number is None else ("show-sheet-change", [number])
    answer = client.get(reverse(name, args=[revision.pk, *args]) + more)
    assert answer.status_code == 200
    return answer.content.decode()


def test_a_page_asks_for_what_is_not_compared_once_and_says_so(cast, second, held):
    client = cast.client(cast.student)
    for _ in range(2):
        text = page(client, second)
        assert "another picture; being compared" in text.lower()
        assert "every 4s" in text
    assert PictureChange.objects.filter(found_at=None).count() == 1


def test_sheets_new_gone_and_left_as_they_were_are_named(cast, second, held):
    text = page(cast.client(cast.student), second)
    for words in ("04 View</strong> <span>added", "03 Sections</strong> <span>left out"):
        assert words in text
    assert "01 Site</strong> <span>the same picture" in text


def test_clouds_stand_on_the_sheet_in_the_list_and_in_the_revision_table(cast, second, held):
    client = cast.client(cast.seat)
    page(client, second)
    compared(FOUND)
    text = page(client, second)
    assert "C4 drawn otherwise" in text
    assert 'class="cloud"' in text
    assert "reaches 90 %" in text
    assert "every 4s" not in text
    table = client.get(reverse("show-revision", args=[second.pk])).content.decode()
    assert "1 place changed" in table
    assert "C4 drawn otherwise" in table


@pytest.mark.parametrize(
    ("kind", "shown"),
    [("side", "Former: revision A"), ("over", 'id="edge"'), ("difference", "former-pen")],
)
def test_two_are_looked_at_in_three_ways_and_at_one_cloud(cast, second, held, kind, shown):
    client = cast.client(cast.student)
    page(client, second)
    compared(FOUND)
    text = page(client, second, f"?as={kind}&cloud=1", "02")
    assert shown in text
    assert "matrix(1 0 0 1 10.000 0.000)" in text
    assert "Whole sheet" in text


@pytest.mark.parametrize(
    ("found", "words"),
    [
        ({"like": 0.1, "lies": None, "clouds": []}, "can’t be laid over each other"),
        ({"is_blank": [True, False], "lies": None, "clouds": []}, "the former is blank"),
        ({"is_blank": [True, True], "lies": None, "clouds": []}, "both pictures are blank"),
        ({**FOUND, "is_anew": True, "clouds": []}, "drawn anew as a whole"),
        ({"lack": "comparing them takes over 20 s"}, "not compared, for"),
        ({**FOUND, "clouds": []}, "no change was found"),
    ],
)
def test_what_is_not_known_is_never_said_to_be_unchanged(cast, second, held, found, words):
    client = cast.client(cast.student)
    page(client, second)
    compared(found)
    text = page(client, second, "?as=over", "02").lower()
    assert words in text
    assert "the same picture" not in text
    if not found.get("lies"):
        assert "former: revision a" in text
        assert "one over the other" not in text


def test_a_classmate_sees_sheets_and_clouds_but_no_rows(cast, second, held):
    Studio.objects.update(is_wall_open=True)
    text = page(cast.client(cast.classmate), second)
    assert "02 Plan" in text
    assert "Revision table" not in text
    assert "Revision table" in page(cast.client(cast.mate), second)


def test_an_earlier_letter_is_chosen_and_the_first_says_that_it_is(cast, package, second, held):
    third = issue(package, cast.mate, PENS_DOWN)
    client = cast.client(cast.student)
    assert "What changed from A to C" in page(client, third, "?since=A")
    assert "What changed from B to C" in page(client, third, "?since=Z")
    first = second.scheme.revisions.get(letter="A")
    assert "Nothing that you may see was issued before" in page(client, first)
    assert "added" in page(client, first, number="02").lower()


def test_sheets_are_paired_by_number_then_by_title(cast, package, second):
    first = second.scheme.revisions.get(letter="A")
    was, now = list(first.sheets.all()), list(second.sheets.all())
    now[0].number, now[2].title = "7", " SECTIONS"
    pairs = [(a and a.number, b and b.number) for a, b in paired(was, now)]
    assert pairs == [("01", "7"), ("02", "02"), ("03", "04")]


def test_two_pictures_are_compared_apart_and_kept(cast, second, django_capture_on_commit_callbacks):
    client = cast.client(cast.student)
    with django_capture_on_commit_callbacks(execute=True):
        page(client, second)
    change = PictureChange.objects.get()
    assert change.found_at
    assert change.found == {"like": 0.0, "lies": None, "clouds": []}
    assert "can’t be laid over each other" in page(client, second)


def test_a_picture_whose_file_is_gone_is_said_to_be_missing(cast, second, held):
    page(cast.client(cast.student), second)
    change = PictureChange.objects.get()
    change.former.image.delete(save=False)
    change.former.image.name = "sheets/gone.jpg"
    change.former.save()
    picture_comparing.compare_next.call()
    change.refresh_from_db()
    assert change.found == {"lack": "the former picture’s file is missing"}
