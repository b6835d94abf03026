"""Answers: written by students, listed and closed by their leader."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from criteria.errors import Refused
from reviews import access, access_answers
from reviews.access import HttpRequest
from reviews.deeds import audit_keeping, comment_answering, comment_closing
from reviews.forms.answers import AnswerForm, answer_form
from reviews.forms.closing import CloseManyForm, ClosingForm
from reviews.forms.fields import says
from reviews.models import Answer, Comment, Crit, Scheme
from reviews.models.briefs import Frozen
from reviews.pages.answers_page import AnswersPage, answers_csv, answers_page
from reviews.pages.page_frame import frame
from reviews.pages.results_page import results_of
from reviews.pages.scheme_answers_page import scheme_answers
from reviews.pages.ways_on import ways_on
from reviews.reading.crit_answers import Answered, released_answers
from reviews.surroundings import system_of
from reviews.versions import Newer
from reviews.views.fetching import led_crit, open_released, require_form
from reviews.views.results import show_page
from reviews.views.tables_out import csv_answer

ON_LIST = "list"
"""What a form says that stands on the page of a scheme's answers, not on its results."""

TALK_FIRST = "The studio leader reads that you would talk first. Say below what about."


def released_scheme(request: HttpRequest, crit_id: int, scheme_id: int) -> tuple[Crit, Scheme]:
    """A released crit and a scheme of it whose answers the viewer may read."""
    crits = Crit.objects.select_related("studio__brief", "released_by")
    crit = get_object_or_404(crits, pk=crit_id)
    scheme = get_object_or_404(crit.studio.schemes, pk=scheme_id)
    if not access_answers.can_read_answers(request.viewer, crit, scheme):
        raise Http404
    open_released(request, crit)
    scheme.studio = crit.studio
    return crit, scheme


# One scheme, as its students answer


@require_safe
def show_scheme_answers(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit, scheme = released_scheme(request, crit_id, scheme_id)
    return _show_scheme(request, crit, scheme)


def _show_scheme(
    request: HttpRequest,
    crit: Crit,
    scheme: Scheme,
    *,
    form: AnswerForm | None = None,
    status: int = 200,
) -> HttpResponse:
    def form_of(comment: Comment) -> AnswerForm:
        return form if form and form.comment == comment else answer_form(comment)

    can_answer = access.can_answer(request.viewer, crit, scheme)
    results = results_of(crit, scheme, form_of if can_answer else None)
    page = scheme_answers(request.viewer, results, system_of(request))
    around = frame(request, studio=crit.studio, scheme=scheme, crit=crit, page="crits")
    context = {"crit": crit, "page": page, "ways": ways_on(request, scheme)}
    return render(request, "answers/show_scheme_answers.html", around | context, status=status)


@require_form
def answer_comment(request: HttpRequest, comment_id: int) -> HttpResponse:
    comment = get_object_or_404(
        access.answerable_comments(request.viewer).select_related(
            "jury_sheet__seat__crit__studio", "jury_sheet__scheme__studio", "answer__answered_by"
        ),
        pk=comment_id,
    )
    crit, scheme = comment.jury_sheet.seat.crit, comment.jury_sheet.scheme
    open_released(request, crit)
    show = _show_scheme if request.POST.get("on") == ON_LIST else show_page
    form = AnswerForm(request.POST, comment=comment) if request.method == "POST" else None
    if form and form.is_valid():
        try:
            kept = comment_answering.answer_comment(
                comment, request.user, form.sent(), form.cleaned_data["seen"]
            )
        except Newer as newer:
            return show(request, crit, scheme, form=form.again(newer.kept), status=409)
        except Frozen as closed:
            typed = form.cleaned_data["words"]
            messages.warning(request, f"{closed} Typed and not kept: “{typed}”")
        else:
            if kept.kind == Answer.Kind.TALK:
                messages.success(request, TALK_FIRST)
                return redirect("show-conversation", crit.pk, scheme.pk)
        name = "show-scheme-answers" if show is _show_scheme else "show-results"
        place = reverse(name, args=[crit.pk, scheme.pk])
        return redirect(f"{place}#answer-{comment.pk}")
    return show(request, crit, scheme, form=form)


# The leader's one list


def _listed_crit(request: HttpRequest, crit_id: int) -> Crit:
    crits = access.crits(request.viewer).select_related("studio__brief")
    crit = get_object_or_404(crits, pk=crit_id)
    leads = access.can_lead(request.viewer, crit.studio_id)
    access.require(leads or (request.viewer.is_coordinator and crit.is_released))
    return crit


def _list_of(request: HttpRequest, crit: Crit) -> AnswersPage:
    crits = [crit] if crit.is_released else []
    can_close = access.can_lead(request.viewer, crit.studio_id)
    return answers_page(crits, request.GET.dict(), can_close=can_close)


@require_safe
def show_answers(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _listed_crit(request, crit_id)
    context = {"crit": crit, "page": _list_of(request, crit), "here": request.path}
    around = frame(request, studio=crit.studio, crit=crit, page="moderation")
    return render(request, "answers/show_answers.html", around | context)


@require_safe
def export_answers(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _listed_crit(request, crit_id)
    audit_keeping.export_table(crit, request.user, "answers")
    name = slugify(f"{crit.studio.title} {crit.kind} answers")
    return csv_answer(answers_csv(_list_of(request, crit).shown), name)


@require_safe
def show_studio_answers(request: HttpRequest, studio_id: int) -> HttpResponse:
    studios = access.studios(request.viewer).select_related("brief")
    studio = get_object_or_404(studios, pk=studio_id)
    access.require(access_answers.can_list_answers(request.viewer, studio))
    crits = list(studio.crits.released())
    can_close = access.can_lead(request.viewer, studio.pk)
    page = answers_page(crits, request.GET.dict(), can_close=can_close, names_crit=True)
    context = {"crit": None, "page": page, "here": request.path}
    around = frame(request, studio=studio, page="moderation")
    return render(request, "answers/show_answers.html", around | context)


# Closing


@require_form
def close_many(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    rows = _list_of(request, crit).told.quickly
    form = CloseManyForm(request.POST or None, rows=rows)
    if request.method == "POST" and form.is_valid():
        done = comment_closing.close_comments(
            crit, request.user, form.seen, form.cleaned_data["words"]
        ).done
        messages.success(request, f"Closed: {len(done)} comment{'s' * (len(done) != 1)}.")
        return redirect("show-answers", crit.pk)
    context = {"crit": crit, "form": form}
    around = frame(request, studio=crit.studio, crit=crit, page="moderation")
    return render(request, "answers/close_many.html", around | context)


@require_form
def close_comment(request: HttpRequest, comment_id: int) -> HttpResponse:
    return _close(request, comment_id, is_closed=True)


@require_form
def open_comment_again(request: HttpRequest, comment_id: int) -> HttpResponse:
    return _close(request, comment_id, is_closed=False)


def _close(request: HttpRequest, comment_id: int, *, is_closed: bool) -> HttpResponse:
    found = get_object_or_404(access_answers.closable_comments(request.viewer), pk=comment_id)
    crit = found.jury_sheet.seat.crit
    row = Answered(released_answers([crit]).get(pk=found.pk))
    form = ClosingForm(request.POST or None, initial={"seen": row.version})
    if request.method == "POST" and form.is_valid():
        seen, words = {row.comment.pk: form.cleaned_data["seen"]}, form.cleaned_data["words"]
        try:
            closed = comment_closing.close_comments(
                crit, request.user, seen, words, is_closed=is_closed
            )
        except Refused as refused:
            form.add_error("words", says(refused.read, refused.expected))
        else:
            if not closed.left:
                return redirect(f"{reverse('show-answers', args=[crit.pk])}#comment-{comment_id}")
            form = ClosingForm({"seen": row.version, "words": words})
            form.add_error(None, "It was answered otherwise meanwhile. Read the answer below.")
    context = {"crit": crit, "row": row, "form": form, "is_closed": is_closed}
    around = frame(request, studio=crit.studio, scheme=row.scheme, crit=crit, page="moderation")
    return render(request, "answers/close_comment.html", around | context)
