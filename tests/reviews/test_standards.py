"""The map from criteria to published standards: begun, edited, pasted, exported, undone."""

import pytest
from django.urls import reverse

from reviews.deeds import standards_mapping
from reviews.deeds.record_changes import last_change, undo_part
from reviews.deeds.record_versions import version_of
from reviews.deeds.standards_mapping import STANDARDS, bring_in_standards, lines_of
from reviews.deeds.table_bringing import NotClean
from reviews.reading.standards_map import standards_map
from reviews.versions import Newer

TABLE = "body\tedition\tcode\ttitle\tcriteria\nNAAB\t2020\tSC.6\tBuilding integration\tF1, F2 F1\n"


@pytest.fixture
def mapped(cast):
    bring_in_standards(cast.studio, TABLE, cast.leader, seen=None)
    return cast.studio


def test_it_begins_with_codes_that_the_studio_has_and_once(cast):
    number = standards_mapping.start_standards(cast.studio, cast.leader)
    assert number == cast.studio.standards.count() > 20
    codes = {code for each in cast.studio.standards.all() for code in each.criteria.split()}
    assert codes == {"F1", "F2"}
    assert all("check against the edition" in each.note for each in cast.studio.standards.all())
    assert standards_mapping.start_standards(cast.studio, cast.leader) == 0


def test_what_meets_nothing_is_named_on_both_sides(cast, mapped):
    more = "body,edition,title,criteria\nRIBA,2021,Climate,\nCIDA,2022,Construction,F9\n"
    bring_in_standards(mapped, more, cast.leader, seen=None)
    mapped.standards.filter(code="SC.6").update(criteria="F1")
    found = standards_map(mapped)
    assert [str(each) for each in found.idle] == ["F2 Making"]
    assert [each.title for each in found.unmet] == ["Climate", "Construction"]
    assert found.unknown == ["F9"]
    page = cast.client(cast.examiner).get(reverse("show-standards", args=[mapped.pk]))
    shown = page.content.decode()
    assert "1 meets nothing:</strong> F2 Making" in shown
    assert "On no criteria sheet of this studio:</strong> F9" in shown
    assert "Edit the map" not in shown


def test_the_same_table_twice_is_once_and_goes_out_as_it_came(cast, mapped):
    first = last_change(mapped, STANDARDS.slug)
    table = standards_mapping.standards_csv(lines_of(mapped))
    bring_in_standards(mapped, table, cast.leader, seen=None)
    assert last_change(mapped, STANDARDS.slug) == first
    assert mapped.standards.get().criteria == "F1 F2"
    changed = table.replace("F1 F2", "F2")
    bring_in_standards(mapped, changed, cast.leader, seen=None)
    assert mapped.standards.get().criteria == "F2"
    undo_part(mapped, STANDARDS, last_change(mapped, STANDARDS.slug).pk)
    assert mapped.standards.get().criteria == "F1 F2"


def test_a_line_without_its_edition_or_twice_is_refused_with_its_place(cast, mapped):
    for lines in ("NAAB,,SC.1,Safety,F1\n", "RIBA,2021,,Climate,F1\nriba,2021,,climate,F2\n"):
        typed = f"body,edition,code,title,criteria\n{lines}"
        with pytest.raises(NotClean) as unclean:
            bring_in_standards(mapped, typed, cast.leader, seen=None)
        assert unclean.value.preview.refused[0].row == lines.count("\n")
    assert mapped.standards.count() == 1


def test_a_save_over_a_newer_map_is_refused_and_both_are_shown(cast, mapped):
    seen = version_of(lines_of(mapped))
    other = [line | {"note": "read"} for line in lines_of(mapped)]
    standards_mapping.keep_standards(mapped, other, seen, cast.coordinator)
    with pytest.raises(Newer):
        standards_mapping.keep_standards(mapped, [], seen, cast.leader)
    address = reverse("edit-standards", args=[mapped.pk])
    heads = {"rows-TOTAL_FORMS": "1", "rows-INITIAL_FORMS": "1", "seen": str(seen)}
    line = {"body": "NAAB", "edition": "2020", "title": "Mine", "criteria": "F1"}
    sent = heads | {f"rows-0-{name}": text for name, text in line.items()}
    page = cast.client(cast.leader).post(address, sent)
    assert page.status_code == 409
    assert "Mine" in page.content.decode()
    assert "Building integration" in page.content.decode()
    assert mapped.standards.get().note == "read"
