"""Pictures in a store that speaks S3, by settings alone; what is said when it fails."""

import socket
import subprocess
import sys
import threading
import time
from contextlib import contextmanager, suppress
from datetime import timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.request import urlopen
from uuid import uuid4

import pytest
from botocore.config import Config
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.core.management import CommandError, call_command
from django.urls import reverse

from reviews import bucket, env_store
from reviews.deeds.revision_issuing import issue
from reviews.deeds.sheet_clearing import clear_pictures
from reviews.deeds.sheet_line import put_in_line, work_line
from reviews.deeds.sheet_uploads import at_hand, keep_picture
from reviews.deeds.site_archive import restore, write_archive
from reviews.models import Sheet, SheetFile
from reviews.outages import StoreAway
from tests import factories
from tests.reviews.test_sheets_views import hang, picture
from tests.served import free_port

pytestmark = pytest.mark.django_db
NO_AGE = timedelta(0)


@pytest.fixture(scope="module")
def port():
    """Where a store of the kind answers, in a process of its own."""
    port = free_port()
    words = ["-m", "moto.server", "-H", "127.0.0.1", "-p", str(port)]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    with subprocess.Popen([sys.executable, *words], **quiet) as process:
        for _ in range(200):
            with suppress(OSError), socket.create_connection(("127.0.0.1", port)):
                break
            time.sleep(0.1)
        yield port
        process.kill()


@pytest.fixture
def keep_in(settings, monkeypatch, tmp_path):
    """Name a store in the environment, as an administrator would."""
    settings.MEDIA_ROOT = tmp_path / "media"
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    monkeypatch.setattr("reviews.views.sheets.ring", lambda: None)
    monkeypatch.setattr("reviews.deeds.sheet_line.ring", lambda: None)

    def let_go():
        if isinstance(kept := default_storage._wrapped, bucket.Bucket):
            kept.connection.meta.client.close()

    def keep(port, name):
        let_go()
        monkeypatch.setenv("MUNTIN_STORE", f"s3://key:word@127.0.0.1:{port}/{name}?tls=no")
        default = env_store.store("MUNTIN_STORE")
        settings.STORAGES = {**settings.STORAGES, "default": default}
        assert default_storage.bucket_name == name

    yield keep
    let_go()


@pytest.fixture
def new(keep_in, port):
    """Keep pictures in a new bucket; its name is returned."""

    def make():
        keep_in(port, name := f"sheets-{uuid4().hex}")
        default_storage.connection.create_bucket(Bucket=name)
        return name

    return make


@pytest.fixture
def store(new):
    return new()


@pytest.fixture
def student(cast):
    return cast.client(cast.student)


@pytest.fixture
def sheet(cast, store):
    """A sheet whose files lie in the bucket."""
    return factories.SheetFactory(package=cast.scheme.package, number="02", changed_by=cast.student)


def held():
    """What the bucket holds."""
    return {each.key for each in default_storage.bucket.objects.all()}


def names(file):
    return {each.name for each in (file.image, file.preview, file.small) if each}


def image_of(cast, sheet, size="preview"):
    return reverse("sheet-image", args=[cast.scheme.pk, sheet.pk, size])


def hung_in(media):
    work = {"line.lock", "in-hand"}
    return [path for path in media.rglob("*") if path.is_file() and path.name not in work]


def test_a_sheet_hangs_in_the_bucket_alone_and_is_sent_by_its_page(cast, student, store, settings):
    hang(student, cast, picture())
    sheet = Sheet.objects.get()
    file = sheet.file
    assert held() == names(file) | {sheet.original.file.name}
    assert hung_in(settings.MEDIA_ROOT) == []
    assert not file.is_missing
    assert file.bytes == file.image.size + file.preview.size + file.small.size
    answer = student.get(image_of(cast, sheet))
    with default_storage.open(file.preview.name) as kept:
        assert answer.getvalue() == kept.read()
    assert answer["Cache-Control"] == "private, no-cache"
    assert int(answer["Content-Length"]) == file.preview.size


def test_no_page_leads_to_the_bucket_and_no_stranger_to_its_pictures(cast, student, sheet, port):
    page = student.get(reverse("show-package", args=[cast.scheme.pk])).content.decode()
    assert image_of(cast, sheet) in page
    assert f":{port}" not in page
    with pytest.raises(NotImplementedError):
        default_storage.url(sheet.file.image.name)
    assert cast.client(cast.classmate).get(image_of(cast, sheet)).status_code == 404


def test_a_part_of_a_file_is_fetched_alone(student, cast, sheet):
    answer = student.get(image_of(cast, sheet), headers={"Range": "bytes=0-1"})
    assert (answer.status_code, answer.getvalue()) == (206, b"\xff\xd8")
    with default_storage.open_part(sheet.file.preview.name, 2, 1) as part:
        assert part.read() == b"\xff"


def test_the_store_sends_what_the_site_allows_by_an_address_that_ends(
    cast, student, sheet, settings
):
    settings.FILES_BY = "store"
    address = student.get(image_of(cast, sheet))["Location"]
    assert "X-Amz-Expires=60" in address
    with urlopen(address) as kept:
        assert kept.read(2) == b"\xff\xd8"
        assert kept.headers["Content-Disposition"].startswith("inline")
    assert cast.client(cast.classmate).get(image_of(cast, sheet)).status_code == 404


def test_what_is_issued_is_shown_to_a_juror(cast, sheet):
    revision = issue(cast.scheme.package, cast.student)
    address = reverse("issued-sheet-image", args=[revision.pk, sheet.number, "full"])
    answer = cast.client(cast.seat).get(address)
    assert answer.getvalue().startswith(b"\xff\xd8")


def test_a_large_file_is_never_whole_in_memory(store):
    name = default_storage.save("sheets/large.jpg", ContentFile(bytes(bucket.IN_MEMORY + 1)))
    with default_storage.open(name) as kept:
        assert kept.file._rolled  # onto the disk
        assert kept.size == bucket.IN_MEMORY + 1


def test_no_name_is_written_over(store):
    one, other = (default_storage.save("sheets/one.jpg", ContentFile(b)) for b in (b"first", b"2"))
    assert one == "sheets/one.jpg" != other
    with default_storage.open(one) as first:
        assert first.read() == b"first"


def test_what_nothing_refers_to_is_cleared_from_the_bucket(cast, sheet):
    loose = factories.SheetFileFactory()
    left = default_storage.save("sheets/left.jpg", ContentFile(b"x"))
    gone = {*names(loose), left}
    assert gone < held()
    time.sleep(1)  # the store tells moments to the second
    assert set(clear_pictures(NO_AGE)) == gone
    assert held() == names(sheet.file)


def test_a_missing_picture_says_so_and_is_there_again_once_hung(cast, student, store):
    hang(student, cast, picture())
    sheet = Sheet.objects.get()
    default_storage.delete(sheet.file.preview.name)
    answer = student.get(image_of(cast, sheet))
    assert (answer.status_code, b"The file is missing." in answer.content) == (404, True)
    sheets = reverse("edit-sheets", args=[cast.scheme.pk])
    assert "The file is missing." in student.get(sheets).content.decode()
    hang(student, cast, picture())
    assert not sheet.file.is_missing


@pytest.mark.django_db(transaction=True)
def test_an_archive_of_the_bucket_is_put_back_into_another_and_into_a_folder(
    cast, sheet, new, settings, tmp_path
):
    path, made = write_archive(tmp_path / "archives")
    assert (len(made.files), made.missing) == (2, [])
    kept = settings.STORAGES

    def folder():
        settings.STORAGES = kept | {"default": env_store.FOLDER}

    for place in (new, folder):
        call_command("flush", interactive=False, verbosity=0)
        place()
        restore(path)
        _, again = write_archive(tmp_path / "again")
        assert (again.tables, again.files) == (made.tables, made.files)
    assert len(hung_in(settings.MEDIA_ROOT)) == 2


class TestSilent:
    """A store that doesn't answer."""

    @pytest.fixture
    def silent(self, keep_in):
        keep_in(free_port(), "sheets")

    @pytest.fixture
    def hung(self, cast):
        """A sheet whose files nobody can ask for."""
        named = {"image": "sheets/a.jpg", "preview": "previews/a.jpg"}
        file = SheetFile.objects.create(sha256="0" * 64, bytes=9, width=3, height=3, **named)
        return factories.SheetFactory(
            package=cast.scheme.package, number="02", changed_by=cast.student, file=file
        )

    def test_what_is_sent_is_refused_in_words(self, cast, student, silent):
        text = hang(student, cast, picture()).content.decode()
        assert "stored just now. Tell whoever looks after the server, and send it again." in text
        assert not Sheet.objects.exists()

    def test_pages_go_on_and_say_what_they_do_not_know(self, cast, student, hung, silent):
        for address in ("show-package", "show-checks", "edit-sheets"):
            answer = student.get(reverse(address, args=[cast.scheme.pk]))
            assert answer.status_code == 200
        assert "The store doesn’t answer: whether the file is there" in answer.content.decode()

    def test_a_picture_says_so_in_its_place(self, cast, student, hung, silent):
        answer = student.get(image_of(cast, hung))
        assert (answer.status_code, answer["Cache-Control"]) == (503, "no-store")
        assert "The store doesn’t answer." in answer.content.decode()

    def test_a_page_that_needs_the_files_themselves_is_503_in_words(
        self, cast, student, hung, silent
    ):
        student.raise_request_exception = False
        answer = student.post(reverse("export-you"))
        assert answer.status_code == 503
        assert "The store of pictures doesn’t answer" in answer.content.decode()

    def test_whoever_watches_over_the_server_is_told(self, client, silent):
        answer = client.get("/healthz")
        assert answer.status_code == 503
        assert answer.content == b"Database: works\nStorage: fails\n"

    def test_what_stands_in_line_waits_until_it_answers_again(
        self, cast, student, keep_in, store, port
    ):
        sent = put_in_line(cast.scheme.package, picture(), cast.student)
        keep_in(free_port(), store)
        work_line()
        sent.refresh_from_db()
        assert (sent.is_waiting, sent.begun_at, sent.why) == (True, None, "")
        keep_in(port, store)
        work_line()
        sent.refresh_from_db()
        assert (sent.is_kept, sent.sheet.number) == (True, "02")
        assert held() == names(sent.sheet.file) | {sent.sheet.original.file.name}

    @pytest.mark.django_db(transaction=True)
    def test_no_archive_is_written_that_would_miss_every_picture(self, hung, silent, tmp_path):
        with pytest.raises(CommandError, match="No archive was written: The store of") as refused:
            call_command("backup", str(tmp_path / "archives"))
        assert refused.value.returncode == 2
        assert list((tmp_path / "archives").iterdir()) == []

    def test_an_export_by_command_leaves_no_half_file(self, cast, hung, silent, tmp_path):
        with pytest.raises(StoreAway):
            call_command("person", cast.student.email, export=tmp_path / "stef.zip")
        assert list(tmp_path.glob("*.zip")) == []


@contextmanager
def listening():
    """A store that takes every connection and never says a word; those it took."""
    taken = []
    with socket.create_server(("127.0.0.1", 0)) as server:

        def take():
            with suppress(OSError):
                while True:
                    taken.append(server.accept()[0])

        threading.Thread(target=take, daemon=True).start()
        yield server.getsockname()[1], taken
        server.shutdown(socket.SHUT_RDWR)
    for each in taken:
        each.close()


def test_a_store_that_says_nothing_is_waited_for_once(keep_in, monkeypatch):
    hasty = Config(**{**bucket.ASKED, "read_timeout": 0.2})
    monkeypatch.setattr(bucket.Bucket, "client_config", hasty)
    with listening() as (port, taken):
        keep_in(port, "sheets")
        with pytest.raises(StoreAway, match="doesn't answer: Read timeout"):
            default_storage.exists("sheets/a.jpg")
        assert len(taken) == bucket.ASKED["retries"]["total_max_attempts"]
        with pytest.raises(StoreAway, match=r"doesn't answer$"):
            default_storage.open("sheets/a.jpg")
        assert len(taken) == 2  # nobody waits again for a moment
        monkeypatch.setattr(default_storage._wrapped, "rests_until", 0)
        with pytest.raises(StoreAway, match="Read timeout"):
            default_storage.exists("sheets/a.jpg")


def test_a_page_waits_less_than_half_a_minute_for_a_store():
    longest = bucket.ASKED["connect_timeout"] + bucket.ASKED["read_timeout"]
    assert longest * bucket.ASKED["retries"]["total_max_attempts"] < 30


@contextmanager
def answering(status, code):
    """A store that answers everything with a fault."""

    class Fault(BaseHTTPRequestHandler):
        def fail(self):
            self.rfile.read(int(self.headers.get("Content-Length", 0)))
            said = f"<Error><Code>{code}</Code><Message>No.</Message></Error>".encode()
            self.send_response(404 if self.command == "HEAD" else status)
            self.send_header("Content-Length", str(len(said)))
            self.end_headers()
            if self.command != "HEAD":
                self.wfile.write(said)

        def log_message(self, *_):
            pass

    for asked in ("GET", "HEAD", "PUT", "DELETE"):
        setattr(Fault, f"do_{asked}", Fault.fail)

    with ThreadingHTTPServer(("127.0.0.1", 0), Fault) as server:
        threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True).start()
        yield server.server_port
        server.shutdown()


def test_a_full_store_refuses_in_words_and_its_word_is_logged(
    cast, student, client, keep_in, caplog
):
    with answering(507, "InsufficientStorage") as port:
        keep_in(port, "sheets")
        text = hang(student, cast, picture()).content.decode()
        assert "It can&#x27;t be stored just now." in text
        assert not Sheet.objects.exists()
        assert "The store refuses: InsufficientStorage" in caplog.text
        assert client.get("/healthz").status_code == 503


def test_a_full_store_leaves_no_row_that_names_a_file(keep_in):
    with answering(507, "InsufficientStorage") as port:
        keep_in(port, "sheets")
        full = pytest.raises(OSError, match="InsufficientStorage")
        with at_hand(picture(), "02.png") as copy, full:
            keep_picture(copy)
    assert not SheetFile.objects.exists()


@pytest.mark.parametrize(
    ("status", "code", "raised"),
    [
        (404, "NoSuchKey", FileNotFoundError),
        (404, "NoSuchBucket", OSError),
        (403, "AccessDenied", OSError),
        (503, "SlowDown", StoreAway),
    ],
)
def test_what_a_store_says_is_told_as_a_disk_would(keep_in, status, code, raised):
    with answering(status, code) as port:
        keep_in(port, "sheets")
        with pytest.raises(OSError, match="store") as told:
            default_storage.open("sheets/a.jpg")
    assert type(told.value) is raised
