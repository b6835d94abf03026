"""The site beside the least that a site could do: a page, and a write of one row.

Both go through the site's own server, middleware and database, and know who asks.
"""

from django.contrib.auth.decorators import login_not_required
from django.db import transaction
from django.db.models import F
from django.http import HttpRequest, HttpResponse
from django.urls import path

from reviews.access import SEAT_KEY
from reviews.models import Row
from reviews.urls import handler400, handler500
from reviews.urls import urlpatterns as own

__all__ = ["handler400", "handler500", "urlpatterns"]


def _is_known(request: HttpRequest) -> bool:
    return request.user.is_authenticated or SEAT_KEY in request.session


@login_not_required
def show_bare(request: HttpRequest) -> HttpResponse:
    return HttpResponse("A page.", status=200 if _is_known(request) else 403)


@login_not_required
def keep_bare(request: HttpRequest, row: int) -> HttpResponse:
    with transaction.atomic():
        kept = Row.objects.filter(pk=row).update(version=F("version") + 1)
    return HttpResponse("Kept.", status=200 if _is_known(request) and kept else 403)


urlpatterns = [*own, path("bare/", show_bare), path("bare/<int:row>/", keep_bare)]
