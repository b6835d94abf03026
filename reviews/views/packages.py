"""A package in preparation: its page, its statement, and the issue that freezes it."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.db.models import Prefetch, prefetch_related_objects
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds import package_keeping
from reviews.deeds.picture_comparing import await_changes_of
from reviews.deeds.revision_issuing import is_next, is_to_issue, issue
from reviews.forms.adjustments import BehalfForm
from reviews.forms.packages import StatementForm
from reviews.forms.rows import read_save
from reviews.models import Crit, Package
from reviews.moments import moment_words
from reviews.pages.desk_page import desk_of
from reviews.pages.package_page import issue_page, package_page
from reviews.pages.page_frame import frame
from reviews.pages.ways_on import ways_on
from reviews.surroundings import system_of
from reviews.versions import Newer

REFUSED = 409


def package_of(request: HttpRequest, scheme_id: int, *, to_edit: bool = True) -> Package:
    """Return a package that the viewer may read, and change where that is wanted."""
    held = access.packages(request.viewer).select_related("studio__brief", "package")
    scheme = get_object_or_404(held, pk=scheme_id)
    if to_edit:
        access.require(access.can_edit_package(request.viewer, scheme))
    package = scheme.package
    package.scheme = scheme
    return package


def read_package(request: HttpRequest, scheme_id: int) -> Package:
    """Return a package that the viewer may read, fetched once for all that its page reads."""
    package = package_of(request, scheme_id, to_edit=False)
    package.hold_typed()
    crits = Prefetch("scheme__studio__crits", Crit.objects.as_listed())
    read = ("scheme__members", crits, "scheme__studio__brief__addenda")
    prefetch_related_objects([package], *read)
    return package


def _show(
    request: HttpRequest,
    package: Package,
    form: StatementForm | None = None,
    newer: Newer | None = None,
    status: int = 200,
) -> HttpResponse:
    context: dict[str, Any] = {
        "ways": ways_on(request, package.scheme),
        "page": package_page(package, system_of(request)),
        "can_edit": access.can_edit_package(request.viewer, package.scheme),
        "can_issue_for": access_studio.can_issue_for(request.viewer, package.scheme),
        "can_read_questions": access.is_own_or_led(request.viewer, package.scheme),
        "form": form or StatementForm(initial={"statement": package.statement}),
        "newer": newer,
    }
    if request.htmx:
        return render(request, "packages/_statement.html", context, status=status)
    context["desk"] = desk_of(package.scheme)
    context |= frame(request, scheme=package.scheme, page="schemes")
    return render(request, "packages/show_package.html", context, status=status)


@require_safe
def show_package(request: HttpRequest, scheme_id: int) -> HttpResponse:
    return _show(request, read_package(request, scheme_id))


@require_POST
def save_statement(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    form = StatementForm(request.POST)
    if not form.is_valid():
        return _show(request, package, form)
    text, seen = form.cleaned_data["statement"], read_save(request.POST).seen
    try:
        kept = package_keeping.keep_statement(package, text, seen)
    except Newer as newer:
        package.statement = newer.kept.statement
        package.statement_version = newer.kept.statement_version
        return _show(request, package, form, newer, REFUSED)
    package.statement, package.statement_version = kept.statement, kept.statement_version
    if request.htmx:
        return _show(request, package)
    messages.success(request, "The statement is kept.")
    return redirect("show-package", scheme_id)


@require_http_methods(["GET", "HEAD", "POST"])
def issue_package(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    letter = request.POST.get("letter", "")
    if request.method == "POST" and is_next(package, letter):
        return _issue(request, package, letter)
    if request.method == "POST":
        messages.error(request, f"Read revision “{letter}”. Expected {package.letter}.")
    context = {
        "shown": issue_page(package, system_of(request)),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "packages/issue_package.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def issue_for_students(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = package_of(request, scheme_id, to_edit=False)
    access.require(access_studio.can_issue_for(request.viewer, package.scheme))
    form = BehalfForm(request.POST or None)
    letter = request.POST.get("letter", "")
    if request.method == "POST" and form.is_valid() and is_next(package, letter):
        return _issue(request, package, letter, form.cleaned_data["reason"])
    if request.method == "POST" and not is_next(package, letter):
        messages.error(request, f"Read revision “{letter}”. Expected {package.letter}.")
    context = {
        "shown": issue_page(package, system_of(request)),
        "form": form,
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "packages/issue_for_students.html", context)


def _issue(request: HttpRequest, package: Package, letter: str, behalf: str = "") -> HttpResponse:
    latest = package.scheme.revisions.last()
    if latest and letter == package.letter and not is_to_issue(package, latest):
        messages.info(request, f"Nothing differs from revision {latest.letter}.")
        return redirect("show-package", package.scheme_id)
    revision = issue(package, request.user, letter=letter, behalf_words=behalf)
    await_changes_of(revision)
    by = f", by {revision.issued_by}, {moment_words(revision.issued_at)}"
    messages.success(request, f"Revision {revision.letter} is issued for crit{by}.")
    return redirect("show-revision", revision.pk)
