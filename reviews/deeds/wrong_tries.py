"""Count what was tried and was wrong, by the address it came from; slow whoever goes on."""

from __future__ import annotations

from axes.models import AccessAttempt
from django.db.models import F, Sum
from django.http import HttpRequest
from django.utils import timezone

from reviews.deeds.signing_in import REMEMBERED, UNKNOWN, client_address


def too_many(request: HttpRequest, tried_as: str, most: int) -> bool:
    """Whether so many were wrong from an address that it has to wait a quarter of an hour.

    tried_as   under what name they are counted, beside the accounts that are tried
    """
    whence = client_address(request)
    wrong = AccessAttempt.objects.filter(
        username=tried_as, ip_address=whence, attempt_time__gte=timezone.now() - REMEMBERED
    ).aggregate(n=Sum("failures_since_start"))["n"]
    return whence != UNKNOWN and (wrong or 0) >= most


def keep_wrong(request: HttpRequest, tried_as: str) -> None:
    """Count one that was wrong."""
    tried = AccessAttempt.objects.filter(username=tried_as, ip_address=client_address(request))
    tried.filter(attempt_time__lt=timezone.now() - REMEMBERED).delete()
    if not tried.update(failures_since_start=F("failures_since_start") + 1):
        AccessAttempt.objects.get_or_create(
            username=tried_as,
            ip_address=client_address(request),
            user_agent="",
            defaults={"failures_since_start": 1, "path_info": request.path},
        )
