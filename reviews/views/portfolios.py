"""A scheme's portfolio: its students choose and caption; taken away on paper or as a folder."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_POST, require_safe

from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds import portfolio_keeping
from reviews.forms.fields import number_in
from reviews.forms.portfolios import CaptionForm, PortfolioForm, portfolio_forms
from reviews.models import PortfolioItem, Scheme
from reviews.models.briefs import Frozen
from reviews.pages.page_frame import frame
from reviews.pages.portfolio_page import shown_portfolio
from reviews.pages.portfolio_pdf import portfolio_pdf
from reviews.pages.portfolio_web import portfolio_folder
from reviews.pages.ways_on import ways_on
from reviews.surroundings import system_of
from reviews.versions import Newer
from reviews.views.fetching import require_form


def _scheme(request: HttpRequest, scheme_id: int, *, to_edit: bool = False) -> Scheme:
    found = access_studio.portfolios(request.viewer).select_related("studio__brief")
    scheme = get_object_or_404(found, pk=scheme_id)
    access.require(not to_edit or access_studio.can_edit_portfolio(request.viewer, scheme))
    return scheme


def _item(request: HttpRequest, scheme_id: int, item_id: int) -> PortfolioItem:
    scheme = _scheme(request, scheme_id, to_edit=True)
    items = PortfolioItem.objects.select_related("portfolio__scheme")
    return get_object_or_404(items, pk=item_id, portfolio__scheme=scheme)


@require_safe
def show_portfolio(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id)
    shown = shown_portfolio(scheme, system_of(request))
    context = frame(request, scheme=scheme, page="schemes") | {
        "shown": shown,
        "can_edit": access_studio.can_edit_portfolio(request.viewer, scheme),
        "ways": ways_on(request, scheme),
        "title_block": shown.title_block,
    }
    return render(request, "portfolios/show_portfolio.html", context)


@require_safe
def print_portfolio(request: HttpRequest, scheme_id: int) -> HttpResponse:
    shown = shown_portfolio(_scheme(request, scheme_id), system_of(request))
    answer = HttpResponse(portfolio_pdf(shown, system_of(request)), content_type="application/pdf")
    name = f"Portfolio {shown.scheme.number} {shown.title}.pdf"
    answer["Content-Disposition"] = content_disposition_header(True, name)
    return answer


@require_safe
def download_portfolio(request: HttpRequest, scheme_id: int) -> HttpResponseBase:
    shown = shown_portfolio(_scheme(request, scheme_id), system_of(request))
    name = f"Portfolio {shown.scheme.number} {shown.title}.zip"
    head = {"Content-Disposition": content_disposition_header(True, name) or ""}
    folder = portfolio_folder(shown)
    return StreamingHttpResponse(folder, content_type="application/zip", headers=head)


@require_form
def edit_portfolio(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id, to_edit=True)
    if request.method != "POST":
        return _edit(request, scheme)
    form = PortfolioForm.of(scheme, request.POST)
    if form.is_valid():
        try:
            portfolio_keeping.keep_head(scheme, form.head, form.seen_version, request.user)
        except Newer as newer:
            form.show_kept(newer)
        else:
            messages.success(request, "The portfolio’s words are kept.")
            return redirect("edit-portfolio", scheme.pk)
    return _edit(request, scheme, head=form)


def _edit(request: HttpRequest, scheme: Scheme, **sent: Any) -> HttpResponse:
    """The page where it is written; what wasn't kept stands as it was sent."""
    page = portfolio_forms(scheme, system_of(request), **sent)
    context = {
        "page": page,
        "asks_not": page.asks_not(request.user),
        "ways": ways_on(request, scheme),
        **frame(request, scheme=scheme, page="schemes"),
    }
    return render(request, "portfolios/edit_portfolio.html", context, status=page.status)


@require_POST
def add_portfolio_sheets(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id, to_edit=True)
    form = portfolio_forms(scheme, system_of(request), sheets=request.POST).sheets
    if not form.is_valid():
        return _edit(request, scheme, sheets=request.POST)
    try:
        added = portfolio_keeping.add_sheets(scheme, form.chosen, request.user)
        messages.success(request, f"Pages added: {len(added)}.")
    except Frozen as full:
        messages.warning(request, str(full))
    return redirect("edit-portfolio", scheme.pk)


@require_POST
def add_portfolio_change(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id, to_edit=True)
    form = portfolio_forms(scheme, system_of(request), change=request.POST).change
    if not form.is_valid():
        return _edit(request, scheme, change=request.POST)
    try:
        portfolio_keeping.add_change(scheme, *form.chosen, request.user)
        messages.success(request, "What changed stands as the last page.")
    except Frozen as full:
        messages.warning(request, str(full))
    return redirect("edit-portfolio", scheme.pk)


@require_POST
def keep_portfolio_page(request: HttpRequest, scheme_id: int, item_id: int) -> HttpResponse:
    item = _item(request, scheme_id, item_id)
    form = CaptionForm(request.POST, item)
    if form.is_valid():
        try:
            sent, seen = form.cleaned_data["caption"], form.seen_version
            portfolio_keeping.keep_caption(item, sent, seen)
        except Newer as newer:
            form.show_kept(newer)
        else:
            return _back(item)
    return _edit(request, item.portfolio.scheme, caption=form)


@require_POST
def move_portfolio_page(request: HttpRequest, scheme_id: int, item_id: int) -> HttpResponse:
    item = _item(request, scheme_id, item_id)
    portfolio_keeping.move_item(item, number_in(request.POST.get("place", "")))
    return _back(item)


@require_POST
def remove_portfolio_page(request: HttpRequest, scheme_id: int, item_id: int) -> HttpResponse:
    portfolio_keeping.take_out(_item(request, scheme_id, item_id))
    messages.success(request, "The page is taken out. The sheet stays issued.")
    return redirect(f"{reverse('edit-portfolio', args=[scheme_id])}#pages")


def _back(item: PortfolioItem) -> HttpResponse:
    page = reverse("edit-portfolio", args=[item.portfolio.scheme_id])
    return redirect(f"{page}#item-{item.pk}")


@require_POST
def name_in_portfolio(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id, to_edit=True)
    asks = request.POST.get("named") == "no"
    portfolio_keeping.ask_not_to_be_named(scheme, request.user, is_asked=asks)
    said = "You aren’t named in the portfolio." if asks else "You are named in the portfolio."
    messages.success(request, said)
    return redirect(f"{reverse('edit-portfolio', args=[scheme.pk])}#names")
