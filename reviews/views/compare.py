"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def compare_cohorts(request: HttpRequest, studio_id: int) -> HttpResponse:
    raise NotImplementedError
