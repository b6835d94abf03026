"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def show_results(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    raise NotImplementedError


def answer_comment(request: HttpRequest, comment_id: int) -> HttpResponse:
    raise NotImplementedError
