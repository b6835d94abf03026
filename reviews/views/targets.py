"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def edit_targets(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def paste_targets(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def add_published_set(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def save_target(request: HttpRequest, studio_id: int, line_id: int) -> HttpResponse:
    raise NotImplementedError


def remove_target(request: HttpRequest, studio_id: int, line_id: int) -> HttpResponse:
    raise NotImplementedError


def export_targets(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError
