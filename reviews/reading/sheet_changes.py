"""The sheets of two revisions in pairs, and what is known of where their pictures differ."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_
from typing import Any

from django.db.models import Q

from reviews.models import IssuedSheet, PictureChange, Revision
from reviews.models.revisions import plain_number

Pictures = tuple[int, int]

_BLOCK = ("number", "title", "scale", "drawn_by", "checked_by", "kind", "state")


@dataclass(frozen=True)
class SheetPair:
    """A sheet as it was issued before and after; one of them is None where there is none.

    found   what was found of the two pictures, as `reviews.picture_changes` says it; None where
            they are one, or aren't compared yet
    """

    before: IssuedSheet | None
    after: IssuedSheet | None
    found: Mapping[str, Any] | None = None

    @property
    def pictures(self) -> Pictures | None:
        """The two pictures by their keys; None where there is nothing to compare."""
        if self.before is None or self.after is None or self.is_same:
            return None
        return self.before.file_id, self.after.file_id

    @property
    def is_same(self) -> bool:
        """Whether both have one picture."""
        both = self.before, self.after
        return None not in both and len({each.file_id for each in both if each}) == 1

    @property
    def is_waited_for(self) -> bool:
        """Whether two pictures are still to be compared."""
        return self.pictures is not None and self.found is None

    @property
    def block_changes(self) -> tuple[tuple[str, str, str], ...]:
        """What of the title block differs: name, before, after."""
        if self.before is None or self.after is None:
            return ()
        said = [
            (_called(name), *(_said(each, name) for each in (self.before, self.after)))
            for name in _BLOCK
        ]
        return tuple((name, was, now) for name, was, now in said if was != now)

    @property
    def sheet(self) -> IssuedSheet:
        """The latest there is."""
        sheet = self.after or self.before
        assert sheet is not None
        return sheet


def _called(name: str) -> str:
    return name.replace("_", " ")


def _said(sheet: IssuedSheet, name: str) -> str:
    return str(sheet.get_kind_display() if name == "kind" else getattr(sheet, name))


def sheet_pairs(before: Revision, after: Revision) -> list[SheetPair]:
    """Pair the sheets of two revisions, with what was found of them by now."""
    was, now = (
        list(each.sheets.select_related("file").defer("lettering")) for each in (before, after)
    )
    pairs = [SheetPair(*each) for each in paired(was, now)]
    found = found_of(each.pictures for each in pairs)
    return [
        SheetPair(each.before, each.after, found.get(each.pictures or (0, 0))) for each in pairs
    ]


def found_of(pictures: Iterable[Pictures | None]) -> dict[Pictures, Mapping[str, Any]]:
    """What was found of pairs of pictures; those that aren't compared yet are left out."""
    asked = [Q(former=one, present=other) for one, other in filter(None, pictures)]
    if not asked:
        return {}
    done = PictureChange.objects.filter(reduce(or_, asked), found_at__isnull=False)
    return {(each.former_id, each.present_id): each.found for each in done}


def paired(
    was: Sequence[IssuedSheet], now: Sequence[IssuedSheet]
) -> list[tuple[IssuedSheet | None, IssuedSheet | None]]:
    """Pair sheets by number, those that are left by title; in order, what is gone at the end."""
    left = {plain_number(each.number): each for each in was}
    mates = {each.pk: left.pop(plain_number(each.number), None) for each in now}
    titles = {_plain(each.title): number for number, each in left.items()}
    for each in now:
        if mates[each.pk] is None and (number := titles.pop(_plain(each.title), None)):
            mates[each.pk] = left.pop(number)
    gone = [(each, None) for each in was if plain_number(each.number) in left]
    return [*((mates[each.pk], each) for each in now), *gone]


def _plain(title: str) -> str:
    return " ".join(title.casefold().split())
