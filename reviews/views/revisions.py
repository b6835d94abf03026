"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def show_revision(request: HttpRequest, revision_id: int) -> HttpResponse:
    raise NotImplementedError


def show_issued_checks(request: HttpRequest, revision_id: int) -> HttpResponse:
    raise NotImplementedError


def show_issued_check(request: HttpRequest, revision_id: int, key: str) -> HttpResponse:
    raise NotImplementedError


def show_issued_schedule(request: HttpRequest, revision_id: int, slug: str) -> HttpResponse:
    raise NotImplementedError


def show_issued_sheet(request: HttpRequest, revision_id: int, number: str) -> HttpResponse:
    raise NotImplementedError


def send_issued_sheet_image(
    request: HttpRequest, revision_id: int, number: str, size: str
) -> HttpResponse:
    raise NotImplementedError
