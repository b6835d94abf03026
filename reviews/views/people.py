"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def show_people(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def bring_in_people(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def make_link(request: HttpRequest, studio_id: int, membership_id: int) -> HttpResponse:
    raise NotImplementedError


def remove_member(request: HttpRequest, studio_id: int, membership_id: int) -> HttpResponse:
    raise NotImplementedError
