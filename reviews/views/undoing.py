"""Undo the last change of what a page shows: one way for all that is kept by its changes."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages

from reviews.access import HttpRequest
from reviews.forms.fields import number_in
from reviews.models import Change
from reviews.models.briefs import Frozen
from reviews.versions import Newer


def is_undone(request: HttpRequest, undo: Callable[[int], Change], name: str) -> bool:
    """Undo the change that the page named, and say so; one that another followed stays.

    undo   takes the number of the change
    name   of what was changed, in words
    """
    try:
        change = undo(number_in(request.POST.get("change", "")))
    except (Newer, Change.DoesNotExist):
        messages.error(
            request,
            f"The {name} was changed meanwhile. Nothing was undone; the last change is named "
            "below.",
        )
    except Frozen as frozen:
        messages.error(request, str(frozen))
    else:
        messages.success(request, f"Undone: {change.what}.")
        return True
    return False
