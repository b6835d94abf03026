"""Pages are sent compressed, with what is secret in them hidden from whoever measures lengths."""

import re
import secrets

import brotli
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.middleware.gzip import GZipMiddleware
from django.utils.cache import patch_vary_headers

SHORTEST = 200
"""A page of fewer bytes goes as it is."""

QUALITY = 3
"""Of Brotli: pages come out a tenth smaller than by gzip, in a third of its time."""

PADDED_BY = 100
"""Most bytes by which the same page differs in length, as Django's own compression has it."""

_ACCEPTS_BROTLI = re.compile(r"\bbr\b(?!\s*;\s*q=0(\.0*)?\s*(,|$))")


class TextCompression(GZipMiddleware):
    """Compresses text alone: pictures are compressed already.

    A page that repeats what is asked beside a secret would tell it by its length (BREACH). So
    each answer is padded by a random length, a whole page by a remark at its end, and a form's
    token is masked anew in each. Browsers take Brotli (RFC 7932) where the way is encrypted.
    """

    def process_response(
        self, request: HttpRequest, response: HttpResponseBase
    ) -> HttpResponseBase:
        """Return the answer, compressed where it is text and the browser takes it."""
        kind = response.get("Content-Type", "")
        if not kind.startswith("text/"):
            return response
        if kind.startswith("text/html") and isinstance(response, HttpResponse):
            accepts = request.headers.get("Accept-Encoding", "")
            is_part = request.headers.get("HX-Request") is not None
            if not is_part and _ACCEPTS_BROTLI.search(accepts):
                return _by_brotli(response)
        return super().process_response(request, response)


def _by_brotli(response: HttpResponse) -> HttpResponse:
    if len(response.content) < SHORTEST or response.has_header("Content-Encoding"):
        return response
    patch_vary_headers(response, ("Accept-Encoding",))
    padding = secrets.token_hex(PADDED_BY // 2)[: secrets.randbelow(PADDED_BY) + 1]
    page = response.content + f"<!--{padding}-->".encode()
    response.content = brotli.compress(page, mode=brotli.MODE_TEXT, quality=QUALITY)
    response.headers["Content-Length"] = str(len(response.content))
    response.headers["Content-Encoding"] = "br"
    if tag := response.get("ETag", ""):
        response.headers["ETag"] = tag if tag.startswith("W/") else f"W/{tag}"
    return response
