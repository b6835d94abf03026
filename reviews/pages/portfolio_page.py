"""A portfolio as it is shown: on its page, on paper and in a folder of the web, the same words.

No level, nothing that is held, and no juror's name without consent comes as far as here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, partial

from criteria.units import System
from reviews.deeds.person_erasing import masked
from reviews.deeds.portfolio_keeping import portfolio_of
from reviews.models import (
    Comment,
    IssuedSheet,
    Membership,
    Portfolio,
    PortfolioItem,
    Revision,
    Scheme,
)
from reviews.models.revisions import with_issued_checks
from reviews.moments import day_words
from reviews.pages.check_page import NOTHING
from reviews.pages.portfolio_data import Data, project_data
from reviews.pages.revising import FindingChange, findings_changed
from reviews.reading import portfolios
from reviews.reading.portfolios import A_JUROR, Credit

Masked = Callable[[str], str]


@dataclass(frozen=True)
class Moved:
    """A figure that moved between the two sheets' revisions."""

    name: str
    before: str
    after: str


@dataclass(frozen=True)
class Remark:
    """A released remark as it stands between two sheets."""

    kind: str
    words: str
    by: str
    at: str
    place: str
    answer: str
    answer_words: str


@dataclass(frozen=True)
class Leaf:
    """One page: a sheet with its caption, or a sheet before and after.

    is_withheld   the remark that was chosen may not be shown now
    """

    item: PortfolioItem
    number: int
    sheet: IssuedSheet
    caption: str
    before: IssuedSheet | None = None
    remark: Remark | None = None
    moved: tuple[Moved, ...] = ()
    is_withheld: bool = False

    @property
    def is_change(self) -> bool:
        return self.before is not None

    @property
    def name(self) -> str:
        """What stands in a list of pages."""
        if self.before:
            return f"What changed: {self.sheet.number} {self.sheet.title}"
        return f"{self.sheet.number} {self.sheet.title}"

    @property
    def alt(self) -> str:
        """What the picture is, for whoever doesn't see it."""
        return alt_of(self.sheet)

    @property
    def before_alt(self) -> str:
        return alt_of(self.before) if self.before else ""

    @property
    def id(self) -> str:
        """Of its form on the page where it is edited."""
        return f"page-{self.number}"


def alt_of(sheet: IssuedSheet) -> str:
    """A sheet in words: number, title, what it shows, scale, revision."""
    said = [f"Sheet {sheet.number}, {sheet.title}", sheet.get_kind_display().lower(), sheet.scale]
    return f"{', '.join(filter(None, said))}, revision {sheet.revision.letter}"


@dataclass(frozen=True)
class Shown:
    """A portfolio, whole."""

    scheme: Scheme
    portfolio: Portfolio | None
    credit: Credit
    title: str
    words: str
    credits: tuple[str, ...]
    leaves: tuple[Leaf, ...]
    data: Data | None

    @property
    def by(self) -> str:
        return self.credit.words

    @property
    def made_in(self) -> str:
        """Studio and year level, as a line."""
        return ". ".join(filter(None, (str(self.scheme.studio), self.scheme.studio.year_line)))

    @property
    def title_block(self) -> list[tuple[str, str]]:
        """What stands around it on paper: nobody who asks not to be named."""
        return [("Drawn", self.by)]

    @property
    def is_empty(self) -> bool:
        return not (self.leaves or self.words or self.credits)


def shown_portfolio(
    scheme: Scheme, system: System, *, remarks: Sequence[Comment] | None = None
) -> Shown:
    """Read a scheme's portfolio as it may be shown today."""
    portfolio = portfolio_of(scheme)
    withheld = portfolios.names_withheld(scheme)
    leaders = scheme.studio.memberships.joined().filter(role=Membership.Role.LEADER)
    taught_by = {name.casefold() for name in leaders.values_list("person__name", flat=True)}
    names = {name: said for name, said in withheld.items() if name.casefold() not in taught_by}
    names |= portfolios.unnamed_names(portfolio)
    mask = partial(_masked, names=names)
    said = portfolios.remarks_of(scheme) if remarks is None else remarks
    revision = portfolios.revision_of(portfolio, scheme)
    typed = portfolio.credits if portfolio else ""
    return Shown(
        scheme=scheme,
        portfolio=portfolio,
        credit=portfolios.credit_of(scheme, portfolio),
        title=mask((portfolio and portfolio.title) or scheme.name),
        words=mask(portfolio.words if portfolio else ""),
        credits=tuple(line.strip() for line in mask(typed).splitlines() if line.strip()),
        leaves=tuple(_leaves(portfolio, {c.pk: c for c in said}, mask, system)),
        data=project_data(revision, system) if revision else None,
    )


def _masked(text: str, names: dict[str, str]) -> str:
    return str(masked(text, names))


def _leaves(
    portfolio: Portfolio | None, said: dict[int, Comment], mask: Masked, system: System
) -> list[Leaf]:
    if portfolio is None:
        return []
    items = portfolio.items.select_related(
        "portfolio__scheme",
        "issued_sheet__file",
        "issued_sheet__revision",
        "before__file",
        "before__revision",
    )
    named = portfolios.named_seats(portfolio.scheme)
    changes = _Changes(portfolio.scheme, system)
    return [
        _leaf(item, number, said, named, mask, changes)
        for number, item in enumerate(items, start=1)
    ]


class _Changes:
    """What moved between two revisions of a scheme, each read once for all pages."""

    def __init__(self, scheme: Scheme, system: System) -> None:
        self._scheme, self._system = scheme, system
        self._found: dict[tuple[int, int], list[FindingChange]] = {}

    @cached_property
    def _revisions(self) -> dict[int, Revision]:
        of = Revision.objects.filter(scheme=self._scheme).select_related("scheme__studio")
        return {revision.pk: revision for revision in with_issued_checks(of)}

    def between(self, before: IssuedSheet, after: IssuedSheet) -> list[FindingChange]:
        """Targets whose figure moved; none where a revision has no check sheet."""
        pair = before.revision_id, after.revision_id
        if pair not in self._found:
            both = [self._revisions.get(pk) for pk in pair]
            was, now = both
            moved = findings_changed(was, now, self._system) if was and now and was != now else ()
            self._found[pair] = [
                each
                for each in moved
                if each.before and each.before.value_text != each.after.value_text
            ]
        return self._found[pair]


def _leaf(
    item: PortfolioItem,
    number: int,
    said: dict[int, Comment],
    named: set[int],
    mask: Masked,
    changes: _Changes,
) -> Leaf:
    comment = said.get(item.comment_id or 0)
    return Leaf(
        item=item,
        number=number,
        sheet=item.issued_sheet,
        caption=mask(item.caption),
        before=item.before,
        remark=_remark(comment, named, mask) if comment else None,
        moved=tuple(_moved(item, comment, changes)),
        is_withheld=item.comment_id is not None and comment is None,
    )


def _remark(comment: Comment, named: set[int], mask: Masked) -> Remark:
    seat, answer = comment.jury_sheet.seat, getattr(comment, "answer", None)
    return Remark(
        kind=comment.kind,
        words=mask(comment.words),
        by=seat.name if seat.pk in named else A_JUROR,
        at=f"{seat.crit.get_kind_display()}, {day_words(seat.crit.day)}",
        place=comment.place,
        answer=answer.kind if answer else "",
        answer_words=mask(answer.words) if answer else "",
    )


def _moved(item: PortfolioItem, comment: Comment | None, changes: _Changes) -> list[Moved]:
    """The figures that moved, of the criterion that the remark is about where it names any."""
    if item.before is None:
        return []
    moved = changes.between(item.before, item.issued_sheet)
    refs = comment.criterion.evidence_refs if comment and comment.criterion else []
    own = [change for change in moved if change.after.mark in refs]
    return [
        Moved(
            f"{change.after.mark} {change.after.name}",
            *(_known(line.value_text) for line in (change.before, change.after) if line),
        )
        for change in (own if refs else moved)
    ]


def _known(text: str) -> str:
    return "not known" if text == NOTHING else text
