"""Send a sheet's picture to whoever may see it: private, and asked for again each time."""

from __future__ import annotations

import logging

from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.utils.cache import get_conditional_response, patch_vary_headers
from django.utils.http import http_date

from reviews.models import SheetFile

FULL, PREVIEW, SMALL = "full", "preview", "small"

IN_PLACE = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 420 297" role="img">
<title>{said}</title>
<rect width="420" height="297" fill="#fff" stroke="#000" stroke-dasharray="6 4"/>
<g font-family="sans-serif" font-size="20" text-anchor="middle">
<text x="210" y="135">{said}.</text>
<text x="210" y="175">{mended_by}.</text>
</g></svg>"""
"""Stands where a picture would, and says what mends it."""

LOG = logging.getLogger(__name__)


def send_picture(request: HttpRequest, file: SheetFile, size: str, name: str) -> HttpResponseBase:
    """Answer with a picture, or 304 where the browser has it. The caller has asked who looks."""
    kept = {FULL: file.image, PREVIEW: file.preview, SMALL: file.small or file.preview}
    if size not in kept:
        raise Http404(f"No picture of size {size}.")
    tag, changed = f'"{file.sha256}-{size}"', int(file.kept_at.timestamp())
    unchanged = get_conditional_response(request, etag=tag, last_modified=changed)
    if unchanged is not None and unchanged.status_code == 304:
        return _private(unchanged, tag, changed)
    stored = kept[size]
    try:
        picture = stored.storage.open(str(stored))
    except FileNotFoundError:
        return _in_place(404, "The file is missing", "Hang the same picture again")
    except OSError as error:
        LOG.error("Sending a picture: %s", error)
        return _in_place(503, "The store doesn’t answer", "Look again in a minute")
    kind = "webp" if str(stored).endswith(".webp") else "jpeg"
    shown = f"{name}.{kind.replace('jpeg', 'jpg')}"
    answer = FileResponse(picture, content_type=f"image/{kind}", filename=shown)
    return _private(answer, tag, changed)


def _in_place(status: int, said: str, mended_by: str) -> HttpResponse:
    """Answer in words, drawn where the picture would be."""
    drawn = IN_PLACE.format(said=said, mended_by=mended_by)
    answer = HttpResponse(drawn, content_type="image/svg+xml", status=status)
    answer["Cache-Control"] = "no-store"
    return answer


def _private(answer: HttpResponseBase, tag: str, changed: int) -> HttpResponseBase:
    answer["ETag"], answer["Last-Modified"] = tag, http_date(changed)
    # kept by the browser, yet asked for each time: who may look can change
    answer["Cache-Control"] = "private, no-cache"
    answer["X-Content-Type-Options"] = "nosniff"
    patch_vary_headers(answer, ["Cookie"])
    return answer
