"""An archive as large as wanted: the demo's studios again and again, copied in its database.

Every row of the demo is put in again under new keys, by the database itself: what refers to it
moves along, names and addresses get a number of their own, and pictures are shared. Made for
SQLite, which the demo uses.
"""

from __future__ import annotations

import re
import uuid
from collections.abc import Iterator
from datetime import timedelta
from itertools import cycle, islice, product

from django.apps import apps
from django.db import connection, models, transaction
from django.utils import timezone

from criteria.schedules import BY_SLUG
from reviews.models import (
    Brief,
    Comment,
    Crit,
    Criterion,
    JurySheet,
    LevelGiven,
    Membership,
    Package,
    Person,
    Revision,
    Row,
    Scheme,
    Seat,
    Slot,
    Studio,
)

STRIDE = 1_000_000
"""What lies between the keys of one copy and the next: more than any table of the demo holds."""

NUMBERED = ("name", "called", "code", "key")
"""Text columns that tell people, seats and letters apart, besides their addresses."""

SCHEMES, JURORS, CRITERIA, COMMENTS = 60, 12, 10, 3
ROWS = 400


def copied_models() -> list[type[models.Model]]:
    """People and every table of ours that refers to another: no picture, nothing of the site's."""
    found = apps.get_app_config("reviews").get_models(include_auto_created=True)
    return [m for m in found if m is Person or any(f.is_relation for f in m._meta.concrete_fields)]


def _moved(text: str, by: int) -> str:
    """What a change kept, with the keys of its rows moved."""
    return re.sub(r'"id": (\d+)', lambda key: f'"id": {int(key[1]) + by}', text)


def _copy_of(field: models.Field, number: int, copied: list[type[models.Model]]) -> str:
    """What stands in a column of a copy, in SQL."""
    column, by = connection.ops.quote_name(field.column), number * STRIDE
    if field.primary_key or field.related_model in copied:
        return f"{column} + {by}"
    if field.unique and isinstance(field, models.UUIDField):
        return f"printf('%08x', {number}) || substr({column}, 9)"
    is_told_apart = field.name in NUMBERED and field.model in (Person, Seat, Membership)
    if field.unique or is_told_apart:
        return f"CASE {column} WHEN '' THEN '' ELSE {column} || ' {number}' END"
    if isinstance(field, models.EmailField):
        return f"CASE {column} WHEN '' THEN '' ELSE '{number}.' || {column} END"
    if field.model._meta.model_name == "change" and field.name in ("before", "after"):
        return f"moved({column}, {by})"
    return column


def grow(of: dict[str, int], numbers: range) -> None:
    """Put so many more copies of the demo into its database.

    of   the last key of each table of the demo, before anything was added
    """
    copied = copied_models()
    connection.ensure_connection()
    connection.connection.create_function("moved", 2, _moved, deterministic=True)
    for number in numbers:
        with transaction.atomic(), connection.cursor() as cursor:
            for model in copied:
                table = connection.ops.quote_name(model._meta.db_table)
                fields = model._meta.concrete_fields
                columns = ", ".join(connection.ops.quote_name(f.column) for f in fields)
                values = ", ".join(_copy_of(field, number, copied) for field in fields)
                cursor.execute(
                    f"INSERT INTO {table} ({columns}) SELECT {values} FROM {table} WHERE id <= %s",
                    [of[model._meta.db_table]],
                )
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")


def last_keys() -> dict[str, int]:
    """The last key of each table that is copied."""
    return {
        model._meta.db_table: model._base_manager.aggregate(last=models.Max("pk"))["last"] or 0
        for model in copied_models()
    }


def leader_of(studios: int) -> Person:
    """Somebody who leads so many of the studios, the demo's own first."""
    person = Person.objects.create_user("leads.many@example.org", "Lea of Many")
    Membership.objects.bulk_create(
        Membership(studio=studio, person=person, role=Membership.Role.LEADER)
        for studio in Studio.objects.order_by("pk")[:studios]
    )
    return person


def large_crit() -> Crit:
    """A crit of 60 schemes before 12 jurors by 10 criteria, with its comments, all locked.

    Levels follow no jury's habits; one in forty is given on a later revision. Its first scheme
    has a schedule of 400 rows.
    """
    now = timezone.now()
    leader = Person.objects.create_user("leads.large@example.org", "Leo of the Large")
    studio = Studio.objects.create(title="Sixty Schemes", cohort="cohort L", opened_by=leader)
    Brief.objects.create(studio=studio, issued_at=now, issued_by=leader)
    Membership.objects.create(studio=studio, person=leader, role=Membership.Role.LEADER)
    crit = Crit.objects.create(
        studio=studio, day=timezone.localdate(), pens_down=now - timedelta(days=1)
    )
    criteria = Criterion.objects.bulk_create(
        Criterion(crit=crit, position=n, code=f"F{n}", name=f"Criterion {n}", weight=10)
        for n in range(CRITERIA)
    )
    seats = Seat.objects.bulk_create(Seat(crit=crit, name=f"Juror {n:02}") for n in range(JURORS))
    schemes = Scheme.objects.bulk_create(
        Scheme(studio=studio, number=f"L{n:02}", name=f"Scheme {n}") for n in range(SCHEMES)
    )
    Package.objects.bulk_create(Package(scheme=scheme) for scheme in schemes)
    Slot.objects.bulk_create(
        Slot(crit=crit, scheme=scheme, position=n) for n, scheme in enumerate(schemes)
    )
    revisions = Revision.objects.bulk_create(
        Revision(scheme=scheme, letter=letter, issued_at=now, issued_by=leader, crit=crit)
        for scheme in schemes
        for letter in "AB"
    )
    shown = dict(zip(schemes, zip(revisions[::2], revisions[1::2], strict=True), strict=True))
    sheets = JurySheet.objects.bulk_create(
        JurySheet(seat=seat, scheme=scheme, revision=shown[scheme][0], impression=3, locked_at=now)
        for scheme, seat in product(schemes, seats)
    )
    LevelGiven.objects.bulk_create(_levels(sheets, criteria, shown))
    Comment.objects.bulk_create(
        Comment(
            jury_sheet=sheet,
            key=uuid.uuid4(),
            kind=kind,
            words=f"What carries the roof at its {kind.lower()} end?",
            revision=sheet.revision,
            criterion=criteria[n % CRITERIA],
        )
        for n, sheet in enumerate(sheets)
        for kind in islice(cycle(Comment.Kind.values), n % 7, n % 7 + COMMENTS)
    )
    _many_rows(schemes[0], leader)
    return crit


def _levels(
    sheets: list[JurySheet],
    criteria: list[Criterion],
    shown: dict[Scheme, tuple[Revision, Revision]],
) -> Iterator[LevelGiven]:
    for n, (sheet, criterion) in enumerate(product(sheets, criteria)):
        first, later = shown[sheet.scheme]
        yield LevelGiven(
            jury_sheet=sheet,
            criterion=criterion,
            level=1 + (n * n // 7 + n) % 5,
            revision=later if n % 40 == 0 else first,
        )


def _many_rows(scheme: Scheme, leader: Person) -> None:
    """A schedule of 400 rows: the pieces of the demo's packages again and again."""
    pieces = Row.objects.filter(schedule="pieces").exclude(package=scheme.package)[:100]
    mark = BY_SLUG["pieces"].mark_head
    Row.objects.bulk_create(
        Row(
            package=scheme.package,
            schedule="pieces",
            position=n,
            cells={**piece.cells, mark: f"P{n + 1}"},
            changed_by=leader,
        )
        for n, piece in enumerate(islice(cycle(pieces), ROWS))
    )
