"""Send a sheet's picture to whoever may see it: private, and asked for again each time."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.utils.cache import get_conditional_response, patch_vary_headers
from django.utils.http import content_disposition_header, http_date

from reviews.models import SheetFile

FULL, PREVIEW = "full", "preview"

MISSING = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 420 297" role="img">
<title>The file is missing</title>
<rect width="420" height="297" fill="#fff" stroke="#000" stroke-dasharray="6 4"/>
<g font-family="sans-serif" font-size="20" text-anchor="middle">
<text x="210" y="135">The file is missing.</text>
<text x="210" y="175">Hang the same picture again.</text>
</g></svg>"""
"""Stands where a picture would, and says what mends it."""


def send_picture(request: HttpRequest, file: SheetFile, size: str, name: str) -> HttpResponse:
    """Answer with a picture, or 304 where the browser has it. The caller has asked who looks."""
    if size not in (FULL, PREVIEW):
        raise Http404(f"No picture of size {size}.")
    tag, changed = f'"{file.sha256}-{size}"', int(file.kept_at.timestamp())
    unchanged = get_conditional_response(request, etag=tag, last_modified=changed)
    if unchanged is not None and unchanged.status_code == 304:
        return _private(unchanged, tag, changed)
    stored = file.image if size == FULL else file.preview
    try:
        with stored.open("rb") as picture:
            answer = HttpResponse(picture.read(), content_type="image/jpeg")
    except FileNotFoundError:
        missing = HttpResponse(MISSING, content_type="image/svg+xml", status=404)
        missing["Cache-Control"] = "no-store"
        return missing
    shown = content_disposition_header(as_attachment=False, filename=f"{name}.jpg")
    answer["Content-Disposition"] = shown or "inline"
    return _private(answer, tag, changed)


def _private(answer: HttpResponse, tag: str, changed: int) -> HttpResponse:
    answer["ETag"], answer["Last-Modified"] = tag, http_date(changed)
    # kept by the browser, yet asked for each time: who may look can change
    answer["Cache-Control"] = "private, no-cache"
    answer["X-Content-Type-Options"] = "nosniff"
    patch_vary_headers(answer, ["Cookie"])
    return answer
