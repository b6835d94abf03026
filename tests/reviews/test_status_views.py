"""How the site stands: each part asked, what isn't known said to be so, and nobody named."""

from datetime import timedelta

import pytest
from django.core.management import call_command
from django.urls import reverse
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from reviews.models import Archived, Mail, Tally
from reviews.pages import status_page as page
from reviews.pages.status_page import Standing, status_page
from tests.reviews.test_background import note

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def store(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def queue(settings):
    settings.TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}


def line(name: str) -> tuple[str, Standing]:
    shown = status_page()
    (found,) = [each for each in (*shown.lines, *shown.settings) if each.name == name]
    return found.words, found.standing


def test_a_coordinator_reads_how_each_part_stands(cast):
    answer = cast.client(cast.coordinator).get(reverse("show-status"))
    text = answer.content.decode()
    assert answer.status_code == 200
    for words in ("All are applied", "Keeps what it is given", "0 waiting", "No backup is known"):
        assert words in text
    assert reverse("show-status") in cast.client(cast.coordinator).get("/").content.decode()


def test_it_names_nobody_and_no_address(cast):
    Mail.objects.create(key="k", kind="link", address="ada@example.org", state="failed", said="no")
    client = cast.client(cast.coordinator)
    text = client.get(reverse("show-status")).content.decode()
    assert "1 not delivered" in text
    for secret in ("ada@example.org", cast.seat.code, cast.student.name, cast.studio.title):
        assert secret not in text


def test_no_backup_is_unknown_and_never_well():
    assert line("Last backup") == ("No backup is known", Standing.UNKNOWN)


@pytest.mark.django_db(transaction=True)
def test_a_backup_leaves_a_mark(cast, tmp_path, capsys):
    call_command("backup", str(tmp_path / "archives"))
    words, standing = line("Last backup")
    (path,) = (tmp_path / "archives").glob("*.zip")
    mark = Archived.objects.get()
    assert mark.bytes == path.stat().st_size
    assert f"{mark.rows} rows, {mark.files} files" in words
    assert standing is Standing.IN_ORDER


def test_an_old_backup_or_one_with_gaps_is_looked_at():
    mark = Archived.objects.create(bytes=1, rows=2, files=3, missing=1)
    words, standing = line("Last backup")
    assert "1 files were missing" in words
    assert standing is Standing.LOOK
    mark.missing, mark.at = 0, timezone.now() - page.OLD_AFTER + timedelta(minutes=1)
    mark.save()
    assert line("Last backup")[1] is Standing.IN_ORDER
    mark.at -= timedelta(minutes=2)
    mark.save()
    assert line("Last backup")[1] is Standing.LOOK


def test_work_that_waits_too_long_and_work_given_up_are_looked_at(queue):
    note.enqueue("a")
    assert line("Background work")[1] is Standing.IN_ORDER
    DBTaskResult.objects.update(enqueued_at=timezone.now() - page.BEHIND_AFTER * 2)
    words, standing = line("Background work")
    assert words.startswith("1 waiting, the oldest since")
    assert standing is Standing.LOOK
    assert line("Work given up") == ("0 failed for good", Standing.IN_ORDER)
    DBTaskResult.objects.update(status="FAILED")
    assert line("Work given up") == ("1 failed for good", Standing.LOOK)


@pytest.mark.parametrize(("free", "standing"), [(0.11, Standing.IN_ORDER), (0.09, Standing.LOOK)])
def test_a_disk_without_room_is_looked_at(monkeypatch, free, standing):
    total = 10 * 2**30
    disk = type("Disk", (), {"total": total, "free": int(free * total)})
    monkeypatch.setattr(page.shutil, "disk_usage", lambda folder: disk)
    lines = [each for each in status_page().lines if each.name.startswith("Room for")]
    assert lines
    assert {each.standing for each in lines} == {standing}


def test_a_disk_that_can_not_be_asked_is_unknown(monkeypatch):
    def fail(folder):
        raise OSError("no such device")

    monkeypatch.setattr(page.shutil, "disk_usage", fail)
    lines = [each for each in status_page().lines if each.name.startswith("Room for")]
    assert {each.standing for each in lines} == {Standing.UNKNOWN}


def test_a_store_that_keeps_nothing_fails(monkeypatch):
    monkeypatch.setattr(page, "store_keeps", lambda: False)
    assert line("Store of pictures") == ("Keeps nothing", Standing.FAILS)


def test_settings_of_note_are_judged(settings):
    settings.DEBUG, settings.IS_HTTPS = True, True
    assert line("Debug pages")[1] is Standing.FAILS
    assert line("Https")[1] is Standing.IN_ORDER
    settings.DEBUG, settings.IS_HTTPS = False, False
    assert line("Debug pages") == ("Off", Standing.IN_ORDER)
    assert line("Https")[1] is Standing.LOOK


def test_slow_pages_and_stops_are_counted_by_view():
    hour = timezone.now().replace(minute=0, second=0, microsecond=0)
    for view, what, times, most in (
        ("show-package", "100", 5, 90),
        ("show-package", "3000", 2, 2500),
        ("compare-cohorts", "longer", 3, 7100),
        ("compare-cohorts", "1000", 2, 900),
        ("home", "300", 50, 210),
        ("home", "OperationalError", 4, 0),
    ):
        Tally.objects.create(hour=hour, view=view, what=what, times=times, most_ms=most)
    long_ago = hour - page.LOOKED_BACK - timedelta(hours=1)
    Tally.objects.create(hour=long_ago, view="home", what="longer", times=9, most_ms=9999)
    shown = status_page()
    assert shown.slow == [
        page.SlowPage("compare-cohorts", 5, 3, "over 3,000 ms", 7100),
        page.SlowPage("show-package", 7, 2, "100 ms", 2500),
    ]
    assert shown.stops == [page.Stop("home", "OperationalError", 4, hour)]


def test_nothing_counted_is_unknown_and_nothing_slow_is_in_order(cast):
    client = cast.client(cast.coordinator)
    assert "Nothing is counted yet" in client.get(reverse("show-status")).content.decode()
    hour = timezone.now().replace(minute=0, second=0, microsecond=0)
    Tally.objects.create(hour=hour, view="home", what="100", times=1, most_ms=9)
    text = client.get(reverse("show-status")).content.decode()
    assert "Nothing is counted yet" not in text
    assert "None since" in text
