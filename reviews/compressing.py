"""Pages are sent compressed, with what is secret in them hidden from whoever measures lengths."""

from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.middleware.gzip import GZipMiddleware


class TextCompression(GZipMiddleware):
    """Compresses text alone: pictures are compressed already.

    A page that repeats what is asked beside a secret would tell it by its length (BREACH). So
    Django pads each answer by a random length, and masks a form's token anew in each.
    """

    def process_response(
        self, request: HttpRequest, response: HttpResponseBase
    ) -> HttpResponseBase:
        """Return the answer, compressed where it is text and the browser takes it."""
        if not response.get("Content-Type", "").startswith("text/"):
            return response
        return super().process_response(request, response)
