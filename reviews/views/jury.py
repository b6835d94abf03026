"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def enter_jury(request: HttpRequest, code: str) -> HttpResponse:
    raise NotImplementedError


def show_jury(request: HttpRequest) -> HttpResponse:
    raise NotImplementedError


def show_jury_brief(request: HttpRequest) -> HttpResponse:
    raise NotImplementedError


def leave_jury(request: HttpRequest) -> HttpResponse:
    raise NotImplementedError


def show_jury_sheet(request: HttpRequest, scheme_id: int) -> HttpResponse:
    raise NotImplementedError


def keep_impression(request: HttpRequest, scheme_id: int) -> HttpResponse:
    raise NotImplementedError


def keep_level(request: HttpRequest, scheme_id: int, criterion_id: int) -> HttpResponse:
    raise NotImplementedError


def keep_comment(request: HttpRequest, scheme_id: int) -> HttpResponse:
    raise NotImplementedError


def remove_comment(request: HttpRequest, scheme_id: int, key: object) -> HttpResponse:
    raise NotImplementedError


def lock_sheet(request: HttpRequest, scheme_id: int) -> HttpResponse:
    raise NotImplementedError


def step_aside(request: HttpRequest, scheme_id: int) -> HttpResponse:
    raise NotImplementedError
