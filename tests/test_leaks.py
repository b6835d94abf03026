"""Every address as every role, read for words that are withheld, before a release and after it."""

import html
import io
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from zipfile import ZipFile

import pypdfium2
import pytest
from django.db import transaction
from django.http import HttpResponseBase
from django.test import Client, override_settings
from django.urls import reverse
from fontTools.ttLib import TTFont

from reviews import worked_out
from reviews.deeds import crit_releasing, result_papers_making
from reviews.deeds.evidence_making import Wish, ask_for_book, make_book
from reviews.drawn import evidence_pdf, pdf
from reviews.models import Person, Seat
from tests import factories, marked
from tests.access_rows import ROWS
from tests.access_rows.base import ROLES, Row, a_crit, a_studio, with_args
from tests.conftest import make_cast
from tests.marked import MARKS
from tests.test_access import put_away
from tests.world import World, make_world

pytestmark = pytest.mark.django_db

BOOK = with_args(a_studio, "book_id")
FILES = {
    "take-evidence-book as files": Row(with_args(BOOK, kind="zip")),
    "take-studio-out as a file": Row(a_studio, method="post"),
    "export-you as a file": Row(method="post"),
    "export-table by level": Row(a_crit, data={"rows": "levels"}),
}
"""What an address answers beside what its row asks of it: files that are asked for by a form."""

ANOTHER = (
    "show-results", "moderate-scheme", "proof-scheme", "download-results", "show-jury-sheet",
    "declare-interest",
)  # fmt: skip
"""Addresses of one scheme at a crit that are asked for of another as well."""


def _of_another(row: Row) -> Row:
    return replace(row, args=lambda w: row.args(w) | {"scheme_id": w.cast.other_scheme.pk}, data={})


WALKED = {name: replace(row, data={}) for name, row in ROWS.items() if row.method == "get"} | FILES
WALKED |= {f"{name} of another": _of_another(ROWS[name]) for name in ANOTHER}
NOT_YET = {"show-appeal"}
"""Addresses of what can't be there before a release."""
EVERYBODY = ("leader", "sitting", *(r for r in ROLES if r != "leader"), "beside", "apart")
"""Leaders first: what a page keeps of theirs must not be shown to who comes next."""

TELLING = ("Location", "Content-Disposition", "Link", "HX-Trigger", "ETag")
DRAWN = re.compile(r'\s(?:d|points|transform|viewbox|style|[cr]?[xy][12]?|r)="[^"]*"')
"""Where a drawing's own sizes stand, among which any figure may be."""
HOLDER = re.compile(r'<html[^>]* data-holder="([^"]*)"')
At = tuple[str, str]


@dataclass(frozen=True)
class Told:
    """What somebody was answered: all that can be read of it."""

    status: int
    text: str
    headers: dict[str, str]

    def holds(self, word: str) -> bool:
        """Whether a word stands in it; of a figure, whether it is said and not only drawn by."""
        if word not in self.text or word.isalpha():
            return word in self.text
        figure = rf"(?<![\d.]){re.escape(word)}(?!\d)"
        return re.search(figure, DRAWN.sub("", self.text)) is not None

    @property
    def is_marked(self) -> bool:
        """Whether any of the words stands in it."""
        return any(map(self.holds, MARKS))


@dataclass
class Walk:
    """What was told at each stage."""

    world: World
    clients: dict[str, Client]
    told: dict[str, dict[At, Told]] = field(default_factory=dict)

    def go(self, when: str) -> None:
        """Ask for every address as everybody."""
        worked_out.forget()
        walked = [name for name in WALKED if when != "before" or name not in NOT_YET]
        self.told[when] = {(who, name): self.ask(who, name) for who in EVERYBODY for name in walked}

    def ask(self, who: str, name: str) -> Told:
        """What an address answers; nobody goes out or comes in by it."""
        row, client = WALKED[name], self.clients[who]
        client.cookies.clear()
        client.cookies.update(client.signed_in)
        with transaction.atomic():
            address = reverse(name.partition(" ")[0], kwargs=row.args(self.world))
            answer = getattr(client, row.method)(address, row.data)
            body = b"".join(answer) if answer.streaming else answer.content
            put_away(answer)
            transaction.set_rollback(True)
        return Told(answer.status_code, _read(answer, body), answer.headers)


def _read(answer: HttpResponseBase, body: bytes) -> str:
    told = "\n".join(answer.headers.get(name, "") for name in TELLING)
    return f"{told}\n{_text(body)}".lower()


@cache
def _text(data: bytes) -> str:
    """All that can be read of an answer's body, whatever it is packed in."""
    if data.startswith(b"PK"):
        with ZipFile(io.BytesIO(data)) as archive:
            parts = [_text(archive.read(name)) for name in archive.namelist()]
            return "\n".join([*archive.namelist(), *parts])
    if data.startswith(b"%PDF-") and len(data) > len(b"%PDF-"):
        document = pypdfium2.PdfDocument(data)
        words = (page.get_textpage().get_text_bounded() for page in document)
        return "\n".join([*words, *document.get_metadata_dict().values()])
    return html.unescape(data.decode("utf-8", "ignore"))


def _sitting(world: World) -> Person:
    """A leader who sits on the jury with nothing locked: levels stay closed to them."""
    cast = world.cast
    sitting = factories.PersonFactory(name="Lou Sitting", email="lou@example.org")
    factories.MembershipFactory(studio=cast.studio, person=sitting, role="leader")
    factories.SeatFactory(crit=cast.crit, name=sitting.name, email=sitting.email)
    return sitting


def _apart(world: World) -> Seat:
    """A juror of the same crit who is in another room while the scheme is shown."""
    cast = world.cast
    seat = factories.SeatFactory(crit=cast.crit, name="Ada Apart")
    slot = cast.crit.slots.get(scheme=cast.scheme)
    seat.crossings.create(slot=slot, comes=False, at=slot.crit.pens_down, by=cast.leader)
    return seat


def _release(world: World) -> None:
    """Release the crit, write what follows, and have its papers and a book made."""
    cast = world.cast
    crit_releasing.release_crit(cast.crit, cast.leader, "qxrelease")
    marked.follow(world)
    papers = result_papers_making.ask_for_papers(cast.crit, cast.leader)
    result_papers_making.make_papers.call(papers.pk)
    book = ask_for_book(cast.studio, Wish("Visit", "all"), cast.leader)
    make_book.call(book.pk)
    world.ids["book_id"] = book.pk


@pytest.fixture(scope="module")
def unpacked_faces(tmp_path_factory) -> Iterator[None]:
    """The site's faces as PDFs read them at once: there are hundreds to make."""
    folder = tmp_path_factory.mktemp("faces")
    for name in pdf.FACES.values():
        face = TTFont(pdf.FONTS / name)
        face.flavor = None
        face.save(folder / name)
    with pytest.MonkeyPatch.context() as patch:
        for module in (pdf, evidence_pdf):
            patch.setattr(module, "FONTS", folder)
        yield


@pytest.fixture(scope="module")
def walk(unpacked_faces, django_db_setup, django_db_blocker, tmp_path_factory) -> Iterator[Walk]:
    """The whole way, gone once for all that is asked of it."""
    media = override_settings(MEDIA_ROOT=tmp_path_factory.mktemp("media"))
    with django_db_blocker.unblock(), media, transaction.atomic():
        world = make_world(make_cast())
        marked.mark(world)
        cast = world.cast
        whos = {role: world.who(role) for role in ROLES} | {
            "sitting": _sitting(world),
            "beside": cast.crit.seats.get(name="Ina Interest"),
            "apart": _apart(world),
        }
        clients = {role: cast.client(who) for role, who in whos.items()}
        for client in clients.values():
            client.signed_in = client.cookies.copy()
        gone = Walk(world, clients)
        for when in ("before", "after"):
            if when == "after":
                _release(world)
            gone.go(when)
        yield gone
        transaction.set_rollback(True)


STAGES = pytest.mark.parametrize("when", ["before", "after"])


@STAGES
def test_nobody_is_told_a_word_that_is_withheld_from_them(walk, when):
    leaks = [
        (word, *at)
        for at, told in walk.told[when].items()
        for word, mark in MARKS.items()
        if not mark.allows(at[0], when, at[1]) and told.holds(word)
    ]
    assert leaks == []


@STAGES
def test_each_reads_what_is_theirs(walk, when):
    """A walk that finds a word nowhere proves nothing of it."""
    whole: dict[str, str] = defaultdict(str)
    for (who, _), told in walk.told[when].items():
        whole[who] += told.text
    due = [(word, who) for word, mark in MARKS.items() for who in mark.reads(when)]
    assert [(word, who) for word, who in due if word not in whole[who]] == []


@STAGES
def test_no_answer_with_a_word_that_is_withheld_is_kept_for_others(walk, when):
    kept = [
        (*at, told.headers.get("Cache-Control"))
        for at, told in walk.told[when].items()
        if told.is_marked
        and "no-store" not in told.headers.get("Cache-Control", "")
        and not told.headers.get("Cache-Control", "").startswith("private, no-cache")
    ]
    assert kept == []


@STAGES
def test_every_page_with_such_a_word_says_whose_it_is(walk, when):
    """By that a device empties what it holds before anybody else: `js/worker.js`."""
    holders = defaultdict(set)
    for (who, _), told in walk.told[when].items():
        is_page = told.headers.get("Content-Type", "").startswith("text/html")
        if is_page and "<html" in told.text and told.is_marked:
            holders[who] |= {*HOLDER.findall(told.text)} or {""}
    assert {len(each) for each in holders.values()} == {1}
    assert len(set.union(*holders.values()) - {""}) == len(holders)


def test_no_answer_to_students_names_a_juror_beside_their_words(walk):
    """Names are off in this crit: a name and its words stand nowhere together."""
    named = [
        at
        for at, told in walk.told["after"].items()
        if at[0] in ("student", "mate") and "qxplain" in told.text and "ina interest" in told.text
    ]
    assert named == []
