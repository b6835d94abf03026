"""How the site stands, for whoever runs it: of nobody, and what isn't known is said to be so."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from pathlib import Path

from django.conf import settings
from django.core.checks import run_checks
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.db.models import Max, Min, Sum
from django.template.defaultfilters import filesizeformat
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

import criteria
from reviews import jobs, watch
from reviews.models import Archived, Mail, Tally
from reviews.moments import moment_words
from reviews.reading.site_working import store_keeps

LEAST_FREE = 0.1
LEAST_FREE_BYTES = 2 * 2**30
"""A disk wants room: a tenth of it, or so much where that is less."""

BEHIND_AFTER = timedelta(minutes=10)
"""A worker looks each second: what waits longer shows that none runs, or not fast enough."""

OLD_AFTER = timedelta(days=2)
"""An archive is wanted each day; one may be missed."""

LOOKED_BACK = timedelta(days=7)
SLOW_MS = 1000
MOST_LINES = 20


class Standing(StrEnum):
    """How a part stands: a word and a shape."""

    IN_ORDER = "In order"
    LOOK = "Look at it"
    FAILS = "Fails"
    UNKNOWN = "Unknown"
    FACT = ""


@dataclass(frozen=True)
class Line:
    """One part of the site: what is so, how that stands, and by which rule."""

    name: str
    words: str
    standing: Standing = Standing.FACT
    rule: str = ""


@dataclass(frozen=True)
class SlowPage:
    """A page whose answers took long: the longest, and the time within which half of them came."""

    view: str
    asked: int
    slow: int
    half_within: str
    most_ms: int


@dataclass(frozen=True)
class Stop:
    """What stopped a page, how often, and in which hour last."""

    view: str
    what: str
    times: int
    last: datetime


@dataclass(frozen=True)
class StatusPage:
    """Everything that the page shows."""

    at: datetime
    lines: list[Line]
    settings: list[Line]
    counted_since: datetime | None
    slow: list[SlowPage]
    stops: list[Stop]


def status_page() -> StatusPage:
    """Ask each part how it is."""
    at = timezone.now()
    counted = Tally.objects.filter(hour__gt=at - LOOKED_BACK)
    classes = {*map(str, watch.CLASSES_MS), watch.LONGER}
    return StatusPage(
        at,
        [
            _version(),
            _migrations(),
            *_database(),
            *_disks(),
            _store(),
            *_queue(at),
            _letters(),
            _archive(at),
        ],
        list(_settings()),
        counted.aggregate(since=Min("hour"))["since"],
        _slow(counted.filter(what__in=classes).values_list("view", "what", "times", "most_ms")),
        [
            Stop(**row)
            for row in counted.exclude(what__in=classes)
            .values("view", "what")
            .annotate(times=Sum("times"), last=Max("hour"))
            .order_by("-times")[:MOST_LINES]
        ],
    )


def _version() -> Line:
    return Line("Version", f"Muntin {criteria.__version__}")


def _migrations() -> Line:
    executor = MigrationExecutor(connection)
    waits = [
        f"{m.app_label} {m.name}"
        for m, _ in executor.migration_plan(executor.loader.graph.leaf_nodes())
    ]
    if not waits:
        return Line("Migrations", "All are applied", Standing.IN_ORDER)
    return Line("Migrations", f"Not applied: {', '.join(waits)}", Standing.FAILS, "run migrate")


def _database() -> Iterable[Line]:
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("SELECT page_count * page_size FROM pragma_page_count, pragma_page_size")
        else:
            cursor.execute("SELECT pg_database_size(current_database())")
        size = filesizeformat(cursor.fetchone()[0])
    version = ".".join(map(str, connection.get_database_version()))
    warned = [each for each in run_checks(databases=["default"]) if each.id == "reviews.W001"]
    yield Line(
        "Database",
        f"{connection.display_name} {version}, {size}",
        Standing.LOOK if warned else Standing.IN_ORDER,
        " ".join(f"{each.msg} {each.hint}" for each in warned),
    )


def _disks() -> Iterable[Line]:
    places: dict[str, Path | str] = {
        "data": settings.DATA_DIR,
        "work in hand": tempfile.gettempdir(),
    }
    if connection.vendor == "sqlite":
        places["database"] = Path(connection.settings_dict["NAME"]).parent
    by_disk: dict[tuple[int, int, int], list[str]] = defaultdict(list)
    for name, folder in places.items():
        try:
            disk = shutil.disk_usage(folder)
            by_disk[(os.stat(folder).st_dev, disk.total, disk.free)].append(name)
        except OSError:
            yield Line(f"Room for {name}", "It can't be asked", Standing.UNKNOWN)
    for (_, total, free), names in by_disk.items():
        wanted = min(LEAST_FREE * total, LEAST_FREE_BYTES)
        yield Line(
            f"Room for {', '.join(names)}",
            f"{filesizeformat(free)} of {filesizeformat(total)} free",
            Standing.IN_ORDER if free >= wanted else Standing.LOOK,
            f"{filesizeformat(wanted)} are wanted",
        )


def _store() -> Line:
    works = store_keeps()
    return Line(
        "Store of pictures",
        "Keeps what it is given" if works else "Keeps nothing",
        Standing.IN_ORDER if works else Standing.FAILS,
        "" if works else "the log says why",
    )


def _queue(at: datetime) -> Iterable[Line]:
    ready = DBTaskResult.objects.ready()
    oldest = ready.aggregate(oldest=Min("enqueued_at"))["oldest"]
    words = f"{ready.count()} waiting"
    if oldest:
        words += f", the oldest since {moment_words(oldest)}"
    is_behind = oldest is not None and at - oldest > BEHIND_AFTER
    done = DBTaskResult.objects.successful().count()
    yield Line(
        "Background work",
        f"{words}; {done} done in {jobs.KEPT.days} days",
        Standing.LOOK if is_behind else Standing.IN_ORDER,
        f"nothing waits over {BEHIND_AFTER.seconds // 60} min where a worker runs",
    )
    failed = DBTaskResult.objects.failed().count()
    yield Line(
        "Work given up",
        f"{failed} failed for good",
        Standing.LOOK if failed else Standing.IN_ORDER,
        "each stays in the table of the queue with its traceback" if failed else "",
    )


def _letters() -> Line:
    troubled = Mail.objects.in_trouble().count()
    return Line(
        "Letters",
        f"{troubled} not delivered, or nobody knows",
        Standing.LOOK if troubled else Standing.IN_ORDER,
        "their studio's pages name them" if troubled else "",
    )


def _archive(at: datetime) -> Line:
    last = Archived.objects.first()
    if last is None:
        return Line(
            "Last backup", "No backup is known", Standing.UNKNOWN, "manage.py backup leaves a mark"
        )
    words = f"{moment_words(last.at)}: {last.rows:,} rows, {last.files:,} files, "
    words += f"{filesizeformat(last.bytes)}, read again whole"
    if last.missing:
        words += f"; {last.missing} files were missing"
    is_old = at - last.at > OLD_AFTER
    return Line(
        "Last backup",
        words,
        Standing.LOOK if is_old or last.missing else Standing.IN_ORDER,
        f"older than {OLD_AFTER.days} days" if is_old else "",
    )


def _settings() -> Iterable[Line]:
    demo = bool(settings.DEMO_MARK)
    yield Line(
        "Https",
        "Cookies go over https alone" if settings.IS_HTTPS else "Plain http",
        Standing.IN_ORDER if settings.IS_HTTPS else Standing.LOOK,
        "" if settings.IS_HTTPS else "MUNTIN_HTTPS, behind a front server that has it",
    )
    has_server = bool(settings.MAIL_SERVER.host)
    yield Line(
        "Mail server",
        "Is set" if has_server else "None: letters are files in the data folder",
        Standing.IN_ORDER if has_server or demo else Standing.LOOK,
        "" if has_server else "MUNTIN_SMTP",
    )
    yield Line(
        "Debug pages",
        "On: whoever meets a fault reads settings and what was sent" if settings.DEBUG else "Off",
        Standing.FAILS if settings.DEBUG else Standing.IN_ORDER,
        "MUNTIN_DEBUG is for a developer's machine" if settings.DEBUG else "",
    )
    if demo:
        yield Line("Demo", "Anybody may sign in as anybody", Standing.LOOK, "keep it off networks")


def _slow(rows: Iterable[tuple[str, str, int, int]]) -> list[SlowPage]:
    """Pages that took longer than a second at some time, most often first."""
    views: dict[str, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    most: dict[str, int] = defaultdict(int)
    for view, what, times, most_ms in rows:
        views[view][what] += times
        most[view] = max(most[view], most_ms)
    found = [
        SlowPage(
            view,
            sum(classes.values()),
            sum(n for what, n in classes.items() if what == watch.LONGER or int(what) > SLOW_MS),
            _half_within(classes),
            most[view],
        )
        for view, classes in views.items()
    ]
    slow = [page for page in found if page.slow]
    return sorted(slow, key=lambda page: (-page.slow, page.view))[:MOST_LINES]


def _half_within(classes: dict[str, int]) -> str:
    half, counted = sum(classes.values()) / 2, 0
    for most in watch.CLASSES_MS:
        counted += classes.get(str(most), 0)
        if counted >= half:
            return f"{most:,} ms"
    return f"over {watch.CLASSES_MS[-1]:,} ms"
