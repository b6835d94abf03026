"""One sheet of a pin-up on a screen that a room looks at, and the ways from it to the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.urls import reverse

from reviews.models import IssuedSheet
from reviews.models.revisions import plain_number
from reviews.pages.sheet_views import SheetView, sheet_view
from reviews.reading.pin_up import Hung


@dataclass(frozen=True)
class Way:
    """A way to another sheet: its address, in words, and the number by which it is asked for."""

    url: str
    words: str
    number: str = ""


@dataclass(frozen=True)
class Slide:
    """A sheet large, and what its line of a title block says.

    coming   the next picture, so that it is there when it is asked for
    """

    sheet: IssuedSheet
    picture: SheetView
    coming: SheetView | None
    place: str
    sheets: Sequence[Way]
    before: Way | None
    after: Way | None
    scheme_before: Way | None
    scheme_after: Way | None


def slide(hung: Sequence[Hung], sheet: IssuedSheet) -> Slide:
    """Show a sheet among all that hang; raise StopIteration where it isn't among them."""
    line = [each for scheme in hung for each in scheme.sheets]
    at = next(n for n, each in enumerate(line) if each.pk == sheet.pk)
    within = next(n for n, scheme in enumerate(hung) if sheet in scheme.sheets)
    sheets = hung[within].sheets
    return Slide(
        sheet=line[at],
        picture=sheet_view(line[at]),
        coming=sheet_view(line[at + 1]) if at + 1 < len(line) else None,
        place=f"{sheets.index(sheet) + 1} of {len(sheets)}",
        sheets=[_way(each) for each in sheets],
        before=_way(line[at - 1]) if at else None,
        after=_way(line[at + 1]) if at + 1 < len(line) else None,
        scheme_before=_first(hung[:within][::-1]),
        scheme_after=_first(hung[within + 1 :]),
    )


def _way(sheet: IssuedSheet) -> Way:
    address = reverse("show-slide", args=[sheet.revision_id, sheet.number])
    return Way(address, f"{sheet.number} {sheet.title}", plain_number(sheet.number))


def _first(hung: Sequence[Hung]) -> Way | None:
    """The way to the first sheet of the first scheme that hangs any."""
    scheme = next((scheme for scheme in hung if scheme.sheets), None)
    if scheme is None:
        return None
    way = _way(scheme.sheets[0])
    return Way(way.url, str(scheme.revision.scheme))
