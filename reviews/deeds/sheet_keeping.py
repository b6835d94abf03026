"""Keep the sheets of a package: hang one, change or confirm its title block, take it down."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from types import MappingProxyType
from typing import Any, NamedTuple

from django.db import transaction

from criteria.errors import Refused
from reviews import clock
from reviews.deeds.package_keeping import hold
from reviews.models import HandInItem, Original, Package, Person, Sheet, SheetFile
from reviews.reading.sheet_lettering import PageText
from reviews.reading.title_block import Asked, AskedSheet, TitleBlock, title_block_of
from reviews.versions import Newer, is_new


class Came(NamedTuple):
    """What a sheet's picture came from, and what was read from it.

    page       its page of the original, from 1, where there are several
    lettering  of the page, as `PageText.as_record` has it
    """

    original: Original | None = None
    original_name: str = ""
    page: int | None = None
    lettering: Mapping[str, Any] = MappingProxyType({})

    @property
    def fields(self) -> dict[str, Any]:
        """The same, as a sheet keeps it."""
        text = PageText.of_record(self.lettering).kept()
        return {**self._asdict(), "lettering": text.as_record() if self.lettering else {}}


NOWHERE = Came()
"""Of a picture that nothing is known of but itself."""


@transaction.atomic
def hang_sheet(
    package: Package,
    file: SheetFile,
    said: TitleBlock,
    by: Person,
    *,
    came: Came = NOWHERE,
    proposed: Mapping[str, str] = MappingProxyType({}),
    at: datetime | None = None,
) -> Sheet:
    """Add a sheet; the same picture sent again under the same number is the sheet that hangs.

    proposed   what of the title block nobody has said yet, and what it was read from

    Raises Refused where another sheet has the number.
    """
    held = hold(package)
    if (hung := held.sheets.filter(number=said.number).first()) and hung.file_id == file.pk:
        return hung
    _require_free(held, said.number, or_else=_OR_ELSE)
    return Sheet.objects.create(
        package=held,
        file=file,
        changed_by=by,
        changed_at=at or clock.now(),
        proposed=dict(proposed),
        **said._asdict(),
        **came.fields,
    )


def sheets_asked(package: Package) -> Asked:
    """The sheets that the hand-in list asks for, and the states that the brief names."""
    brief = package.scheme.studio.brief
    items = brief.hand_in.filter(kind=HandInItem.Kind.SHEET)
    sheets = {item.code: AskedSheet(item.title, item.drawing, item.state) for item in items}
    return Asked(sheets, tuple(brief.state_names()))


@transaction.atomic
def save_sheet(
    package: Package,
    sheet_id: int,
    said: TitleBlock,
    seen: int,
    by: Person,
    *,
    file: SheetFile | None = None,
    came: Came | None = None,
    is_confirmed: bool = False,
    at: datetime | None = None,
) -> Sheet:
    """Change a sheet's title block, and its picture where there is another.

    came          where the other picture comes from
    is_confirmed  whether who saves stands for all that the title block says; what is typed over
                  a proposal is confirmed in any case

    Raises Newer where the sheet was changed since it was seen, Refused where another has
    the number, Sheet.DoesNotExist where it was taken down.
    """
    held = hold(package)
    sheet = Sheet.objects.select_related("file", "changed_by").get(package=held, pk=sheet_id)
    file = file or sheet.file
    before = title_block_of(sheet)
    open_yet = {
        name: read_from
        for name, read_from in sheet.proposed.items()
        if not is_confirmed and getattr(said, name) == getattr(before, name)
    }
    now, sent = (before, sheet.file_id, sheet.proposed), (said, file.pk, open_yet)
    if is_new(sheet, now, sent, stands_at=sheet.version, seen=seen):
        _require_free(held, said.number, besides=sheet)
        for name, value in {**said._asdict(), **(came.fields if came else {})}.items():
            setattr(sheet, name, value)
        sheet.file, sheet.proposed, sheet.version = file, open_yet, sheet.version + 1
        sheet.changed_by, sheet.changed_at = by, at or clock.now()
        sheet.save()
    return sheet


@transaction.atomic
def confirm_sheets(package: Package, seen: Mapping[int, int], by: Person) -> list[Sheet]:
    """Confirm all that is proposed on some sheets, each by the version seen.

    Returns those that were changed since, which aren't confirmed; one that is gone needs nothing.
    """
    newer = []
    for sheet in package.sheets.filter(pk__in=seen):
        try:
            said = title_block_of(sheet)
            save_sheet(package, sheet.pk, said, seen[sheet.pk], by, is_confirmed=True)
        except Newer as found:
            newer.append(found.kept)
    return newer


@transaction.atomic
def keep_answers(package: Package, none: Iterable[str], marks: Iterable[str]) -> None:
    """Keep which words on sheets are no marks, and which are marks after all."""
    held = hold(package)
    held.not_marks = sorted(({*held.not_marks} | {*none}) - {*marks})
    held.save(update_fields=["not_marks"])


@transaction.atomic
def remove_sheet(package: Package, sheet_id: int, seen: int) -> None:
    """Take a sheet down; its picture stays stored, and issued revisions keep it.

    One that is gone needs nothing. Raises Newer where it was changed since it was seen.
    """
    held = hold(package)
    sheet = Sheet.objects.filter(package=held, pk=sheet_id).first()
    if sheet and sheet.version != seen:
        raise Newer(sheet, None)
    if sheet:
        sheet.delete()


_OR_ELSE = (
    ". To change the picture of that sheet, tick so below and send the file again; to hang "
    "another, begin the name of the file with its number, or letter it in the title block"
)


def _require_free(
    package: Package, number: str, besides: Sheet | None = None, or_else: str = ""
) -> None:
    others = package.sheets.exclude(pk=besides.pk) if besides else package.sheets
    if taken := others.filter(number=number).first():
        raise Refused(number, f"a number that no other sheet has; {taken} has it{or_else}")
