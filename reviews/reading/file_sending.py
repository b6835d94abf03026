"""Send a stored file: whole or a part of it, or handed to the web server or the store to send.

Django sends files whole. Parts are those of RFC 9110, section 14: one range of bytes, answered
with 206, or 416 where the file is shorter; several at once, or what can't be read, are passed over
and the whole is sent, as the standard allows.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import IO, Any
from urllib.parse import quote

from django.conf import settings
from django.db.models.fields.files import FieldFile
from django.http import FileResponse, HttpRequest, HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase, HttpResponseRedirect
from django.utils.cache import get_conditional_response, patch_vary_headers
from django.utils.http import content_disposition_header, http_date

IN_BROWSER_S = 3600
"""How long a browser may show again what never changes, unasked [s]."""
AT_ONCE = 64 * 1024
SIGNED_S = 60
"""How long an address signed for the store opens it [s]."""

X_ACCEL, X_SENDFILE, BY_STORE = "x-accel", "x-sendfile", "store"
INTERNAL = "/kept/"
"""Where a web server that is told by X-Accel-Redirect finds the files, for itself alone."""

_RANGE = re.compile(r"bytes=(\d{0,18})-(\d{0,18})")


@dataclass(frozen=True)
class Sent:
    """What is sent, in words of its head.

    tag        what tells it from any other, as an entity tag
    name       what a browser calls it where somebody keeps it
    is_fixed   whether its address will always be of the same bytes
    """

    tag: str
    changed_at: datetime
    kind: str
    name: str = ""
    is_fixed: bool = False
    is_attachment: bool = False

    @property
    def etag(self) -> str:
        """Its strong validator."""
        return f'"{self.tag}"'

    @property
    def _changed(self) -> int:
        return int(self.changed_at.timestamp())

    @property
    def disposition(self) -> str:
        """Whether it is shown or kept, and its name."""
        return content_disposition_header(self.is_attachment, self.name) or "inline"

    def unchanged(self, request: HttpRequest) -> HttpResponseBase | None:
        """The answer of no bytes to a browser that has it."""
        answer = get_conditional_response(request, etag=self.etag, last_modified=self._changed)
        is_known = answer is not None and answer.status_code == 304
        return self.headed(answer) if answer is not None and is_known else None

    def headed(self, answer: HttpResponseBase) -> HttpResponseBase:
        """The same answer, told what it is and who may store it."""
        answer["ETag"], answer["Last-Modified"] = self.etag, http_date(self._changed)
        # kept by the browser of whoever asked, and by no other: it asks with the same cookies
        kept = f"max-age={IN_BROWSER_S}" if self.is_fixed else "no-cache"
        answer["Cache-Control"] = f"private, {kept}"
        answer["X-Content-Type-Options"] = "nosniff"
        patch_vary_headers(answer, ["Cookie"])
        return answer

    def is_had_in_part(self, request: HttpRequest) -> bool:
        """Whether If-Range, where it is sent, names these very bytes."""
        named = request.headers.get("If-Range", "").strip()
        return not named or named in (self.etag, http_date(self._changed))


def send_file(request: HttpRequest, stored: FieldFile, sent: Sent) -> HttpResponseBase:
    """Answer with a stored file. Raises FileNotFoundError, or OSError where the store is away."""
    if (unchanged := sent.unchanged(request)) is not None:
        return unchanged
    if (handed := _handed_on(stored, sent)) is not None:
        return handed
    asked = request.headers.get("Range", "") if request.method == "GET" else ""
    if not (asked and sent.is_had_in_part(request)):
        return _whole(stored, sent)
    size = stored.storage.size(str(stored))
    span = part_asked(asked, size)
    if span is None:
        return _whole(stored, sent)
    begin, end = span
    if begin >= end:
        answer: HttpResponseBase = HttpResponse(status=416, content_type="text/plain")
        answer["Content-Range"] = f"bytes */{size}"
        return sent.headed(answer)
    file = opened_at(stored, begin, end - begin)
    answer = StreamingHttpResponse(_Part(file, end - begin), status=206, content_type=sent.kind)
    answer["Content-Range"] = f"bytes {begin}-{end - 1}/{size}"
    answer["Content-Length"] = str(end - begin)
    answer["Content-Disposition"] = sent.disposition
    answer["Accept-Ranges"] = "bytes"
    return sent.headed(answer)


def part_asked(text: str, size: int) -> tuple[int, int] | None:
    """Where a part begins and ends, of a file of so many bytes; empty where it lies behind its end.

    None where no part is asked for that could be read.

    >>> part_asked("bytes=0-99", 1000), part_asked("bytes=900-", 1000), part_asked("bytes=-10", 4)
    ((0, 100), (900, 1000), (0, 4))
    >>> part_asked("bytes=1000-", 1000), part_asked("bytes=-0", 9)
    ((1000, 1000), (9, 9))
    >>> part_asked("bytes=5-2", 9), part_asked("bytes=0-1,4-5", 9), part_asked("bytes=-", 9)
    (None, None, None)
    """
    found = _RANGE.fullmatch(text.strip())
    if found is None or not (found[1] or found[2]):
        return None
    if not found[1]:
        return max(0, size - int(found[2])), size
    begin = int(found[1])
    if found[2] and int(found[2]) < begin:
        return None
    end = min(int(found[2]) + 1, size) if found[2] else size
    return (begin, end) if begin < size else (size, size)


def opened_at(stored: FieldFile, begin: int, length: int) -> IO[bytes]:
    """A stored file, opened where a part of it begins; a store fetches that part alone."""
    storage: Any = stored.storage
    if hasattr(storage, "open_part"):
        return storage.open_part(str(stored), begin, length)  # type: ignore[no-any-return]
    file: IO[bytes] = storage.open(str(stored))
    file.seek(begin)
    return file


class _Part(Iterator[bytes]):
    """So many bytes of a file from where it stands; an answer closes it, begun or not."""

    def __init__(self, file: IO[bytes], length: int) -> None:
        self.file, self.left = file, length

    def __next__(self) -> bytes:
        read = self.file.read(min(AT_ONCE, self.left))
        if not read:
            raise StopIteration
        self.left -= len(read)
        return read

    def close(self) -> None:
        self.file.close()


def _whole(stored: FieldFile, sent: Sent) -> HttpResponseBase:
    file = stored.storage.open(str(stored))
    answer = FileResponse(file, content_type=sent.kind, filename=sent.name)
    answer["Content-Disposition"] = sent.disposition
    answer["Accept-Ranges"] = "bytes"
    return sent.headed(answer)


def _handed_on(stored: FieldFile, sent: Sent) -> HttpResponseBase | None:
    """The answer that lets the web server or the store send it, where that is configured."""
    by, name = settings.FILES_BY, str(stored)
    if by == BY_STORE and hasattr(stored.storage, "signed_address"):
        signed = stored.storage.signed_address(name, sent.kind, sent.disposition, SIGNED_S)
        redirect = HttpResponseRedirect(signed)
        redirect["Cache-Control"] = "private, no-store"
        return redirect
    if by not in (X_ACCEL, X_SENDFILE) or not hasattr(stored.storage, "base_location"):
        return None
    path = stored.storage.path(name)
    if not os.path.exists(path):
        raise FileNotFoundError(path)
    answer = HttpResponse(content_type=sent.kind)
    head = {X_ACCEL: ("X-Accel-Redirect", INTERNAL + quote(name)), X_SENDFILE: ("X-Sendfile", path)}
    header, value = head[by]
    answer[header] = value
    answer["Content-Disposition"] = sent.disposition
    return sent.headed(answer)
