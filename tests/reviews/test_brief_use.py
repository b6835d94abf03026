"""States and people cases of a brief: written, read back, changed by addenda, held in records."""

import pytest
from django.urls import reverse

from criteria.units import System
from reviews.deeds import brief_issuing, package_keeping, record_changes, revision_issuing
from reviews.deeds.brief_writing import USE, USE_ROWS, tables_of_use, use_cells
from reviews.deeds.record_versions import version_of
from reviews.models import Brief, IssuedPackage
from reviews.pages.brief_warnings import brief_warnings
from reviews.pages.check_sheet_page import sheet_page
from reviews.reading import package_checking
from tests.factories import PENS_DOWN, RevisionFactory, RowFactory, TargetLineFactory

TANK = {"mark": "T1", "holds": "potable", "litres": "600", "usable_share": "1"}
WATER = {"id": "T40", "what": "Water", "check": "water_days", "rule": "at least", "value": "7"}
NIGHT = {"states-1-state": "storm", "states-1-kind": "night"}
CASES = {
    "cases-1-case": "everyday", "cases-1-people": "4", "cases-1-days": "285",
    "cases-2-case": "weekend", "cases-2-people": "6", "cases-2-days": "80",
}  # fmt: skip


@pytest.fixture
def draft(cast) -> Brief:
    """The cast's brief, in preparation again."""
    Brief.objects.update(issued_at=None)
    return Brief.objects.get(studio=cast.studio)


def sent(cast, cells, **more):
    """Send the form as its page has it, with other cells."""
    brief = Brief.objects.get(studio=cast.studio)
    data = {**use_cells(brief), "seen": version_of(use_cells(brief)), **cells, **more}
    return cast.client(cast.leader).post(reverse("edit-states", args=[cast.studio.pk]), data)


def kept(cast, cells) -> Brief:
    assert sent(cast, cells).status_code == 302
    return Brief.objects.get(studio=cast.studio)


def test_states_and_cases_are_kept_as_typed(cast, draft):
    brief = kept(cast, NIGHT | CASES)
    assert brief.states == [{"state": "storm", "kind": "night"}]
    assert [case["case"] for case in brief.cases] == ["everyday", "weekend"]


def test_a_row_left_blank_closes_up(cast, draft):
    brief = kept(cast, {"cases-3-case": "fair", "cases-3-people": "9"})
    assert brief.cases == [{"case": "fair", "people": "9"}]
    assert use_cells(brief)["cases-1-case"] == "fair"


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"states-1-state": "storm"}, "Read “nothing”. Expected one of: road, lift, day"),
        ({"states-1-kind": "night"}, "Read “nothing”. Expected a mark of letters and digits"),
        (NIGHT | {"states-2-state": "storm", "states-2-kind": "day"}, "a mark that no row above"),
        (CASES | {"cases-2-people": "many"}, "Read “many”. Expected a whole number"),
        (CASES | {"cases-2-days": "81"}, "Read “366 days”. Expected at most 365 days"),
        ({"states-1-state": "a state of two words", "states-1-kind": "day"}, "a mark of letters"),
        (CASES | {"cases-1-people": "0"}, "Read “0”. Expected a whole number, from 1 to 500"),
    ],
)
def test_what_cannot_be_read_is_named_beside_its_field_and_stays(cast, draft, cells, said):
    answer = sent(cast, cells)
    text = answer.content.decode()
    assert answer.status_code == 200
    assert said in text
    assert all(f'value="{cell}"' in text or f">{cell}<" in text for cell in cells.values())
    assert Brief.objects.get(studio=cast.studio).cases == []


def test_a_newer_list_is_not_run_over(cast, draft):
    stale = version_of(use_cells(draft))
    kept(cast, CASES)
    answer = sent(cast, NIGHT, seen=stale)
    assert answer.status_code == 409
    assert Brief.objects.get(studio=cast.studio).states == []


def test_it_is_undone_as_one(cast, draft):
    brief = kept(cast, NIGHT | CASES)
    record_changes.undo_part(brief, USE, record_changes.last_seen(brief, USE.slug))
    brief.refresh_from_db()
    assert (brief.states, brief.cases) == ([], [])


def test_an_issued_brief_takes_them_by_addendum_alone(cast):
    brief = cast.studio.brief
    answer = sent(cast, CASES)
    assert "The brief is issued" in answer.content.decode()
    tables = tables_of_use(CASES)
    brief_issuing.add_addendum(brief, cast.leader, "More come.", number=1, use=tables)
    assert Brief.objects.get(pk=brief.pk).cases == []
    assert [c["people"] for c in brief.leader_tables()["cases"]] == ["4", "6"]
    assert brief.leader_tables()["states"] == []


def test_the_page_of_an_addendum_sends_what_changes_of_them(cast):
    url = reverse("add-addendum", args=[cast.studio.pk])
    client = cast.client(cast.leader)
    form = client.get(url).context["page"]
    data = {f"site-{head}": cell for head, cell in form.site.shown.items()}
    data |= {f"use-{name}": cell for name, cell in {**form.use.shown, **CASES}.items()}
    answer = client.post(url, {**data, "number": "1", "text": "More come at weekends."})
    assert answer.status_code == 302
    assert cast.studio.brief.addenda.get().use_changes == {"cases": tables_of_use(CASES)["cases"]}


@pytest.fixture
def stored(cast):
    """A package with 600 L and a target of seven days, for a brief of 10 L each a day."""
    brief = cast.studio.brief
    brief.site |= {"people": "6", "water_l_pd": "10"}
    brief.cases = tables_of_use(CASES)["cases"]
    brief.save()
    TargetLineFactory(brief=brief, cells=WATER)
    RowFactory(package=cast.scheme.package, schedule="tanks", cells=TANK)
    return cast.scheme.package


def test_a_check_says_for_which_people_it_was_decided(cast, stored):
    page = cast.client(cast.student).get(reverse("show-check", args=[cast.scheme.pk, "T40"]))
    text = page.content.decode()
    assert "10.0 days" in text  # 600 ÷ (6 × 10)
    assert "case weekend" in text
    assert "15.0 days" in text  # 600 ÷ (4 × 10), one line below


def test_the_check_sheet_sets_the_cases_side_by_side_and_names_the_most(cast, stored):
    checked = package_checking.draft(stored)
    part = sheet_page(checked.told, checked.package, System.METRIC).serving
    row = next(row for row in part.rows if row.ref == "T40")
    assert part.cases == (("everyday", "4 people, 285 days"), ("weekend", "6 people, 80 days"))
    assert part.year == "1,620 person-days a year."
    assert row.values == (("15.0 days", False), ("10.0 days", True))
    line = next(line for line in part.lines if line.ref == "T40")
    assert (line.people, line.figures) == ("8", "7.5 days for 8, 6.7 days for 9")
    text = cast.client(cast.student).get(reverse("show-checks", args=[cast.scheme.pk])).content
    assert part.sentence in text.decode()


def test_an_issued_record_keeps_the_cases_that_it_was_judged_by(cast, stored):
    revision = revision_issuing.issue(stored, cast.student, at=PENS_DOWN)
    was = package_checking.issued_sheet(revision)
    later = tables_of_use(CASES | {"cases-2-people": "60"})
    brief_issuing.add_addendum(cast.studio.brief, cast.leader, "Many.", number=1, use=later)
    revision = type(revision).objects.get(pk=revision.pk)
    assert package_checking.issued_sheet(revision) == was
    assert [case["people"] for case in revision.tables.holds["cases"]] == ["4", "6"]
    assert package_checking.draft(stored).sheet != was


def test_what_was_issued_before_there_were_cases_is_read_as_it_was(cast):
    revision = RevisionFactory(scheme=cast.scheme)
    contents = {k: v for k, v in revision.contents.items() if k not in ("states", "cases")}
    IssuedPackage.objects.filter(revision=revision).update(contents=contents)
    tables = type(revision).objects.get(pk=revision.pk).tables.holds
    assert (tables["states"], tables["cases"]) == ([], [])


def test_a_row_by_state_is_held_to_the_states_of_the_brief(cast):
    brief = cast.studio.brief
    brief.states = [{"state": "storm", "kind": "night"}]
    brief.save()
    schedule = package_keeping.BY_SLUG["rooms_by_state"]
    RowFactory(package=cast.scheme.package, schedule="rooms", cells={"mark": "R1", "room": "Hall"})
    preview = package_keeping.read_rows(
        cast.scheme.package,
        schedule,
        "room,state\nR1,storm\nR1,day\nR1,sauna\nR7,day",
        System.METRIC,
    )
    assert [(cell.row, cell.read) for cell in preview.refused] == [(3, "sauna"), (4, "R7")]


def test_the_leader_is_warned_of_a_case_that_no_row_names_and_of_people_beyond(cast, stored):
    TargetLineFactory(brief=stored.scheme.studio.brief, cells=WATER | {"id": "T41", "case": "fair"})
    brief = Brief.objects.get(pk=cast.studio.brief.pk)
    brief.site |= {"people": "9"}
    brief.save()
    words = {part.name: part.words for part in brief_warnings(brief.studio)}["States and people"]
    assert words == [
        "T41 is asked for case “fair”, which no row names.",
        "The site sheet has 9 people, the fullest case 6.",
    ]


def test_the_leader_is_warned_of_months_that_a_case_cannot_have(cast, stored):
    brief = Brief.objects.get(pk=cast.studio.brief.pk)
    brief.site |= {"people": "6", "design_month": "Oct"}
    brief.climate = [{"month": "Dec", "open": "no"}, {"month": "Jan", "open": "no"}]
    winter = {"case": "ski", "people": "6", "days": "91", "from": "Dec", "to": "Feb"}
    brief.cases = [winter]  # 31 + 31 + 28 = 90, by hand

    def said(**cells):
        brief.cases = [winter | cells]
        brief.save()
        words = {part.name: part.words for part in brief_warnings(brief.studio)}
        return words.get("States and people", [])

    assert said() == [
        "Case “ski” has 91 days; Dec to Feb has 90.",
        "Case “ski” is from Dec to Feb; it is closed in Dec, Jan.",
        "The design month is Oct, and no case has people in it.",
    ]
    assert said(days="90", **{"from": "Feb", "to": "Dec"})[0].endswith("it is closed in Dec.")
    assert said(days="90", **{"from": "Feb", "to": "Nov"}) == []
    assert said(**{"from": "Winter"}) == []


def test_everybody_of_the_studio_reads_them(cast, stored):
    text = cast.client(cast.classmate).get(reverse("show-brief", args=[cast.studio.pk]))
    assert "People cases" in text.content.decode()
    assert "weekend" in text.content.decode()


def test_there_is_a_bound_to_how_many_are_named():
    assert all(most <= 8 for most in USE_ROWS.values())
