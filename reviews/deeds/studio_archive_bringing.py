"""Bring a studio in from an archive: all of it in one transaction, or nothing.

Rows are made anew and point at rows of the same archive alone, so that nothing of another studio
can be touched. A picture is one that is here already only where the archive holds its very bytes.
People are found by their address; who has an account is invited, and who has none gets one without
a password or a right. Without addresses they stand as names alone.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from tempfile import TemporaryFile
from typing import Any

from django.contrib.auth.hashers import make_password
from django.core.exceptions import ValidationError
from django.core.files import File
from django.core.files.storage import default_storage
from django.db import DataError, IntegrityError, connection, models, transaction
from PIL import Image, UnidentifiedImageError

from criteria.errors import InputError
from reviews import clock
from reviews.deeds.audit_keeping import Deed, record
from reviews.deeds.studio_archive_form import (
    KEYS_IN_JSON,
    Model,
    archived_models,
    file_fields,
    label_of,
    other_of,
    read_value,
    told_fields,
)
from reviews.deeds.studio_archive_reading import StudioArchive
from reviews.models import Membership, Original, Person, SheetFile, Studio

IMAGE_FORMATS = ("JPEG", "WEBP", "PNG")
AT_A_TIME = 500


@dataclass
class Told:
    """What comes in, or came: how many rows of each model, who is known here, what clashes."""

    studio: str
    receipt: str
    made: str
    rows: dict[str, int] = field(default_factory=dict)
    people: dict[str, int] = field(default_factory=dict)
    missing: list[str] = field(default_factory=list)
    here_already: Studio | None = None
    brought: Studio | None = None


class HereAlready(InputError):
    """The same studio stands here, made or brought in before: only a copy may be brought."""


class _Trial(Exception):
    """Ends a trial, of which nothing is kept."""


def look_at(archive: StudioArchive, by: Person) -> Told:
    """Say what bringing it in would do, having done all of it but keep it. Raises InputError."""
    told = _told(archive)
    with suppress(_Trial), transaction.atomic():
        _Bringing(archive, by, told, is_copy=told.here_already is not None, is_trial=True).run()
        raise _Trial
    told.brought = None
    return told


def bring_studio(archive: StudioArchive, by: Person, *, is_copy: bool = False) -> Told:
    """Bring it in. Raises InputError; HereAlready where the same is here and no copy is asked."""
    told = _told(archive)
    if told.here_already and not is_copy:
        raise HereAlready(f"{told.here_already} is this very studio. Bring a copy in, or nothing.")
    bringing = _Bringing(archive, by, told, is_copy=told.here_already is not None)
    try:
        with transaction.atomic():
            bringing.run()
    except BaseException:
        for name in bringing.stored:
            with suppress(OSError):
                default_storage.delete(name)
        raise
    return told


def _told(archive: StudioArchive) -> Told:
    manifest = archive.manifest
    told = Told(manifest.studio, archive.receipt, str(manifest.made))
    told.missing = [str(name) for name in manifest.missing]
    with suppress(ValueError):
        told.here_already = Studio.objects.filter(archive_key=uuid.UUID(manifest.key)).first()
    return told


@contextmanager
def _at(place: str) -> Iterator[None]:
    """Say where what is refused stands."""
    try:
        yield
    except ValidationError as fault:
        raise InputError(f"{place}: {' '.join(fault.messages)}") from None
    except (TypeError, ValueError, OverflowError, AttributeError) as fault:
        if isinstance(fault, InputError):
            raise
        raise InputError(f"{place}: {fault}") from None
    except (IntegrityError, DataError) as fault:
        raise InputError(f"{place}: it doesn’t fit beside the rest ({fault}).") from None


class _Bringing:
    """One bringing: rows made so far, by model and line."""

    def __init__(
        self,
        archive: StudioArchive,
        by: Person,
        told: Told,
        *,
        is_copy: bool,
        is_trial: bool = False,
    ) -> None:
        self.archive, self.by, self.told = archive, by, told
        self.is_copy, self.is_trial = is_copy, is_trial
        self.made: dict[Model, list[int]] = {}
        self.stored: list[str] = []
        self.in_use: set[int] = set()

    def run(self) -> None:
        """Make every row, then hold the whole to the database's own rules."""
        for model in archived_models():
            self.made[model] = []
            with _at(label_of(model)):
                self._table(model)
            self.told.rows[str(model._meta.verbose_name_plural)] = len(self.made[model])
        if len(self.made[Studio]) != 1:
            raise InputError(f"Read {len(self.made[Studio])} studios. Expected one.")
        studio = Studio.objects.get(pk=self.made[Studio][0])
        with _at("the whole"):
            connection.check_constraints()
        manifest = self.archive.manifest
        studio.archive_key = uuid.uuid4() if self.is_copy else uuid.UUID(manifest.key)
        studio.brought_at, studio.brought_receipt = clock.now(), self.archive.receipt
        studio.save(update_fields=["archive_key", "brought_at", "brought_receipt"])
        record(Deed.STUDIO_IN, studio, by=self.by, about=f"receipt {self.archive.receipt[:16]}")
        self.told.brought = studio

    def _table(self, model: Model) -> None:
        batch: list[models.Model] = []
        pairs: list[tuple[int, models.Field[Any, Any], list[int]]] = []
        own: list[tuple[int, str, int]] = []
        for number, raw in self.archive.lines(model):
            with _at(f"{label_of(model)}, line {number}"):
                row = self._row(model, number, raw, pairs, own)
            if row.pk is None:
                batch.append(row)
            else:
                self._keep(model, batch)
                self.made[model].append(row.pk)
            if len(batch) >= AT_A_TIME:
                self._keep(model, batch)
        self._keep(model, batch)
        keys = self.made[model]
        for number, name, other in own:
            if not 1 <= other <= len(keys):
                raise InputError(f"line {number}, {name}: Read {other}. Expected a line of it.")
            model._base_manager.filter(pk=keys[number - 1]).update(**{name: keys[other - 1]})
        for number, many, lines in pairs:
            row = model._base_manager.get(pk=keys[number - 1])
            with _at(f"{label_of(model)}, line {number}, {many.name}"):
                getattr(row, many.name).set([self._key(many, line) for line in lines])

    def _keep(self, model: Model, batch: list[models.Model]) -> None:
        if batch:
            # as they are: whatever the time of their making would set is told by the archive
            set_by_now = [f for f in model._meta.concrete_fields if getattr(f, "auto_now_add", 0)]
            as_told = [{f.attname: getattr(row, f.attname) for f in set_by_now} for row in batch]
            kept = model._base_manager.bulk_create(batch)
            for row, values in zip(kept, as_told, strict=True):
                if values:
                    model._base_manager.filter(pk=row.pk).update(**values)
            self.made[model] += [row.pk for row in kept]
            batch.clear()

    def _row(
        self,
        model: Model,
        number: int,
        raw: dict[str, Any],
        pairs: list[tuple[int, models.Field[Any, Any], list[int]]],
        own: list[tuple[int, str, int]],
    ) -> models.Model:
        values: dict[str, Any] = {}
        for each in told_fields(model):
            if each.name not in raw:
                continue
            told = raw[each.name]
            with _at(f"{label_of(model)}, line {number}, {each.name}"):
                if each.many_to_many:
                    pairs.append((number, each, [_line(line) for line in told]))
                elif each.is_relation and other_of(each) is model:
                    if told is not None:
                        own.append((number, each.attname, _line(told)))
                elif each.is_relation:
                    if told is None and not each.null:
                        raise ValidationError("Read nothing. Expected a line of another table.")
                    values[each.attname] = None if told is None else self._key(each, told)
                elif isinstance(each, models.FileField):
                    values[each.name] = str(told)
                else:
                    values[each.name] = self._value(model, each, told)
        return self._made_of(model, values)

    def _value(self, model: Model, each: models.Field[Any, Any], told: Any) -> Any:
        if isinstance(each, models.UUIDField) and each.unique and self.is_copy:
            return uuid.uuid4()
        other = KEYS_IN_JSON.get(f"{model.__name__}.{each.name}")
        if other is not None:
            keys = self.made[other]
            return {str(keys[_place(line, keys)]): value for line, value in dict(told).items()}
        return read_value(each, told)

    def _key(self, each: models.Field[Any, Any], line: Any) -> int:
        keys = self.made[other_of(each)]
        return keys[_place(line, keys)]

    def _made_of(self, model: Model, values: dict[str, Any]) -> models.Model:
        """The row: one that is here already has its number, a new one none."""
        if model is Person:
            return self._person(values)
        if model in (SheetFile, Original):
            return self._picture(model, values)
        row = model(**values)
        for each in file_fields(model):
            if digest := values.get(each.name):
                name = f"{each.upload_to}/{digest[:32]}{'.pdf' if each.name == 'pdf' else '.zip'}"
                setattr(row, each.name, self._store(digest, name))
        if isinstance(row, Membership) and row.person_id in self.in_use and not row.is_invited:
            row.is_invited, row.called = True, row.person.name[:120]
        return row

    def _person(self, values: dict[str, Any]) -> Person:
        email = str(values.get("email") or "").strip().lower()
        name, erased_at = str(values.get("name") or "")[:120], values.get("erased_at")
        known = Person.objects.filter(email__iexact=email).first() if email else None
        if known is not None:
            self._count("known here, and invited")
            if not known.is_unused:
                self.in_use.add(known.pk)
            return known
        self._count("new, without a password" if email else "by name alone")
        ending = "erased" if erased_at else "brought"
        address = email or f"{ending}-{uuid.uuid4().hex}@{ending}.invalid"
        person = Person(name=name, email=address, password=make_password(None))
        person.erased_at, person.is_active = erased_at, erased_at is None
        return person

    def _count(self, what: str) -> None:
        self.told.people[what] = self.told.people.get(what, 0) + 1

    def _picture(self, model: Model, values: dict[str, Any]) -> models.Model:
        """A picture or file as sent: the one that is here where the bytes are the same."""
        main = "image" if model is SheetFile else "file"
        sha256, digest = str(values["sha256"]), str(values.get(main) or "")
        if digest and digest != sha256:
            raise ValidationError(f"Read a file {digest[:12]}…. Expected {sha256[:12]}….")
        known = model._base_manager.filter(sha256=sha256).first() if digest else None
        if known is not None:
            for _ in self.archive.file(digest):  # its very bytes are there, or it is refused
                pass
            return known
        row = model(**values)
        for each in file_fields(model):
            of = str(values.get(each.name) or "")
            name = f"{each.upload_to}/{sha256}{'.jpg' if model is SheetFile else ''}"
            setattr(row, each.name, self._store(of, name, is_image=model is SheetFile) or name)
        return row

    def _store(self, digest: str, name: str, *, is_image: bool = False) -> str:
        """Put a file of the archive into the store under a name of ours; in a trial, read it."""
        if not digest:
            return ""
        with TemporaryFile() as held:
            for block in self.archive.file(digest):
                held.write(block)
            if is_image:
                _require_image(held)
            if self.is_trial:
                return name
            held.seek(0)
            stored = default_storage.save(name, File(held))
        self.stored.append(stored)
        return stored


def _line(told: Any) -> int:
    if not isinstance(told, int) or isinstance(told, bool):
        raise ValidationError(f"Read {str(told)[:40]}. Expected the line of a row.")
    return told


def _place(told: Any, keys: list[int]) -> int:
    line = int(told) if isinstance(told, str) and told.isdecimal() else _line(told)
    if not 1 <= line <= len(keys):
        raise ValidationError(f"Read line {line}. Expected one from 1 to {len(keys)}.")
    return line - 1


def _require_image(held: Any) -> None:
    held.seek(0)
    try:
        with Image.open(held, formats=IMAGE_FORMATS):
            pass
    except (UnidentifiedImageError, OSError, ValueError, Image.DecompressionBombError):
        raise ValidationError("Read a file that is no picture. Expected a JPEG.") from None
