"""Criteria sheets: the three to start from, and keeping one."""

from decimal import Decimal

import pytest

from criteria.checks.catalogue import CHECKS
from reviews.deeds.crit_criteria_keeping import keep_criteria, lines_of, start_from
from reviews.deeds.record_versions import version_of
from reviews.models import Criterion
from reviews.models.briefs import Frozen
from reviews.pages.brief_warnings import criteria_warnings
from reviews.reading.crit_criteria_sheets import SHEETS
from reviews.versions import Newer
from tests import factories

# code and weight of every criterion, as the studio's notes on practice give them (common practice)
WEIGHTS = {
    "interim": {"I1": 20, "I2": 20, "I3": 20, "I4": 15, "I5": 10, "I6": 15},
    "final": {"F1": 15, "F2": 10, "F3": 15, "F4": 20, "F5": 10, "F6": 10, "F7": 10, "F8": 10},
    "technical": {"K1": 20, "K2": 15, "K3": 15, "K4": 10, "K5": 15, "K6": 15, "K7": 10},
}
TOPICS = {check.topic for check in CHECKS.values()}


@pytest.fixture
def crit(db):
    studio = factories.StudioFactory()
    brief = factories.BriefFactory(studio=studio)
    for ref, check, value, unit in (
        ("L1", "daylight_ratio", "12", "%"),
        ("W1", "water_days", "10", "days"),
    ):
        factories.TargetLineFactory(
            brief=brief,
            cells={"id": ref, "what": ref, "check": check, "rule": "at least", "value": value,
                   "unit": unit},
        )  # fmt: skip
    return factories.CritFactory(studio=studio)


@pytest.mark.parametrize("slug", SHEETS)
def test_ready_sheets_weigh_as_practice_does(slug):
    lines = SHEETS[slug].lines
    assert {line.code: line.weight for line in lines} == WEIGHTS[slug]
    assert sum(line.weight for line in lines) == 100


@pytest.mark.parametrize("slug", SHEETS)
def test_ready_sheets_have_words_for_every_level_and_known_checks(slug):
    for line in SHEETS[slug].lines:
        assert len({words for words in line.levels if words.strip()}) == 5
        assert set(line.informed_by) <= {*CHECKS, *TOPICS}


def test_every_topic_feeds_a_criterion_of_the_final_sheet():
    fed = {name for line in SHEETS["final"].lines for name in line.informed_by}
    assert fed >= TOPICS


def test_a_started_sheet_names_the_briefs_own_targets(crit):
    start_from(crit, "final")
    evidence = dict(crit.criteria.values_list("code", "evidence"))
    assert (evidence["F2"], evidence["F4"], evidence["F1"]) == ("L1", "W1", "")


def test_starting_never_runs_over_what_is_written(crit):
    factories.CriterionFactory(crit=crit, code="Z1")
    start_from(crit, "final")
    assert [criterion.code for criterion in crit.criteria.all()] == ["Z1"]


def test_once_a_juror_has_begun_the_sheet_is_fixed(crit):
    start_from(crit, "final")
    factories.JurySheetFactory(
        seat=factories.SeatFactory(crit=crit),
        scheme=factories.SchemeFactory(studio=crit.studio),
    )
    with pytest.raises(Frozen, match="A juror has begun"):
        keep_criteria(crit, [], version_of(lines_of(crit)))
    with pytest.raises(Frozen, match="A juror has begun"):
        start_from(crit, "final")
    assert crit.criteria.count() == 8


def _line(code, weight, **more):
    levels = {f"level_{n}": f"Words {n}" for n in range(1, 6)}
    return {
        "code": code,
        "name": "Light",
        "weight": Decimal(weight),
        **levels,
        "evidence": "L1",
    } | more


def test_keeping_changes_adds_orders_and_leaves_out(crit):
    start_from(crit, "final")
    kept = crit.criteria.get(code="F2").pk
    lines = [_line("G1", "60"), _line("F2", "40")]
    keep_criteria(crit, lines, version_of(lines_of(crit)))
    assert lines_of(crit) == lines
    assert crit.criteria.get(code="F2").pk == kept


def test_the_same_keep_twice_changes_nothing_and_a_late_one_is_refused(crit):
    seen = version_of(lines_of(crit))
    keep_criteria(crit, [_line("F1", "100")], seen)
    keep_criteria(crit, [_line("F1", "100")], seen)
    with pytest.raises(Newer, match="F1"):
        keep_criteria(crit, [_line("F1", "99")], seen)
    assert Criterion.objects.get(crit=crit).weight == 100


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ([], "It has no criteria yet."),
        ([_line("F1", "60"), _line("F2", "39.5")], "Weights add to 99.5"),
        ([_line("F1", "100", evidence="")], "F1 Light has no evidence"),
        ([_line("F1", "100", evidence="L1, T9")], "F1 Light names T9, no target"),
        ([_line("F1", "100", level_3=" ", level_5="")], "no words for level 3, 5"),
        ([_line(f"F{n}", "10") for n in range(10)], "10 criteria; past 8"),
    ],
)
def test_what_is_amiss_is_said(lines, words):
    assert any(words in said for said in criteria_warnings(lines, ["L1"]))


def test_a_whole_sheet_has_no_warning():
    assert criteria_warnings([_line("F1", "60"), _line("F2", "40")], ["L1"]) == []
