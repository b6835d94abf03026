"""Bring a table in: the one page of every table that is pasted or chosen as a file."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from criteria.errors import Refused
from criteria.typed.rows import Schedule
from criteria.units import System
from reviews.deeds.table_bringing import NotClean, Preview
from reviews.forms.bringing import BringInForm
from reviews.forms.fields import says
from reviews.models.briefs import Frozen
from reviews.pages.schedule_cells import heads_of
from reviews.surroundings import system_of
from reviews.versions import Newer

REFUSED = 409


def bring_in(
    request: HttpRequest,
    schedule: Schedule,
    *,
    read: Callable[[str, System], Preview],
    keep: Callable[[BringInForm], str],
    page: str,
    context: dict[str, Any],
    done: str,
    begun: str = "",
    form: BringInForm | None = None,
) -> HttpResponse:
    """Show the form of a table, look at what it holds, or keep it.

    read     looks at a text whose bare numbers are in a system; nothing is kept
    keep     keeps it, and says what was done
    page     template, which gets the context, the form, the preview and the columns
    done     address of what was kept
    begun    what the box holds before anything is sent
    form     where the table has a form of its own
    """
    form, preview, status = form or BringInForm.of(request, schedule, begun), None, 200
    is_read = form.is_valid()
    if is_read and form.how:
        try:
            messages.success(request, keep(form))
        except NotClean as unclean:
            preview = unclean.preview
        except Newer as newer:
            form.say_newer(newer.kept)
            status = REFUSED
        except Frozen as frozen:
            form.add_error(None, str(frozen))
        except Refused as refused:
            form.add_error("text", says(refused.read, refused.expected))
        else:
            return redirect(done)
    if is_read:
        preview = preview or read(form.table, form.units)
        form.show_again(preview)
    system = form.units if is_read else system_of(request)
    heads = heads_of(schedule, system)
    shown = {"form": form, "preview": preview, "schedule": schedule, "heads": heads}
    return render(request, page, context | shown, status=status)
