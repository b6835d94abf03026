"""A sheet seen close: what its scale lets measure, and its marks, ringed, beside their rows."""

import pytest
from django.urls import reverse

from reviews.models import IssuedSheet, Sheet
from reviews.pages.close_view import across
from reviews.reading.sheet_lettering import PageText, Word
from tests import factories

pytestmark = pytest.mark.django_db
LETTERED = PageText((Word("W1", 0.54, 0.54, 0.02, 0.02), Word("R7", 0.1, 0.1, 0.02, 0.02)))


@pytest.mark.parametrize(
    ("scale", "width_mm", "found"),
    [
        ("1:50", 841, 42.05),
        ('1/4" = 1\'-0"', 914.4, 43.8912),
        ("1:50", None, None),
        *[(scale, 841, None) for scale in ("", "as shown", "1:0", "1:50, 1:20")],
    ],
)
def test_a_bar_of_lengths_needs_one_scale_and_the_paper_s_width(scale, width_mm, found):
    """A1 at 1:50: 841 × 50 mm; ARCH D at a quarter inch to the foot: 36 in × 48."""
    metres, why = across(Sheet(scale=scale, width_mm=width_mm))
    assert metres == pytest.approx(found)
    assert bool(why) is (found is None)


@pytest.fixture
def sheet(cast):
    package = cast.scheme.package
    window = {"mark": "W1", "room": "R1"}
    factories.RowFactory(package=package, schedule="windows", cells=window, changed_by=cast.student)
    return factories.SheetFactory(
        package=package, number="02", changed_by=cast.student, lettering=LETTERED.as_record()
    )


def close(cast, who, *args):
    name = "show-sheet" if len(args) == 2 and isinstance(args[1], int) else "show-issued-sheet"
    return cast.client(who).get(reverse(name, args=args)).content.decode()


def test_a_mark_on_the_drawing_leads_to_its_row_and_the_row_to_its_square(cast, sheet):
    page = close(cast, cast.student, cast.scheme.pk, sheet.pk)
    row = cast.scheme.package.rows.get(schedule="windows")
    href = f"{reverse('show-schedule', args=[cast.scheme.pk, 'windows'])}#row-{row.pk}"
    assert f'<svg x="55.000%" y="55.000%" overflow="visible"><a href="{href}"' in page
    assert '<a href="#C4">C4</a>' in page
    rows = reverse("show-schedule", args=[cast.scheme.pk, "windows"])
    there = f"{reverse('show-sheet', args=[cast.scheme.pk, sheet.pk])}#C4"
    assert f'href="{there}"' in cast.client(cast.student).get(rows).content.decode()


def test_a_square_is_asked_for_without_a_script(cast, sheet):
    client = cast.client(cast.student)
    address = reverse("show-sheet", args=[cast.scheme.pk, sheet.pk])
    for asked in ({"at": "c4"}, {"row": "C", "column": "4"}):
        assert client.get(address, asked)["Location"] == f"{address}#C4"
    page = client.get(address, {"at": "E9"}).content.decode()
    assert "Read “E9”. Expected a square from A1 to D6." in page
    assert 'id="C4"' in page
    assert (
        f'<a href="{reverse("sheet-image", args=[cast.scheme.pk, sheet.pk, "full"])}"><img' in page
    )


def test_classmates_see_an_issued_sheet_without_the_ways_to_its_rows(cast, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    (revision,) = factories.issue_sheets(cast, "02", schemes=[cast.scheme])
    IssuedSheet.objects.update(lettering=LETTERED.as_record())
    page = close(cast, cast.classmate, revision.pk, "02")
    assert "mark-rings" not in page
    assert reverse("show-issued-schedule", args=[revision.pk, "windows"]) not in page
