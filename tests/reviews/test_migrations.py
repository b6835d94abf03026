"""A site of each version before is migrated to this one, and no row of it is lost or changed.

A version's dump is made once, when its last migration has landed:

    MUNTIN_DUMP=tests/reviews/dumps/0001.sql python -m pytest --migrations \
        tests/reviews/test_migrations.py -k dump_of_this
"""

import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from django.db import connection
from django.db.migrations import (
    AddConstraint,
    AddField,
    AddIndex,
    AlterModelOptions,
    CreateModel,
    RemoveField,
)
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.operations.base import Operation
from django.db.models import CharField

from reviews.deeds import crit_jury_keeping, package_keeping
from reviews.models import JurySheet
from tests import factories

pytestmark = pytest.mark.apart

DUMPS = sorted((Path(__file__).parent / "dumps").glob("*.sql"))
BROUGHT_UP = DUMPS if os.environ.get("MUNTIN_LONG") else [DUMPS[0], *DUMPS[-2:]]
"""Versions whose sites are migrated: in the build the first, which takes every step, and two."""
ROOT = Path(__file__).parents[2]


def tables(base: sqlite3.Connection) -> list[str]:
    found = base.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    return [name for (name,) in found if name.startswith("reviews_")]


def rows(base: sqlite3.Connection, table: str) -> dict[object, dict[str, object]]:
    """The rows of a table by their keys, each by its columns."""
    cursor = base.execute(f'SELECT * FROM "{table}"')
    heads = [head for head, *_ in cursor.description]
    return {row[0]: dict(zip(heads, row, strict=True)) for row in cursor}


def loaded(dump: Path, path: Path) -> sqlite3.Connection:
    base = sqlite3.connect(path)
    base.executescript(dump.read_text(encoding="utf-8"))
    base.commit()
    return base


def migrated(path: Path, tmp_path: Path) -> sqlite3.Connection:
    surroundings = {
        **os.environ,
        "DATABASE_URL": f"sqlite:///{path}",
        "MUNTIN_DATA_DIR": str(tmp_path / "data"),
        "MUNTIN_SECRET_KEY": "of this test alone, long enough and mixed: 8472-jkvb-qpwx-3019",
    }
    command = [sys.executable, "manage.py", "migrate", "--verbosity", "0"]
    subprocess.run(command, env=surroundings, cwd=ROOT, check=True, capture_output=True)
    return sqlite3.connect(path)


def shape(base: sqlite3.Connection) -> dict[str, tuple[set[object], ...]]:
    """Each table's columns, what leads where, indexes and constraints, in no order of their own."""
    found: dict[str, tuple[set[object], ...]] = {}
    for table in tables(base):
        columns = {row[1:] for row in base.execute(f'PRAGMA table_info("{table}")')}
        leads = {row[2:] for row in base.execute(f'PRAGMA foreign_key_list("{table}")')}
        told = base.execute("SELECT sql FROM sqlite_master WHERE tbl_name = ?", (table,))
        made, *indexes = (sql for (sql,) in told if sql)
        constraints = {words.strip(" ,)") for words in made.split("CONSTRAINT")[1:]}
        found[table] = (columns, leads, {*indexes}, constraints)
    return found


@pytest.fixture(scope="module")
def new_shape(tmp_path_factory):
    """The tables of a new site, which are made at once."""
    folder = tmp_path_factory.mktemp("new")
    return shape(migrated(folder / "new.sqlite3", folder))


@pytest.mark.parametrize("dump", BROUGHT_UP, ids=lambda dump: dump.stem)
def test_a_site_of_a_version_before_loses_nothing(dump, new_shape, tmp_path):
    before = loaded(dump, tmp_path / "before.sqlite3")
    held = {table: rows(before, table) for table in tables(before)}
    assert sum(map(len, held.values())) > 30
    loaded(dump, tmp_path / "after.sqlite3").close()
    after = migrated(tmp_path / "after.sqlite3", tmp_path)
    for table, kept in held.items():
        now = rows(after, table)
        assert now.keys() == kept.keys(), table
        for key, row in kept.items():
            stays = {head: value for head, value in now[key].items() if head in row}
            assert stays == row, (table, key)
    assert shape(after) == new_shape


def test_every_version_has_its_dump():
    stand = {path.stem[:4] for path in (ROOT / "reviews" / "migrations").glob("0*.py")}
    # the newest is what every other test runs on
    assert {dump.stem for dump in DUMPS} >= {stem for stem in stand if stem != max(stand)}


BY_HAND = {
    "0006_passkey_mails: Alter field kind on mail": "choices are words; no table holds them",
    **{
        f"0009_crit_day: Alter field {column}": "choices are words; no table holds them"
        for column in ("kind on crit", "kind on mail", "kind on unwantedmail", "deed on auditline")
    },
    **{
        f"0010_after_crit: Alter field {column}": "choices are words; no table holds them"
        for column in ("kind on mail", "kind on unwantedmail", "deed on auditline")
    },
    "0013_script_tokens: Alter field kind on mail": "choices are words; no table holds them",
    "0014_school_ids: Alter field kind on mail": "choices are words; no table holds them",
    "0014_school_ids: Alter field deed on auditline": "choices are words; no table holds them",
    **{
        f"0008_sheets_as_drawn: Alter field {name} on issuedsheet": "a hint; no table holds it"
        for name in ("number", "scale", "title")
    },
}
"""Operations that change what is there, each with why the code of the version before bears it."""


def test_migrations_only_add_so_that_the_code_before_goes_on_beside_them(settings):
    """A column without a default of the database's own stops what that code inserts."""
    settings.MIGRATION_MODULES = {}  # tests have their tables from the models
    found = MigrationLoader(None).disk_migrations
    later = [m for (app, name), m in found.items() if app == "reviews" and name > "0002"]
    assert len(later) > 2
    made = {operation.name for m in later for operation in m.operations if is_new(operation)}
    wrong = [
        f"{migration.name}: {operation.describe()}"
        for migration in later
        for operation in migration.operations
        if not only_adds(operation, made)
    ]
    assert [each for each in wrong if each not in BY_HAND] == []


def is_new(operation: Operation) -> bool:
    return isinstance(operation, CreateModel)


def only_adds(operation: Operation, made: set[str]) -> bool:
    match operation:
        case AddField(field=field):
            return field.many_to_many or field.null or field.has_db_default()
        case AddConstraint(model_name=name):
            return name in {each.lower() for each in made}
    return isinstance(operation, CreateModel | AddIndex | AlterModelOptions)


def test_a_migration_that_takes_away_is_found():
    needed, given = CharField(), CharField(db_default="x")
    assert only_adds(AddField("seat", "room", given), set())
    assert not only_adds(AddField("seat", "room", needed), set())
    assert not only_adds(RemoveField("seat", "room"), set())


@pytest.mark.django_db(transaction=True)
@pytest.mark.skipif(connection.vendor != "sqlite", reason="a dump is of SQLite")
def test_a_dump_of_this_version_can_be_made_and_loaded(cast, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    factories.issue_sheets(cast, "02", "03", schemes=[cast.scheme, cast.other_scheme])
    for scheme in (cast.scheme, cast.other_scheme):
        for criterion in (cast.criterion, cast.other_criterion):
            crit_jury_keeping.keep_level(cast.seat, scheme, criterion, 3, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    factories.CommentFactory(jury_sheet=JurySheet.objects.first(), issued_sheet=None, zone="")
    factories.InterestFactory(seat=cast.seat, scheme=cast.other_scheme)
    factories.SetAsideFactory(scheme=cast.scheme)
    package_keeping.add_row(cast.scheme.package, "rooms", {"mark": "R7"}, cast.student)
    path = Path(os.environ.get("MUNTIN_DUMP") or tmp_path / "dump.sql")
    connection.ensure_connection()
    path.write_text("\n".join(connection.connection.iterdump()), encoding="utf-8")
    base = loaded(path, tmp_path / "again.sqlite3")
    if "MUNTIN_DUMP" in os.environ:
        assert rows(base, "django_migrations"), "Made without --migrations: no step is noted"
    assert len(rows(base, "reviews_levelgiven")) == 4
