"""Files sent in parts, kept by browsers, handed to the web server, and never to whoever may not."""

from hashlib import sha256
from pathlib import Path

import pytest
from django.core.files.base import ContentFile
from django.urls import reverse

from reviews.models import Original, SheetFile
from reviews.tiles import TilePack
from tests import factories
from tests.test_access import put_away

pytestmark = pytest.mark.django_db
BYTES = bytes(range(200))


@pytest.fixture
def sheet(cast, settings, tmp_path):
    """A sheet with the file that it came from, in tiles of which each says its place."""
    settings.MEDIA_ROOT = tmp_path
    original = Original(sha256=sha256(BYTES).hexdigest(), bytes=len(BYTES))
    original.file.save("sent", ContentFile(BYTES))
    sheet = factories.SheetFactory(
        package=cast.scheme.package,
        original=original,
        original_name="Plan A–A\r\n.pdf",
        changed_by=cast.student,
    )
    SheetFile.objects.filter(pk=sheet.file_id).update(width=1200, height=700)
    sheet.file.refresh_from_db()
    sheet.file.tiles.save("tiles", ContentFile(packed()))
    return sheet


def packed(end: bytes = b"") -> bytes:
    """A pack of a picture of 1,200 × 700 px whose tiles say where they lie."""
    pack = TilePack(1200, 700)
    said = [b"\xff\xd8" + f"{t.level}/{t.column}-{t.row}".encode() + end for t in pack]
    return pack.head(map(len, said)) + b"".join(said)


@pytest.fixture
def get(cast, sheet):
    """Ask for the file as it was sent, with some headers."""
    address = reverse("sheet-original", args=[cast.scheme.pk, sheet.pk])
    client = cast.client(cast.student)

    def ask(method="get", **headers):
        answer = getattr(client, method)(address, headers=headers)
        answer.body = answer.getvalue()
        put_away(answer)
        return answer

    return ask


def test_a_file_as_sent_is_kept_by_whoever_asks_and_never_shown(get):
    answer = get()
    assert (answer.status_code, answer.body) == (200, BYTES)
    assert answer["Content-Type"] == "application/octet-stream"
    assert answer["Content-Disposition"].startswith("attachment; filename")
    assert "\r" not in answer["Content-Disposition"]
    assert (answer["X-Content-Type-Options"], answer["Accept-Ranges"]) == ("nosniff", "bytes")
    assert answer["Cache-Control"] == "private, no-cache"


@pytest.mark.parametrize(
    ("asked", "begin", "end"),
    [
        ("bytes=0-9", 0, 10),
        ("bytes=190-999", 190, 200),
        ("bytes=50-", 50, 200),
        ("bytes=-7", 193, 200),
    ],
)
def test_one_part_is_sent_as_it_is_asked_for(get, asked, begin, end):
    answer = get(Range=asked)
    assert (answer.status_code, answer.body) == (206, BYTES[begin:end])
    assert answer["Content-Range"] == f"bytes {begin}-{end - 1}/200"
    assert answer["Content-Length"] == str(end - begin)


@pytest.mark.parametrize("asked", ["bytes=200-", "bytes=900-901", "bytes=-0"])
def test_a_part_behind_the_end_is_said_to_be_none(get, asked):
    answer = get(Range=asked)
    assert (answer.status_code, answer["Content-Range"]) == (416, "bytes */200")


@pytest.mark.parametrize(
    "asked", ["bytes=0-1,5-6", "bytes=9-2", "lines=1-2", "bytes=x-", "bytes=-"]
)
def test_what_cannot_be_read_as_one_part_gets_the_whole(get, asked):
    assert get(Range=asked).body == BYTES


def test_a_part_is_sent_only_of_the_very_file_that_somebody_has_begun_with(get):
    whole = get()
    for named in (whole["ETag"], whole["Last-Modified"]):
        assert get(Range="bytes=0-1", If_Range=named).status_code == 206
    for named in ('"another"', "Thu, 01 Jan 1970 00:00:00 GMT", "W/" + whole["ETag"]):
        assert get(Range="bytes=0-1", If_Range=named).status_code == 200
    assert get(If_None_Match=whole["ETag"]).status_code == 304
    assert get("head", Range="bytes=0-1").status_code == 200


def test_a_tile_is_one_part_of_the_pack(cast, sheet, monkeypatch):
    client = cast.client(cast.student)

    def tile(*place):
        return client.get(reverse("sheet-tile", args=[cast.scheme.pk, sheet.pk, *place]))

    assert tile(0, 2, 1).content == b"\xff\xd80/2-1"
    monkeypatch.setattr("reviews.tiles.TilePack.read", None)  # never the whole pack
    answer = tile(1, 1, 0)
    assert (answer.content, answer["Content-Type"]) == (b"\xff\xd81/1-0", "image/jpeg")
    assert "private" in answer["Cache-Control"]
    for nowhere in ((0, 3, 0), (3, 0, 0), (0, 0, 2)):
        assert tile(*nowhere).status_code == 404
    # lost, and made again by a newer library under the same name
    Path(sheet.file.tiles.path).write_bytes(packed(b" anew"))
    assert tile(1, 1, 0).content == b"\xff\xd81/1-0 anew"


def test_the_web_server_sends_what_the_site_allows(cast, sheet, get, settings):
    settings.FILES_BY = "x-accel"
    answer = get()
    assert (answer["X-Accel-Redirect"], answer.body) == (f"/kept/{sheet.original.file}", b"")
    assert answer["Content-Disposition"].startswith("attachment")
    settings.FILES_BY = "x-sendfile"
    assert get()["X-Sendfile"] == sheet.original.file.path
    address = reverse("sheet-original", args=[cast.scheme.pk, sheet.pk])
    refused = cast.client(cast.coordinator).get(address)
    assert refused.status_code == 403
    assert not {"X-Sendfile", "X-Accel-Redirect"} & {*refused.headers}


def test_a_file_that_is_gone_is_not_handed_on(sheet, get, settings):
    sheet.original.file.delete(save=False)
    assert get().status_code == 404
    settings.FILES_BY = "x-accel"
    assert get().status_code == 404
