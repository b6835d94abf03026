"""A juror's own words: comments on the sheets, a private note, phrases used again and again."""

from __future__ import annotations

from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from criteria.errors import Refused
from reviews.access import HttpRequest
from reviews.deeds import crit_jury_keeping, juror_own_words
from reviews.forms.jury import CommentForm, RemoveCommentForm, comment_form
from reviews.forms.jury_day import PhraseForm, PrivateNoteForm, phrase_form, private_note_form
from reviews.models import Comment, Seat, Slot
from reviews.models.briefs import Frozen
from reviews.pages import jury_lines, jury_pages
from reviews.pages.jury_frame import jury_frame
from reviews.pages.jury_lines import CommentLine, Trouble
from reviews.versions import Newer
from reviews.views.jury import KEPT, REFUSED, for_jurors, of_page, show_sheet, slot_of


@for_jurors
@require_POST
def keep_comment(request: HttpRequest, seat: Seat, scheme_id: int) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    criteria = seat.crit.criteria.all()
    form = CommentForm(request.POST, criteria=criteria)
    if not form.is_valid():
        trouble = Trouble(form.errors_in_words)
        return _answer_comment(request, seat, slot, _sent_back(form, trouble), KEPT)
    key, sent = form.cleaned_data["key"], form.sent()
    try:
        comment = crit_jury_keeping.keep_comment(
            seat, slot.scheme, key, sent, form.cleaned_data["seen"], **form.where_and_when
        )
    except Refused as refused:
        form.add_error("place", f"Read “{refused.read}”. Expected {refused.expected}.")
        line = _sent_back(form, Trouble(form.errors_in_words))
        return _answer_comment(request, seat, slot, line, KEPT)
    except (Newer, Frozen) as refusal:
        line = _sent_back(
            form, jury_lines.trouble_of(refusal, jury_lines.say_contents(sent)), refusal
        )
        return _answer_comment(request, seat, slot, line, REFUSED)
    again = comment_form(comment, criteria, of_page(form, seat, scheme_id))
    line = CommentLine(comment, is_open=True, form=again)
    return _answer_comment(request, seat, slot, line, KEPT)


def _sent_back(
    form: CommentForm, trouble: Trouble, refusal: Newer | Frozen | None = None
) -> CommentLine:
    """A comment that wasn't kept, with everything that was typed; seen is now what stands."""
    kept = refusal.kept if isinstance(refusal, Newer) else None
    again = form.again(kept)
    comment = kept or Comment(key=again.own_key, version=0)
    return CommentLine(comment, not isinstance(refusal, Frozen), again, trouble)


def _answer_comment(
    request: HttpRequest, seat: Seat, slot: Slot, line: CommentLine, status: int
) -> HttpResponse:
    if request.htmx:
        owed = jury_pages.still_owed(seat, slot.scheme, seat.sheets.on(slot.scheme_id))
        context = {"line": line, "slot": slot, "owed": owed}
        return render(request, "jury/_comment_kept.html", context, status=status)
    if line.trouble:
        return show_sheet(request, seat, slot.scheme_id, comment=line, status=status)
    return redirect(reverse("show-jury-sheet", args=[slot.scheme_id]) + f"#{line.id}")


@for_jurors
@require_POST
def remove_comment(request: HttpRequest, seat: Seat, scheme_id: int, key: UUID) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    comment = get_object_or_404(
        Comment, key=key, jury_sheet__seat=seat, jury_sheet__scheme_id=scheme_id
    )
    form = RemoveCommentForm(request.POST)
    seen = form.cleaned_data["seen"] if form.is_valid() else None
    try:
        left_off = crit_jury_keeping.remove_comment(seat, slot.scheme, key, seen)
    except (Newer, Frozen) as refusal:
        trouble = jury_lines.trouble_of(refusal, crit_jury_keeping.LEFT_OFF)
        of = of_page(form, seat, scheme_id)
        again = comment_form(comment, seat.crit.criteria.all(), of)
        line = CommentLine(comment, isinstance(refusal, Newer), again, trouble)
        return _answer_comment(request, seat, slot, line, REFUSED)
    if request.htmx:
        owed = jury_pages.still_owed(seat, slot.scheme, seat.sheets.on(scheme_id))
        context = {"comment": left_off, "owed": owed}
        return render(request, "jury/_comment_left_off.html", context)
    return redirect(reverse("show-jury-sheet", args=[scheme_id]) + "#comments")


@for_jurors
@require_POST
def keep_private_note(request: HttpRequest, seat: Seat, scheme_id: int) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    form, status, trouble, note = PrivateNoteForm(request.POST), KEPT, None, None
    if form.is_valid():
        words, seen = form.cleaned_data["words"], form.cleaned_data["seen"]
        try:
            note = juror_own_words.keep_private_note(seat, slot.scheme, words, seen)
        except Newer as newer:
            note, status = newer.kept, REFUSED
            trouble = jury_lines.trouble_of(newer, words)
    else:
        trouble = Trouble(form.errors_in_words)
    again = form.again(note) if trouble else private_note_form(note)
    line = jury_pages.NoteLine(note, again, trouble)
    if request.htmx:
        context = {"line": line, "slot": slot}
        return render(request, "jury/_private_note.html", context, status=status)
    if trouble:
        return show_sheet(request, seat, scheme_id, note=line, status=status)
    return redirect(reverse("show-jury-sheet", args=[scheme_id]) + "#private-note")


@for_jurors
@require_POST
def keep_phrase(request: HttpRequest, seat: Seat) -> HttpResponse:
    form = PhraseForm(request.POST, auto_id="phrase-%s")
    if form.is_valid():
        try:
            juror_own_words.keep_phrase(seat, form.cleaned_data["key"], form.cleaned_data["words"])
        except Frozen as full:
            form.add_error("words", str(full))
        else:
            form = phrase_form()
    return _show_phrases(request, seat, form)


@for_jurors
@require_POST
def remove_phrase(request: HttpRequest, seat: Seat, key: UUID) -> HttpResponse:
    juror_own_words.remove_phrase(seat, key)
    return _show_phrases(request, seat, phrase_form())


def _show_phrases(request: HttpRequest, seat: Seat, form: PhraseForm) -> HttpResponse:
    context = {"phrases": seat.phrases.all(), "phrase_form": form}
    if request.htmx:
        return render(request, "jury/_phrases.html", context)
    return render(request, "jury/show_phrases.html", context | jury_frame(request))
