"""Files in pieces, by the open tus protocol 1.0.0 (tus.io): begun, gone on with, let go."""

import base64
import io
from datetime import timedelta
from uuid import UUID

import pytest
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from reviews import background
from reviews.deeds import sheet_line, sheet_sending
from reviews.deeds.sheet_clearing import clear_pictures
from reviews.deeds.sheet_line import work_line
from reviews.models import SentPicture, Sheet
from reviews.reading.sheet_room import sheet_room

KEY, OTHER = UUID(int=11), UUID(int=12)


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


@pytest.fixture(autouse=True)
def silent(monkeypatch):
    monkeypatch.setattr(sheet_line, "ring", lambda: None)
    monkeypatch.setattr(sheet_sending, "ring", lambda: None)


@pytest.fixture
def data() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (60, 40), "red").save(out, "PNG")
    return out.getvalue()


class Device:
    """A sending device, as the protocol has it."""

    def __init__(self, cast, person, scheme=None):
        self.client = cast.client(person)
        self.scheme = scheme or cast.scheme

    def ask(self, method: str, address: str, body: bytes = b"", version="1.0.0", **headers):
        kind = headers.pop("kind", "application/offset+octet-stream")
        headers = {"Tus-Resumable": version, **{k.replace("_", "-"): v for k, v in headers.items()}}
        return self.client.generic(method, address, body, kind, headers=headers)

    def begin(self, size: int, name="02 Plan 1-50.png", key=KEY, **more):
        about = {"filename": name, "key": str(key), "drawn_by": "Ada"}
        coded = (f"{k} {base64.b64encode(v.encode()).decode()}" for k, v in about.items())
        address = reverse("begin-sending", args=[self.scheme.pk])
        headers = {"Upload_Length": str(size), "Upload_Metadata": ",".join(coded), **more}
        return self.ask("POST", address, **headers)

    def piece(self, at: int, body: bytes, **more):
        return self.ask("PATCH", self.address(), body, Upload_Offset=str(at), **more)

    def address(self) -> str:
        return reverse("send-piece", args=[self.scheme.pk, KEY])


@pytest.fixture
def device(cast):
    return Device(cast, cast.student)


def test_a_file_in_pieces_goes_on_after_the_line_was_lost_and_hangs_as_it_was(
    cast, device, data, media
):
    begun = device.begin(len(data))
    assert (begun.status_code, begun["Location"], begun["Upload-Offset"]) == (
        201,
        device.address(),
        "0",
    )
    assert device.piece(0, data[:50])["Upload-Offset"] == "50"
    # the answer was lost: the device asks, or begins again after a reload
    assert device.ask("HEAD", device.address())["Upload-Offset"] == "50"
    assert device.begin(len(data))["Upload-Offset"] == "50"
    assert device.piece(0, data[:50]).status_code == 409
    assert device.piece(50, data[50:90]).status_code == 204
    page = device.client.get(reverse("edit-sheets", args=[cast.scheme.pk])).content.decode()
    assert "Choose the same file again to go on" in page
    assert device.piece(90, data[90:])["Upload-Offset"] == str(len(data))
    assert device.ask("HEAD", device.address())["Upload-Offset"] == str(len(data))
    work_line()
    sheet = Sheet.objects.get()
    assert (sheet.number, sheet.scale, sheet.drawn_by) == ("02", "1:50", "Ada")
    with sheet.original.file.open() as original:
        assert original.read() == data
    assert list((media / "sent").iterdir()) == []


def test_a_file_that_hangs_may_be_sent_again(device, data):
    for _ in range(2):
        assert device.begin(len(data))["Upload-Offset"] == "0"
        device.piece(0, data)
        work_line()
    assert SentPicture.objects.get().is_kept


def test_what_one_has_begun_is_nobody_elses(cast, device, data):
    device.begin(len(data))
    mate = Device(cast, cast.mate)
    for answer in (mate.ask("HEAD", device.address()), mate.piece(0, data)):
        assert answer.status_code == 404
    assert mate.begin(len(data)).status_code == 413
    assert device.ask("HEAD", device.address())["Upload-Offset"] == "0"
    assert Device(cast, cast.leader).begin(len(data)).status_code == 403


@pytest.mark.parametrize(
    ("ask", "status"),
    [
        (lambda d: d.begin(0, key=OTHER), 413),
        (lambda d: d.begin(101 * 2**20, key=OTHER), 413),
        (lambda d: d.begin(77), 413),
        (lambda d: d.begin(9, Upload_Length="nine"), 400),
        (lambda d: d.begin(9, Upload_Metadata="filename §"), 400),
        (lambda d: d.begin(9, version="0.2.2"), 412),
        (lambda d: d.piece(0, b"x", kind="text/plain"), 415),
        (lambda d: d.piece(-1, b"x"), 400),
        (lambda d: d.piece(7, b"x"), 409),
        (lambda d: d.piece(0, bytes(2**20 + 1)), 413),
        (lambda d: d.piece(0, bytes(3 * 2**20 + 1)), 413),
    ],
)
def test_what_the_protocol_does_not_allow_is_refused_and_changes_nothing(device, ask, status):
    device.begin(3 * 2**20)
    assert ask(device).status_code == status
    assert SentPicture.objects.get().received == 0


def test_what_arrives_takes_room_from_its_beginning(cast, device, settings):
    settings.MOST_STUDIO_MB = 10
    device.begin(7 * 2**20)
    assert sheet_room(cast.studio).used == 7 * 2**20
    refused = device.begin(4 * 2**20, key=OTHER)
    assert refused.status_code == 413
    assert "at most 3.0 MB" in refused.content.decode()


def test_what_is_stopped_leaves_nothing_behind(device, media):
    device.begin(99)
    device.piece(0, bytes(50))
    assert device.ask("DELETE", device.address()).status_code == 204
    assert not SentPicture.objects.exists()
    assert list((media / "sent").iterdir()) == []


def test_pieces_stay_while_they_come_and_go_a_day_after_the_last(device, media):
    device.begin(99)
    device.piece(0, bytes(50))
    assert clear_pictures(timedelta(days=-1)) == []
    SentPicture.objects.update(begun_at=timezone.now() - timedelta(hours=25))
    background.go_round(timezone.now())
    assert not SentPicture.objects.exists()
    assert list((media / "sent").iterdir()) == []


def test_the_server_says_what_it_speaks(cast, device):
    told = device.ask("OPTIONS", reverse("begin-sending", args=[cast.scheme.pk]))
    assert (told.status_code, told["Tus-Version"]) == (204, "1.0.0")
    assert told["Tus-Extension"] == "creation,termination"
