"""The question-and-answer log of a brief: asked by students, answered by leaders, read by all."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds import brief_asking
from reviews.forms.brief_questions import AnswerQuestionForm, AskForm, questions_page
from reviews.forms.rows import read_save
from reviews.models import BriefQuestion, Studio
from reviews.pages.page_frame import frame
from reviews.versions import Newer
from reviews.views.fetching import seen_studio

REFUSED = 409


def _studio(request: HttpRequest, studio_id: int) -> Studio:
    studio = seen_studio(request, studio_id)
    access.require(access.can_see_brief(request.viewer, studio))
    return studio


def _show(
    request: HttpRequest,
    studio: Studio,
    *,
    ask: AskForm | None = None,
    answer: AnswerQuestionForm | None = None,
    status: int = 200,
) -> HttpResponse:
    context = {
        "page": questions_page(request.viewer, studio, ask=ask, answer=answer),
        **frame(request, studio=studio, page="brief"),
    }
    return render(request, "briefs/show_brief_questions.html", context, status=status)


@require_safe
def show_brief_questions(request: HttpRequest, studio_id: int) -> HttpResponse:
    return _show(request, _studio(request, studio_id))


@require_POST
def ask_brief_question(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = _studio(request, studio_id)
    access.require(access_studio.can_ask_question(request.viewer, studio))
    form = AskForm(request.POST)
    if not form.is_valid():
        return _show(request, studio, ask=form)
    sent = form.cleaned_data
    try:
        brief_asking.ask(studio.brief, sent["key"], sent["words"], request.user)
    except BriefQuestion.DoesNotExist:
        access.require(False)
    messages.success(request, "Your question is asked: everybody in the studio reads it.")
    return redirect("show-brief-questions", studio_id)


@require_POST
def answer_brief_question(request: HttpRequest, studio_id: int, question_id: int) -> HttpResponse:
    studio = _studio(request, studio_id)
    access.require(access_studio.can_answer_question(request.viewer, studio))
    question = get_object_or_404(studio.brief.questions, pk=question_id)
    form = AnswerQuestionForm(request.POST, question=question, brief=studio.brief)
    if not form.is_valid():
        return _show(request, studio, answer=form)
    sent, seen = form.cleaned_data, read_save(request.POST).seen
    try:
        brief_asking.answer(question, sent["words"], seen, request.user, addendum=sent["addendum"])
    except Newer as newer:
        form.newer = form.question = newer.kept
        return _show(request, studio, answer=form, status=REFUSED)
    messages.success(request, "The answer is kept: everybody in the studio reads it.")
    return redirect(f"{reverse('show-brief-questions', args=[studio_id])}#question-{question_id}")
