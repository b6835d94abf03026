"""Allow that later years are shown a package as an example: each student for themselves alone."""

from __future__ import annotations

from django.db import transaction

from reviews import clock
from reviews.models import Consent, Person, Scheme


@transaction.atomic
def allow_example(scheme: Scheme, by: Person, *, is_allowed: bool) -> bool:
    """Allow it, or end that; what stands so already is left. Returns whether it changed."""
    Scheme.objects.select_for_update().get(pk=scheme.pk)
    standing = Consent.objects.to_examples().filter(scheme=scheme, person=by)
    if standing.exists() == is_allowed:
        return False
    if is_allowed:
        kind = Consent.Kind.EXAMPLE
        Consent.objects.create(kind=kind, scheme=scheme, person=by, given_at=clock.now())
    else:
        standing.update(ended_at=clock.now())
    return True
