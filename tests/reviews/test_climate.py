"""The climate of a brief: written in a table or pasted, frozen at issue, read by checks."""

import itertools

import pytest
from django.urls import reverse

from criteria.schedules import CLIMATE
from criteria.units import PLAIN, System
from reviews.deeds import brief_issuing, brief_tables, record_changes, revision_issuing
from reviews.deeds.brief_tables import read_climate
from reviews.deeds.brief_writing import MONTHLY, climate_cells
from reviews.deeds.record_versions import version_of
from reviews.deeds.table_bringing import NotClean
from reviews.models import Brief, Person
from reviews.models.briefs import Frozen
from reviews.pages.brief_page import leader_table
from reviews.pages.brief_warnings import brief_warnings
from reviews.reading import package_checking
from reviews.versions import Newer
from tests.factories import PENS_DOWN, RevisionFactory, RowFactory, TargetLineFactory

RAIN = {"id": "T40", "check": "rain_catch", "rule": "at least", "value": "0.5"}
TABLE = "Month\tMean [°C]\tRain\tOpen\nJanuary\t-8.4\t0\tno\nJUN\t5\t90\tyes\n"


@pytest.fixture
def draft(cast) -> Brief:
    """The cast's brief, in preparation again."""
    Brief.objects.update(issued_at=None)
    return Brief.objects.get(studio=cast.studio)


def write_climate(brief, cells, seen):
    record_changes.keep(brief, MONTHLY, cells, seen, brief.studio.opened_by)


def bring_in_climate(brief, typed):
    return brief_tables.bring_in_climate(brief, typed, brief.studio.opened_by)


def keep(brief, **cells):
    """Keep cells named Jan_rain_mm."""
    now = climate_cells(brief)
    named = {name.replace("_", "-", 1): cell for name, cell in cells.items()}
    write_climate(brief, now | named, version_of(now))
    brief.refresh_from_db()


def url(cast, name="edit-climate"):
    return reverse(name, args=[cast.studio.pk])


# deeds


def test_months_are_kept_as_typed_and_in_the_order_of_the_year(draft):
    keep(draft, Oct_rain_mm="3 in", Jun_rain_mm="90")
    keep(draft, Jan_mean_c="-8,4")
    assert draft.climate == [
        {"month": "Jan", "mean_c": "-8,4"},
        {"month": "Jun", "rain_mm": "90"},
        {"month": "Oct", "rain_mm": "3 in"},
    ]
    keep(draft, Jan_mean_c="")
    assert [record["month"] for record in draft.climate] == ["Jun", "Oct"]


def test_a_newer_climate_is_not_run_over(draft):
    seen = version_of(climate_cells(draft))
    keep(draft, Jan_rain_mm="10")
    late = climate_cells(draft) | {"Jan-rain_mm": "20"}
    with pytest.raises(Newer) as newer:
        write_climate(draft, late, seen)
    assert newer.value.kept["Jan-rain_mm"] == "10"


def test_a_pasted_table_replaces_the_months_it_names(draft):
    keep(draft, Jan_wind_ms="8.9", Feb_rain_mm="7")
    assert read_climate(draft, TABLE).news == ("differs", "new month")
    bring_in_climate(draft, TABLE)
    draft.refresh_from_db()
    assert draft.climate == [
        {"month": "Jan", "mean_c": "-8.4", "rain_mm": "0", "open": "no"},
        {"month": "Feb", "rain_mm": "7"},
        {"month": "Jun", "mean_c": "5", "rain_mm": "90", "open": "yes"},
    ]
    assert set(read_climate(draft, TABLE).news) == {"the same"}


@pytest.mark.parametrize(
    ("line", "column", "read"),
    [
        ("Jan,5\nJan,6", "Month", "Jan"),
        ("Thermidor,5", "Month", "Thermidor"),
        ("Jan,wet", "Rain", "wet"),
        ("Jan,-1", "Rain", "-1"),
        (",5", "Month", "nothing"),
    ],
)
def test_a_cell_of_a_month_that_cannot_be_read_is_named(draft, line, column, read):
    typed = f"month,rain_mm\n{line}"
    (cell,) = read_climate(draft, typed).refused
    assert (cell.column, cell.read) == (column, read)
    with pytest.raises(NotClean, match="refused"):
        bring_in_climate(draft, typed)
    draft.refresh_from_db()
    assert draft.climate == []


def test_an_issued_climate_is_frozen(draft, cast):
    keep(draft, Jan_rain_mm="10")
    brief_issuing.issue(draft, cast.leader)
    for deed in (
        lambda: write_climate(draft, {}, 0),
        lambda: bring_in_climate(draft, TABLE),
    ):
        with pytest.raises(Frozen, match="Change it by an addendum"):
            deed()
    draft.refresh_from_db()
    assert draft.climate == [{"month": "Jan", "rain_mm": "10"}]


# what it is for


@pytest.fixture
def package(cast):
    """A roof of 40 m²; the driest open month is to give half of what 13 people use."""
    package, brief = cast.scheme.package, cast.studio.brief
    roof = {"mark": "E1", "part": "roof", "layer": "sheet", "mm": "1", "k": "50",
            "gross_area_m2": "40"}  # fmt: skip
    RowFactory(package=package, schedule="envelope", cells=roof, changed_by=cast.student)
    TargetLineFactory(brief=brief, cells=RAIN)
    brief.climate = [
        {"month": "Jan", "rain_mm": "0", "open": "no"},
        {"month": "Jun", "rain_mm": "90", "open": "yes"},
        {"month": "Aug", "rain_mm": "117", "open": "yes"},
    ]
    brief.save()
    package.scheme.studio.brief.refresh_from_db()
    return package


def rain(sheet):
    return next(f for f in sheet.asked if f.ref == "T40")


def test_rain_is_caught_in_the_driest_open_month(cast, package):
    """By hand: 0.090 m × 40 m² × 0.8 = 2.88 m³; 13 × 12 L × 30 days = 4.68 m³; 0.615."""
    found = rain(package_checking.draft(package).sheet)
    assert found.value == pytest.approx(2.88 / 4.68)


def test_a_revision_keeps_the_climate_it_was_issued_under(cast, package):
    revision = revision_issuing.issue(package, cast.student, PENS_DOWN)
    Brief.objects.update(climate=[])
    revision.refresh_from_db()
    assert rain(package_checking.issued_sheet(revision)).value == pytest.approx(2.88 / 4.68)
    address = reverse("show-issued-schedule", args=[revision.pk, "climate"])
    text = cast.client(cast.student).get(address).content.decode()
    assert "Climate by month" in text
    assert "117" in text


def test_a_revision_issued_before_briefs_had_a_climate_still_reads(cast, package):
    targets = [{**RAIN, "asked_by": "the brief"}]
    contents = {"statement": "", "schedules": {}, "site": {}, "targets": targets, "sheets": []}
    revision = RevisionFactory(
        scheme=cast.scheme, letter="A", issued_by=cast.student, contents=contents
    )
    assert "rows of the climate by month" in rain(package_checking.issued_sheet(revision)).missing
    client = cast.client(cast.student)
    for name, args in (("show-issued-checks", []), ("show-issued-schedule", ["climate"])):
        assert client.get(reverse(name, args=[revision.pk, *args])).status_code == 200


# on the page


def test_a_leader_writes_the_months_in_a_table(cast, draft, leader):
    text = leader.get(url(cast)).content.decode()
    assert text.count('class="field-cell"') == 12 * 7
    sent = {"seen": version_of(climate_cells(draft)), "Jun-rain_mm": "90", "Jun-open": "yes"}
    assert leader.post(url(cast), sent).url == url(cast)
    draft.refresh_from_db()
    assert draft.climate == [{"month": "Jun", "rain_mm": "90", "open": "yes"}]


def test_a_bare_number_takes_the_units_of_whoever_types(cast, draft, leader):
    cast.leader.units = "us"
    cast.leader.save()
    sent = {"seen": version_of(climate_cells(draft)), "Jun-rain_mm": "3.5"}
    leader.post(url(cast), sent)
    draft.refresh_from_db()
    assert draft.climate == [{"month": "Jun", "rain_mm": "3.5 in"}]
    assert 'value="3.5 in"' in leader.get(url(cast)).content.decode()


def test_a_bad_cell_is_named_and_nothing_is_lost(cast, draft, leader):
    answer = leader.post(url(cast), {"Jun-rain_mm": "wet", "Jul-rain_mm": "80"})
    text = answer.content.decode()
    assert "Read “wet”. Expected" in text
    assert 'value="wet"' in text
    assert 'value="80"' in text
    draft.refresh_from_db()
    assert draft.climate == []


def test_what_was_kept_meanwhile_is_shown_beside_what_was_typed(cast, draft, leader):
    seen = version_of(climate_cells(draft))
    keep(draft, Jun_rain_mm="90")
    answer = leader.post(url(cast), {"seen": seen, "Jun-rain_mm": "80"})
    assert answer.status_code == 409
    assert answer.context["form"].newer == [("Jun: Rain [mm]", "90", "80")]


def test_months_are_pasted_after_a_preview_and_go_out_as_csv(cast, draft, leader):
    address = url(cast, "paste-climate")
    preview = leader.post(address, {"text": TABLE}).content.decode()
    assert "new month" in preview
    assert not Brief.objects.get(pk=draft.pk).climate
    assert leader.post(address, {"text": TABLE, "keep": "yes"}).url == url(cast)
    text = leader.get(url(cast, "export-climate")).content.decode()
    assert text.splitlines()[0].startswith("\ufeffmonth,mean_c [°C],")
    leader_in_feet = cast.client(cast.leader)
    Person.objects.update(units="us")
    in_feet = leader_in_feet.get(url(cast, "export-climate")).content.decode()
    assert in_feet.splitlines()[0].startswith("\ufeffMonth,Mean [°F],")
    for each, system in itertools.product((text, in_feet), System):
        news = read_climate(Brief.objects.get(pk=draft.pk), each, system).news
        assert news == ("the same",) * 2


@pytest.mark.parametrize("name", ["edit-climate", "paste-climate"])
def test_an_issued_climate_is_not_offered_for_writing(cast, leader, name):
    assert leader.get(url(cast, name)).url == reverse("show-brief", args=[cast.studio.pk])
    answer = leader.post(url(cast, name), {"text": TABLE, "keep": "yes", "Jan-rain_mm": "5"})
    assert "The brief is issued" in answer.content.decode()
    assert not Brief.objects.get(studio=cast.studio).climate


def test_everybody_of_the_studio_reads_it_in_their_units(cast, package):
    address = reverse("show-brief", args=[cast.studio.pk])
    text = cast.client(cast.classmate).get(address).content.decode()
    assert "Climate by month" in text
    assert "117" in text
    table = leader_table(CLIMATE, cast.studio.brief.climate, PLAIN.read_in(System.US))
    assert table.heads == [("Rain", "in", True), ("Open", "", False)]
    # 90 mm ÷ 25.4 mm (the international inch, NIST Handbook 44, Appendix C) = 3.54 in
    assert dict(table.rows)["Jun"] == [("3.5", True), ("yes", False)]


def _warned(brief):
    parts = {part.name: part.words for part in brief_warnings(brief.studio)}
    return parts.get("Climate by month", [])


def test_what_a_check_needs_of_it_is_asked_for(draft):
    assert _warned(draft) == []
    TargetLineFactory(brief=draft, cells=RAIN)
    assert _warned(draft) == ["No month is filled in; T40 needs it."]
    keep(draft, Jun_rain_mm="90", Jul_mean_c="8")
    assert _warned(draft) == ["Jul, Rain is blank; T40 needs it."]
    keep(draft, Jul_open="no")
    assert _warned(draft) == []
