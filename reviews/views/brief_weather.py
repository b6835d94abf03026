"""The weather of a brief: which year holds, bringing a file in, taking it out."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import brief_weather
from reviews.deeds.brief_writing import WEATHER
from reviews.deeds.record_changes import last_change
from reviews.deeds.record_versions import version_of
from reviews.forms.brief_weather import FiguresForm, WeatherForm
from reviews.models import Studio
from reviews.models.briefs import Frozen
from reviews.pages.brief_figures_page import figures_page
from reviews.pages.brief_page import warnings_for
from reviews.pages.brief_weather_page import weather_shown, year_table
from reviews.pages.page_frame import frame
from reviews.reading.brief_figures import figures_offered
from reviews.reading.brief_reading import BriefReading
from reviews.request_size import takes_pictures
from reviews.surroundings import notation_of, system_of
from reviews.versions import Newer
from reviews.views.fetching import led_studio, require_form, seen_studio
from reviews.views.tables_out import csv_answer

NO_FILE = "No weather file is named by the brief: bring one in first."
FIGURES_NEWER = (
    "The brief was changed meanwhile, and nothing was written. This is how the file’s figures "
    "stand beside it now."
)


@takes_pictures
@require_form
def edit_weather(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    form = WeatherForm(studio.brief, request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        keep = _by_addendum if studio.brief.is_issued else _in_preparation
        if answer := keep(request, studio, form):
            return answer
    shown = frame(request, studio=studio, page="brief") | {
        "form": form,
        "brief": studio.brief,
        "part": WEATHER.slug,
        "weather": weather_shown(BriefReading.of(studio.brief), system_of(request)),
        "last": None if studio.brief.is_issued else last_change(studio.brief, WEATHER.slug),
        "warnings": warnings_for(request.viewer, studio),
    }
    return render(request, "briefs/edit_weather.html", shown, status=form.status)


def _in_preparation(request: HttpRequest, studio: Studio, form: WeatherForm) -> HttpResponse | None:
    brief = studio.brief
    try:
        if form.year:
            brief_weather.bring_in(brief, form.year, form.seen_version, request.user)
        else:
            brief_weather.take_out(brief, form.seen_version, request.user)
    except Newer as newer:
        form.show_newer_year(newer, version_of(newer.kept))
        return None
    except Frozen as frozen:
        form.add_error(None, str(frozen))
        return None
    messages.success(request, "The weather is kept.")
    return redirect("edit-weather", studio.pk)


def _by_addendum(request: HttpRequest, studio: Studio, form: WeatherForm) -> HttpResponse | None:
    words = form.cleaned_data
    try:
        addendum = brief_weather.change_by_addendum(
            studio.brief, form.year, request.user, words["text"], words["number"]
        )
    except Newer as newer:
        form.show_newer_addendum(newer)
        return None
    messages.success(request, f"{addendum} is issued.")
    return redirect("show-brief", studio.pk)


@require_form
def take_weather_figures(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    brief, status = studio.brief, 200
    offered = figures_offered(brief)
    if offered is None:
        messages.warning(request, NO_FILE)
        return redirect("edit-weather", studio.pk)
    form = FiguresForm(brief, offered, request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            return _taken(request, studio, form)
        except Newer:
            form.look_again(offered)
            messages.warning(request, FIGURES_NEWER)
            status = 409
        except Frozen as frozen:
            form.add_error(None, str(frozen))
    notation = notation_of(request, brief.notation)
    shown = frame(request, studio=studio, page="brief") | {
        "form": form,
        "brief": brief,
        "page": figures_page(offered, form.ticked, notation),
    }
    return render(request, "briefs/take_weather_figures.html", shown, status=status)


def _taken(request: HttpRequest, studio: Studio, form: FiguresForm) -> HttpResponse:
    brief, words = studio.brief, form.cleaned_data
    if not brief.is_issued:
        n = brief_weather.take_figures(brief, words["take"], form.seen_version, request.user)
        messages.success(request, f"{n} figure{'s' * (n != 1)} of the file are written.")
        return redirect("take-weather-figures", studio.pk)
    addendum = brief_weather.take_figures_by_addendum(
        brief, words["take"], request.user, words["text"], words["number"]
    )
    messages.success(request, f"{addendum} is issued.")
    return redirect("show-brief", studio.pk)


@require_safe
def export_weather(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access.can_see_brief(request.viewer, studio))
    return csv_answer(year_table(BriefReading.of(studio.brief)), f"weather-{studio.pk}")
