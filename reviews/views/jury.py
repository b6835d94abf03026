"""The jury's pages: no account, one personal link, everything kept as it is set."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial, wraps
from typing import Any
from uuid import UUID, uuid4

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.db.models import prefetch_related_objects
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from reviews import access, access_day
from reviews.access import HttpRequest
from reviews.deeds import (
    audit_keeping,
    crit_jury_keeping,
    crit_seating,
    crit_sheet_in_hand,
)
from reviews.forms.jury import (
    CodeForm,
    ImpressionForm,
    Judged,
    LevelForm,
    comment_form,
)
from reviews.forms.jury_day import phrase_form, private_note_form
from reviews.models import Comment, JurySheet, Seat, Slot
from reviews.models.briefs import Frozen
from reviews.pages import jury_lines, jury_order, jury_pages
from reviews.pages.before_after import OpenComment, for_juror
from reviews.pages.brief_page import target_entries
from reviews.pages.crit_today import today_of
from reviews.pages.jury_frame import jury_frame
from reviews.pages.jury_lines import CommentLine, Trouble, level_id
from reviews.pages.page_frame import frame
from reviews.places import COLUMNS, ROWS
from reviews.reading.adjustments import effects_of
from reviews.surroundings import system_of
from reviews.versions import Newer
from reviews.views.fetching import require_form
from reviews.views.spoken_section import spoken_of

KEPT, REFUSED, SLOWED = 200, 409, 429


def for_jurors(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Give a view the juror's seat; whoever has none is told how to open one."""

    @login_not_required
    @wraps(view)
    def seated(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if request.viewer.seat is None:
            return _no_link(request)
        if request.viewer.person:
            audit_keeping.enter(request.viewer.seat, request.viewer.person)
        return view(request, request.viewer.seat, *args, **kwargs)

    return seated


def _no_link(request: HttpRequest) -> HttpResponse:
    return render(request, "jury/no_link.html", jury_frame(request), status=404)


def slot_of(seat: Seat, scheme_id: int) -> Slot:
    slots = access.seen_slots(seat).select_related("scheme")
    return get_object_or_404(slots, scheme_id=scheme_id)


@login_not_required
@require_safe
def enter_jury(request: HttpRequest, code: str) -> HttpResponse:
    seat = access.seat_behind(code)
    if seat is None:
        return _no_link(request)
    return _enter(request, seat)


@login_not_required
@require_form
def enter_code(request: HttpRequest) -> HttpResponse:
    form = CodeForm(request, request.POST or None)
    if request.method == "POST" and form.is_valid() and form.seat:
        return _enter(request, form.seat)
    status = SLOWED if form.is_slowed else KEPT
    return render(request, "jury/enter_code.html", frame(request) | {"form": form}, status=status)


def _enter(request: HttpRequest, seat: Seat) -> HttpResponse:
    crit_seating.open_link(seat, request.viewer.person)
    request.session[access.SEAT_KEY] = [seat.pk, seat.code]
    request.session.cycle_key()
    return redirect("show-jury")


@for_jurors
@require_safe
def show_jury(request: HttpRequest, seat: Seat) -> HttpResponse:
    rooms = jury_order.running_order(seat)
    context = {
        "rooms": rooms,
        "today": today_of(seat.crit, room=seat.room, unlocked=jury_order.to_lock(rooms)),
        "has_offers": access_day.offers_to(seat).open().exists(),
        "asides": seat.interests.standing().away().select_related("scheme"),
    }
    return render(request, "jury/show_jury.html", context | jury_frame(request, page="order"))


@for_jurors
@require_safe
def show_jury_brief(request: HttpRequest, seat: Seat) -> HttpResponse:
    brief = seat.crit.studio.brief
    context = {
        "brief": brief,
        "targets": target_entries(brief, system_of(request)),
        "criteria": seat.crit.criteria.all(),
    }
    return render(request, "jury/show_jury_brief.html", context | jury_frame(request, page="brief"))


@for_jurors
@require_POST
def leave_jury(request: HttpRequest, seat: Seat) -> HttpResponse:
    del request.session[access.SEAT_KEY]
    messages.info(request, "The link is closed on this device. It opens again from the paper.")
    return redirect("sign-in")


@for_jurors
@require_safe
def show_jury_sheet(request: HttpRequest, seat: Seat, scheme_id: int) -> HttpResponse:
    return show_sheet(request, seat, scheme_id)


def show_sheet(
    request: HttpRequest,
    seat: Seat,
    scheme_id: int,
    *,
    troubles: dict[str, Trouble] | None = None,
    comment: CommentLine | None = None,
    note: jury_pages.NoteLine | None = None,
    look: OpenComment | None = None,
    status: int = KEPT,
) -> HttpResponse:
    """The whole sheet; a refused save stands in its line with everything that was sent."""
    prefetch_related_objects([seat], "crit__criteria", "interests")
    order = jury_order.in_order(seat)
    slot = next((slot for slot in order if slot.scheme_id == scheme_id), None)
    if slot is None:
        raise Http404
    is_open = access.can_judge(request.viewer, slot)
    page = jury_pages.jury_page(
        seat, order, slot, system_of(request), is_open=is_open, troubles=troubles or {}
    )
    if page.shows_others:
        audit_keeping.read_levels(seat.crit, request.viewer.person, slot.scheme, link_of=seat)

    criteria = seat.crit.criteria.all()

    def comments() -> list[CommentLine]:
        lines = [_with_form(line, criteria, page.of) for line in page.comments]
        if comment is None:
            return lines
        return [line for line in lines if line.id != comment.id] + [comment]

    context = {
        "page": page,
        "fingerprint": "" if comment else page.fingerprint,
        "comments": comments,
        "effects": effects_of(seat.crit, [slot]).get(slot.pk, []),
        "new_key": uuid4(),
        "blank": partial(_blank_line, criteria, page.of),
        "kinds": Comment.Kind.values,
        "rows": ROWS,
        "columns": COLUMNS,
        "note": note or jury_pages.NoteLine(page.note, private_note_form(page.note)),
        "phrases": seat.phrases.all(),
        "phrase_form": phrase_form(),
    }
    said = [line.comment for line in page.comments]
    context |= spoken_of(request, seat, slot, page.of, said=said, hung=page.pictured)
    if seat.crit.follows_id:
        again = for_juror(seat, slot.scheme, page.revision, system_of(request))
        context["again"] = again.with_line(look) if look else again
    frame = jury_frame(request, slot=slot, revision=page.revision)
    return render(request, "jury/show_jury_sheet.html", context | frame, status=status)


def _with_form(line: CommentLine, criteria: Any, of: int) -> CommentLine:
    return replace(line, form=comment_form(line.comment, criteria, of)) if line.is_open else line


def _blank_line(criteria: Any, of: int) -> CommentLine:
    """The line that a device fills in for a comment which the site doesn't know of yet."""
    blank = Comment(key=UUID(int=0), version=0)
    return CommentLine(blank, is_open=True, form=comment_form(blank, criteria, of))


def _answer_line(
    request: HttpRequest,
    seat: Seat,
    slot: Slot,
    sheet: JurySheet | None,
    line: jury_lines.Line,
    status: int,
) -> HttpResponse:
    """One line for a device that asked for it; else the page, or the way back to it."""
    if request.htmx:
        owed = jury_pages.still_owed(seat, slot.scheme, sheet)
        context = {"line": line, "is_open": not line.is_closed, "owed": owed}
        return render(request, "jury/_level_kept.html", context, status=status)
    if line.trouble:
        return show_sheet(
            request, seat, slot.scheme_id, troubles={line.id: line.trouble}, status=status
        )
    return redirect(reverse("show-jury-sheet", args=[slot.scheme_id]) + f"#{line.id}")


def of_page(form: Judged, seat: Seat, scheme_id: int) -> int:
    """The key of the revision that a page showed; where it says none, of the sheet's own."""
    form.is_valid()
    of = form.cleaned_data.get("of")
    if of is None and (sheet := seat.sheets.on(scheme_id)):
        of = sheet.revision_id
    return of or crit_sheet_in_hand.NOTHING_SHOWN


def _keep(form: ImpressionForm | LevelForm, keep: Callable[..., Any]) -> tuple[int, Trouble | None]:
    """Keep one level; return the status to answer with, and why it was refused if it was."""
    if not form.is_valid():
        return KEPT, Trouble(form.errors_in_words)
    sent = form.cleaned_data["level"]
    try:
        keep(sent, form.cleaned_data["seen"], **form.where_and_when)
    except (Newer, Frozen) as refusal:
        return REFUSED, jury_lines.trouble_of(refusal, jury_lines.say_level(sent))
    return KEPT, None


@for_jurors
@require_POST
def keep_impression(request: HttpRequest, seat: Seat, scheme_id: int) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    keep = partial(crit_jury_keeping.keep_impression, seat, slot.scheme)
    form = ImpressionForm(request.POST)
    status, trouble = _keep(form, keep)
    sheet = seat.sheets.on(scheme_id)
    line = jury_lines.impression_line(scheme_id, sheet, of_page(form, seat, scheme_id), trouble)
    return _answer_line(request, seat, slot, sheet, line, status)


@for_jurors
@require_POST
def keep_level(request: HttpRequest, seat: Seat, scheme_id: int, criterion_id: int) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    criterion = get_object_or_404(seat.crit.criteria, pk=criterion_id)
    keep = partial(crit_jury_keeping.keep_level, seat, slot.scheme, criterion)
    form = LevelForm(request.POST)
    status, trouble = _keep(form, keep)
    sheet = seat.sheets.with_levels().on(scheme_id)
    held = sheet.given_for(criterion) if sheet else None
    line = jury_lines.level_line(
        scheme_id, criterion, held, of_page(form, seat, scheme_id), trouble
    )
    return _answer_line(request, seat, slot, sheet, line, status)


@for_jurors
@require_POST
def lock_sheet(request: HttpRequest, seat: Seat, scheme_id: int) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    try:
        crit_jury_keeping.lock_sheet(seat, slot.scheme)
    except crit_jury_keeping.Unfinished as unfinished:
        troubles = {
            level_id(criterion): Trouble("Set a level, or leave it as not mine, before locking.")
            for criterion in unfinished.missing
        }
        return show_sheet(request, seat, slot.scheme_id, troubles=troubles)
    except Frozen as closed:
        messages.warning(request, str(closed))
    return redirect(reverse("show-jury-sheet", args=[scheme_id]) + "#locked")
