"""The register names every package, how late, at which crit it was judged, and who has none."""

from datetime import timedelta

from django.urls import reverse
from django.utils import timezone

from reviews.models import Revision, Scheme
from reviews.reading.revision_register import register_of
from tests import factories
from tests.reviews.jury_steps import lock

ALL = Revision.objects.all()


def test_every_revision_has_its_line_and_a_scheme_without_one_says_so(
    cast, django_assert_num_queries
):
    first, second = (
        factories.RevisionFactory(scheme=cast.scheme, letter=letter, minutes_late=late)
        for letter, late in (("A", 0), ("B", 41))
    )
    Revision.objects.filter(pk=second.pk).update(crit=cast.crit)
    factories.IssuedSheetFactory(revision=second)
    lock(cast, cast.seat, 4)
    Scheme.objects.filter(pk=cast.other_scheme.pk).update(withdrawn_at=timezone.now())
    with django_assert_num_queries(6):
        lines = register_of(cast.studio, ALL)
    cells = [line.cells for line in lines]
    assert [row[:3] for row in cells] == [
        ["R01", "Lee", "A"],
        ["R01", "Lee", "B"],
        ["R02", "Keel", "nothing issued"],
    ]
    assert [row[4] for row in cells] == ["no crit", str(cast.crit), ""]
    assert [row[5] for row in cells] == ["", "41 min", ""]
    assert [row[6] for row in cells] == ["0", "1", ""]
    assert [row[7] for row in cells] == ["", str(cast.crit), ""]
    assert cells[1][8] == "Mira Mate and Stef Student"
    assert cells[2][9]
    assert cells[0][10] == first.fingerprint


def test_examiners_read_of_released_crits_alone_and_take_it_as_a_table(cast):
    factories.issue_sheets(cast, "02", schemes=[cast.scheme])
    address = reverse("export-register", args=[cast.studio.pk])
    examiner = cast.client(cast.examiner)
    assert "R01,Lee,nothing issued" in examiner.get(address).content.decode()
    cast.crit.released_at = timezone.now() + timedelta(minutes=1)
    cast.crit.save()
    assert "R01,Lee,A," in examiner.get(address).content.decode()
    shown = examiner.get(reverse("show-register", args=[cast.studio.pk])).content.decode()
    assert "1 revision, 0 of them late; 1 scheme without one" in shown
