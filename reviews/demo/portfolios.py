"""One portfolio of the demo: Hearthbox, whose wall and ways out the interim crit changed."""

from __future__ import annotations

from reviews.deeds.juror_naming import allow_name
from reviews.deeds.portfolio_keeping import Head, add_change, add_sheets, keep_caption, keep_head
from reviews.demo.day import comment_key
from reviews.models import Comment, Scheme, Studio
from reviews.models.revisions import plain_number

NUMBER = "H07"
WORDS = """A hut for twelve, round one fire. What is done by day is done within its light; \
at night the shelf and the loft close over it.

The interim crit asked for a second way out and for a wall that does what its sheet says. Both are \
drawn, and both cost floor."""
CREDITS = "Drawings, schedules and model: {by}\nFire and flue: with the stove sheet of the brief"
SHEETS = ("01", "02", "04", "05")
CAPTIONS = {
    "02": "The shelf, the ladder and the second door. Six sleep here, six above.",
    "04": "The section that everybody understood, redrawn with the gable door.",
}
CHANGES = {
    "9": "One figure was ten times too high, and nobody had asked it.",
    "11": "Both sleeping places have two ways now.",
    "12": "The table folds where it stands.",
}
"""Numbers of the remarks that changed a sheet, each with its caption."""
NAMED = "Odell Brannick"
"""The one juror who allows their name."""


def make_portfolio(studio: Studio) -> None:
    """Make it, where its scheme is in the studio and was issued twice."""
    scheme = Scheme.objects.filter(studio=studio, number=NUMBER).first()
    revisions = list(scheme.revisions.order_by("pk")) if scheme else []
    if scheme is None or len(revisions) < 2:
        return
    by = scheme.members.order_by("name", "pk")[0]
    keep_head(scheme, Head("Hearthbox", WORDS, CREDITS.format(by=scheme.by)), 0, by)
    latest = {plain_number(sheet.number): sheet for sheet in revisions[-1].sheets.all()}
    wanted = [latest[n] for n in map(plain_number, SHEETS) if n in latest]
    for item in add_sheets(scheme, wanted, by):
        if caption := CAPTIONS.get(item.issued_sheet.number):
            keep_caption(item, caption, item.version)
    for number, caption in CHANGES.items():
        remark = Comment.objects.filter(key=comment_key(number)).first()
        before = remark.issued_sheet if remark else None
        after = latest.get(plain_number(before.number)) if before else None
        if before and after:
            item = add_change(scheme, before, after, remark, by)
            keep_caption(item, caption, item.version)
    for seat in studio.crits.get(kind="interim").seats.filter(name=NAMED):
        allow_name(seat, {scheme.pk})
