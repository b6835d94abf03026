"""Keep the sheets of a package: hang one, change its title block, take it down."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from criteria.errors import Refused
from reviews.deeds.package_keeping import hold
from reviews.models import HandInItem, Package, Person, Sheet, SheetFile
from reviews.reading.sheet_names import TitleBlock
from reviews.versions import Newer, is_new


def title_block_of(sheet: Sheet) -> TitleBlock:
    """What a sheet's title block says now."""
    return TitleBlock(sheet.number, sheet.title, sheet.scale, sheet.drawn_by, sheet.checked_by)


@transaction.atomic
def hang_sheet(
    package: Package, file: SheetFile, said: TitleBlock, by: Person, *, at: datetime | None = None
) -> Sheet:
    """Add a sheet; the same picture sent again under the same number is the sheet that hangs.

    Raises Refused where another sheet has the number.
    """
    held = hold(package)
    if (hung := held.sheets.filter(number=said.number).first()) and hung.file_id == file.pk:
        return hung
    _require_free(held, said.number)
    return Sheet.objects.create(
        package=held, file=file, changed_by=by, changed_at=at or timezone.now(), **said._asdict()
    )


def sheets_asked(package: Package) -> dict[str, str]:
    """The sheets that the hand-in list asks for, number → title."""
    items = package.scheme.studio.brief.hand_in.filter(kind=HandInItem.Kind.SHEET)
    return {item.code: item.title for item in items}


@transaction.atomic
def save_sheet(
    package: Package,
    sheet_id: int,
    said: TitleBlock,
    seen: int,
    by: Person,
    *,
    file: SheetFile | None = None,
    at: datetime | None = None,
) -> Sheet:
    """Change a sheet's title block, and its picture where there is another.

    Raises Newer where the sheet was changed since it was seen, Refused where another has
    the number, Sheet.DoesNotExist where it was taken down.
    """
    held = hold(package)
    sheet = Sheet.objects.select_related("file", "changed_by").get(package=held, pk=sheet_id)
    file = file or sheet.file
    now, sent = (title_block_of(sheet), sheet.file_id), (said, file.pk)
    if is_new(sheet, now, sent, stands_at=sheet.version, seen=seen):
        _require_free(held, said.number, besides=sheet)
        for name, text in said._asdict().items():
            setattr(sheet, name, text)
        sheet.file, sheet.version = file, sheet.version + 1
        sheet.changed_by, sheet.changed_at = by, at or timezone.now()
        sheet.save()
    return sheet


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


def _require_free(package: Package, number: str, besides: Sheet | None = None) -> None:
    others = package.sheets.exclude(pk=besides.pk) if besides else package.sheets
    if taken := others.filter(number=number).first():
        raise Refused(number, f"a number that no other sheet has; {taken} has it")
