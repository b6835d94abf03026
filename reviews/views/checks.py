"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def show_checks(request: HttpRequest, scheme_id: int) -> HttpResponse:
    raise NotImplementedError


def show_check(request: HttpRequest, scheme_id: int, key: str) -> HttpResponse:
    raise NotImplementedError


def show_questions(request: HttpRequest, scheme_id: int) -> HttpResponse:
    raise NotImplementedError
