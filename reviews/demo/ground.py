"""Where the demo stands: a folder and a database that it made itself, and nothing else."""

import fcntl
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from uuid import uuid4

from django.apps import apps
from django.conf import settings
from django.core.files.storage import default_storage
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import connection, transaction

from reviews import demo_mark, env
from reviews.models import SentPicture, SheetFile

MIGRATIONS = "django_migrations"


def require_own_ground() -> None:
    """Raise CommandError where the folder or the database is another's; change nothing."""
    folder: Path = settings.DATA_DIR
    mark = demo_mark.of_folder(folder)
    try:
        held = list(folder.iterdir()) if folder.exists() else []
    except OSError as error:
        raise _refusal(f"{folder} ({error.strerror})", "MUNTIN_DATA_DIR") from error
    if held and not mark:
        raise _refusal(f"{folder}, which holds what the demo didn't make", "MUNTIN_DATA_DIR")
    for path in held:
        if path.is_symlink():
            raise _refusal(f"{path}, which leads elsewhere", "MUNTIN_DATA_DIR")
    if connection.vendor == "sqlite":
        path = Path(str(settings.DATABASES["default"]["NAME"])).resolve()
        if path.parent != folder:  # not even opened: that alone can write to it
            raise _refusal(f"{path}, which isn't in the demo's folder", "DATABASE_URL")
        if not path.exists():
            return
    if connection.introspection.table_names() and (not mark or demo_mark.of_database() != mark):
        raise _refusal("a database with tables that the demo didn't make", "DATABASE_URL")


def _refusal(read: str, name: str) -> CommandError:
    expected = "Expected an empty place or one that the demo made: name another, or none"
    return CommandError(f"The demo changed nothing. {name}: Read {read}. {expected}.", returncode=2)


def claim() -> None:
    """Set the mark in the folder, then in the database; what stands already stays."""
    require_own_ground()
    env.make_folder("MUNTIN_DATA_DIR", settings.STATIC_ROOT)
    mark = demo_mark.of_folder(settings.DATA_DIR) or uuid4().hex
    (settings.DATA_DIR / demo_mark.FILE).write_text(mark + "\n", encoding="ascii")
    if demo_mark.of_database() != mark:
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(f"CREATE TABLE {demo_mark.TABLE} (mark varchar(32) NOT NULL)")
            cursor.execute(f"INSERT INTO {demo_mark.TABLE} VALUES (%s)", [mark])


def _columns(table: str) -> set[str]:
    """The columns of a table, which an earlier version may have made."""
    with connection.cursor() as cursor:
        found = connection.introspection.get_table_description(cursor, table)
    return {column.name for column in found}


def make_tables() -> None:
    """Make the tables of this version; of an empty database straight from the models.

    By migrations, those of sign-in above all, it takes ten times as long and comes to the same.
    """
    is_new = set(connection.introspection.table_names()) <= {demo_mark.TABLE}
    if is_new:
        with connection.schema_editor() as editor:
            for model in apps.get_models():
                editor.create_model(model)
        call_command("migrate", fake=True, verbosity=0)
    call_command("migrate", verbosity=0)


def fill(words: str) -> None:
    """Say in the folder what is still to come; nothing, once the demo is whole."""
    told = settings.DATA_DIR / demo_mark.STILL
    if words:
        told.write_text(words + "\n", encoding="utf-8")
    else:
        told.unlink(missing_ok=True)


@contextmanager
def alone(say: Callable[[str], None]) -> Iterator[None]:
    """Hold the folder, so that no two fill it at once; wait for whoever does already."""
    with (settings.DATA_DIR / demo_mark.FILE).open("rb") as mark:
        try:
            fcntl.flock(mark, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("Another command is filling the demo; waiting until it ends")
            fcntl.flock(mark, fcntl.LOCK_EX)
        yield


def clear() -> None:
    """Delete the pictures that the demo's rows name and the tables it made; the mark stays."""
    tables = connection.introspection.table_names()
    for model, *fields in ((SheetFile, "image", "preview", "small"), (SentPicture, "file")):
        if model._meta.db_table in tables:
            there = [field for field in fields if field in _columns(model._meta.db_table)]
            for names in model._default_manager.values_list(*there):
                for name in filter(None, names):
                    default_storage.delete(name)
    made = {MIGRATIONS, *connection.introspection.django_table_names(only_existing=True)}
    with connection.schema_editor() as editor:
        for table in sorted(made.intersection(tables)):
            editor.execute(editor.sql_delete_table % {"table": editor.quote_name(table)})
