"""The cast with one of everything that an address can name: what walks every address needs it."""

import io
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from hashlib import sha256
from zipfile import ZipFile

import pytest
from allauth.mfa.models import Authenticator
from django.core.files.base import ContentFile
from django.db import transaction
from django.test import override_settings
from django.utils import timezone

from reviews.deeds.evidence_making import frozen_contents
from reviews.exchange.proposed import Proposal
from reviews.models import (
    Adjustment,
    AlikeGroup,
    BroughtFile,
    CalendarLink,
    Crit,
    EvidenceBook,
    JurySheet,
    Membership,
    OpposedPair,
    Original,
    PaperSheets,
    Person,
    Portfolio,
    RoomLink,
    ScriptToken,
    Seat,
)
from reviews.models.tokens import digest_of
from reviews.tiles import TilePack
from tests import factories
from tests.conftest import Cast, make_cast


@dataclass
class World:
    """The cast with one of everything that an address can name."""

    cast: Cast
    ids: dict[str, object]

    def who(self, role: str) -> Person | Seat | None:
        """The person or seat that plays a role."""
        if role == "nobody":
            return None
        names = {"juror": "seat", "other_juror": "other_seat"}
        return getattr(self.cast, names.get(role, role))


@pytest.fixture
def world(cast: Cast, settings, tmp_path) -> World:
    settings.MEDIA_ROOT = tmp_path
    return make_world(cast)


@pytest.fixture(scope="module")
def shared_world(django_db_setup, django_db_blocker, tmp_path_factory) -> Iterator[World]:
    """One for all tests of a module, each of which undoes its deeds; rolled back behind them."""
    with (
        django_db_blocker.unblock(),
        override_settings(MEDIA_ROOT=tmp_path_factory.mktemp("media")),
        transaction.atomic(),
    ):
        yield make_world(make_cast())
        transaction.set_rollback(True)


def make_world(cast: Cast) -> World:
    draft = factories.StudioFactory(title="Draft", opened_by=cast.leader)
    brief = factories.BriefFactory(studio=draft)
    for person, role in (
        (cast.leader, "leader"),
        (cast.student, "student"),
        (cast.mate, "student"),
        (cast.classmate, "student"),
        (cast.scribe, "scribe"),
        (cast.examiner, "examiner"),
    ):
        factories.MembershipFactory(studio=draft, person=person, role=role)
    picture = factories.SheetFileFactory()
    pack = TilePack(picture.width, picture.height)
    picture.tiles.save("tiles", ContentFile(pack.head([4]) + b"\xff\xd8\xff\xd9"))
    sent = Original(sha256=sha256(b"sent").hexdigest(), bytes=4)
    sent.file.save("sent", ContentFile(b"sent"))
    sheet = factories.SheetFactory(
        package=cast.scheme.package,
        number="02",
        file=picture,
        original=sent,
        changed_by=cast.student,
    )
    row = factories.RowFactory(package=cast.scheme.package, changed_by=cast.student)
    revision = factories.RevisionFactory(
        scheme=cast.scheme,
        issued_by=cast.student,
        crit=cast.crit,
        contents={
            "statement": "",
            "site": dict(cast.studio.brief.site),
            "sheets": [],
            "schedules": {"rooms": [dict(row.cells)]},
            "targets": cast.studio.brief.target_records(),
        },
    )
    hung = factories.IssuedSheetFactory(revision=revision, number="02", file=picture, original=sent)
    shown = Portfolio.objects.create(scheme=cast.scheme, changed_by=cast.student)
    jury_sheet = factories.JurySheetFactory(
        seat=cast.seat, scheme=cast.other_scheme, locked_at=timezone.now()
    )
    membership = Membership.objects.get(person=cast.classmate, studio=cast.studio)
    invitation = factories.MembershipFactory(
        studio=cast.studio, person=cast.other_student, is_invited=True, scheme=cast.scheme
    )
    seat = factories.SeatFactory(crit=cast.crit, name="Ina Interest")
    for declared in (seat, cast.seat):
        interest = factories.InterestFactory(
            seat=declared, scheme=cast.other_scheme, may_comment=True
        )
    desk = factories.DeskCritFactory(scheme=cast.scheme, by=cast.leader, photo=picture)
    pin_up = factories.CritFactory(
        studio=cast.studio, kind="pin-up", day=cast.crit.day - timedelta(days=30)
    )
    recrit = factories.CritFactory(
        studio=cast.studio, kind="re-crit", day=cast.crit.day + timedelta(days=20)
    )
    Crit.objects.filter(pk=recrit.pk).update(follows=cast.crit)
    factories.SlotFactory(crit=recrit, scheme=cast.scheme)
    beside = factories.JurySheetFactory(seat=seat, scheme=cast.scheme, locked_at=timezone.now())
    slot = cast.crit.slots.get(scheme=cast.scheme)
    spoken = factories.SpokenNoteFactory(slot=slot, by=cast.scribe, seat=cast.seat)
    paper = PaperSheets(crit=cast.crit, bytes=5, made_at=timezone.now())
    paper.file.save("paper.pdf", ContentFile(b"%PDF-"))
    brought = BroughtFile.objects.create(
        package=cast.scheme.package,
        by=cast.student,
        name="house.csv",
        kind="table",
        told=Proposal(kind="table").as_json(),
    )
    return World(
        cast,
        {
            "book_id": a_book(cast).pk,
            "brought_file": brought.pk,
            "note_id": spoken.pk,
            "note_key": spoken.key,
            "interest_id": interest.pk,
            "given_id": factories.LevelGivenFactory(jury_sheet=beside, criterion=cast.criterion).pk,
            "draft_studio": draft.pk,
            "crossing_id": seat.crossings.create(
                slot=cast.crit.slots.get(scheme=cast.scheme),
                comes=True,
                at=timezone.now(),
                by=cast.leader,
            ).pk,
            "calendar_code": CalendarLink.objects.create(person=cast.student).code,
            "line_id": factories.TargetLineFactory(brief=brief).pk,
            "membership_id": membership.pk,
            "invitation_id": invitation.pk,
            "seat_id": cast.seat.pk,
            "room_code": RoomLink.objects.create(crit=cast.crit).code,
            "scheme_id": cast.scheme.pk,
            "sheet_id": sheet.pk,
            "row_id": row.pk,
            "revision": revision.pk,
            "jury_sheet_id": jury_sheet.pk,
            **_side_by_side(cast, jury_sheet),
            "criterion_id": cast.criterion.pk,
            "token_id": ScriptToken.objects.create(
                person=cast.student, name="laptop", digest=digest_of("laptop")
            ).pk,
            "passkey_id": Authenticator.objects.create(
                user=cast.student, type="webauthn", data={"name": "phone"}
            ).pk,
            "adjustment_id": Adjustment.objects.create(
                scheme=cast.scheme, person=cast.student, effect="seated", set_by=cast.leader
            ).pk,
            "question_id": factories.BriefQuestionFactory(
                brief=cast.studio.brief, asked_by=cast.classmate
            ).pk,
            "pin_up": pin_up.pk,
            "recrit": recrit.pk,
            "quiet_note": factories.QuietNoteFactory(
                crit=pin_up, scheme=cast.other_scheme, by=cast.student
            ).pk,
            "desk_id": desk.pk,
            "item_id": shown.items.create(kind="sheet", issued_sheet=hung).pk,
            "step_id": factories.NextStepFactory(desk_crit=desk).pk,
            "aside_id": factories.SetAsideFactory(studio=cast.studio, by=cast.leader).pk,
        },
    )


def _side_by_side(cast: Cast, sheet: JurySheet) -> dict[str, object]:
    """A comment for which other words are offered, paired with another and in a group with it."""
    comment, other = (factories.CommentFactory(jury_sheet=sheet) for _ in range(2))
    of = {"crit": cast.crit, "scheme": sheet.scheme, "by": cast.leader}
    pair = OpposedPair.objects.create(first=comment, second=other, **of)
    group = AlikeGroup.objects.create(**of)
    group.comments.set([comment, other])
    offer = comment.rewordings.create(was=comment.words, words="Else.", offered_by=cast.leader)
    keys = {"comment_id": comment, "pair_id": pair, "group_id": group, "offer_id": offer}
    return {name: row.pk for name, row in keys.items()}


def a_book(cast: Cast) -> EvidenceBook:
    """A frozen book of evidence of one scheme, with one picture."""
    book = EvidenceBook(studio=cast.studio, title="Visit", choice="all", by=cast.leader)
    book.drawn_from = {"rule": "every scheme of the studio"}
    told = frozen_contents(book, [cast.scheme]) | {"files": [], "missing": []}
    sheet = {
        "number": "02",
        "title": "Plan",
        "scale": "",
        "drawn_by": "",
        "width": 60,
        "height": 40,
    }
    sheet |= {"sha256": "b" * 64, "path": "02.jpg"}
    words = dict.fromkeys(("issued", "for", "late", "receipt", "statement", "folder"), "")
    revision = words | {"letter": "A", "lacks": [], "schedules": {}, "checks": []}
    told["schemes"][0]["revisions"] = [revision | {"sheets": [sheet]}]
    book.contents, book.receipt, book.frozen_at = told, "c" * 64, timezone.now()
    zipped = io.BytesIO()
    with ZipFile(zipped, "w") as archive:
        archive.writestr("02.jpg", b"\xff\xd8\xff\xd9")
    book.file.save("book.zip", ContentFile(zipped.getvalue()))
    book.pdf.save("book.pdf", ContentFile(b"%PDF-"))
    return book
