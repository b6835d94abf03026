"""The whole site in one archive: every row and every file of one moment, verified, put back.

The archive is a zip of a list (manifest.json), a table a model (JSON lines, as Django writes them)
and the files as they are kept. It fits either database, so a school may move from one to the other.
"""

from __future__ import annotations

import hashlib
import json
import os
import zlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass
from datetime import datetime, time
from pathlib import Path
from tempfile import TemporaryFile
from typing import IO, Any
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from django.apps import apps
from django.core import serializers
from django.core.files import File
from django.core.files.storage import default_storage
from django.core.management.color import no_style
from django.core.serializers.json import DjangoJSONEncoder
from django.db import connection, models, transaction
from django.db.migrations.recorder import MigrationRecorder
from django.utils import timezone

import criteria
from criteria.errors import InputError
from reviews.models import Archived
from reviews.outages import StoreAway

LEFT_OUT = {"contenttypes", "sessions", "axes", "django_tasks_database"}
"""Apps whose rows are made anew: who is signed in, what the tables are called, and the queue, for
what is still to be done stands in our own tables, where each round looks."""
LEFT_OUT_MODELS = {"auth.permission", "reviews.tally", "reviews.archived"}
"""The last two tell of this place, not of another that it is put back into."""

SNAPSHOT = {
    "postgresql": "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY",
    "sqlite": "BEGIN DEFERRED",
}
"""How each database shows one moment of itself, while people go on writing."""

BLOCK = 1 << 20
_MANIFEST = "manifest.json"


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One member of an archive: its rows (of a table) or bytes (of a file), and its digest."""

    size: int
    sha256: str


@dataclass(frozen=True, kw_only=True)
class Manifest:
    """What an archive holds.

    made        when, as ISO 8601
    version     of Muntin
    migrations  the last of each app, without which its rows don't fit
    tables      by the model's label
    files       by the name under which rows know them
    missing     files that rows know and that could not be read
    """

    made: str
    version: str
    migrations: dict[str, str]
    tables: dict[str, Entry]
    files: dict[str, Entry]
    missing: list[str]


class ToTheMicrosecond(DjangoJSONEncoder):
    """Django's own writer cuts moments to a thousandth of a second."""

    def default(self, o: Any) -> Any:
        """Write a moment whole."""
        return o.isoformat() if isinstance(o, datetime | time) else super().default(o)


class Hashed:
    """A stream that counts and digests what is written through it."""

    def __init__(self, stream: IO[bytes] | None = None) -> None:
        self.stream, self.digest, self.bytes, self.lines = stream, hashlib.sha256(), 0, 0

    def write(self, data: bytes | str) -> None:
        """Take bytes, or text as UTF-8."""
        raw = data.encode() if isinstance(data, str) else data
        self.digest.update(raw)
        self.bytes += len(raw)
        self.lines += raw.count(b"\n")
        if self.stream:
            self.stream.write(raw)


def kept_models() -> list[type[models.Model]]:
    """Every model whose rows an archive holds."""
    return [
        model
        for model in apps.get_models()
        if model._meta.app_label not in LEFT_OUT and model._meta.label_lower not in LEFT_OUT_MODELS
    ]


def kept_files() -> Iterator[str]:
    """Every name of a file that a row knows, each once."""
    for model in kept_models():
        for field in model._meta.get_fields():
            if isinstance(field, models.FileField):
                names = model._base_manager.exclude(**{field.name: ""})
                yield from sorted(set(names.values_list(field.name, flat=True)))


@contextmanager
def one_moment() -> Iterator[None]:
    """Show the database as it stands now, whatever is written meanwhile."""
    with connection.cursor() as cursor:
        cursor.execute(SNAPSHOT[connection.vendor])
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute("COMMIT")


def write_archive(folder: Path) -> tuple[Path, Manifest]:
    """Write a verified archive of this moment into a folder, which is made.

    A half-written one never bears the name of a whole one. Only its owner can read it: it holds
    what people wrote of each other. Must be called outside a transaction.
    """
    folder.mkdir(parents=True, exist_ok=True)
    now = timezone.now()
    path = folder / f"muntin-{now:%Y-%m-%d-%H%M%S}.zip"
    partial = path.with_suffix(".partial")
    handle = os.open(partial, os.O_RDWR | os.O_CREAT | os.O_TRUNC, 0o600)
    try:
        with os.fdopen(handle, "w+b") as out:
            with ZipFile(out, "w") as archive, one_moment():
                tables = {
                    model._meta.label_lower: _write_table(archive, model) for model in kept_models()
                }
                names = list(dict.fromkeys(kept_files()))
                migrations = _migrations()
                found = {name: _write_file(archive, name) for name in names}
                manifest = Manifest(
                    made=now.isoformat(),
                    version=criteria.__version__,
                    migrations=migrations,
                    tables=tables,
                    files={name: entry for name, entry in found.items() if entry},
                    missing=[name for name, entry in found.items() if not entry],
                )
                listed = json.dumps(asdict(manifest), indent=1, sort_keys=True)
                archive.writestr(_MANIFEST, listed)
            out.flush()
            os.fsync(out.fileno())
        verify(partial)
        partial.rename(path)
        Archived.objects.create(
            at=now,
            bytes=path.stat().st_size,
            rows=sum(entry.size for entry in tables.values()),
            files=len(manifest.files),
            missing=len(manifest.missing),
        )
    finally:
        partial.unlink(missing_ok=True)
    return path, manifest


def newest(place: Path) -> Path:
    """Return an archive itself, or the newest of a folder. Raises InputError without one."""
    found = [place] if place.is_file() else sorted(place.glob("muntin-*.zip"))
    if not found:
        raise InputError(f"Read “{place}”. Expected an archive, or a folder that holds one.")
    return found[-1]


def verify(path: Path) -> Manifest:
    """Read an archive whole. Raises InputError naming the member that isn't as it was written."""
    try:
        with ZipFile(path) as archive:
            manifest = _read_manifest(archive)
            for name, entry in _members(manifest):
                with archive.open(name) as member:
                    if _digest(member).hexdigest() != entry.sha256:
                        raise InputError(f"{path.name} is damaged: {name} isn't as it was written.")
    except InputError:
        raise
    except KeyError as missing:
        raise InputError(f"{path.name} is damaged: {missing.args[0]}") from None
    except (BadZipFile, OSError, ValueError, TypeError, zlib.error) as fault:
        raise InputError(f"{path.name} is no whole archive: {fault}") from None
    return manifest


def restore(path: Path) -> Manifest:
    """Put an archive back into an empty database and store; all of it, or nothing.

    Raises InputError where the archive is damaged, was made by other migrations, or where there is
    something already: what is kept is never overwritten.
    """
    manifest = verify(path)
    _refuse_other_migrations(manifest)
    _refuse_what_is_there(manifest)
    stored: list[str] = []
    try:
        with ZipFile(path) as archive:
            for name in manifest.files:
                with archive.open(f"files/{name}") as member:
                    stored.append(default_storage.save(name, File(member, name=name)))
            with transaction.atomic():
                for label in manifest.tables:
                    with archive.open(f"tables/{label}.jsonl") as member:
                        _read_table(member)
                connection.check_constraints()
                _count_on_from_here()
                _refuse_rows_that_differ(archive, manifest)
    except BaseException:
        for name in stored:
            with suppress(OSError):
                default_storage.delete(name)
        raise
    return manifest


def _write_table(archive: ZipFile, model: type[models.Model]) -> Entry:
    info = ZipInfo(f"tables/{model._meta.label_lower}.jsonl")
    info.compress_type = ZIP_DEFLATED
    with archive.open(info, "w", force_zip64=True) as member:
        return _table(model, member)


def _table(model: type[models.Model], stream: IO[bytes] | None = None) -> Entry:
    out = Hashed(stream)
    rows = model._base_manager.order_by("pk").iterator(chunk_size=500)
    serializers.serialize("jsonl", rows, stream=out, cls=ToTheMicrosecond)
    return Entry(size=out.lines, sha256=out.digest.hexdigest())


def _write_file(archive: ZipFile, name: str) -> Entry | None:
    try:
        kept = default_storage.open(name)
    except StoreAway:  # then every file would be missing
        raise
    except OSError:
        return None
    info = ZipInfo(f"files/{name}")
    info.compress_type = ZIP_STORED
    with kept, archive.open(info, "w", force_zip64=True) as member:
        out = Hashed(member)
        for block in kept.chunks(BLOCK):
            out.write(block)
    return Entry(size=out.bytes, sha256=out.digest.hexdigest())


def _digest(stream: IO[bytes]) -> Any:
    out = Hashed()
    while block := stream.read(BLOCK):
        out.write(block)
    return out.digest


def _read_manifest(archive: ZipFile) -> Manifest:
    read: dict[str, Any] = json.loads(archive.read(_MANIFEST))
    for kind in ("tables", "files"):
        read[kind] = {name: Entry(**entry) for name, entry in read[kind].items()}
    return Manifest(**read)


def _members(manifest: Manifest) -> Iterator[tuple[str, Entry]]:
    for label, entry in manifest.tables.items():
        yield f"tables/{label}.jsonl", entry
    for name, entry in manifest.files.items():
        yield f"files/{name}", entry


def _migrations() -> dict[str, str]:
    applied = sorted(MigrationRecorder(connection).applied_migrations())
    return {app: name for app, name in applied if app not in LEFT_OUT}


def _refuse_other_migrations(manifest: Manifest) -> None:
    here = _migrations()
    apart = sorted(
        f"{app} {manifest.migrations.get(app, 'none')} (here {here.get(app, 'none')})"
        for app in {*here, *manifest.migrations}
        if here.get(app) != manifest.migrations.get(app)
    )
    if apart:
        raise InputError(
            f"The archive was made by Muntin {manifest.version} with other tables: "
            f"{', '.join(apart)}. Restore it with that version, then upgrade."
        )


def _refuse_what_is_there(manifest: Manifest) -> None:
    unknown = sorted({*manifest.tables} ^ {model._meta.label_lower for model in kept_models()})
    if unknown:
        raise InputError(f"The archive and this site don't hold the same tables: {unknown}.")
    if full := [m._meta.label_lower for m in kept_models() if m._base_manager.exists()]:
        raise InputError(
            f"This database holds rows already ({', '.join(full)}); expected an empty one. "
            "Nothing was changed."
        )
    if there := [name for name in manifest.files if default_storage.exists(name)]:
        raise InputError(
            f"The store holds {len(there)} of the files already ({there[0]}); expected none. "
            "Nothing was changed."
        )


def _read_table(lines: Iterable[bytes]) -> None:
    for row in serializers.deserialize("jsonl", (line.decode() for line in lines)):
        row.save(force_insert=True)


def _count_on_from_here() -> None:
    """Set the counters of new rows behind the rows put back."""
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), kept_models()):
            cursor.execute(statement)


def _refuse_rows_that_differ(archive: ZipFile, manifest: Manifest) -> None:
    for model in kept_models():
        label = model._meta.label_lower
        with TemporaryFile() as now, archive.open(f"tables/{label}.jsonl") as then:
            if _table(model, now) == manifest.tables[label]:
                continue
            now.seek(0)
            if _alike(now) != _alike(then):
                raise InputError(f"{label} reads otherwise than the archive; nothing was put back.")


def _alike(lines: Iterable[bytes]) -> bytes:
    """The digest of a table whatever the order of keys: PostgreSQL keeps one of its own."""
    out = hashlib.sha256()
    for line in lines:
        out.update(json.dumps(json.loads(line), sort_keys=True).encode())
    return out.digest()
