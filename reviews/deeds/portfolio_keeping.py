"""Keep a scheme's portfolio: its words, its sheets and what changed, in order.

Each deed holds the scheme. What is chosen twice is there once.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from django.db import transaction

from reviews import clock
from reviews.deeds.desk_crit_keeping import hold
from reviews.models import Comment, IssuedSheet, Person, Portfolio, PortfolioItem, Scheme
from reviews.models.briefs import Frozen
from reviews.versions import is_new

MOST_ITEMS = 60
"""Pages of a portfolio: more, and nobody turns them."""

Kind = PortfolioItem.Kind


class Head(NamedTuple):
    """What a portfolio says of itself, as typed; a revision by its key, 0 for the last issued."""

    title: str = ""
    words: str = ""
    credits: str = ""
    revision: int = 0


def head_of(portfolio: Portfolio | None) -> Head:
    """What stands now."""
    if portfolio is None:
        return Head()
    kept = portfolio.revision_id or 0
    return Head(portfolio.title, portfolio.words, portfolio.credits, kept)


def portfolio_of(scheme: Scheme) -> Portfolio | None:
    """The portfolio of a scheme, where it is begun."""
    return Portfolio.objects.select_related("revision").filter(scheme=scheme).first()


@transaction.atomic
def keep_head(scheme: Scheme, sent: Head, seen: int, by: Person) -> Portfolio:
    """Keep title, words, credits and revision, by the version seen (0 of none); raises Newer."""
    held = hold(scheme)
    portfolio = portfolio_of(held)
    stands_at = portfolio.version if portfolio else 0
    if portfolio is None or is_new(
        portfolio, head_of(portfolio), sent, stands_at=stands_at, seen=seen
    ):
        portfolio = portfolio or Portfolio(scheme=held, version=0)
        portfolio.title, portfolio.words, portfolio.credits, revision = sent
        portfolio.revision = held.revisions.filter(pk=revision).first()
        portfolio.version += 1
        portfolio.changed_by, portfolio.changed_at = by, clock.now()
        portfolio.save()
    return portfolio


def _begun(scheme: Scheme, by: Person) -> Portfolio:
    held = hold(scheme)
    return portfolio_of(held) or Portfolio.objects.create(
        scheme=held, changed_by=by, changed_at=clock.now()
    )


def _next_place(portfolio: Portfolio, more: int) -> int:
    places = list(portfolio.items.values_list("position", flat=True))
    if len(places) + more > MOST_ITEMS:
        raise Frozen(f"A portfolio has at most {MOST_ITEMS} pages. Take one out first.")
    return max(places, default=-1) + 1


@transaction.atomic
def add_sheets(scheme: Scheme, sheets: Iterable[IssuedSheet], by: Person) -> list[PortfolioItem]:
    """Add issued sheets of the scheme as pages, behind the others; each stands once."""
    portfolio = _begun(scheme, by)
    there = set(portfolio.items.filter(kind=Kind.SHEET).values_list("issued_sheet_id", flat=True))
    fresh = [sheet for sheet in sheets if sheet.pk not in there]
    place = _next_place(portfolio, len(fresh))
    return PortfolioItem.objects.bulk_create(
        PortfolioItem(portfolio=portfolio, position=place + n, kind=Kind.SHEET, issued_sheet=sheet)
        for n, sheet in enumerate(fresh)
    )


@transaction.atomic
def add_change(
    scheme: Scheme, before: IssuedSheet, after: IssuedSheet, comment: Comment | None, by: Person
) -> PortfolioItem:
    """Add what changed: the sheet before, after, and the remark; the same three stand once."""
    portfolio = _begun(scheme, by)
    same = {"kind": Kind.CHANGED, "before": before, "issued_sheet": after, "comment": comment}
    if found := portfolio.items.filter(**same).first():
        return found
    place = _next_place(portfolio, 1)
    return PortfolioItem.objects.create(portfolio=portfolio, position=place, **same)


@transaction.atomic
def keep_caption(item: PortfolioItem, caption: str, seen: int) -> PortfolioItem:
    """Keep the words under a page, by the version seen; raises Newer."""
    hold(item.portfolio.scheme)
    held = PortfolioItem.objects.select_for_update().get(pk=item.pk)
    if is_new(held, held.caption, caption, stands_at=held.version, seen=seen):
        held.caption = caption
        held.version += 1
        held.save(update_fields=["caption", "version"])
    return held


@transaction.atomic
def move_item(item: PortfolioItem, place: int) -> None:
    """Set a page in a place among the others, counted from 0; sent twice, it stands there once."""
    hold(item.portfolio.scheme)
    items = [each for each in item.portfolio.items.all() if each.pk != item.pk]
    items.insert(max(0, min(place, len(items))), item)
    for position, each in enumerate(items):
        each.position = position
    PortfolioItem.objects.bulk_update(items, ["position"])


@transaction.atomic
def take_out(item: PortfolioItem) -> None:
    """Take a page out; the sheet that it showed stays issued."""
    hold(item.portfolio.scheme)
    PortfolioItem.objects.filter(pk=item.pk).delete()


@transaction.atomic
def ask_not_to_be_named(scheme: Scheme, person: Person, *, is_asked: bool) -> None:
    """Keep of one of its students whether they ask not to be named in the portfolio."""
    portfolio = _begun(scheme, person)
    change = portfolio.unnamed.add if is_asked else portfolio.unnamed.remove
    change(person)
