"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def edit_sheets(request: HttpRequest, scheme_id: int) -> HttpResponse:
    raise NotImplementedError


def edit_sheet(request: HttpRequest, scheme_id: int, sheet_id: int) -> HttpResponse:
    raise NotImplementedError


def remove_sheet(request: HttpRequest, scheme_id: int, sheet_id: int) -> HttpResponse:
    raise NotImplementedError


def send_sheet_image(
    request: HttpRequest, scheme_id: int, sheet_id: int, size: str
) -> HttpResponse:
    raise NotImplementedError
