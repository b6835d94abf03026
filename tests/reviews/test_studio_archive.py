"""A studio goes out as an archive and comes in elsewhere as it was; what is broken is refused."""

import csv
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
from criteria.typed.csv_cells import csv_of
from reviews.deeds import crit_jury_keeping, crit_releasing
from reviews.deeds.studio_archive_bringing import HereAlready, bring_studio, look_at
from reviews.deeds.studio_archive_form import LEFT_OUT, archived_models, label_of, way_to_studio
from reviews.deeds.studio_archive_reading import StudioArchive
from reviews.deeds.studio_archive_writing import write_studio
from reviews.exchange.described import DESCRIBED, DESCRIBED_FOR_WEB
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
        if f"tables/{label}.csv" in held:
            raw = held[f"tables/{label}.csv"]
            told["tables"][label] = [hashlib.sha256(raw).hexdigest(), len(rows_of(held, label))]
    out = io.BytesIO()
    with ZipFile(out, "w") as archive:
        for name, raw in held.items():
            archive.writestr(name, json.dumps(told) if name == "manifest.json" else raw)
    return out.getvalue()


def rows_of(held, label):
    """The rows of a table by head, as text."""
    text = io.StringIO(held[f"tables/{label}.csv"].decode(), newline="")
    return list(csv.DictReader(text))


def changed(held, label, line, /, **values):
    """The same with a row's cells set otherwise."""
    rows = rows_of(held, label)
    rows[line - 1] |= {head: str(value) for head, value in values.items()}
    heads = [*rows[line - 1]]
    lines = [heads, *([row.get(head, "") for head in heads] for row in rows)]
    return held | {f"tables/{label}.csv": csv_of(lines).encode()}


def test_what_a_juror_never_locked_stays_with_all_that_hangs_on_it(cast):
    draft = factories.JurySheetFactory(seat=cast.seat, scheme=cast.other_scheme)
    comment = factories.CommentFactory(jury_sheet=draft, words="Not said yet.")
    factories.LevelGivenFactory(jury_sheet=draft, criterion=cast.criterion)
    AlikeGroup.objects.get().comments.add(comment)
    held = tables(out_of(cast.studio, cast.leader))
    assert b"Not said yet." not in b"".join(held.values())
    assert len(rows_of(held, "jurysheet")) == 1
    assert len(rows_of(held, "levelgiven")) == 2
    (group,) = rows_of(held, "alikegroup")
    assert group["comments"] == "[1, 2]"
    JurySheet.objects.filter(pk=draft.pk).update(locked_at=timezone.now())
    assert b"Not said yet." in b"".join(tables(out_of(cast.studio, cast.leader)).values())


@pytest.mark.django_db(transaction=True)
def test_brought_into_an_empty_installation_it_goes_out_as_it_came(cast, settings, tmp_path):
    words = '\'=Too long for a cell,\r\n"as" some read it. ' * 3000
    Comment.objects.filter(pk=Comment.objects.order_by("pk")[0].pk).update(words=words)
    raw = out_of(cast.studio, cast.leader)
    assert "words" in {each["of_field"] for each in rows_of(members(raw), "longcell")}
    call_command("flush", interactive=False, verbosity=0)
    settings.MEDIA_ROOT = tmp_path / "elsewhere"
    by = factories.PersonFactory(name="New Coordinator", is_coordinator=True)
    told = bring_studio(opened(raw), by)
    assert tables(out_of(told.brought, by)) == tables(raw)
    assert Comment.objects.order_by("pk")[0].words == words
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


def test_one_whose_tables_are_lines_of_json_still_comes_in(cast):
    raw = out_of(cast.studio, cast.leader)
    held, told = members(raw), opened(raw)
    listed = json.loads(held["manifest.json"])
    old = {name: kept for name, kept in held.items() if name.startswith("files/")}
    tables_of_old = {}
    for model in archived_models():
        rows = [json.dumps(row) + "\n" for _, row in told.lines(model)]
        table = "".join(rows).encode()
        old[f"tables/{label_of(model)}.jsonl"] = table
        tables_of_old[label_of(model)] = [hashlib.sha256(table).hexdigest(), len(rows)]
    listed |= {"format": 1, "tables": tables_of_old}
    del listed["described"]
    old["manifest.json"] = json.dumps(listed).encode()
    brought = bring_studio(opened(packed(old)), cast.coordinator, is_copy=True).brought
    assert {name: kept for name, kept in tables(out_of(brought, cast.leader)).items()
            if name in ("tables/criterion.csv", "tables/levelgiven.csv")} == {
        name: held[name] for name in ("tables/criterion.csv", "tables/levelgiven.csv")}  # fmt: skip


def test_both_descriptions_say_what_every_table_holds_and_where_its_keys_lead(cast):
    held = members(out_of(cast.studio, cast.leader))
    package, web = (json.loads(held[name]) for name in (DESCRIBED, DESCRIBED_FOR_WEB))
    listed = json.loads(held["manifest.json"])["described"]
    assert listed == {
        name: hashlib.sha256(held[name]).hexdigest() for name in (DESCRIBED, DESCRIBED_FOR_WEB)
    }
    columns = {each["url"]: each["tableSchema"]["columns"] for each in web["tables"]}
    assert columns.keys() == {name for name in held if name.startswith("tables/")}
    keys = 0
    for resource in package["resources"]:
        rows, fields = rows_of(held, resource["name"]), resource["schema"]["fields"]
        heads = held[resource["path"]].decode().split("\r\n")[0].split(",")
        assert [each["name"] for each in fields] == heads
        assert [each["name"] for each in columns[resource["path"]]] == heads
        for field in fields:
            rules, cells = field.get("constraints", {}), {row[field["name"]] for row in rows}
            assert not ("" in cells and rules.get("required")), (resource["name"], field)
            assert cells <= {*rules.get("enum", cells), ""}, (resource["name"], field)
            most = rules.get("maxLength", 1_000_000)
            assert all(len(cell) <= most for cell in cells), (resource["name"], field)
        for leads in resource["schema"].get("foreignKeys", ()):
            other = leads["reference"]["resource"] or resource["name"]
            lines = {row["line"] for row in rows_of(held, other)}
            assert {row[leads["fields"]] for row in rows} - {""} <= lines
            keys += 1
    assert keys > 100


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
    whole = held["tables/studio.csv"]
    row = whole.partition(b"\r\n")[2]
    bad = {
        "comment, line 1, jury_sheet": changed(held, "comment", 1, jury_sheet=other),
        "scheme, line 1, studio": changed(held, "scheme", 1, studio=2),
        "field “is_superuser”": changed(held, "person", 1, is_superuser=True),
        "levelgiven, line 1, level": changed(held, "levelgiven", 1, level="high"),
        "comment, line 2, kind": changed(held, "comment", 2, kind="Shout"),
        "line 1, comments": changed(held, "alikegroup", 1, comments=[1, 99]),
        "isn’t as it was written": held | {file: b"\xff\xd8 other bytes"},
        "which isn’t known here": held | {"tables/session.csv": b"line\r\n1\r\n"},
        "doesn’t fit beside the rest": changed(held, "scheme", 2, number="R01"),
        "sheetfile, line 1": changed(held, "sheetfile", 1, sha256="f" * 64),
        "datapackage.json isn’t as it was written": held | {DESCRIBED: b"{}"},
        "Read 2 studios": held | {"tables/studio.csv": whole + b"2" + row.removeprefix(b"1")},
        "comment, line 2: Expected rows in the order": changed(held, "comment", 2, line=1),
        "issuedpackage, line 1, contents: Read {. Expected JSON": changed(
            held, "issuedpackage", 1, contents="{"
        ),
    }
    for said, changes in bad.items():
        more = json.loads(held["manifest.json"])
        if "tables/session.csv" in changes:
            more["tables"]["session"] = ["", 1]
        raw = packed(changes, tables=more["tables"])
        with pytest.raises(InputError) as refused:
            bring_studio(opened(raw), cast.coordinator, is_copy=True)
        assert said in str(refused.value), (said, str(refused.value))
    newer = packed(held, format=3, version="99")
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
    assert len(rows_of(tables(b"".join(taken)), "scheme")) == 2


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
