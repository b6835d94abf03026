"""The demo's ground: what it didn't make, it neither loads into nor deletes."""

import re
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from django.db import connection

from reviews import demo_mark
from tests.served import ROOT, manage, surroundings

pytestmark = pytest.mark.apart

EARLIER = ROOT / "tests" / "reviews" / "dumps" / "0004.sql"

MADE = """
import sys; sys.argv = ["manage.py", "demo"]
import django; django.setup()
from django.core.files.base import ContentFile
from django.db import connection
from reviews import demo_mark
from reviews.demo import ground
from reviews.models import SheetFile, Studio

def make():
    ground.claim()
    ground.make_tables()
"""


def in_the_demo(folder: Path, words: str, **more: str) -> str:
    """Run a few lines as the demo's command would, and return what they print."""
    own = surroundings(folder, DJANGO_SETTINGS_MODULE="reviews.settings", **more)
    done = subprocess.run(
        [sys.executable, "-c", MADE + words],
        cwd=ROOT,
        env=own,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def state(folder: Path) -> dict[str, tuple[int, bytes]]:
    """Everything below a folder with its time and its bytes, but what SQLite keeps of readers."""
    return {
        str(path.relative_to(folder)): (
            path.stat().st_mtime_ns,
            path.read_bytes() if path.is_file() else b"",
        )
        for path in folder.rglob("*")
    }


def refused(folder: Path, **more: str) -> str:
    """What the demo says as it stops with exit 2."""
    done = manage("demo", "--no-serve", "--fresh", **surroundings(folder, **more))
    assert done.returncode == 2, done.stderr
    assert "Traceback" not in done.stderr
    assert "The demo changed nothing." in done.stderr
    return done.stderr


@pytest.fixture(scope="module")
def made_school(tmp_path_factory):
    folder = tmp_path_factory.mktemp("school")
    done = manage("migrate", "-v0", **surroundings(folder))
    assert done.returncode == 0, done.stderr
    (folder / "media" / "sheets").mkdir(parents=True)
    (folder / "media" / "sheets" / "one.jpg").write_bytes(b"a sheet")
    return folder


@pytest.fixture
def school(made_school):
    """A school's folder with its database and a picture; nothing of it may change."""
    before = state(made_school)
    yield made_school
    assert state(made_school) == before


def test_it_refuses_a_schools_folder(school):
    assert f"MUNTIN_DATA_DIR: Read {school}, which holds what the demo didn't" in refused(school)


def test_it_refuses_a_folder_of_anything_else(tmp_path):
    (tmp_path / "letters.txt").write_text("kept")
    before = state(tmp_path)
    assert "which holds what the demo didn't make" in refused(tmp_path)
    assert state(tmp_path) == before


def test_it_refuses_a_file_in_a_folders_place(tmp_path):
    (tmp_path / "file").write_text("kept")
    assert "MUNTIN_DATA_DIR: Read" in refused(tmp_path / "file")
    assert (tmp_path / "file").read_text() == "kept"


def test_it_refuses_a_link_to_a_schools_folder(school, tmp_path):
    (tmp_path / "demo").symlink_to(school)
    assert f"Read {school}, which holds" in refused(tmp_path / "demo")


def test_it_refuses_a_schools_sqlite_file(school, tmp_path):
    said = refused(tmp_path / "demo", DATABASE_URL=f"sqlite:///{school}/muntin.sqlite3")
    assert f"DATABASE_URL: Read {school}/muntin.sqlite3, which isn't in the demo's folder" in said
    assert not (tmp_path / "demo").exists()


def test_it_opens_no_sqlite_file_of_anybody_else(tmp_path):
    """To open it with our settings alone would put it into WAL mode."""
    with sqlite3.connect(tmp_path / "other.sqlite3") as other:
        other.execute("CREATE TABLE letters (words text)")
    other.close()
    before = state(tmp_path)
    refused(tmp_path / "demo", DATABASE_URL=f"sqlite:///{tmp_path}/other.sqlite3")
    assert state(tmp_path) == before


@pytest.mark.parametrize("name", ["media", "muntin.sqlite3", "static"])
def test_it_refuses_a_link_from_its_own_folder_to_a_schools(school, tmp_path, name):
    (tmp_path / demo_mark.FILE).write_text("0123")
    (tmp_path / name).symlink_to(school / name)
    assert f"Read {tmp_path / name}, which leads elsewhere" in refused(tmp_path)


def test_it_refuses_a_schools_database_put_into_its_folder(school, tmp_path):
    (tmp_path / demo_mark.FILE).write_text("0123")
    copy = tmp_path / "muntin.sqlite3"
    copy.write_bytes((school / "muntin.sqlite3").read_bytes())
    before = copy.read_bytes()
    assert "Read a database with tables that the demo didn't make" in refused(tmp_path)
    assert copy.read_bytes() == before


def test_it_refuses_a_database_that_another_demo_made(tmp_path):
    in_the_demo(tmp_path, "make()")
    (tmp_path / demo_mark.FILE).write_text("another")
    assert "tables that the demo didn't make" in refused(tmp_path)


@pytest.mark.django_db(transaction=True)
def test_it_refuses_a_database_server_that_holds_a_schools_tables(tmp_path):
    if connection.vendor != "postgresql":
        pytest.skip("this run is on SQLite")
    its = connection.settings_dict
    at = f"{its['USER']}:{its['PASSWORD']}@{its['HOST']}:{its['PORT']}/{its['NAME']}"
    before = connection.introspection.table_names()
    said = refused(tmp_path / "demo", DATABASE_URL=f"postgresql://{at}")
    assert "DATABASE_URL: Read a database with tables that the demo didn't make" in said
    assert connection.introspection.table_names() == before
    assert not (tmp_path / "demo").exists()


def test_it_takes_an_empty_folder_and_its_own_again(tmp_path):
    printed = in_the_demo(tmp_path, "make(); make(); print(demo_mark.of_database())")
    assert printed.strip() == demo_mark.of_folder(tmp_path)


def made(path: Path) -> dict[str, list[str]]:
    """What a database is made of: of each table and index its parts, in no order."""
    base = sqlite3.connect(path)
    found = base.execute("SELECT name, sql FROM sqlite_master WHERE sql != ''").fetchall()
    held = {name: sorted(re.split(r'[(,] *(?=["C])|\)$', sql)) for name, sql in found}
    for table in ("django_migrations", "django_content_type"):
        rows = base.execute(f"SELECT * FROM {table}")
        which = [n for n, (head, *_) in enumerate(rows.description) if head in KNOWN_BY]
        held[f"rows of {table}"] = sorted(str([row[n] for n in which]) for row in rows)
    base.close()
    return held


KNOWN_BY = {"app", "name", "app_label", "model"}


def test_its_tables_are_those_that_all_the_migrations_make(made_school, tmp_path):
    in_the_demo(tmp_path, "make()")
    own, school = (made(folder / "muntin.sqlite3") for folder in (tmp_path, made_school))
    del own[demo_mark.TABLE]
    assert len(own) > 150
    assert own == school


def test_tables_of_an_earlier_version_are_migrated(tmp_path):
    in_the_demo(tmp_path, "ground.claim()")
    with sqlite3.connect(tmp_path / "muntin.sqlite3") as base:
        base.executescript(EARLIER.read_text("utf-8"))
    base.close()
    small = 'print("small" in ground._columns(SheetFile._meta.db_table))'
    assert in_the_demo(tmp_path, f"{small}\nground.make_tables()\n{small}") == "False\nTrue\n"


def test_it_goes_on_where_it_was_stopped_between_its_marks(tmp_path):
    (tmp_path / demo_mark.FILE).write_text("0123\n")
    assert in_the_demo(tmp_path, "make(); print(demo_mark.of_database())") == "0123\n"


def test_to_start_over_deletes_what_the_demo_made_and_nothing_else(tmp_path):
    in_the_demo(
        tmp_path,
        """
make()
from tests import factories
factories.SheetFileFactory()
with connection.cursor() as cursor:
    cursor.execute("CREATE TABLE letters (words text)")
""",
    )
    pictures = [path for path in (tmp_path / "media").rglob("*") if path.is_file()]
    assert pictures
    foreign = tmp_path / "media" / "sheets" / "mine.jpg"
    foreign.parent.mkdir(exist_ok=True)
    foreign.write_bytes(b"mine")
    printed = in_the_demo(
        tmp_path, "make(); ground.clear(); print(connection.introspection.table_names())"
    )
    assert printed == f"['letters', '{demo_mark.TABLE}']\n"
    assert [path for path in (tmp_path / "media").rglob("*") if path.is_file()] == [foreign]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("of_folder", "of_database"), [("0123", ""), ("", "0123"), ("0123", "4567"), ("", "")]
)
def test_the_door_is_shut_where_the_mark_does_not_stand_in_both(
    client, mark_as_demo, of_folder, of_database
):
    mark_as_demo(of_folder, of_database)
    assert b"demo/sign-in" not in client.get("/sign-in/").content
    assert client.post("/demo/sign-in/1/").status_code == 404


def test_a_demo_that_was_stopped_while_it_was_filled_starts_over(tmp_path):
    words = """
from reviews.management.commands.demo import Command
from reviews.demo import load
from django.utils import timezone
make()
from reviews.models import Person
def open_studio():
    by = Person.objects.create_user("a@example.org")
    Studio.objects.create(title=load.STUDIOS[-1].title, opened_by=by)
open_studio()
ground.fill("levels")
begun = []
load.begin = lambda today, say: begun.append(Studio.objects.count())
whole = Command()._begin(timezone.localdate(), is_fresh=False)
print("whole", whole, "studios left", begun, demo_mark.still_coming())
ground.fill("")
open_studio()
print("again", Command()._begin(timezone.localdate(), is_fresh=False), begun)
"""
    said = in_the_demo(tmp_path / "demo", words)
    assert "it starts over" in said
    assert "whole False studios left [0]" in said
    assert "again True [0]" in said


def test_two_commands_never_fill_one_demo_at_once(tmp_path):
    words = """
import threading, time
make()
said = []
def second():
    with ground.alone(said.append):
        said.append("second")
with ground.alone(said.append):
    other = threading.Thread(target=second)
    other.start()
    time.sleep(0.3)
    said.append("first ends")
other.join()
print(said)
"""
    said = in_the_demo(tmp_path / "demo", words)
    assert "waiting until it ends', 'first ends', 'second']" in said
