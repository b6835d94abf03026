"""Books of evidence: asked for, read, taken away, and held to what has changed since."""

from __future__ import annotations

from zipfile import ZipFile

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from criteria.errors import Refused
from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds.audit_keeping import Deed, record
from reviews.deeds.evidence_making import ask_for_book
from reviews.forms.evidence import BookForm
from reviews.forms.fields import says
from reviews.models import EvidenceBook, Studio
from reviews.pages.evidence_page import BookPage
from reviews.pages.page_frame import frame
from reviews.reading.evidence_contents import changed_since
from reviews.reading.evidence_left import LeftNames, names_left
from reviews.reading.file_sending import Sent, send_file
from reviews.views.fetching import require_form, seen_studio


def _book(request: HttpRequest, studio_id: int, book_id: int) -> EvidenceBook:
    """A book that the viewer may read; examiners, once it is frozen."""
    studio = seen_studio(request, studio_id)
    access.require(access_studio.can_read_evidence(request.viewer, studio))
    books = access_studio.evidence_books(request.viewer, studio).select_related("studio", "by")
    return get_object_or_404(books, pk=book_id)


def _shown(request: HttpRequest, name: str, book: EvidenceBook, **more: object) -> HttpResponse:
    studio: Studio = book.studio
    around = frame(request, studio=studio, page="schemes")
    context = {"page": BookPage(book), "book": book.contents, "receipt": book.receipt, **more}
    return render(request, f"evidence/{name}.html", around | context)


@require_form
def make_evidence_book(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access_studio.can_keep_evidence(request.viewer, studio))
    initial = {"title": f"Evidence, {studio.title}"}
    form = BookForm(studio, request.POST or None, initial=initial)
    left = None
    if request.method == "POST" and form.is_valid():
        left = _unread(request, studio, form)
        if left is None and (book := _asked_for(request, studio, form)):
            messages.success(request, "The book is being made. It is frozen as things stand now.")
            return redirect("show-evidence-book", studio.pk, book.pk)
    context = frame(request, studio=studio, page="schemes") | {"form": form, "left": left}
    return render(request, "evidence/make_evidence_book.html", context)


def _unread(request: HttpRequest, studio: Studio, form: BookForm) -> LeftNames | None:
    """What may still name somebody, unless it was read as it stands; None of a book with names."""
    if not form.wish.is_anonymous:
        return None
    left = names_left(studio)
    return left if left and request.POST.get("left_read") != left.mark else None


def _asked_for(request: HttpRequest, studio: Studio, form: BookForm) -> EvidenceBook | None:
    """The book, or None where no scheme can be chosen, which the form then says."""
    try:
        return ask_for_book(studio, form.wish, request.user)
    except Refused as refused:
        form.add_error("choice", says(refused.read, refused.expected))
        return None


@require_safe
def show_evidence_book(request: HttpRequest, studio_id: int, book_id: int) -> HttpResponse:
    return _shown(request, "show_evidence_book", _book(request, studio_id, book_id))


@require_safe
def show_book_scheme(
    request: HttpRequest, studio_id: int, book_id: int, number: str
) -> HttpResponse:
    book = _book(request, studio_id, book_id)
    told = BookPage(book).scheme(number)
    if told is None:
        raise Http404("No such scheme in the book.")
    return _shown(request, "show_book_scheme", book, told=told)


@require_safe
def show_book_changes(request: HttpRequest, studio_id: int, book_id: int) -> HttpResponse:
    book = _book(request, studio_id, book_id)
    if not book.contents:
        raise Http404("The book isn't frozen yet.")
    return _shown(request, "show_book_changes", book, changes=changed_since(book))


@require_safe
def show_book_picture(
    request: HttpRequest, studio_id: int, book_id: int, sha256: str
) -> HttpResponse:
    book = _book(request, studio_id, book_id)
    path = BookPage(book).picture(sha256)
    try:
        if not (path and book.file):
            raise FileNotFoundError
        with book.file.storage.open(str(book.file)) as stored, ZipFile(stored) as archive:
            picture = archive.read(path)
    except (FileNotFoundError, KeyError):
        raise Http404("No such sheet in the book.") from None
    headers = {"Cache-Control": "private, max-age=3600", "X-Content-Type-Options": "nosniff"}
    return HttpResponse(picture, content_type="image/jpeg", headers=headers)


@require_safe
def take_evidence_book(
    request: HttpRequest, studio_id: int, book_id: int, kind: str
) -> HttpResponseBase:
    book = _book(request, studio_id, book_id)
    stored = {"zip": book.file, "pdf": book.pdf}.get(kind)
    if not stored or book.frozen_at is None:
        raise Http404("The book isn't made yet.")
    record(Deed.EXPORTED, book.studio, by=request.user, about=f"evidence book {book.title}")
    name = f"{slugify(book.title) or 'book'}-{book.receipt[:8]}.{kind}"
    sent = Sent(f"{book.receipt}-{kind}", book.frozen_at, f"application/{kind}", name)
    try:
        return send_file(request, stored, sent)
    except FileNotFoundError:
        raise Http404("The file is missing.") from None
