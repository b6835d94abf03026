"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def show_schedule(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    raise NotImplementedError


def add_row(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    raise NotImplementedError


def save_row(request: HttpRequest, scheme_id: int, slug: str, row_id: int) -> HttpResponse:
    raise NotImplementedError


def remove_row(request: HttpRequest, scheme_id: int, slug: str, row_id: int) -> HttpResponse:
    raise NotImplementedError


def undo_change(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    raise NotImplementedError


def paste_rows(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    raise NotImplementedError


def export_schedule(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    raise NotImplementedError
