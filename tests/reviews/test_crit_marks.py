"""Marks as files: what is agreed beside what jurors gave, and nothing that a spreadsheet runs."""

import io
import zipfile

from django.urls import reverse
from python_calamine import CalamineWorkbook

from reviews.deeds import crit_agreeing
from reviews.deeds.crit_agreeing import VerdictGiven
from reviews.models import AuditLine
from tests import factories
from tests.reviews.jury_steps import lock


def test_marks_go_out_as_csv_and_as_a_spreadsheet_and_both_are_recorded(cast):
    cast.scheme.name = "=1+1"
    cast.scheme.save()
    lock(cast, cast.seat, 3)
    lock(cast, factories.SeatFactory(crit=cast.crit, name="Kit Second"), 5)
    crit_agreeing.agree_means(cast.crit, cast.leader)
    sent = VerdictGiven("again", ["F2"], "Draw\x07 the stair.", 0)
    crit_agreeing.give_verdict(cast.crit, cast.scheme, cast.leader, sent)
    leader = cast.client(cast.leader)
    rows = leader.get(reverse("export-marks", args=[cast.crit.pk])).content.decode().split("\r\n")
    assert rows[0].startswith("\ufeffscheme,name,students,F1,F2,weighted_agreed,verdict,stays_open")
    assert rows[1].startswith("R01,'=1+1,Mira Mate and Stef Student,4,4,4.0,Show again,F2,")
    assert rows[1].endswith(",2,4.0,2.0")
    assert rows[2].startswith("R02,Keel,Clem Classmate,,,,,,,0,,")
    answer = leader.get(reverse("export-workbook", args=[cast.crit.pk]))
    assert answer["Content-Disposition"].endswith('-marks-and-tables.xlsx"')
    book = CalamineWorkbook.from_filelike(io.BytesIO(answer.content))
    assert book.sheet_names == ["Marks", "Levels", "Decisions"]
    cells = book.get_sheet_by_name("Marks").to_python()[1]
    assert cells[1] == "'=1+1"
    assert cells[3:6] == [4, 4, 4]
    with zipfile.ZipFile(io.BytesIO(answer.content)) as parts:
        assert not [name for name in parts.namelist() if b"<f>" in parts.read(name)]
    decisions = [row[:4] for row in book.get_sheet_by_name("Decisions").to_python()]
    assert decisions[1:] == [
        ["R01", "F1", "4", "4"], ["R01", "F2", "4", "4"], ["R01", "verdict", "Show again", ""],
    ]  # fmt: skip
    told = AuditLine.objects.of_deed(AuditLine.Deed.EXPORTED).values_list("about", flat=True)
    assert sorted(each.rpartition(", ")[2] for each in told) == ["marks", "marks and tables"]


def test_a_scheme_closed_to_a_leader_is_in_no_file(cast):
    lock(cast, cast.seat, 3)
    factories.SeatFactory(crit=cast.crit, name=cast.leader.name)
    rows = cast.client(cast.leader).get(reverse("export-marks", args=[cast.crit.pk]))
    assert "R01" not in rows.content.decode()
