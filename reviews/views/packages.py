"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def show_package(request: HttpRequest, scheme_id: int) -> HttpResponse:
    raise NotImplementedError


def save_statement(request: HttpRequest, scheme_id: int) -> HttpResponse:
    raise NotImplementedError


def issue_package(request: HttpRequest, scheme_id: int) -> HttpResponse:
    raise NotImplementedError
