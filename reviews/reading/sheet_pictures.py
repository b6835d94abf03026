"""Send a sheet's picture to whoever may see it: private, and asked for again each time."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.utils.cache import get_conditional_response, patch_vary_headers
from django.utils.http import content_disposition_header, http_date

from reviews.models import SheetFile

FULL, PREVIEW = "full", "preview"


def send_picture(request: HttpRequest, file: SheetFile, size: str, name: str) -> HttpResponse:
    """Answer with a picture, or 304 where the browser has it. The caller has asked who looks."""
    if size not in (FULL, PREVIEW):
        raise Http404(f"No picture of size {size}.")
    tag, changed = f'"{file.sha256}-{size}"', int(file.kept_at.timestamp())
    unchanged = get_conditional_response(request, etag=tag, last_modified=changed)
    if unchanged is not None and unchanged.status_code == 304:
        return _private(unchanged, tag, changed)
    stored = file.image if size == FULL else file.preview
    with stored.open("rb") as picture:
        answer = HttpResponse(picture.read(), content_type="image/jpeg")
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
