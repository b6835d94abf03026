"""Results on paper: what a scheme's students read and no more, tagged, and all of a crit once."""

import io
import zipfile

import pypdfium2
import pytest
from django.urls import reverse

from reviews.deeds import crit_moderating, crit_releasing, result_papers_making
from reviews.drawn.result_papers import Note, NotedSheet, ResultPaper, draw_results
from reviews.models import AgreedLevel, Comment, OpposedPair, ResultPapers, Verdict
from reviews.models.jury import LevelGiven
from tests import factories
from tests.reviews.test_results_views import judged, released

__all__ = ["judged", "released"]  # the fixtures are asked for by name


def text_in(data: bytes) -> str:
    document = pypdfium2.PdfDocument(data)
    words = " ".join(page.get_textpage().get_text_bounded() for page in document)
    return " ".join(words.split())


def _pdf(cast, who, scheme=None):
    at = reverse("download-results", args=[cast.crit.pk, (scheme or cast.scheme).pk])
    return cast.client(who).get(at)


def test_a_student_takes_the_leader_s_words_verdict_comments_and_levels_on_a4(judged):
    cast = judged
    told = {"scheme": cast.scheme, "by": cast.leader}
    AgreedLevel.objects.create(criterion=cast.criterion, level=2, reason="Within.", **told)
    Verdict.objects.create(crit=cast.crit, kind="again", criteria=["F2"], words="The ramp.", **told)
    first, second = Comment.objects.filter(jury_sheet__scheme=cast.scheme, held_at=None)[:2]
    OpposedPair.objects.create(
        crit=cast.crit, first=first, second=second, ruling="Argue both.", **told
    )
    assert _pdf(cast, cast.student).status_code == 404
    assert "Not released" in text_in(_pdf(cast, cast.leader).content)
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    answer = _pdf(cast, cast.student)
    words = text_in(answer.content)
    in_order = ("R01 Lee", "Revision A",
                "asks you to show a part", "Show again", "The ramp.", "F2 Making",
                "Weigh it wet.", "Keep the lee.", "Who empties it?", "F1 Light: 2 Roughed out",
                "Jo Juror: 2 Roughed out", "appeal from the results page")  # fmt: skip
    assert [part for part in in_order if part not in words] == []
    places = [words.index(part) for part in in_order]
    assert places == sorted(places)
    assert "Two jurors disagree. Comment 2 says otherwise. The studio leader: Argue both." in words
    for withheld in ("You gave up.", "Within.", "Words for a classmate."):
        assert withheld not in words
    assert _pdf(cast, cast.classmate).status_code == 404
    document = pypdfium2.PdfDocument(answer.content)
    assert {tuple(map(round, page.get_size())) for page in document} == {(595, 842)}


def test_the_file_says_title_language_and_outline_and_tags_what_is_read(released):
    data = _pdf(released, released.student).content
    for part in (b"/Lang (en-GB)", b"/MarkInfo", b"/StructTreeRoot", b"/DisplayDocTitle true"):
        assert part in data, part
    document = pypdfium2.PdfDocument(data)
    assert document.get_metadata_value("Title").startswith("R01 Lee: ")
    titles = [item.get_title() for item in document.get_toc()]
    assert titles[:2] == ["From the studio leader", "Notes on the sheets"]
    for kind in (b"/S /H1", b"/S /H2", b"/S /P", b"/S /Figure"):
        assert kind in data, kind
    assert b"with flags 1" in data or b"\xfe\xff" in data


def test_a_drawing_without_a_square_has_its_flag_where_it_begins(released):
    comment = released.scheme.jury_sheets.first().comments.filter(held_at=None).first()
    revision = factories.RevisionFactory(scheme=released.scheme, letter="Z", crit=released.crit)
    sheet = factories.IssuedSheetFactory(revision=revision, number="07")
    stroke = [[0.25, 0.5], [0.75, 0.5]]
    Comment.objects.filter(pk=comment.pk).update(
        issued_sheet=sheet, zone="", x=None, y=None, strokes=[stroke]
    )
    paper = result_papers_making.paper_of(released.crit, released.scheme)
    noted = next(each for each in paper.sheets if "07" in each.title)
    (number, x, y), *_ = noted.flags
    assert (number, x, y) == (noted.notes[0].number, 0.25, 0.5)


def test_a_sign_that_the_face_lacks_is_stood_in_for_and_said(released):
    comment = Comment.objects.filter(jury_sheet__scheme=released.scheme, held_at=None).first()
    Comment.objects.filter(pk=comment.pk).update(words="Ask 汉字 why.")
    words = text_in(_pdf(released, released.student).content)
    assert "Ask ¤¤ why." in words
    assert "stands for a sign that this face lacks" in words


def test_a_long_comment_goes_over_pages_and_loses_nothing(released):
    words = " ".join(f"word{n}" for n in range(3000))
    comment = Comment.objects.filter(jury_sheet__scheme=released.scheme, held_at=None).first()
    Comment.objects.filter(pk=comment.pk).update(words=words)
    read = text_in(_pdf(released, released.student).content)
    assert all(f"word{n}" in read for n in (0, 1500, 2999))


# all of a crit


def _made(cast):
    papers = result_papers_making.ask_for_papers(cast.crit, cast.leader)
    result_papers_making.make_papers.call(papers.pk)
    return ResultPapers.objects.get(pk=papers.pk)


def test_all_are_made_once_and_again_after_a_correction(released):
    cast = released
    made = _made(cast)
    assert (made.done, made.total, made.failed) == (2, 2, "")
    result_papers_making.make_papers.call(made.pk)  # taken up twice
    assert ResultPapers.objects.count() == 1
    leader = cast.client(cast.leader)
    at = reverse("download-result-papers", args=[cast.crit.pk])
    data = b"".join(leader.get(at).streaming_content)
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        names = archive.namelist()
        assert sorted(names) == ["r01-lee.pdf", "r02-keel.pdf"]
        assert "Keep the lee." in text_in(archive.read("r01-lee.pdf"))
        assert "Keep the lee." not in text_in(archive.read("r02-keel.pdf"))
    given = LevelGiven.objects.filter(jury_sheet__scheme=cast.scheme).first()
    crit_moderating.correct_level(given, cast.leader, 3, "Sheet 04.", given.version)
    assert leader.get(at).status_code == 404
    page = leader.get(reverse("release-crit", args=[cast.crit.pk])).content.decode()
    assert "Something was put right since" in page
    before = made.file.name
    again = _made(cast)
    assert again.file.name != before
    assert ResultPapers.objects.get() == again
    for who in (cast.student, cast.coordinator, cast.examiner):
        assert cast.client(who).get(at).status_code in (403, 404)


def test_none_is_made_before_the_release_or_kept_after_it_is_called_back(judged):
    cast = judged
    assert result_papers_making.ask_for_papers(cast.crit, cast.leader) is None
    crit_releasing.release_crit(cast.crit, cast.leader, "Words.")
    papers = result_papers_making.ask_for_papers(cast.crit, cast.leader)
    crit_releasing.call_back(cast.crit, cast.leader)
    result_papers_making.make_papers.call(papers.pk)
    assert not ResultPapers.objects.get().file


@pytest.mark.parametrize("words", ["", "Ein Satz.\n\nNoch einer."])
def test_a_paper_without_pictures_and_levels_is_drawn(words):
    from datetime import UTC, datetime

    paper = ResultPaper(
        "R01 Lee", ("Final crit",), datetime(2026, 12, 7, tzinfo=UTC), "", words, "", (),
        (NotedSheet("Sheet 02", (Note("1", "Keep", "Keep it."),), None, 420, 297),), "", (), "", (),
        ("Answer.",),
    )  # fmt: skip
    read = text_in(draw_results(paper))
    assert "The picture of this sheet is missing." in read
    assert ("Noch einer." in read) is bool(words)
