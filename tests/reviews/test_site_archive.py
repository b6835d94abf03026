"""An archive holds one moment whole, and gives it back row by row and file by file."""

import json
import shutil
from functools import partial
from io import StringIO
from pathlib import Path
from threading import Thread
from zipfile import ZipFile

import pytest
from allauth.socialaccount.models import SocialAccount
from django.core.management import CommandError, call_command
from django.db import connection

from criteria.errors import InputError
from reviews.deeds import crit_jury_keeping, site_archive
from reviews.deeds.site_archive import kept_models, newest, restore, verify, write_archive
from reviews.models import LevelGiven, Person, Revision, Row
from tests import factories

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    return settings.MEDIA_ROOT


@pytest.fixture
def cast(cast, media):
    """A crit under way, with issued sheets and a level, and a student who came by the school."""
    told = {"provider": "https://id.example", "uid": "s-1", "extra_data": {"email": "s@x.example"}}
    SocialAccount.objects.create(user=cast.student, **told)
    factories.issue_sheets(cast, "02", "03", schemes=[cast.scheme])
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    return cast


def rows():
    """Every row of every table that is kept, as the database gives it; of pairs the two keys."""
    found = {}
    with connection.cursor() as cursor:
        for model in kept_models():
            pairs = [field.remote_field.through for field in model._meta.local_many_to_many]
            for each in (model, *pairs):
                table = each._meta.db_table
                first = 1 if each in pairs else 0  # a pair's own number is nobody's business
                cursor.execute(f'SELECT * FROM "{table}"')
                found[table] = sorted(repr(row[first:]) for row in cursor.fetchall())
    return found


def files(folder):
    return {p.relative_to(folder): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def empty(media):
    call_command("flush", interactive=False, verbosity=0)
    shutil.rmtree(media)


def test_what_is_put_back_equals_what_was_row_by_row_and_file_by_file(cast, media, tmp_path):
    before, kept = rows(), files(media)
    assert len(before[LevelGiven._meta.db_table]) == 1
    assert len(before[SocialAccount._meta.db_table]) == 1
    assert len(kept) > 3
    path, manifest = write_archive(tmp_path / "archives")
    assert manifest.missing == []
    empty(media)
    assert not any(rows().values())
    restore(path)
    assert rows() == before
    assert files(media) == kept
    # and people go on: the next row takes a number of its own
    assert factories.PersonFactory().pk > cast.student.pk


def test_a_moment_is_kept_to_the_microsecond(cast, media, tmp_path):
    path, _ = write_archive(tmp_path)
    with ZipFile(path) as archive:
        first = json.loads(archive.read("tables/reviews.revision.jsonl").splitlines()[0])
    issued_at = Revision.objects.get().issued_at.isoformat()
    assert first["fields"]["issued_at"] == issued_at


def test_an_archive_fits_a_database_that_keeps_keys_in_an_order_of_its_own(
    cast, media, tmp_path, monkeypatch
):
    """Before, none of SQLite could be put back into PostgreSQL, which orders them anew."""
    factories.RowFactory(package=cast.scheme.package, cells={"room": "Day", "mark": "R1"})
    path, _ = write_archive(tmp_path)
    empty(media)
    read_table = site_archive._read_table

    def turned(lines, mark="R1"):
        read_table(lines)
        Row.objects.update(cells={"mark": mark, "room": "Day"})

    with monkeypatch.context() as other:
        other.setattr(site_archive, "_read_table", partial(turned, mark="R2"))
        with pytest.raises(InputError, match=r"reviews\.row reads otherwise than the archive"):
            restore(path)
    monkeypatch.setattr(site_archive, "_read_table", turned)
    restore(path)
    assert Row.objects.get().cells == {"mark": "R1", "room": "Day"}


def test_what_is_written_meanwhile_is_of_the_next_archive(cast, tmp_path, monkeypatch):
    write_file = site_archive._write_file

    def while_somebody_writes(archive, name):
        thread = Thread(target=lambda: (factories.PersonFactory(name="Late"), connection.close()))
        thread.start()
        thread.join()
        return write_file(archive, name)

    monkeypatch.setattr(site_archive, "_write_file", while_somebody_writes)
    before = Person.objects.count()
    _, manifest = write_archive(tmp_path)
    assert Person.objects.filter(name="Late").exists()
    assert manifest.tables["reviews.person"].size == before


def test_a_file_that_is_missing_is_named_and_the_rest_kept(cast, media, tmp_path):
    gone = next(p for p in media.rglob("*") if p.is_file())
    gone.unlink()
    said, warned = StringIO(), StringIO()
    call_command("backup", str(tmp_path / "archives"), stdout=said, stderr=warned)
    assert "read again whole" in said.getvalue()
    assert f"The file is missing: {gone.relative_to(media).as_posix()}" in warned.getvalue()
    empty(media)
    call_command("restore", str(tmp_path / "archives"), stdout=said, stderr=warned)
    assert not gone.exists()
    assert Person.objects.exists()


def test_an_archive_is_its_owner_s_to_read(cast, tmp_path):
    path, _ = write_archive(tmp_path)
    assert path.stat().st_mode & 0o777 == 0o600
    assert [p.name for p in tmp_path.glob("*.partial")] == []


@pytest.mark.parametrize("spoil", ["cut", "flipped", "emptied"])
def test_a_damaged_archive_is_refused_and_nothing_is_put_back(cast, media, tmp_path, spoil):
    path, _ = write_archive(tmp_path / "archives")
    whole = path.read_bytes()
    place = len(whole) // 8
    path.write_bytes(
        {
            "cut": whole[: len(whole) // 2],
            "flipped": whole[:place] + bytes([whole[place] ^ 1]) + whole[place + 1 :],
            "emptied": b"",
        }[spoil]
    )
    empty(media)
    with pytest.raises(InputError, match=r"is damaged|is no whole archive"):
        restore(path)
    assert not Person.objects.exists()
    assert not files(tmp_path / "media")


def test_what_is_kept_is_never_overwritten(cast, media, tmp_path):
    path, _ = write_archive(tmp_path)
    before = rows()
    with pytest.raises(InputError, match=r"holds rows already .*Nothing was changed"):
        restore(path)
    assert rows() == before
    call_command("flush", interactive=False, verbosity=0)
    kept = files(media)
    with pytest.raises(InputError, match=r"The store holds .* of the files already"):
        restore(path)
    assert files(media) == kept
    assert not Person.objects.exists()


def test_an_archive_of_other_tables_names_the_version_to_restore_it_with(cast, media, tmp_path):
    path, _ = write_archive(tmp_path)
    with ZipFile(path) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    manifest = json.loads(members["manifest.json"])
    manifest["migrations"]["reviews"] = "0009_later"
    with ZipFile(path, "w") as archive:
        for name, data in {**members, "manifest.json": json.dumps(manifest)}.items():
            archive.writestr(name, data)
    empty(media)
    with pytest.raises(InputError, match=r"reviews 0009_later .*Restore it with that version"):
        restore(path)


def test_rows_that_cannot_be_put_back_take_their_files_along(cast, media, tmp_path, monkeypatch):
    path, _ = write_archive(tmp_path / "archives")
    empty(media)
    monkeypatch.setattr(site_archive, "_alike", lambda lines: object())
    monkeypatch.setattr(site_archive, "_table", lambda *args: None)
    with pytest.raises(InputError, match="nothing was put back"):
        restore(path)
    assert not Person.objects.exists()
    assert not files(media)


def test_the_newest_of_a_folder_is_taken(tmp_path):
    with pytest.raises(InputError, match="Expected an archive, or a folder that holds one"):
        newest(tmp_path)
    for day in ("2026-11-27", "2026-11-28"):
        (tmp_path / f"muntin-{day}-120000.zip").touch()
    assert newest(tmp_path).name == "muntin-2026-11-28-120000.zip"
    assert newest(tmp_path / "muntin-2026-11-27-120000.zip").name.startswith("muntin-2026-11-27")


@pytest.mark.parametrize("command", ["backup", "restore"])
def test_a_place_that_cannot_be_used_ends_in_words(command, tmp_path):
    place = tmp_path / "a file"
    place.write_text("not an archive")
    with pytest.raises(CommandError) as refused:
        call_command(command, str(place), verbosity=0)
    assert refused.value.returncode == 2
    assert Path(place).read_text() == "not an archive"


def test_the_check_of_an_archive_reads_each_member(cast, tmp_path):
    path, manifest = write_archive(tmp_path)
    assert verify(path) == manifest
