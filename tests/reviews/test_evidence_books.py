"""A book of evidence: chosen as said, whole, frozen, and where it is asked for naming nobody."""

import csv
import hashlib
import io
import json
import re
from fractions import Fraction
from zipfile import ZipFile

import pypdfium2
import pytest
from django.core.files.base import ContentFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from criteria.errors import Refused
from reviews.deeds import crit_jury_keeping, crit_releasing
from reviews.deeds.evidence_making import Wish, ask_for_book, make_book
from reviews.deeds.person_erasing import Somebody, make_anonymous
from reviews.exchange import data_package_in
from reviews.models import (
    AlikeGroup,
    Answer,
    AuditLine,
    Closing,
    Comment,
    Crit,
    EvidenceBook,
    OpposedPair,
    Person,
    Seat,
    Verdict,
)
from reviews.reading.evidence_contents import changed_since, gathered
from tests import factories
from tests.reviews.picture_steps import picture

WORDS = "Stef, ask Jo Juror or mira mate (stef@example.org) why; JUR said so."


@pytest.fixture
def released(cast, settings, tmp_path):
    """A released final: a package with names in every place, levels, a comment, an answer."""
    settings.MEDIA_ROOT = tmp_path
    sent = factories.OriginalFactory(file__data=b"%PDF- /Author (Stef Student)")
    file = factories.SheetFileFactory()
    file.image.save("named.jpg", ContentFile(picture("Stef Student")))
    contents = {
        "statement": f"By Stef Student. {WORDS}",
        "schedules": {"rooms": [{"mark": "R1", "room": "Mira Mate’s room", "floor_m2": "20"}]},
        "site": dict(cast.studio.brief.site),
        "targets": cast.studio.brief.target_records(),
        "sheets": [],
    }
    revision = factories.RevisionFactory(
        scheme=cast.scheme, crit=cast.crit, contents=contents, issued_by=cast.student
    )
    factories.IssuedSheetFactory(
        revision=revision,
        file=file,
        original=sent,
        original_name="Stef Student plan.pdf",
        drawn_by="St. Stef Student",
        checked_by="mira",
    )
    Crit.objects.filter(pk=cast.crit.pk).update(release_words=WORDS)
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, 4, 0)
    sheet = cast.scheme.jury_sheets.get()
    comment = factories.CommentFactory(jury_sheet=sheet, words=f"Show it. {WORDS}")
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    crit_releasing.release_crit(cast.crit, cast.leader, WORDS)
    Answer.objects.create(comment=comment, kind="Taken up", words=WORDS, answered_by=cast.student)
    cast.crit.refresh_from_db()
    return comment


def made(cast, run, **wish):
    told = {"title": "Visit of spring, for Jo Juror", "choice": "all"} | wish
    with run(execute=True):
        book = ask_for_book(cast.studio, Wish(**told), cast.leader)
    make_book.func(book.pk)
    book.refresh_from_db()
    return book


def files(book):
    with book.file.open("rb") as stored, ZipFile(stored) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def words_of(pdf):
    return "\n".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf))


def test_a_book_holds_all_of_it_and_its_receipt_proves_every_file(
    cast, released, django_capture_on_commit_callbacks
):
    book = made(cast, django_capture_on_commit_callbacks)
    held = files(book)
    assert hashlib.sha256(held["contents.json"]).hexdigest() == book.receipt
    told = json.loads(held["contents.json"])
    assert told == book.contents
    named = {each["path"]: each["sha256"] for each in told["files"]}
    assert {path: hashlib.sha256(held[path]).hexdigest() for path in named} == named
    of_it = {"contents.json", "index.html", "book.pdf", "book.css", "schemes/R01/index.html"}
    assert held.keys() - named.keys() == of_it | {"schemes/R02/index.html"}
    paths = [path for path in named if path.startswith("schemes/R01/A/")]
    assert [path.removeprefix("schemes/R01/A/") for path in paths] == [
        "statement.txt",
        "schedules/datapackage.json",
        "schedules/csv-metadata.json",
        "schedules/tables/rooms.csv",
        "check-sheet.txt",
        "sheets/02.jpg",
        "as-sent/02 Stef Student plan.pdf",
    ]
    page = held["schemes/R01/index.html"].decode()
    for words in ("Resolved", "Show it.", "Taken up", "Mira Mate", book.receipt):
        assert words in page, words
    assert book.receipt in held["index.html"].decode()
    document = pypdfium2.PdfDocument(held["book.pdf"])
    feet = [each.get_textpage().get_text_bounded() for each in document]
    assert all(book.receipt in text for text in feet)
    with book.pdf.open("rb") as drawn_alone:
        assert drawn_alone.read() == held["book.pdf"]
    assert AuditLine.objects.filter(deed="evidence").count() == 1
    assert (book.done, book.total, book.failed) == (2, 2, "")


def table(held, name):
    return list(csv.DictReader(io.StringIO(held[f"tables/{name}.csv"].decode("utf-8-sig"))))


def test_its_tables_are_described_twice_and_hold_what_its_pages_show(
    cast, released, django_capture_on_commit_callbacks
):
    Comment.objects.filter(pk=released.pk).update(held_at=timezone.now(), held_by=cast.leader)
    blank = factories.JurySheetFactory(
        seat=factories.SeatFactory(crit=cast.crit, name="Nell New"),
        scheme=cast.scheme,
        locked_at=timezone.now(),
    )
    held = files(made(cast, django_capture_on_commit_callbacks))
    package, web = (json.loads(held[name]) for name in ("datapackage.json", "csv-metadata.json"))
    tables = {each["url"]: each["tableSchema"] for each in web["tables"]}
    for resource in package["resources"]:
        schema, lines = resource["schema"], table(held, resource["name"])
        heads = held[resource["path"]].decode("utf-8-sig").split("\r\n")[0].split(",")
        assert [each["name"] for each in schema["fields"]] == heads
        assert [each["name"] for each in tables[resource["path"]]["columns"]] == heads
        if keys := schema.get("primaryKey"):
            assert len({tuple(line[key] for key in keys) for line in lines}) == len(lines)
        for leads in schema.get("foreignKeys", ()):
            named, there = (
                [each] if isinstance(each, str) else each
                for each in (leads["fields"], leads["reference"]["fields"])
            )
            known = {tuple(each[h] for h in there)
                     for each in table(held, leads["reference"]["resource"])}  # fmt: skip
            assert {tuple(line[h] for h in named) for line in lines if line[named[0]]} <= known
    keyed = {each["name"]: each["schema"].get("primaryKey") for each in package["resources"]}
    assert keyed["levels"] == ["crit", "scheme", "code", "juror"]
    levels = {(each["code"], each["juror"]): each for each in table(held, "levels")}
    assert levels["F2", "Jo Juror"]["level"] == "4"
    assert levels["F2", "Jo Juror"]["word"] == "Resolved"
    assert (levels["F2", "Nell New"]["level"], levels["F2", "Nell New"]["word"]) == ("", "no level")
    assert blank.levels.count() == 0
    (comment,) = table(held, "comments")
    assert (comment["words"], comment["held"]) == ("", "held since the release: on request")
    listed = {each["path"] for each in table(held, "files")}
    assert {"tables/levels.csv", "schemes/R01/A/sheets/02.jpg"} <= listed <= held.keys()
    assert {each["path"] for each in table(held, "sheets")} <= listed


def test_schedules_of_a_revision_come_in_again_elsewhere(
    cast, released, django_capture_on_commit_callbacks, tmp_path
):
    held = files(made(cast, django_capture_on_commit_callbacks))
    folder = "schemes/R01/A/schedules/"
    with ZipFile(tmp_path / "sent", "w") as archive:
        for path in held:
            if path.startswith(folder):
                archive.writestr(path.removeprefix(folder), held[path])
    (row,) = data_package_in.read(str(tmp_path / "sent"), {}).rows
    told = {head: cell.text for head, cell in row.cells.items()}
    assert told == {"mark": "R1", "room": "Mira Mate’s room", "floor_m2": "20"}


def test_what_comes_later_changes_nothing_and_is_named_beside_it(
    cast, released, django_capture_on_commit_callbacks
):
    book = made(cast, django_capture_on_commit_callbacks)
    before, was = files(book), dict(book.contents)
    assert changed_since(book) == []
    Answer.objects.update(words="Another answer.")
    factories.RevisionFactory(scheme=cast.scheme, letter="B")
    Verdict.objects.create(crit=cast.crit, scheme=cast.scheme, kind="go-on", by=cast.leader)
    make_book.func(book.pk)
    book.refresh_from_db()
    assert book.contents == was
    assert files(book) == before
    said = changed_since(book)
    assert "R01: revision B issued" in said
    assert any("answers" in words for words in said)
    assert any("verdict" in words for words in said)
    page = cast.client(cast.examiner).get(
        reverse("show-book-changes", args=[cast.studio.pk, book.pk])
    )
    assert "revision B issued" in page.content.decode()


def every_name() -> set[str]:
    """Whatever names anybody of the site: whole, first and as typed, addresses, codes of links."""
    people = [*Person.objects.all(), *Seat.objects.all()]
    whole = {each.name for each in people}
    typed = {form for name in whole for form in (name, name.lower(), name.upper())}
    reached = {each.email for each in people} - {""}
    codes = {seat.code for seat in Seat.objects.all()}
    return {*typed, *(name.split()[0] for name in whole), *reached, *codes, "JUR"}


PACKED, LEAST_IN_PACKED = (".pdf", ".jpg", ".png"), 4
"""In what is packed two or three letters stand by chance; the words of the PDF are read apart."""


def test_the_anonymous_book_names_nobody_in_any_byte(
    cast, released, django_capture_on_commit_callbacks
):
    book = made(cast, django_capture_on_commit_callbacks, is_anonymous=True)
    held = files(book)
    held["as text"] = words_of(held["book.pdf"]).encode()
    held["as kept"] = json.dumps([book.contents, book.drawn_from]).encode()
    held["names of files"] = "\n".join(held).encode()
    site = cast.client(cast.examiner)
    at = [cast.studio.pk, book.pk]
    held["page"] = site.get(reverse("show-book-scheme", args=[*at, "R01"])).content
    assert b"revisions" not in held["page"].partition(b"<footer")[2]
    sought = [(name, re.compile(rf"(?<!\w){re.escape(name)}(?!\w)")) for name in every_name()]
    found = [
        (path, name)
        for path, raw in held.items()
        for text in (raw.decode("utf-8", "ignore"), raw.decode("utf-16-le", "ignore"))
        for name, pattern in sought
        if path != "page" and (len(name) >= LEAST_IN_PACKED or not path.endswith(PACKED))
        if pattern.search(text)
    ]
    assert found == []
    assert not any(b"@example.org" in raw for path, raw in held.items() if path != "page")
    with Image.open(io.BytesIO(held["schemes/R01/A/sheets/02.jpg"])) as shown:
        assert not shown.getexif()
        assert "comment" not in shown.info
    assert not any("as-sent" in path for path in held)
    text = held["as text"].decode()
    for alias in ("Student 1", "Juror A", "[address]", "Pictures may show names as drawn"):
        assert alias in text, alias
    assert "Pictures may show names as drawn" in held["index.html"].decode()
    assert "Show it. Student 2, ask Juror A or Student 1 ([address])" in text.replace("\r\n", " ")


def test_somebody_made_anonymous_is_so_in_books_whose_files_are_made_again(
    cast, released, django_capture_on_commit_callbacks
):
    book = made(cast, django_capture_on_commit_callbacks)
    first, gone = book.receipt, str(book.file)
    with django_capture_on_commit_callbacks(execute=True):
        make_anonymous(Somebody(Person.objects.get(pk=cast.student.pk)))
    book.refresh_from_db()
    assert not book.file.storage.exists(gone)
    make_book.func(book.pk)
    book.refresh_from_db()
    held = files(book)
    ours = [kept for path, kept in held.items() if "as-sent" not in path]  # Mira has a name still
    raw = b"".join([*ours, "\n".join(held).encode(), words_of(held["book.pdf"]).encode()])
    assert b"Stef Student" not in raw
    assert f"Former student {cast.student.pk}" in held["schemes/R01/index.html"].decode()
    assert b"Mira Mate" in held["contents.json"]
    assert book.receipt != first
    assert [each["receipt"] for each in book.contents["formers"]] == [first]
    assert first in held["index.html"].decode()
    with django_capture_on_commit_callbacks(execute=True):
        make_anonymous(Somebody(None, (Seat.objects.get(pk=cast.seat.pk),)))
    assert "Jo Juror" not in json.dumps(EvidenceBook.objects.get(pk=book.pk).contents)


def test_a_comment_held_since_and_a_crit_not_released_stay_out(
    cast, released, django_capture_on_commit_callbacks
):
    Comment.objects.filter(pk=released.pk).update(held_at=timezone.now(), held_by=cast.leader)
    later = factories.CritFactory(studio=cast.studio, kind="re-crit")
    seat = factories.SeatFactory(crit=later, name="Not Yet")
    factories.JurySheetFactory(seat=seat, scheme=cast.scheme, locked_at=timezone.now())
    other = factories.CommentFactory(jury_sheet=released.jury_sheet, words="Draw it.")
    Closing.objects.create(
        comment=other, is_closed=True, words="Seen again.", crit=later, by=cast.leader
    )
    book = made(cast, django_capture_on_commit_callbacks)
    raw = b"".join(files(book).values())
    assert b"Show it." not in raw
    assert b"Not Yet" not in raw
    assert b"Draw it." in raw
    assert b"Seen again." not in raw
    assert b"held since the release: on request" in raw


def test_it_tells_which_comments_oppose_each_other_and_who_says_the_same(
    cast, released, django_capture_on_commit_callbacks
):
    nell = factories.SeatFactory(crit=cast.crit, name="Nell New")
    sheet = factories.JurySheetFactory(seat=nell, scheme=cast.scheme, locked_at=timezone.now())
    against, alike = (
        factories.CommentFactory(jury_sheet=sheet, words=words) for words in ("Hide it.", "Show.")
    )
    told = {"crit": cast.crit, "scheme": cast.scheme, "by": cast.leader}
    OpposedPair.objects.create(
        first=released, second=against, ruling="Argue both.", argue_by="2026-12-10", **told
    )
    group = AlikeGroup.objects.create(heading="The door", **told)
    group.comments.set([released, alike])
    book = made(cast, django_capture_on_commit_callbacks)
    held = files(book)
    lines = (
        "Opposed by 2. Ruling: Argue both. To be argued by Thu 10 Dec 2026.",
        "Said by two jurors, on The door: also in 3.",
    )
    read = cast.client(cast.leader).get(
        reverse("show-book-scheme", args=[cast.studio.pk, book.pk, cast.scheme.number])
    )
    pages = (
        held["schemes/R01/index.html"].decode(),
        read.content.decode(),
        words_of(held["book.pdf"]),
    )
    for page in pages:
        assert [line for line in lines if line not in " ".join(page.split())] == []
    Comment.objects.filter(pk=against.pk).update(held_at=timezone.now())
    (crit,) = gathered(cast.studio, [cast.scheme], is_anonymous=False)["schemes"][0]["crits"]
    assert crit["comments"][0]["opposed"] == []


def test_a_draw_keeps_what_it_drew_from_and_by_which_rule(
    cast, released, django_capture_on_commit_callbacks
):
    with pytest.raises(Refused, match="Show again"):
        ask_for_book(cast.studio, Wish("None passed", "draw"), cast.leader)
    book = made(
        cast, django_capture_on_commit_callbacks, choice="draw", bound=Fraction("3.5"), lot=7
    )
    assert (book.lot, book.asked) == (7, 1)
    assert book.drawn_from["passed"] == ["R01"]
    assert book.drawn_from["rule"] == "passed: a weighted level of 3.50 or more at the final crit"
    lines = {each["scheme"]: each for each in book.drawn_from["list"]}
    assert lines["R01"]["figure"] == "4.00"
    assert (lines["R02"]["figure"], lines["R02"]["chosen"]) == ("", "")


def test_the_form_says_what_it_read_and_examiners_read_what_is_frozen_alone(
    cast, released, django_capture_on_commit_callbacks
):
    address = reverse("make-evidence-book", args=[cast.studio.pk])
    leader, examiner = cast.client(cast.leader), cast.client(cast.examiner)
    sent = {"title": "Mine", "choice": "draw", "asked": "", "bound": "9", "named": ["999"]}
    page = leader.post(address, sent).content.decode()
    assert "Read “9”. Expected a level from 1 to 5" in page
    assert "Read nothing. Expected a whole number from 1 to 200" in page
    assert 'value="Mine"' in page
    made_at = leader.post(address, {"title": "Mine", "choice": "all"})["Location"]
    book = EvidenceBook.objects.get()
    assert "0 of 2 schemes written" in leader.get(made_at).content.decode()
    assert examiner.get(made_at).status_code == 404
    make_book.func(book.pk)
    shown = examiner.get(made_at).content.decode()
    assert EvidenceBook.objects.get().receipt in shown
    taken = examiner.get(reverse("take-evidence-book", args=[cast.studio.pk, book.pk, "pdf"]))
    assert b"".join(taken)[:5] == b"%PDF-"
    file = cast.scheme.revisions.get().sheets.get().file
    picture_at = reverse("show-book-picture", args=[cast.studio.pk, book.pk, file.sha256])
    assert examiner.get(picture_at).content[:2] == b"\xff\xd8"
    assert examiner.get(picture_at.replace(file.sha256, "f" * 64)).status_code == 404


def test_a_picture_that_is_gone_is_named(cast, released, django_capture_on_commit_callbacks):
    file = cast.scheme.revisions.get().sheets.get().file
    file.image.storage.delete(str(file.image))
    book = made(cast, django_capture_on_commit_callbacks)
    assert book.contents["missing"] == ["R01 revision A, sheet 02 Plan"]
