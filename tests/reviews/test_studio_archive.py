"""A studio goes out as an archive and comes in elsewhere as it was; what is broken is refused."""

import hashlib
import io
import json
from zipfile import ZipFile, ZipInfo

import pytest
from django.core.files.base import ContentFile
from django.core.management import call_command
from django.urls import reverse
from django.utils import timezone

from criteria.errors import InputError
from reviews.deeds import crit_jury_keeping, crit_releasing
from reviews.deeds.studio_archive_bringing import HereAlready, bring_studio, look_at
from reviews.deeds.studio_archive_form import LEFT_OUT, archived_models, label_of, way_to_studio
from reviews.deeds.studio_archive_reading import StudioArchive
from reviews.deeds.studio_archive_writing import write_studio
from reviews.models import (
    AgreedLevel,
    AlikeGroup,
    Answer,
    AuditLine,
    Comment,
    JurySheet,
    Membership,
    Original,
    Person,
    Scheme,
    Seat,
    SheetFile,
    Studio,
)
from tests import factories
from tests.reviews.picture_steps import picture


@pytest.fixture
def cast(cast, settings, tmp_path):
    """A released crit with an issued sheet, levels, an agreed level, a group and an answer."""
    settings.MEDIA_ROOT = tmp_path
    file = factories.SheetFileFactory()
    file.image.save("sheet.jpg", ContentFile(picture("")))
    sent = factories.OriginalFactory(sha256=hashlib.sha256(b"%PDF-").hexdigest())
    with file.image.open("rb") as kept:
        sha256 = hashlib.sha256(kept.read()).hexdigest()
    SheetFile.objects.filter(pk=file.pk).update(sha256=sha256)
    revision = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    factories.IssuedSheetFactory(revision=revision, file=file, original=sent)
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, 4, 0)
    sheet = cast.scheme.jury_sheets.get()
    comments = factories.CommentFactory.create_batch(2, jury_sheet=sheet)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    told = {"stood_on": {str(cast.seat.pk): "4"}, "scheme": cast.scheme, "by": cast.leader}
    AgreedLevel.objects.create(criterion=cast.criterion, level=4, mean="4", **told)
    group = AlikeGroup.objects.create(crit=cast.crit, scheme=cast.scheme, by=cast.leader)
    group.comments.set(comments)
    crit_releasing.release_crit(cast.crit, cast.leader, "Read slowly.")
    told = {"words": "Shown now.", "answered_by": cast.student}
    Answer.objects.create(comment=comments[0], kind="Taken up", **told)
    return cast


def out_of(studio, by, *, with_addresses=True):
    held = io.BytesIO()
    write_studio(studio, held, by, with_addresses=with_addresses)
    return held.getvalue()


def opened(raw):
    return StudioArchive(io.BytesIO(raw))


def members(raw):
    with ZipFile(io.BytesIO(raw)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def tables(raw):
    """All but the list, which says when it was made."""
    return {name: kept for name, kept in members(raw).items() if name != "manifest.json"}


def packed(held, **list_of):
    """An archive of changed members, whose list is right again but for what is said otherwise."""
    told = json.loads(held["manifest.json"]) | list_of
    for label in told["tables"]:
        raw = held[f"tables/{label}.jsonl"]
        told["tables"][label] = [hashlib.sha256(raw).hexdigest(), raw.count(b"\n")]
    out = io.BytesIO()
    with ZipFile(out, "w") as archive:
        for name, raw in held.items():
            archive.writestr(name, json.dumps(told) if name == "manifest.json" else raw)
    return out.getvalue()


def changed(held, label, line, **values):
    """The same with a row's fields set otherwise."""
    name = f"tables/{label}.jsonl"
    rows = held[name].decode().splitlines()
    rows[line - 1] = json.dumps(json.loads(rows[line - 1]) | values)
    return held | {name: ("\n".join(rows) + "\n").encode()}


def test_what_a_juror_never_locked_stays_with_all_that_hangs_on_it(cast):
    draft = factories.JurySheetFactory(seat=cast.seat, scheme=cast.other_scheme)
    comment = factories.CommentFactory(jury_sheet=draft, words="Not said yet.")
    factories.LevelGivenFactory(jury_sheet=draft, criterion=cast.criterion)
    AlikeGroup.objects.get().comments.add(comment)
    held = tables(out_of(cast.studio, cast.leader))
    assert b"Not said yet." not in b"".join(held.values())
    assert held["tables/jurysheet.jsonl"].count(b"\n") == 1
    assert held["tables/levelgiven.jsonl"].count(b"\n") == 2
    (group,) = map(json.loads, held["tables/alikegroup.jsonl"].splitlines())
    assert group["comments"] == [1, 2]
    JurySheet.objects.filter(pk=draft.pk).update(locked_at=timezone.now())
    assert b"Not said yet." in b"".join(tables(out_of(cast.studio, cast.leader)).values())


@pytest.mark.django_db(transaction=True)
def test_brought_into_an_empty_installation_it_goes_out_as_it_came(cast, settings, tmp_path):
    raw = out_of(cast.studio, cast.leader)
    call_command("flush", interactive=False, verbosity=0)
    settings.MEDIA_ROOT = tmp_path / "elsewhere"
    by = factories.PersonFactory(name="New Coordinator", is_coordinator=True)
    told = bring_studio(opened(raw), by)
    assert tables(out_of(told.brought, by)) == tables(raw)
    assert told.brought.opened_at != told.brought.brought_at
    scheme = Scheme.objects.get(number="R01")
    assert scheme.by == "Mira Mate and Stef Student"
    agreed = AgreedLevel.objects.get()
    assert agreed.stood_on == {str(Seat.objects.get(name="Jo Juror").pk): "4"}
    with scheme.revisions.get().sheets.get().file.image.open("rb") as kept:
        assert kept.read() == picture("")
    student = Person.objects.get(email="stef@example.org")
    assert not student.has_usable_password()
    assert not Person.objects.filter(opens_studios=True).exists()
    assert AuditLine.objects.filter(deed="studio-in", person=by).count() == 1


def test_without_addresses_none_stands_in_it_and_nobody_is_found_by_one(cast):
    cast.student.memberships.update(school_id="s-20431")
    assert b"s-20431" in b"".join(members(out_of(cast.studio, cast.leader)).values())
    raw = out_of(cast.studio, cast.leader, with_addresses=False)
    assert b"@example.org" not in b"".join(members(raw).values())
    assert b"s-20431" not in b"".join(members(raw).values())
    before = Person.objects.count()
    told = bring_studio(opened(raw), cast.coordinator, is_copy=True)
    assert Person.objects.count() == before + sum(told.people.values())
    drew = told.brought.schemes.get(number="R01").members.get(name="Stef Student")
    assert drew.email.endswith("@brought.invalid")


def test_the_same_studio_again_is_refused_or_a_copy_that_touches_nothing(cast):
    raw = out_of(cast.studio, cast.leader)
    before = tables(raw)
    with pytest.raises(HereAlready, match="very studio"):
        bring_studio(opened(raw), cast.coordinator)
    Person.objects.filter(pk=cast.student.pk).update(password="set", last_login=timezone.now())
    told = bring_studio(opened(raw), cast.coordinator, is_copy=True)
    assert told.brought != cast.studio
    assert tables(out_of(cast.studio, cast.leader)) == before
    place = Membership.objects.get(studio=told.brought, person=cast.student)
    assert (place.is_invited, place.called) == (True, "Stef Student")
    assert Comment.objects.count() == 4
    assert SheetFile.objects.count() == Original.objects.count() == 1


def test_a_look_keeps_nothing(cast):
    raw = out_of(cast.studio, cast.leader)
    counts = [model._base_manager.count() for model in archived_models()]
    told = look_at(opened(raw), cast.coordinator)
    assert told.here_already == cast.studio
    assert told.rows["comments"] == 2
    assert [model._base_manager.count() for model in archived_models()] == counts


def test_what_is_broken_or_means_harm_is_refused_with_its_place_and_keeps_nothing(cast):
    held = members(out_of(cast.studio, cast.leader))
    studios = Studio.objects.count()
    other = cast.other_studio.pk + 1000
    (file,) = [name for name in held if name.startswith("files/") and held[name] == picture("")]
    bad = {
        "comment, line 1, jury_sheet": changed(held, "comment", 1, jury_sheet=other),
        "scheme, line 1, studio": changed(held, "scheme", 1, studio=2),
        "field “is_superuser”": changed(held, "person", 1, is_superuser=True),
        "levelgiven, line 1, level": changed(held, "levelgiven", 1, level="high"),
        "comment, line 2, kind": changed(held, "comment", 2, kind="Shout"),
        "line 1, comments": changed(held, "alikegroup", 1, comments=[1, 99]),
        "isn’t as it was written": held | {file: b"\xff\xd8 other bytes"},
        "which isn’t known here": held | {"tables/session.jsonl": b"{}\n"},
        "doesn’t fit beside the rest": changed(held, "scheme", 2, number="R01"),
        "sheetfile, line 1": changed(held, "sheetfile", 1, sha256="0" * 64),
        "Read 2 studios": held | {"tables/studio.jsonl": held["tables/studio.jsonl"] * 2},
    }
    for said, changes in bad.items():
        more = json.loads(held["manifest.json"])
        if "tables/session.jsonl" in changes:
            more["tables"]["session"] = ["", 1]
        raw = packed(changes, tables=more["tables"])
        with pytest.raises(InputError) as refused:
            bring_studio(opened(raw), cast.coordinator, is_copy=True)
        assert said in str(refused.value), (said, str(refused.value))
    newer = packed(held, format=2, version="99")
    with pytest.raises(InputError, match="made by Muntin 99"):
        opened(newer)
    assert Studio.objects.count() == studios


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize(
    ("names", "said"),
    [
        (["../../etc/passwd"], "no studio’s archive has"),
        (["files/" + "a" * 64, "files/" + "a" * 64], "one name"),
        ([], "has no manifest"),
    ],
)
def test_a_zip_of_another_shape_is_refused(names, said):
    out = io.BytesIO()
    with ZipFile(out, "w") as archive:
        for name in names:
            archive.writestr(ZipInfo(name), b"x")
    with pytest.raises(InputError, match=said):
        opened(out.getvalue())
    with pytest.raises(InputError, match="no whole ZIP"):
        opened(b"no zip")


def test_a_table_that_swells_ends_where_it_is_more_than_may_be(cast, monkeypatch):
    held = members(out_of(cast.studio, cast.leader))
    monkeypatch.setattr("reviews.deeds.studio_archive_reading.MOST_TABLE_BYTES", 100)
    with pytest.raises(InputError, match="more than 100 bytes"):
        look_at(opened(packed(held)), cast.coordinator)


def test_every_model_goes_along_or_says_why_not():
    labels = {label_of(model) for model in archived_models()}
    assert {"studio", "scheme", "comment", "agreedlevel", "evidencebook"} <= labels
    assert not labels & LEFT_OUT.keys()
    assert way_to_studio(Comment) == "jury_sheet__scheme__studio"
    assert way_to_studio(AuditLine) == "studio"


def test_the_page_shows_what_comes_and_only_then_keeps_it(cast):
    raw = out_of(cast.studio, cast.leader)
    client, address = cast.client(cast.coordinator), reverse("bring-studio-in")
    page = client.post(address, {"file": ContentFile(b"no zip", "x.zip")}).content.decode()
    assert "no whole ZIP" in page
    studios = Studio.objects.count()
    page = client.post(address, {"file": ContentFile(raw, "x.zip")}).content.decode()
    assert "nothing is kept yet" in page
    assert "is this very studio" in page
    refused = client.post(address, {"receipt": page.partition('name="receipt" value="')[2][:64]})
    assert "Bring a copy in, or nothing" in refused.content.decode()
    assert Studio.objects.count() == studios
    mark = page.partition('name="receipt" value="')[2][:64]
    kept = client.post(address, {"receipt": mark, "is_copy": "on"})
    assert kept.status_code == 302
    assert Studio.objects.count() == studios + 1
    gone = client.post(address, {"receipt": mark, "is_copy": "on"}).content.decode()
    assert "isn’t here any more" in gone
    assert cast.client(cast.leader).get(address).status_code == 403
    taken = cast.client(cast.leader).post(reverse("take-studio-out", args=[cast.studio.pk]))
    assert tables(b"".join(taken))["tables/scheme.jsonl"].count(b"\n") == 2


def test_only_leaders_take_a_studio_out_and_not_while_levels_wait(cast):
    address = reverse("take-studio-out", args=[cast.studio.pk])
    assert cast.client(cast.coordinator).post(address).status_code == 403
    again = factories.CritFactory(studio=cast.studio, kind="re-crit")
    factories.JurySheetFactory(seat=factories.SeatFactory(crit=again), scheme=cast.scheme)
    leader = cast.client(cast.leader)
    for answer in (leader.get(address), leader.post(address)):
        page = answer.content.decode()
        assert f'href="{reverse("release-crit", args=[again.pk])}">{again}' in page
        assert "Download the archive" not in page
    assert not AuditLine.objects.filter(deed="studio-out").exists()
