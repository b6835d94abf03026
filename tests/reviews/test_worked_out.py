"""What was worked out once is kept while nothing that it read has changed."""

from collections import Counter

import pytest
from django.urls import reverse
from django.utils import timezone

from criteria.units import PLAIN, DecimalSign, Notation
from reviews.deeds import crit_jury_keeping
from reviews.models import Scheme, SheetFile, Studio
from reviews.models.weather import read_tables
from reviews.reading import crit_jury_numbers, package_checking
from reviews.worked_out import Told, fingerprint
from tests import factories

ROOMS = {"rooms": [{"mark": "R1", "use": "day", "floor_m2": "12"}]}


@pytest.fixture
def worked(monkeypatch):
    """How often each was worked out."""
    counted = Counter()
    for module, name in ((package_checking, "check_sheet"), (crit_jury_numbers, "analyse_panel")):
        work = getattr(module, name)

        def counting(*args, _work=work, _name=name, **more):
            counted[_name] += 1
            return _work(*args, **more)

        monkeypatch.setattr(module, name, counting)
    return counted


def test_a_row_stands_for_its_own_columns_as_they_were_read(cast):
    def told(**changed):
        Scheme.objects.filter(pk=cast.scheme.pk).update(**changed)
        return fingerprint(Scheme.objects.select_related("studio").get(pk=cast.scheme.pk))

    first = told()
    assert told() == first
    assert told(name="Renamed") != first
    assert told(name=cast.scheme.name, withdrawn_at=timezone.now()) != first
    assert told(withdrawn_at=None) == first
    Studio.objects.update(title="Renamed")
    assert told() == first  # what it leads to is named beside it
    sheet = factories.SheetFactory(package=cast.scheme.package, changed_by=cast.student)
    file = SheetFile.objects.get(pk=sheet.file_id)
    now = fingerprint(file)
    assert file.small.name == ""  # read as a file
    assert fingerprint(file) == now
    SheetFile.objects.update(small="small/1.webp")
    assert fingerprint(SheetFile.objects.get(pk=file.pk)) != now
    with pytest.raises(TypeError):
        fingerprint(object())


def test_the_same_tables_are_one_reading_and_other_ones_another():
    def read(tables, notation=PLAIN):
        return read_tables(Told.of(tables), notation)

    assert read(ROOMS) is read(ROOMS)
    other = {"rooms": [{**ROOMS["rooms"][0], "floor_m2": "13"}]}
    assert read(other).package.rooms[0].floor_m2 == 13
    comma = Notation(decimal=DecimalSign.COMMA)
    typed = {"rooms": [{**ROOMS["rooms"][0], "floor_m2": "1,20"}]}
    assert read(typed, comma).package.rooms[0].floor_m2 == 1.2
    assert read(typed, comma) is not read(typed)


def test_a_check_sheet_is_computed_once_until_a_cell_or_a_target_changes(cast, worked):
    client, page = cast.client(cast.student), reverse("show-checks", args=[cast.scheme.pk])
    client.get(page)
    client.get(page)
    assert worked["check_sheet"] == 1
    row = factories.RowFactory(package=cast.scheme.package, changed_by=cast.student)
    client.get(page)
    assert worked["check_sheet"] == 2
    row.cells = {**row.cells, "floor_m2": "21"}
    row.save()
    client.get(page)
    assert worked["check_sheet"] == 3
    cells = {"id": "T07", "what": "Floor", "check": "floor_area", "rule": "at least", "value": "9"}
    factories.TargetLineFactory(brief=cast.studio.brief, cells=cells)
    assert b"T07" in client.get(page).content
    assert worked["check_sheet"] == 4


def test_the_jury_s_numbers_are_computed_once_until_a_level_changes(cast, worked):
    factories.issue_sheets(cast, "02", schemes=[cast.scheme, cast.other_scheme])
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.other_criterion, 3, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    client, page = cast.client(cast.leader), reverse("show-table", args=[cast.crit.pk])
    client.get(page)
    client.get(page)
    assert worked["analyse_panel"] == 1
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.other_scheme, criterion, 4, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.other_scheme)
    client.get(page)
    assert worked["analyse_panel"] == 2


def test_nobody_else_s_package_is_shown_for_the_same_figures(cast, worked):
    """Two schemes may have typed the same: what is set aside in one stays in it."""
    for scheme in (cast.scheme, cast.other_scheme):
        package = scheme.package
        package.rows.all().delete()
        factories.RowFactory(package=package, cells=ROOMS["rooms"][0], changed_by=cast.student)
    sheets = [package_checking.draft(s.package).sheet for s in (cast.scheme, cast.other_scheme)]
    assert sheets[0].findings == sheets[1].findings
    assert worked["check_sheet"] == 1
