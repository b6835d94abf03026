"""Versions with the fault: sqlite.org/wal.html#walresetbug, “The WAL-Reset Bug”."""

import pytest

from reviews import sqlite_fault
from tests.served import manage, surroundings

pytestmark = pytest.mark.apart


@pytest.mark.parametrize(
    ("version", "has"),
    [
        ((3, 6, 23), False),
        ((3, 7, 0), True),
        ((3, 40, 1), True),
        ((3, 44, 5), True),
        ((3, 44, 6), False),
        ((3, 45, 0), True),
        ((3, 50, 6), True),
        ((3, 50, 7), False),
        ((3, 51, 2), True),
        ((3, 51, 3), False),
        ((3, 53, 0), False),
    ],
)
def test_each_version_is_known_by_the_published_list(version, has):
    assert sqlite_fault.has_fault(version) is has


def test_it_is_said_in_words_of_a_database_in_use(monkeypatch, settings):
    monkeypatch.setattr(sqlite_fault, "sqlite_version_info", (3, 40, 1))
    is_sqlite = "sqlite" in settings.DATABASES["default"]["ENGINE"]
    said = sqlite_fault.warn_of_the_fault(databases=["default"])
    assert [warning.id for warning in said] == ["reviews.W001"] * is_sqlite
    assert all("SQLite 3.40.1 has a rare fault" in warning.msg for warning in said)
    assert sqlite_fault.warn_of_the_fault(databases=None) == []


def test_nothing_is_said_of_a_sound_version(monkeypatch):
    monkeypatch.setattr(sqlite_fault, "sqlite_version_info", (3, 51, 3))
    assert sqlite_fault.warn_of_the_fault(databases=["default"]) == []


@pytest.mark.parametrize("words", [["migrate", "-v0"], ["serve", "--port", "99999"]])
def test_it_is_said_at_the_start_of_this_machines(tmp_path, words):
    done = manage(*words, **surroundings(tmp_path))
    from sqlite3 import sqlite_version_info

    has = sqlite_fault.has_fault(sqlite_version_info)
    assert ("has a rare fault" in done.stderr) is has
