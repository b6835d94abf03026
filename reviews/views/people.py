"""The people of a studio: who they are, how they get in, bringing them in from a table."""

from __future__ import annotations

from functools import partial

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_POST, require_safe

from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds import person_links, studio_roster
from reviews.deeds.record_changes import last_change, undo_part
from reviews.deeds.studio_roster import PEOPLE
from reviews.forms.leaders import LeaderForm
from reviews.forms.roster import RosterForm
from reviews.models import Studio
from reviews.pages.brief_taken import people_workbook
from reviews.pages.page_frame import frame
from reviews.pages.people_list import links_to_print, people_lines
from reviews.reading.mail_deliveries import undelivered_to_people
from reviews.views.bringing import bring_in
from reviews.views.fetching import led_studio, require_form, seen_studio
from reviews.views.tables_out import workbook_answer
from reviews.views.undoing import is_undone


@require_safe
def show_people(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access.can_see_people(request.viewer, studio.pk))
    return _shown(request, studio, LeaderForm(by=request.user))


@require_safe
def take_people(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access.can_see_people(request.viewer, studio.pk))
    return workbook_answer(people_workbook(studio), f"{slugify(studio.title)}-people")


def _shown(request: HttpRequest, studio: Studio, leader: LeaderForm) -> HttpResponse:
    lines = people_lines(request, studio)
    context = frame(request, studio=studio, page="schemes") | {
        "lines": lines,
        "links": links_to_print(lines),
        "link_days": person_links.DAYS,
        "can_lead": access.can_lead(request.viewer, studio.pk),
        "leader": leader if access_studio.can_name_leaders(request.viewer, studio) else None,
        "last": last_change(studio, PEOPLE.slug),
        "undelivered": undelivered_to_people(studio),
    }
    page = "print_people_links" if "links" in request.GET else "show_people"
    return render(request, f"people/{page}.html", context)


@require_POST
def name_leader(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access_studio.can_name_leaders(request.viewer, studio))
    form = LeaderForm(request.POST, by=request.user)
    if not form.is_valid() or form.leader is None:
        return _shown(request, studio, form)
    studio_roster.name_leader(studio, *form.leader, request.user)
    messages.success(request, f"{form.leader.name} is named as leader, and told by e-mail.")
    return redirect("show-people", studio.pk)


@require_form
def bring_in_people(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    return bring_in(
        request,
        studio_roster.ROSTER,
        read=lambda typed, _: studio_roster.read_roster(studio, typed, request.user),
        keep=lambda form: (
            studio_roster.bring_in(studio, form.table, request.user, seen=form.seen_change).what
        ),
        page="people/bring_in_people.html",
        context=frame(request, studio=studio, page="schemes"),
        done=reverse("show-people", args=[studio.pk]),
        form=RosterForm.of_studio(studio, request.user, request),
    )


@require_POST
def make_link(request: HttpRequest, studio_id: int, membership_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    membership = get_object_or_404(studio.memberships.select_related("person"), pk=membership_id)
    access.require(access.can_make_link(request.viewer, membership.person))
    context = {
        "person": membership.person,
        "link": person_links.renew_link(request, membership.person),
        "link_days": person_links.DAYS,
    }
    shown = frame(request, studio=studio, page="schemes") | context
    return render(request, "people/make_link.html", shown)


@require_POST
def remove_member(request: HttpRequest, studio_id: int, membership_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    membership = get_object_or_404(studio.memberships.select_related("person"), pk=membership_id)
    try:
        studio_roster.remove_member(membership, request.user)
    except studio_roster.LastLeader as last:
        messages.error(request, str(last))
    else:
        role = membership.get_role_display().lower()
        messages.success(request, f"{membership.name} is no longer {role} here.")
    return _people_or_home(request, studio)


@require_POST
def undo_people(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    is_undone(request, partial(undo_part, studio, PEOPLE), PEOPLE.name)
    return _people_or_home(request, studio)


def _people_or_home(request: HttpRequest, studio: Studio) -> HttpResponse:
    """The people of a studio, or home for whoever took themselves out."""
    is_still_leader = access.can_lead(access.viewer_of(request), studio.pk)
    return redirect("show-people", studio.pk) if is_still_leader else redirect("home")
