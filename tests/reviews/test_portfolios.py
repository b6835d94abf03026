"""A scheme's portfolio: chosen by its students, shown on a page, on paper and in a web folder."""

import io
import re
import zipfile

import pypdfium2
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from criteria.units import System
from reviews.deeds import portfolio_keeping
from reviews.models import Answer, AuditLine, Consent, IssuedSheet, Portfolio, PortfolioItem
from reviews.pages.portfolio_page import shown_portfolio
from tests import factories

pytestmark = pytest.mark.django_db

LEVEL_WORDS = ("Roughed out", "Worked through", "Carried to the detail", "Resolved")


@pytest.fixture
def client(cast):
    return cast.client(cast.student)


@pytest.fixture
def before_and_after(cast, settings, tmp_path):
    """Sheet 02 of two revisions, and a released remark on the first that was taken up."""
    settings.MEDIA_ROOT = tmp_path
    rooms = {"mark": "R1", "room": "Day", "use": "day", "clear_height_m": "2.5"}
    sheets = []
    for letter, floor in (("A", "20"), ("B", "24")):
        contents = {
            "statement": "",
            "site": {"people": "4"},
            "sheets": [],
            "schedules": {"rooms": [{**rooms, "floor_m2": floor}]},
            "targets": [
                {"id": "T1", "check": "floor_area", "rule": "at most", "value": "30", "unit": "m2"}
            ],
        }
        revision = factories.RevisionFactory(
            scheme=cast.scheme, letter=letter, crit=cast.crit, contents=contents
        )
        sheets.append(factories.IssuedSheetFactory(revision=revision, number="02", title="Plan"))
    sheet = factories.JurySheetFactory(
        seat=cast.seat, scheme=cast.scheme, locked_at=timezone.now(), impression=2
    )
    factories.LevelGivenFactory(jury_sheet=sheet, criterion=cast.criterion, level=2)
    comment = factories.CommentFactory(
        jury_sheet=sheet, words="The stair ends in the stove.", issued_sheet=sheets[0], zone="B2"
    )
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    Answer.objects.create(
        comment=comment,
        kind=Answer.Kind.TAKEN_UP,
        words="The stair is turned, as Jo Juror asked.",
        answered_by=cast.student,
    )
    return comment, *sheets


def address(name, cast, *more):
    return reverse(name, args=[cast.scheme.pk, *more])


def make_spread(client, cast, comment, before, after):
    sent = {"before": before.pk, "after": after.pk, "comment": comment.pk}
    return client.post(address("add-portfolio-change", cast), sent)


def text_of(answer):
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def outputs(client, cast):
    """What each of the three ways of showing it says, in plain words."""
    page = text_of(client.get(address("show-portfolio", cast)))
    paper = pypdfium2.PdfDocument(client.get(address("print-portfolio", cast)).content)
    written = " ".join(sheet.get_textpage().get_text_bounded() for sheet in paper)
    written = " ".join(written.split())
    sent = client.get(address("download-portfolio", cast))
    with zipfile.ZipFile(io.BytesIO(b"".join(sent))) as folder:
        assert folder.testzip() is None
        web = folder.read("index.html").decode()
    return {"page": page, "paper": written, "web": " ".join(re.sub(r"<[^>]+>", " ", web).split())}


def test_a_remark_that_was_taken_up_is_proposed_and_made_a_page(cast, client, before_and_after):
    comment, before, after = before_and_after
    edit = text_of(client.get(address("edit-portfolio", cast)))
    assert "Sheet 02 of revision A beside sheet 02 of revision B" in edit
    for _ in range(2):
        make_spread(client, cast, comment, before, after)
    item = PortfolioItem.objects.get()
    assert (item.before, item.issued_sheet, item.comment) == (before, after, comment)
    for way, said in outputs(client, cast).items():
        assert "The stair ends in the stove." in said, way
        assert "Taken up" in said, way
        assert re.search(r"from 20 m² to 24 m²|from 20\.0 m² to 24\.0 m²", said), way
    assert "beside sheet 02" not in text_of(client.get(address("edit-portfolio", cast)))


def test_nothing_that_is_withheld_comes_out(cast, client, before_and_after):
    comment, before, after = before_and_after
    make_spread(client, cast, comment, before, after)
    head = {"title": "Lee", "words": "Jo Juror liked it.", "credits": "Model: Mira Mate"}
    client.post(address("edit-portfolio", cast), head | {"revision": "0", "seen": "1"})
    assert Portfolio.objects.get().words == "Jo Juror liked it."
    for way, said in outputs(client, cast).items():
        assert "Jo Juror" not in said, way
        assert "a juror" in said, way
        assert not any(word in said for word in LEVEL_WORDS), way
        assert "@example.org" not in said, way
    Consent.objects.create(kind=Consent.Kind.NAME, scheme=cast.scheme, seat=cast.seat)
    assert all("Jo Juror" in said for said in outputs(client, cast).values())
    Consent.objects.update(ended_at=timezone.now())
    assert not any("Jo Juror" in said for said in outputs(client, cast).values())
    Consent.objects.update(ended_at=None)
    cast.crit.names_jurors = False
    cast.crit.save()
    assert not any("Jo Juror" in said for said in outputs(client, cast).values())
    comment.held_at = timezone.now()
    comment.save()
    for way, said in outputs(client, cast).items():
        assert "stove" not in said, way
        assert "turned" not in said, way


def test_what_is_not_released_is_neither_offered_nor_taken(cast, client, before_and_after):
    comment, before, after = before_and_after
    cast.crit.released_at = None
    cast.crit.save()
    assert "stove" not in text_of(client.get(address("edit-portfolio", cast)))
    answer = make_spread(client, cast, comment, before, after)
    assert answer.status_code == 200
    assert "Expected a remark that is released" in text_of(answer)
    assert not PortfolioItem.objects.exists()


def test_a_student_who_asks_is_not_named(cast, client, before_and_after):
    _, _, after = before_and_after
    client.post(address("add-portfolio-sheets", cast), {"sheets": [after.pk]})
    mate = cast.client(cast.mate)
    mate.post(address("name-in-portfolio", cast), {"named": "no"})
    client.post(
        address("edit-portfolio", cast),
        {"title": "", "words": "", "credits": "Model: Mira Mate", "revision": "0", "seen": "1"},
    )
    for way, said in outputs(client, cast).items():
        assert "Stef Student and 1 other" in said, way
        assert "Mira Mate" not in said, way
    mate.post(address("name-in-portfolio", cast), {"named": "yes"})
    assert "Mira Mate and Stef Student" in outputs(client, cast)["web"]


def test_unknown_figures_show_as_themselves(cast, client, before_and_after):
    _, _, after = before_and_after
    client.post(address("add-portfolio-sheets", cast), {"sheets": [after.pk]})
    for way, said in outputs(client, cast).items():
        assert "Water days at full house" in said, way
        assert "Not known" in said, way
        assert re.search(r"24(\.0)? m²", said), way


def test_pages_are_moved_captioned_and_taken_out(cast, client, before_and_after):
    _, before, after = before_and_after
    client.post(address("add-portfolio-sheets", cast), {"sheets": [after.pk, before.pk]})
    first, second = PortfolioItem.objects.all()
    for _ in range(2):
        client.post(address("move-portfolio-page", cast, second.pk), {"place": "0"})
    assert [*PortfolioItem.objects.values_list("pk", flat=True)] == [second.pk, first.pk]
    keep = address("keep-portfolio-page", cast, first.pk)
    client.post(keep, {"caption": "The plan at night", "seen": "1"})
    late = client.post(keep, {"caption": "The plan by day", "seen": "1"})
    assert late.status_code == 409
    assert "The plan at night" in text_of(late)
    assert "The plan by day" in late.content.decode()
    client.post(address("remove-portfolio-page", cast, first.pk))
    assert [*PortfolioItem.objects.all()] == [second]
    assert IssuedSheet.objects.filter(pk=before.pk).exists()


def test_words_kept_meanwhile_stand_beside_what_was_typed(cast, client):
    head = {"title": "Lee", "words": "A hut.", "credits": "", "revision": "0", "seen": "0"}
    client.post(address("edit-portfolio", cast), head)
    again = client.post(address("edit-portfolio", cast), head)
    assert again.status_code == 302
    late = cast.client(cast.mate).post(address("edit-portfolio", cast), head | {"words": "A roof."})
    assert late.status_code == 409
    assert "A hut." in text_of(late)
    assert "A roof." in late.content.decode()
    assert Portfolio.objects.get().words == "A hut."


def test_only_sheets_of_the_scheme_are_taken(cast, client, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    other = factories.RevisionFactory(scheme=cast.other_scheme)
    theirs = factories.IssuedSheetFactory(revision=other)
    answer = client.post(address("add-portfolio-sheets", cast), {"sheets": [theirs.pk, "x"]})
    assert answer.status_code == 200
    assert "Expected sheets of this scheme" in text_of(answer)
    assert not PortfolioItem.objects.exists()


def test_the_paper_has_title_language_outline_and_words_for_pictures(
    cast, client, before_and_after
):
    _, _, after = before_and_after
    client.post(address("add-portfolio-sheets", cast), {"sheets": [after.pk]})
    sent = client.get(address("print-portfolio", cast)).content
    assert b"/Lang (en-GB)" in sent
    paper = pypdfium2.PdfDocument(sent)
    assert paper.get_metadata_value("Title") == "Lee"
    assert [each.get_title() for each in paper.get_toc()] == ["Lee", "02 Plan", "Project data"]
    assert [round(side / 72 * 25.4) for side in paper[0].get_size()] == [420, 297]
    assert b"/Alt (" in sent


def test_the_folder_holds_relative_addresses_and_names_what_was_not_read(
    cast, client, before_and_after
):
    _, _, after = before_and_after
    portfolio_keeping.add_sheets(cast.scheme, [after], cast.student)
    after.file.image.storage.delete(str(after.file.image))
    sent = client.get(address("download-portfolio", cast))
    with zipfile.ZipFile(io.BytesIO(b"".join(sent))) as folder:
        names, web = set(folder.namelist()), folder.read("index.html").decode()
    targets = re.findall(r'(?:src|href)="([^"#]*)"', web)
    assert targets
    assert set(filter(None, targets)) <= names
    assert names == {"index.html", "look.css", "pictures/01-02-plan-b.jpg"}
    assert "<script" not in web
    assert "http" not in web
    assert "Couldn’t be read when this folder was made: 02 Plan" in web


def test_without_a_picture_the_paper_says_so(cast, client, before_and_after):
    _, _, after = before_and_after
    portfolio_keeping.add_sheets(cast.scheme, [after], cast.student)
    for stored in (after.file.image, after.file.preview):
        stored.storage.delete(str(stored))
    assert "not read" in outputs(client, cast)["paper"]


def test_long_words_go_on_over_the_page(cast, client, before_and_after):
    comment, before, after = before_and_after
    make_spread(client, cast, comment, before, after)
    words = "\n".join(f"Line {n} of what is said of it, and it is long enough." for n in range(250))
    sent = {"title": "Lee", "words": words, "credits": "", "revision": "0", "seen": "1"}
    client.post(address("edit-portfolio", cast), sent)
    paper = outputs(client, cast)["paper"]
    assert all(f"Line {n} of" in paper for n in range(250))


def test_a_juror_allows_their_name_by_their_link_and_takes_it_back(cast, client, before_and_after):
    comment, before, after = before_and_after
    make_spread(client, cast, comment, before, after)
    juror, url = cast.client(cast.seat), reverse("say-own-name")
    page = address("show-portfolio", cast)
    for _ in range(2):
        juror.post(url, {"schemes": [cast.scheme.pk]})
    assert Consent.objects.get().seat == cast.seat
    assert "Jo Juror" in text_of(client.get(page))
    assert not AuditLine.objects.filter(deed="moderated").exists()
    juror.post(url, {"schemes": []})
    assert "Jo Juror" not in text_of(client.get(page))
    answer = juror.post(url, {"schemes": [cast.other_scheme.pk]})
    assert "Expected schemes that this juror judged" in text_of(answer)


def test_a_leader_records_what_a_juror_wrote_and_the_audit_list_keeps_it(cast, before_and_after):
    url = reverse("record-juror-names", args=[cast.crit.pk, cast.seat.pk])
    leader = cast.client(cast.leader)
    leader.post(url, {"schemes": [cast.scheme.pk]})
    assert Consent.objects.get(ended_at=None).scheme == cast.scheme
    assert AuditLine.objects.get(deed="moderated").of_seat == cast.seat
    cast.crit.names_jurors = False
    cast.crit.save()
    leader.post(url, {})
    assert Consent.objects.get(ended_at=None)
    shown = text_of(leader.get(reverse("show-juror-names", args=[cast.crit.pk])))
    assert "announced without jurors’ names" in shown


def test_a_page_more_costs_no_query_more(cast, client, before_and_after):
    comment, before, after = before_and_after
    make_spread(client, cast, comment, before, after)

    def queries():
        with CaptureQueriesContext(connection) as ran:
            shown_portfolio(cast.scheme, System.METRIC)
        return len(ran)

    few = queries()
    portfolio_keeping.add_change(cast.scheme, before, after, None, cast.student)
    portfolio_keeping.add_sheets(cast.scheme, [before, after], cast.student)
    assert queries() == few
