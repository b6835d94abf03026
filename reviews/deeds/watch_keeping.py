"""Keep what each process counted of its pages: added to what others counted, for a fortnight."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import F
from django.db.models.functions import Greatest

from reviews import watch
from reviews.models import Tally

KEPT = timedelta(days=14)


def keep_counts() -> None:
    """Add what was counted since the last time; what can't be kept is counted on."""
    taken = watch.take()
    try:
        with transaction.atomic():
            for (hour, view, what), counted in sorted(taken.items()):
                tally, _ = Tally.objects.get_or_create(hour=hour, view=view, what=what)
                Tally.objects.filter(pk=tally.pk).update(
                    times=F("times") + counted.times,
                    most_ms=Greatest(F("most_ms"), counted.most_ms),
                )
    except BaseException:
        watch.give_back(taken)
        raise


def tidy(at: datetime) -> None:
    """Let go of what is older than anybody looks at."""
    Tally.objects.filter(hour__lt=at - KEPT).delete()
