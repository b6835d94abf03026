"""Write one studio as an archive: rows of one moment, and every file by its SHA-256."""

from __future__ import annotations

import hashlib
import json
import uuid
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import IO, Any
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from django.core.files.storage import default_storage
from django.db import models, transaction
from django.db.models import Q, QuerySet
from django.utils import timezone

import criteria
from criteria.typed.csv_cells import csv_of
from reviews import clock
from reviews.deeds.audit_keeping import Deed, record
from reviews.deeds.site_archive import BLOCK, Hashed
from reviews.deeds.studio_archive_form import (
    ADDRESSES,
    CARRIED,
    FORMAT,
    KEYS_IN_JSON,
    MANIFEST,
    STAYING,
    Model,
    Record,
    archived_models,
    file_fields,
    label_of,
    other_of,
    told_fields,
    way_to_studio,
)
from reviews.deeds.studio_archive_tables import (
    LONG,
    LONG_HEADS,
    Long,
    cells_of,
    described,
    names_of,
    path_of,
)
from reviews.exchange.described import APOSTROPHES, Whole, descriptions
from reviews.models import Person, Studio
from reviews.outages import StoreAway


@dataclass(frozen=True, kw_only=True)
class Manifest:
    """What an archive holds.

    key         by which a second bringing of the same studio is known
    receipt     SHA-256 of this list as it is written
    tables      digest and number of rows, by the model
    files       number of bytes, by SHA-256
    missing     files that couldn't be read
    described   digests of what describes the tables, by path
    """

    format: int
    made: str
    version: str
    key: str
    studio: str
    with_addresses: bool
    tables: dict[str, tuple[str, int]]
    files: dict[str, int]
    missing: list[str]
    described: dict[str, str]


Lines = dict[Model, list[models.Model]]


def write_studio(studio: Studio, out: IO[bytes], by: Person, *, with_addresses: bool) -> str:
    """Write a studio's archive; return its receipt."""
    with transaction.atomic():
        held = Studio.objects.select_for_update().get(pk=studio.pk)
        if held.archive_key is None:
            held.archive_key = uuid.uuid4()
            held.save(update_fields=["archive_key"])
        record(Deed.STUDIO_OUT, held, by=by, about=_about(with_addresses))
        lines = _lines(held)
        files, missing = _files(lines)
        tables = {model: _table(model, lines, files, with_addresses) for model in lines}
    with ZipFile(out, "w") as archive:
        long = Long()
        told = {
            label_of(model): _put_table(archive, model, raw, long) for model, raw in tables.items()
        }
        told[LONG] = _put_lines(archive, LONG, [[*LONG_HEADS], *long.lines])
        once = {digest: name for name, digest in files.items()}  # the same bytes lie there once
        sizes = {digest: _put_file(archive, digest, name) for digest, name in once.items()}
        sizes |= {
            digest: _put(archive, f"files/{digest}", text) for digest, text in long.texts.items()
        }
        manifest = Manifest(
            format=FORMAT,
            made=clock.now().isoformat(),
            version=criteria.__version__,
            key=str(held.archive_key),
            studio=str(held),
            with_addresses=with_addresses,
            tables=told,
            files=sizes,
            missing=missing,
            described=_put_descriptions(archive, held, tables),
        )
        raw = json.dumps(asdict(manifest), sort_keys=True, indent=1).encode()
        archive.writestr(_info(MANIFEST), raw)
    return hashlib.sha256(raw).hexdigest()


def _about(with_addresses: bool) -> str:
    return f"people by name{' and address' if with_addresses else ''}"


def _lines(studio: Studio) -> Lines:
    """The rows of each model in their order, those that others name with them."""
    found: Lines = {}
    named: dict[Model, set[int]] = {model: set() for model in CARRIED}
    staying: dict[Model, set[int]] = {}
    for model in archived_models():
        if model in CARRIED:
            continue
        pairs = [field.name for field in model._meta.many_to_many]
        rows = model._base_manager.filter(**{way_to_studio(model): studio.pk}).order_by("pk")
        staying[model] = _staying(model, rows, staying)
        found[model] = [r for r in rows.prefetch_related(*pairs) if r.pk not in staying[model]]
        for row in found[model]:
            for field in told_fields(model):
                if field.is_relation and other_of(field) in named:
                    named[other_of(field)] |= set(_keys(row, field))
    carried = {
        model: list(model._base_manager.filter(pk__in=pks).order_by("pk"))
        for model, pks in named.items()
    }
    return {model: found.get(model, carried.get(model, [])) for model in archived_models()}


def _staying(
    model: Model, rows: QuerySet[models.Model], staying: dict[Model, set[int]]
) -> set[int]:
    """Which rows don't go along: their own model's, and those that must name one of another's."""
    stays = STAYING.get(model, Q(pk__in=()))
    for field in told_fields(model):
        of = other_of(field) if field.is_relation and not field.many_to_many else None
        if of and not field.null and staying.get(of):
            stays |= Q(**{f"{field.name}__in": staying[of]})
    return set(rows.filter(stays).values_list("pk", flat=True))


def _keys(row: models.Model, field: models.Field[Any, Any]) -> list[int]:
    if field.many_to_many:
        return sorted(each.pk for each in getattr(row, field.name).all())
    key = getattr(row, field.attname)
    return [] if key is None else [key]


def _files(lines: Lines) -> tuple[dict[str, str], list[str]]:
    """Each stored file's SHA-256 by its name, and those that can't be read."""
    found: dict[str, str] = {}
    missing: list[str] = []
    for model, rows in lines.items():
        for field in file_fields(model):
            for row in rows:
                name = str(getattr(row, field.name))
                if name and name not in found:
                    digest = _digest(name)
                    found |= {name: digest} if digest else {}
                    missing += [] if digest else [name]
    return found, sorted(missing)


def _digest(name: str) -> str:
    out = Hashed()
    try:
        with default_storage.open(name) as stored:
            for block in stored.chunks(BLOCK):
                out.write(block)
    except StoreAway:  # then every file would be missing
        raise
    except OSError:
        return ""
    return str(out.digest.hexdigest())


def _table(model: Model, lines: Lines, files: dict[str, str], with_addresses: bool) -> list[Record]:
    others = [other_of(field) for field in told_fields(model) if field.is_relation]
    others += [KEYS_IN_JSON[key] for key in KEYS_IN_JSON if key.startswith(f"{model.__name__}.")]
    places = {other: _places(lines[other]) for other in others}
    return [_record(row, places, files, with_addresses) for row in lines[model]]


def _places(rows: Iterable[models.Model]) -> dict[int, int]:
    return {row.pk: n for n, row in enumerate(rows, start=1)}


def _record(
    row: models.Model,
    places: dict[Model, dict[int, int]],
    files: dict[str, str],
    with_addresses: bool,
) -> Record:
    model = type(row)
    told: Record = {}
    for field in told_fields(model):
        name = f"{model.__name__}.{field.name}"
        if field.is_relation:
            of = places[other_of(field)]
            lines = [of[key] for key in _keys(row, field) if key in of]
            told[field.name] = lines if field.many_to_many else next(iter(lines), None)
        elif isinstance(field, models.FileField):
            told[field.name] = files.get(str(getattr(row, field.name)), "")
        elif name in ADDRESSES:
            told[field.name] = _address(row, field.name) if with_addresses else ""
        else:
            told[field.name] = field.value_from_object(row)
        if name in KEYS_IN_JSON:
            of = places[KEYS_IN_JSON[name]]
            told[field.name] = {
                str(of[int(key)]): value
                for key, value in told[field.name].items()
                if key.isdecimal() and int(key) in of
            }
    return told


def _address(row: models.Model, name: str) -> str:
    """What somebody is found by; of whom is anonymous, nothing."""
    return "" if getattr(row, "erased_at", None) else str(getattr(row, name))


def _info(path: str) -> ZipInfo:
    info = ZipInfo(path, timezone.localtime().timetuple()[:6])
    info.compress_type = ZIP_STORED if path.startswith("files/") else ZIP_DEFLATED
    info.external_attr = 0o600 << 16
    return info


def _put_table(
    archive: ZipFile, model: Model, records: list[Record], long: Long
) -> tuple[str, int]:
    label, heads = label_of(model), names_of(model)
    cells = (cells_of(model, n, each) for n, each in enumerate(records, start=1))
    return _put_lines(archive, label, [heads, *(long.without(label, heads, row) for row in cells)])


def _put_lines(archive: ZipFile, label: str, lines: list[list[str]]) -> tuple[str, int]:
    """Write a table, heads first; return its digest and how many rows it has."""
    raw = csv_of(lines).encode()
    _put(archive, path_of(label), raw)
    return hashlib.sha256(raw).hexdigest(), len(lines) - 1


def _put_descriptions(
    archive: ZipFile, studio: Studio, tables: dict[Model, list[Record]]
) -> dict[str, str]:
    told, title = described(tables), str(studio)
    words = f"One studio, for another installation. {APOSTROPHES}"
    whole = Whole(name=studio.title, title=title, words=words)
    texts = {each.path: each.text for each in descriptions(told, whole)}
    for path, text in texts.items():
        _put(archive, path, text.encode())
    return {path: hashlib.sha256(text.encode()).hexdigest() for path, text in texts.items()}


def _put(archive: ZipFile, path: str, raw: bytes) -> int:
    archive.writestr(_info(path), raw)
    return len(raw)


def _put_file(archive: ZipFile, digest: str, name: str) -> int:
    with (
        default_storage.open(name) as stored,
        archive.open(_info(f"files/{digest}"), "w", force_zip64=True) as member,
    ):
        out = Hashed(member)
        for block in stored.chunks(BLOCK):
            out.write(block)
    return out.bytes
