"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def show_brief(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def edit_brief(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def edit_site(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def edit_hand_in(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def issue_brief(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def add_addendum(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError
