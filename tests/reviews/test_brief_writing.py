"""Writing a brief, issuing it, changing it by addenda."""

import pytest

from criteria.checks.catalogue import CATALOGUE
from criteria.schedules import SITE
from criteria.targets.reading import read_targets
from criteria.targets.sets import SETS
from criteria.units import System
from reviews.deeds import brief_tables, brief_writing
from reviews.deeds.brief_issuing import add_addendum, issue
from reviews.deeds.brief_tables import add_set, bring_in_targets, read_targets_table
from reviews.deeds.brief_writing import (
    HAND_IN,
    MONTHLY,
    PARTS,
    SITE_SHEET,
    TARGET_LIST,
    TEXT,
    KnownRef,
    change_target,
    full_cells,
    remove_target,
    site_cells,
    text_parts,
)
from reviews.deeds.record_changes import keep, last_change
from reviews.deeds.record_changes import undo_part as undo
from reviews.deeds.record_versions import version_of
from reviews.deeds.table_bringing import NotClean
from reviews.models import Change
from reviews.models.briefs import Frozen
from reviews.pages.brief_page import site_entries, target_entries, unused_of
from reviews.pages.brief_warnings import brief_warnings
from reviews.versions import Newer
from tests import factories

WATER = {
    "id": "T14",
    "what": "Water days",
    "check": "water_days",
    "rule": "at least",
    "value": "10",
    "unit": "days",
}


@pytest.fixture
def brief(db):
    return factories.BriefFactory(text="", site={})


@pytest.fixture
def by(brief):
    return brief.studio.opened_by


def add_target(brief, cells):
    return brief_writing.add_target(brief, cells, brief.studio.opened_by)


# text, site sheet, hand-in list


def test_text_is_kept_and_a_late_text_refused(brief, by):
    seen = version_of(text_parts(brief))
    parts = {"text": "A hut.", "statement_words": 60, "decimal": "point"}
    keep(brief, TEXT, parts, seen, by)
    keep(brief, TEXT, parts, seen, by)
    with pytest.raises(Newer) as late:
        keep(brief, TEXT, parts | {"text": "A station."}, seen, by)
    assert late.value.kept["text"] == "A hut."
    brief.refresh_from_db()
    assert brief.text == "A hut."


def test_the_site_sheet_keeps_what_is_filled_as_typed(brief, by):
    cells = dict.fromkeys(SITE.heads, "") | {"people": "13", "drift_m": "7'-3\""}
    keep(brief, SITE_SHEET, cells, version_of(site_cells(brief)), by)
    brief.refresh_from_db()
    assert brief.site == {"people": "13", "drift_m": "7'-3\""}


def test_the_hand_in_list_is_kept_once(brief, by):
    items = [["schedule", "rooms", "Rooms", "", ""], ["sheet", "02", "Plan", "plan", "packed"]]
    seen = version_of([])
    keep(brief, HAND_IN, items, seen, by)
    keep(brief, HAND_IN, items, seen, by)
    assert brief_writing.hand_in_items(brief) == items
    with pytest.raises(Newer, match="Plan"):
        keep(brief, HAND_IN, [], seen, by)


def test_a_hand_in_list_that_an_earlier_version_kept_is_written_back(brief, by):
    keep(brief, HAND_IN, [["sheet", "02", "Plan"]], version_of([]), by)
    assert brief_writing.hand_in_items(brief) == [["sheet", "02", "Plan", "", ""]]


# targets


def test_a_target_is_added_once_and_its_reference_is_its_own(brief):
    first = add_target(brief, WATER)
    assert add_target(brief, WATER) == first
    with pytest.raises(KnownRef, match="T14"):
        add_target(brief, WATER | {"value": "12"})
    add_target(brief, WATER | {"id": "T15"})
    assert [line.cells["id"] for line in brief.target_lines.all()] == ["T14", "T15"]


def test_a_target_is_changed_and_a_late_change_refused(brief, by):
    line = add_target(brief, WATER)
    other = add_target(brief, WATER | {"id": "T15"})
    seen = version_of(full_cells(line.cells))
    change_target(line, full_cells(WATER | {"value": "12"}), seen, by)
    with pytest.raises(Newer) as late:
        change_target(line, full_cells(WATER | {"value": "14"}), seen, by)
    assert late.value.kept["value"] == "12"
    with pytest.raises(KnownRef, match="T14"):
        change_target(other, full_cells(WATER), version_of(full_cells(other.cells)), by)


def test_a_table_of_targets_changes_known_ones_and_adds_others(brief, by):
    add_target(brief, WATER)
    typed = (
        "Ref\tTarget\tRule\tValue\tUnits\n"
        "T14\tWater days\tmin\t12\tdays\n"
        "T26\tEvery piece by weight\tat most\t750\tkg\n"
    )
    assert read_targets_table(brief, typed).news == ("differs", "new target")
    bring_in_targets(brief, typed, by)
    assert [(r["id"], r["value"]) for r in brief.target_records()] == [
        ("T14", "12"),
        ("T26", "750"),
    ]
    before = list(brief.target_lines.values())
    assert set(read_targets_table(brief, typed).news) == {"the same"}
    bring_in_targets(brief, typed, by)
    assert list(brief.target_lines.values()) == before


@pytest.mark.parametrize(
    ("line", "column", "read"),
    [
        ("T1,Water days,at least,ten,days", "Value", "ten days"),
        ("T1,Water days,at least,10 kg,", "Value", "10 kg"),
        ("T1,Water days,about,10,days", "Rule", "about"),
        (",Water days,at least,10,days", "Mark", "nothing"),
        ("T1,Water days,at least,,days", "Value", "nothing"),
    ],
)
def test_a_cell_of_a_target_that_cannot_be_read_is_named(brief, by, line, column, read):
    typed = f"id,what,rule,value,unit\n{line}"
    (cell,) = read_targets_table(brief, typed).refused
    assert (cell.row, cell.column) == (1, column)
    assert cell.read.startswith(read.split()[0])
    with pytest.raises(NotClean, match="refused"):
        bring_in_targets(brief, typed, by)


@pytest.mark.parametrize("chosen", SETS, ids=lambda chosen: chosen.slug)
@pytest.mark.parametrize("system", System)
def test_a_published_set_enters_as_if_typed_and_once(brief, by, chosen, system):
    assert add_set(brief, chosen, by, system) == len(chosen.targets)
    assert add_set(brief, chosen, by, system) == 0
    reading = read_targets(brief.target_records())
    assert reading.refused == ()
    assert all(entry.amiss == "" for entry in target_entries(brief, system))


def test_a_bare_us_value_names_its_unit(brief):
    cells = full_cells(
        {"id": "T6", "what": "Floor", "check": "floor_area", "rule": "at most", "value": "800"}
    )
    kept = brief_writing.with_own_unit(cells, System.US)
    assert kept["unit"] == "ft²"
    assert brief_writing.with_own_unit(cells, System.METRIC)["unit"] == "m²"
    in_words = cells | {"value": "75 m²"}
    assert brief_writing.with_own_unit(in_words, System.US) == in_words
    add_target(brief, kept)
    (target,) = read_targets(brief.target_records()).targets
    # 800 ft² at 0.09290304 m² each (the international foot, NIST Handbook 44, Appendix C)
    assert target.values[0] == pytest.approx(74.322432, rel=1e-12)


@pytest.mark.parametrize(
    ("cells", "metric", "us"),
    [
        (WATER, "10 days", "10.0 days"),
        ({"check": "floor_area", "rule": "at most", "value": "75"}, "75 m²", "807.3 ft²"),
        # 750 kg ÷ 0.45359237 kg (the avoirdupois pound, NIST Handbook 44, Appendix C) = 1653.5
        ({"check": "piece_mass", "rule": "at most", "value": "750 kg"}, "750 kg", "1,653 lb"),
        ({"check": "floor_area", "rule": "at most", "value": "75 m²"}, "75 m²", "807.3 ft²"),
        ({"check": "precedents", "rule": "at least", "value": "4 / 1"}, "4 / 1", "4 / 1"),
    ],
)
def test_figures_are_read_in_the_readers_units(brief, cells, metric, us):
    add_target(brief, {"id": "T1", "what": "x"} | cells)
    assert target_entries(brief, System.METRIC)[0].figure == metric
    assert target_entries(brief, System.US)[0].figure == us


# undo


def _last(brief, part):
    return last_change(brief, part.slug)


def test_each_part_is_put_back_as_it_stood_before_its_last_change(brief, by):
    add_target(brief, WATER)
    wanted = {
        TEXT: text_parts(brief) | {"text": "A hut.", "decimal": "comma"},
        SITE_SHEET: site_cells(brief) | {"people": "13"},
        MONTHLY: MONTHLY.read(brief) | {"Jan-rain_mm": "10"},
        HAND_IN: [["sheet", "02", "Plan", "plan", "packed"]],
    }
    said = {
        TEXT: "Text changed",
        SITE_SHEET: "People in the brief blank → 13",
        MONTHLY: "Jan, Rain blank → 10",
        HAND_IN: "Hand-in list changed",
    }
    for part, contents in wanted.items():
        before = part.read(brief)
        keep(brief, part, contents, version_of(before), by)
        brief.refresh_from_db()
        assert part.read(brief) == contents
        change = _last(brief, part)
        assert (change.what, change.by) == (said[part], by)
        assert undo(brief, part, change.pk).undone_at
        assert undo(brief, part, change.pk) == change  # twice is once
        brief.refresh_from_db()
        assert part.read(brief) == before
        assert _last(brief, part) is None


def test_targets_are_put_back_line_by_line_with_their_numbers(brief, by):
    first = add_target(brief, WATER)
    second = add_target(brief, WATER | {"id": "T15"})
    before = TARGET_LIST.read(brief)
    deeds = [
        (lambda: remove_target(first, by), "T14 taken out"),
        (lambda: change_target(second, full_cells(WATER | {"id": "T15", "value": "3"}),
                               version_of(full_cells(second.cells)), by), "T15 changed"),
        (lambda: bring_in_targets(brief, "id,rule,value\nT9,at least,1\nT14,at most,2", by),
         "2 targets brought in"),
        (lambda: add_set(brief, SETS[0], by), f"{len(SETS[0].targets)} targets added from"),
        (lambda: add_target(brief, WATER | {"id": "T16"}), "T16 added"),
    ]  # fmt: skip
    for deed, what in deeds:
        deed()
        change = _last(brief, TARGET_LIST)
        assert change.what.startswith(what)
        undo(brief, TARGET_LIST, change.pk)
        assert TARGET_LIST.read(brief) == before


def test_a_change_that_another_followed_is_not_put_back(brief, by):
    add_target(brief, WATER)
    first = _last(brief, TARGET_LIST)
    add_target(brief, WATER | {"id": "T15"})
    with pytest.raises(Newer):
        undo(brief, TARGET_LIST, first.pk)
    with pytest.raises(Change.DoesNotExist):
        undo(brief, SITE_SHEET, first.pk)
    assert len(TARGET_LIST.read(brief)) == 2


def test_what_changes_nothing_leaves_nothing_to_undo(brief, by):
    keep(brief, SITE_SHEET, site_cells(brief), 0, by)
    assert not Change.objects.exists()


def test_an_addendum_is_no_part_of_what_is_undone(brief, by):
    add_target(brief, WATER)
    lines = TARGET_LIST.read(brief)
    issue(brief, by)
    add_addendum(brief, by, "More.", number=1, targets=[full_cells(WATER | {"value": "12"})])
    assert TARGET_LIST.read(brief) == lines


# issue and addenda


def test_an_issued_brief_is_frozen_in_every_part(brief, by):
    line = add_target(brief, WATER)
    issue(brief, by)
    at = brief.__class__.objects.get(pk=brief.pk).issued_at
    issue(brief, by)
    deeds = [
        *(lambda part=part: keep(brief, part, part.read(brief), 0, by) for part in PARTS.values()),
        *(lambda part=part: undo(brief, part, 0) for part in PARTS.values()),
        lambda: add_target(brief, WATER | {"id": "T1"}),
        lambda: change_target(line, full_cells(WATER), 0, by),
        lambda: remove_target(line, by),
        lambda: bring_in_targets(brief, "id,rule,value\nT9,at least,1", by),
        lambda: brief_tables.bring_in_climate(brief, "month,rain_mm\nJan,1", by),
        lambda: add_set(brief, SETS[0], by),
    ]
    for deed in deeds:
        with pytest.raises(Frozen, match="Change it by an addendum"):
            deed()
    brief.refresh_from_db()
    assert brief.issued_at == at
    assert len(brief.target_records()) == 1


def test_an_addendum_changes_single_lines_and_keeps_the_rest(brief, by):
    add_target(brief, WATER)
    add_target(brief, WATER | {"id": "T15"})
    site = dict.fromkeys(SITE.heads, "") | {"people": "13", "drift_m": "2.2"}
    keep(brief, SITE_SHEET, site, version_of(site_cells(brief)), by)
    brief.refresh_from_db()
    issue(brief, by)
    changed = full_cells(WATER | {"value": "12"})
    addendum = add_addendum(
        brief, by, "More water.", number=1, targets=[changed], site={"people": "15"}
    )
    assert str(addendum) == "Addendum 1"
    entries = {e.ref: (e.figure, e.asked_by) for e in target_entries(brief, System.METRIC)}
    assert entries == {"T14": ("12 days", "Addendum 1"), "T15": ("10 days", "the brief")}
    site = {e.label: (e.text, e.changed_by) for e in site_entries(brief, System.METRIC)}
    assert site == {"People in the brief": ("15", "Addendum 1"), "Drift depth": ("2.2 m", "")}


def test_an_addendum_sent_twice_is_one_and_a_late_one_takes_no_number(brief, by):
    issue(brief, by)
    first = add_addendum(brief, by, "More water.", number=1)
    assert add_addendum(brief, by, "More water.", number=1) == first
    with pytest.raises(Newer, match="More water"):
        add_addendum(brief, by, "Less water.", number=1)
    assert add_addendum(brief, by, "Less water.", number=2).number == 2


# warnings


def _warned(studio) -> dict[str, list[str]]:
    return {part.name.split(",")[0]: part.words for part in brief_warnings(studio)}


def test_an_empty_brief_is_warned_of_part_by_part(brief):
    brief.hand_in.all().delete()
    assert _warned(brief.studio) == {
        "Text": ["The brief has no text yet."],
        "Targets": ["The brief has no targets yet."],
        "Hand-in list": ["It asks for no schedule, so no check has data to read."],
        "Crits": ["No crit is set, so there is no pens down."],
    }


def test_site_figures_that_a_check_needs_and_schedules_it_reads_are_named(brief):
    add_target(brief, WATER)
    add_target(
        brief, WATER | {"id": "T15", "what": "x", "check": "water_per_person_day", "unit": "L/day"}
    )
    brief.hand_in.create(kind="schedule", code="rooms")
    warned = _warned(brief.studio)
    assert warned["Site sheet"] == [
        "People in the brief is blank; T14, T15 need it.",
        "Water per person-day is blank; T14 needs it.",
        "Days between supply visits is blank; T15 needs it.",
    ]
    assert warned["Hand-in list"] == ["Tank schedule is not asked for; T14, T15 read it."]


def test_a_figure_that_a_targets_words_give_is_not_missed(brief):
    add_target(brief, WATER | {"what": "Water days, 12 L per person-day"})
    assert _warned(brief.studio)["Site sheet"] == ["People in the brief is blank; T14 needs it."]


def test_targets_that_no_check_answers_or_nobody_can_read_are_named(brief):
    add_target(brief, {"id": "T1", "what": "A good smell", "rule": "at least", "value": "1"})
    add_target(brief, WATER | {"value": "plenty"})
    said = _warned(brief.studio)["Targets"]
    assert said[0].startswith("T14, Value: read “plenty”. Expected")
    assert said[1] == "T1 A good smell: no check answers it. Choose one, or jurors judge it alone."


def test_targets_that_feed_no_criterion_are_named(brief):
    add_target(brief, WATER)
    add_target(brief, WATER | {"id": "T15"})
    crit = factories.CritFactory(studio=brief.studio)
    factories.CriterionFactory(crit=crit, code="F1", name="Water", weight=100, evidence="T14")
    assert "T15 feeds no criterion." in _warned(brief.studio)["Targets"]
    assert "T14 feeds no criterion." not in _warned(brief.studio)["Targets"]


def test_what_leads_nowhere_is_listed(brief):
    add_target(brief, WATER)
    add_target(brief, {"id": "T1", "what": "A good smell", "rule": "at least", "value": "1"})
    unused = unused_of(brief.studio)
    assert unused.targets == []  # there is no criterion yet for any to feed
    titles = [title for topic in unused.checks.values() for title in topic]
    assert sorted(titles) == sorted(c.title for c in CATALOGUE if c.slug != "water_days")
    assert unused.count == len(CATALOGUE) - 1
    crit = factories.CritFactory(studio=brief.studio)
    factories.CriterionFactory(crit=crit, code="F1", name="Water", weight=100, evidence="T14")
    assert unused_of(brief.studio).targets == ["T1 A good smell"]
