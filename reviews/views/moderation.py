"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def show_table(request: HttpRequest, crit_id: int) -> HttpResponse:
    raise NotImplementedError


def export_table(request: HttpRequest, crit_id: int) -> HttpResponse:
    raise NotImplementedError


def moderate_scheme(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    raise NotImplementedError


def reopen_sheet(request: HttpRequest, sheet_id: int) -> HttpResponse:
    raise NotImplementedError


def hold_comment(request: HttpRequest, comment_id: int) -> HttpResponse:
    raise NotImplementedError


def let_go_comment(request: HttpRequest, comment_id: int) -> HttpResponse:
    raise NotImplementedError


def release_crit(request: HttpRequest, crit_id: int) -> HttpResponse:
    raise NotImplementedError
