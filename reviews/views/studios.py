"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def open_studio(request: HttpRequest) -> HttpResponse:
    raise NotImplementedError


def show_studio(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def edit_studio(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError
