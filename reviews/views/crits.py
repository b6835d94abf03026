"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def open_crit(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError


def show_crit(request: HttpRequest, crit_id: int) -> HttpResponse:
    raise NotImplementedError


def edit_crit(request: HttpRequest, crit_id: int) -> HttpResponse:
    raise NotImplementedError


def edit_criteria(request: HttpRequest, crit_id: int) -> HttpResponse:
    raise NotImplementedError


def start_criteria(request: HttpRequest, crit_id: int) -> HttpResponse:
    raise NotImplementedError


def edit_jurors(request: HttpRequest, crit_id: int) -> HttpResponse:
    raise NotImplementedError


def bring_in_jurors(request: HttpRequest, crit_id: int) -> HttpResponse:
    raise NotImplementedError


def print_links(request: HttpRequest, crit_id: int) -> HttpResponse:
    raise NotImplementedError


def renew_code(request: HttpRequest, crit_id: int, seat_id: int) -> HttpResponse:
    raise NotImplementedError


def edit_order(request: HttpRequest, crit_id: int) -> HttpResponse:
    raise NotImplementedError
