"""Paper sheets: made once by themselves, two sides each, and typed in again as from paper."""

from datetime import datetime, time, timedelta

import pypdfium2
import pytest
from django.core.files.storage import default_storage
from django.urls import reverse
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from reviews import background, clock
from reviews.deeds import (
    crit_jury_keeping,
    crit_moderating,
    paper_making,
    person_erasing,
    recrit_scoping,
)
from reviews.deeds.crit_interest_declaring import declare_interest
from reviews.models import AuditLine, Comment, Crit, PaperSheets, Slot, Verdict
from reviews.reading.crit_moderation_table import moderation_table
from tests import factories
from tests.reviews.jury_steps import lock, read
from tests.reviews.page_steps import sent_of, text_of
from tests.reviews.test_recrit import again, judged

__all__ = ["again", "judged"]  # the fixtures are asked for by name


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def clock_at(monkeypatch, cast, hour, minute=0):
    moment = timezone.make_aware(datetime.combine(cast.crit.day, time(hour, minute)))
    monkeypatch.setattr("reviews.clock.now", lambda: moment)


def pages_of(cast):
    with PaperSheets.objects.get(crit=cast.crit).file.open("rb") as file:
        document = pypdfium2.PdfDocument(file.read())
    return [(page.get_size(), page.get_textpage().get_text_bounded()) for page in document]


def test_each_juror_and_scheme_has_two_sides_of_a4(cast):
    factories.issue_sheets(cast, *(f"{n:02}" for n in range(10)))
    aside = factories.SeatFactory(crit=cast.crit, name="Abe Aside")
    declare_interest(aside, cast.scheme)
    declare_interest(aside, cast.other_scheme, may_comment=True)
    Slot.objects.filter(scheme=cast.scheme).update(room="A", starts_at=time(10, 47))
    paper_making.make_paper.call(cast.crit.pk)
    pages = pages_of(cast)
    assert len(pages) == 6
    assert {tuple(round(side) for side in size) for size, _ in pages} == {(595, 842)}
    own = next(words for _, words in pages if "R01 Lee" in words and "Jo Juror" in words)
    for words in ("Room A, 10:47", "Revision A", "F1", "Light", "Not mine", "Overall impression",
                  "00 Plan", "07 Plan", "Without a picture here: 08, 09",
                  f"{cast.seat.pk}-R01"):  # fmt: skip
        assert words in own, words
    assert sum("Abe Aside" in words for _, words in pages) == 2
    assert any("comments, no level" in words for _, words in pages)
    second = [words for _, words in pages if "Side 2" in words]
    assert len(second) == 3
    assert all("Hazard" in words and "Square" in words for words in second)


def test_a_picture_that_is_gone_is_named_on_the_paper_and_stops_nothing(cast):
    issued = factories.issue_sheets(cast, "02", schemes=[cast.scheme])[0]
    default_storage.delete(issued.sheets.get().file.preview.name)
    paper_making.make_paper.call(cast.crit.pk)
    assert any("The picture is missing" in words for _, words in pages_of(cast))


def test_a_crit_without_jurors_makes_a_page_that_says_so(cast):
    cast.seat.delete()
    paper_making.make_paper.call(cast.crit.pk)
    ((_, words),) = pages_of(cast)
    assert "No juror sees a scheme" in words


def test_the_round_makes_it_once_from_eight_on_and_a_late_start_at_once(cast, monkeypatch):
    clock_at(monkeypatch, cast, 7, 59)
    background.go_round(clock.now())
    assert not PaperSheets.objects.exists()
    clock_at(monkeypatch, cast, 11, 5)
    for _ in range(2):
        background.go_round(clock.now())
    (made,) = PaperSheets.objects.filter(crit=cast.crit)
    assert made.by is None
    cast.crit.day += timedelta(days=1)
    cast.crit.save()
    monkeypatch.undo()
    PaperSheets.objects.all().delete()
    background.go_round(timezone.now())
    assert not PaperSheets.objects.filter(crit=cast.crit).exists()


@pytest.mark.django_db(transaction=True)
def test_what_cannot_be_made_is_tried_three_times_and_said(cast, monkeypatch, settings):
    settings.TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}
    Crit.objects.update(day=clock.today() + timedelta(days=1))
    Crit.objects.filter(pk=cast.crit.pk).update(day=clock.today())
    monkeypatch.setattr(paper_making, "MADE_AT", time(0))
    monkeypatch.setattr(paper_making, "draw_paper", lambda *_: 1 / 0)
    page = reverse("show-paper", args=[cast.crit.pk])
    for tried in range(5):
        assert ("could not be made" in read(cast.client(cast.leader), page)) is (tried > 2)
        paper_making.queue_papers(clock.now())
        DBTaskResult.objects.filter(status="READY").update(run_after=timezone.now())
        background.do_one()
    assert DBTaskResult.objects.count() == 3
    assert DBTaskResult.objects.failed().count() == 1
    for address in (page, reverse("home")):
        assert "sheets could not be made" in read(cast.client(cast.leader), address)
    monkeypatch.undo()
    paper_making.make_paper.call(cast.crit.pk, cast.leader.pk)
    assert "could not be made" not in read(cast.client(cast.leader), page)


def test_asked_for_it_is_made_anew_in_place_of_the_last(cast, django_capture_on_commit_callbacks):
    paper_making.make_paper.call(cast.crit.pk)
    before = PaperSheets.objects.get().file.name
    factories.SeatFactory(crit=cast.crit, name="Zoe New")
    with django_capture_on_commit_callbacks(execute=True):
        cast.client(cast.leader).post(reverse("show-paper", args=[cast.crit.pk]))
    made = PaperSheets.objects.get()
    assert made.by == cast.leader
    assert made.file.name != before
    answer = cast.client(cast.coordinator).get(reverse("download-paper", args=[cast.crit.pk]))
    assert b"".join(answer.streaming_content).startswith(b"%PDF-")
    client = cast.client(cast.coordinator)
    assert client.post(reverse("show-paper", args=[cast.crit.pk])).status_code == 403


def test_whoever_is_made_anonymous_stands_on_no_paper(cast, django_capture_on_commit_callbacks):
    paper_making.make_paper.call(cast.crit.pk)
    name = PaperSheets.objects.get().file.name
    with django_capture_on_commit_callbacks(execute=True):
        person_erasing.make_anonymous(person_erasing.Somebody(None, (cast.seat,)))
    assert not PaperSheets.objects.exists()
    assert not default_storage.exists(name)


# typing in


def address(cast):
    return reverse("type-sheet", args=[cast.crit.pk, cast.seat.pk, cast.scheme.pk])


def typed(cast, **more):
    """What a browser sends of the form as it stands, with some of it typed over."""
    levels = {f"level_{each.pk}": "3" for each in (cast.criterion, cast.other_criterion)}
    return sent_of(cast.client(cast.leader).get(address(cast))) | levels | more


def test_what_is_on_paper_is_kept_as_the_juror_s_and_says_so(cast):
    factories.issue_sheets(cast, "02", schemes=[cast.scheme])
    data = typed(cast, impression="4", kind_0="Keep", place_0="2 c4", words_0="The step.")
    data |= {f"level_{cast.other_criterion.pk}": "not-mine", "locks": "on"}
    for _ in range(2):
        assert cast.client(cast.leader).post(address(cast), data).status_code == 302
    sheet = cast.seat.sheets.get()
    assert (sheet.impression, sheet.typed_by, sheet.is_locked) == (4, cast.leader, True)
    assert [str(each) for each in sheet.levels.all()] == ["F1 3", "F2 not mine"]
    (comment,) = sheet.comments.all()
    assert (comment.place, comment.words, comment.kind) == ("02·C4", "The step.", "Keep")
    assert AuditLine.objects.filter(deed="typed", of_seat=cast.seat).exists()
    (row,) = [row for row in moderation_table(cast.crit).rows if row.scheme == cast.scheme]
    assert row.mean == "3.0"


def test_a_sheet_begun_on_a_device_stays_its_juror_s(cast):
    data = typed(cast)
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 5, 0)
    answer = cast.client(cast.leader).post(address(cast), data)
    assert answer.status_code == 409
    assert "began this sheet on a device" in text_of(answer)
    assert cast.seat.sheets.get().levels.get().level == 5
    assert "5 Carried" not in text_of(cast.client(cast.leader).get(address(cast))).split("<form")[0]


def test_what_was_seen_in_part_is_typed_without_a_level(cast):
    answer = cast.client(cast.leader).post(address(cast), typed(cast, in_part="on"))
    assert "whoever saw a scheme in part sets no level" in text_of(answer)
    none = {f"level_{each.pk}": "" for each in (cast.criterion, cast.other_criterion)}
    data = typed(cast, **none, in_part="on", locks="on", kind_0="Keep", words_0="The step.")
    for _ in range(2):
        assert cast.client(cast.leader).post(address(cast), data).status_code == 302
    sheet = cast.seat.sheets.get()
    assert (sheet.is_in_part, sheet.is_locked, sheet.levels.count()) == (True, True, 0)
    former = crit_moderating.reopen_sheet(sheet, cast.leader, "The juror saw all of it.")
    assert former.contents["in_part"] is True
    whole = cast.client(cast.leader).post(address(cast), typed(cast, locks="on") | {"in_part": ""})
    assert whole.status_code == 302
    assert not cast.seat.sheets.get().is_in_part


def test_a_sheet_half_typed_goes_on_and_what_is_missing_to_lock_is_named(cast):
    one = typed(cast) | {f"level_{cast.other_criterion.pk}": ""}
    answer = cast.client(cast.leader).post(address(cast), one | {"locks": "on"})
    assert "F2 Making" in text_of(answer)
    assert "can&#x27;t be locked yet" in text_of(answer)
    assert not cast.seat.sheets.exists()
    assert cast.client(cast.leader).post(address(cast), one).status_code == 302
    assert cast.client(cast.leader).post(address(cast), typed(cast, locks="on")).status_code == 302
    assert cast.seat.sheets.get().is_locked
    crit_moderating.reopen_sheet(cast.seat.sheets.get(), cast.leader, "The juror asked.")
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 2, 1)


def test_two_who_type_one_sheet_are_told_of_each_other(cast):
    first, second = typed(cast), typed(cast, impression="2")
    second[f"level_{cast.criterion.pk}"] = "5"
    assert cast.client(cast.leader).post(address(cast), first).status_code == 302
    answer = cast.client(cast.leader).post(address(cast), second)
    assert answer.status_code == 409
    assert "somebody else meanwhile" in text_of(answer)
    assert {each.level for each in cast.seat.sheets.get().levels.all()} == {3}


BAD = {
    "impression": ("9", "Expected a level from 1 to 5"),
    "place_0": ("somewhere", "Read “somewhere”"),
    "kind_0": ("Shout", "Expected one of the kinds"),
    "of": ("12345", "Expected a revision of this crit"),
    "words_0": ("x" * 4001, "Expected 4000 at most"),
}


@pytest.mark.parametrize("name", BAD)
def test_what_cannot_be_read_is_named_and_nothing_kept(cast, name):
    sent, said = BAD[name]
    answer = cast.client(cast.leader).post(address(cast), typed(cast, **{name: sent}))
    assert said in text_of(answer)
    assert not cast.seat.sheets.exists()


def test_a_place_on_no_sheet_that_was_shown_keeps_nothing(cast):
    answer = cast.client(cast.leader).post(
        address(cast), typed(cast, place_0="09 C4", words_0="There.")
    )
    assert answer.status_code == 409
    assert "09·C4" in text_of(answer)
    assert not Comment.objects.exists()


def test_a_leader_on_the_jury_types_nothing_that_is_closed_to_them(cast):
    seat = factories.SeatFactory(crit=cast.crit, name=cast.leader.name)
    assert cast.client(cast.leader).get(address(cast)).status_code == 403
    lock(cast, seat)
    assert "From" not in read(cast.client(cast.leader), address(cast)).split("<title>")[0]


def test_the_page_lists_every_sheet_and_where_it_stands(cast):
    data = typed(cast)
    cast.client(cast.leader).post(address(cast), data)
    page = read(cast.client(cast.leader), reverse("show-paper", args=[cast.crit.pk]))
    assert "begun, from paper, typed by Lena Leader" in page
    assert address(cast) in page
    seen = read(cast.client(cast.coordinator), reverse("show-paper", args=[cast.crit.pk]))
    assert address(cast) not in seen


def test_paper_asks_for_open_criteria_alone(again):
    other = factories.SchemeFactory(studio=again.studio)
    told = {"crit": again.crit, "scheme": other, "kind": Verdict.Kind.AGAIN, "by": again.leader}
    Verdict.objects.create(criteria=["F2"], **told)
    seen = recrit_scoping.seen_of(again.again)
    recrit_scoping.lay_out(again.again, {again.scheme.pk, other.pk}, seen, again.leader)
    assert again.again.criteria.count() == 2
    levels = {
        sheet.scheme: [code for code, _ in sheet.levels]
        for sheet in paper_making.paper_of(again.again)
    }
    assert levels == {str(again.scheme): ["F1"], str(other): ["F2"]}
    at = reverse("type-sheet", args=[again.again.pk, again.new_seat.pk, again.scheme.pk])
    page = read(again.client(again.leader), at)
    assert "F1 Light" in page
    assert "F2 Making" not in page
