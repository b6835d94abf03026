"""Setting up, drawn: bars as long as their steps, people as many as are at work, what is open."""

from dataclasses import replace

import pytest

from criteria.check_sheet.sheet import judge, unasked
from criteria.checks.catalogue import CHECKS
from criteria.checks.setting_up import plan_of
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.marks import Path, Strokes
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Asked
from criteria.drawing.set_up_bars import by_people, draw_set_up, sequenced
from criteria.findings import Amount, Measured
from criteria.package import read_package
from criteria.targets.reading import read_targets
from criteria.units import System
from tests.criteria.checks.steps import FOURTEEN, SEVEN, SIX, STATES, changed, typed
from tests.criteria.drawing.seen import in_each_field, in_fields, seen_of
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

OPENED = changed(changed(FOURTEEN, "c", opens="roof gap"), "g", closes="Roof gap")


FIVE = typed("A 10 1, B 10 1, C 10 1, D 10 1, E 10 1")


def package_of(steps, crew="4"):
    return read_package({"steps": steps, "states": STATES, "site": [{"crew": crew}]}).package


def asked_of(package, check, limit=""):
    finding = unasked(package, CHECKS[check])
    if limit:
        row = {"id": "T01", "check": check, "rule": "at most", "value": limit}
        finding = judge(package, read_targets([row]).targets[0])
    measured = finding.worst_first[0]
    return Asked(
        title=finding.title,
        measured=measured,
        amount=Amount(measured.values[0], finding.scale),
        limit=None if finding.target is None else Amount(finding.target, finding.scale),
        state=finding.state,
    )


def drawn(steps, check="setup_time", limit="", field=None, crew="4"):
    package = package_of(steps, crew)
    asked = asked_of(package, check, limit)
    return draw_set_up(sequenced(package, check), asked, field or Field())


def bars(drawing):
    return [
        mark
        for mark in drawing.marks
        if isinstance(mark, Path) and mark.fill in (Fill.INK, Fill.PAPER) and mark.pen is Pen.SEEN
    ]


def wide(mark):
    return mark.points[1][0] - mark.points[0][0]


FIELDS = [Field(width_mm=w, system=s) for w in (MIDDLE_MM, NARROW_MM) for s in System]


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
@pytest.mark.parametrize("limit", ["", "150", "240", "9999"])
@pytest.mark.parametrize("check", ["setup_time", "pack_time"])
def test_letters_keep_their_height_and_their_distance(check, limit, field):
    keeps_the_rules(drawn(OPENED, check, limit, field))


def test_bars_are_as_long_as_their_steps_and_lie_where_these_do():
    drawing = drawn(FOURTEEN)
    plan = plan_of(package_of(FOURTEEN))
    starts = plan.found.starts
    order = sorted(plan.steps.steps, key=lambda step: (starts[step.mark], step.mark))
    found = bars(drawing)
    per_min = wide(found[0]) / order[0].minutes
    zero = found[0].points[0][0]
    assert [wide(bar) / per_min for bar in found] == pytest.approx([s.minutes for s in order])
    begins = [(bar.points[0][0] - zero) / per_min for bar in found]
    assert begins == pytest.approx([starts[step.mark] for step in order])


def test_the_longest_chain_is_drawn_full():
    """By hand, in the steps' own words: a b c d e f g k n is 175 long."""
    drawing = drawn(FOURTEEN)
    full = [bar for bar in bars(drawing) if bar.fill is Fill.INK]
    assert len(full) == len("abcdefgkn")
    strong = {each.words.split()[0] for each in drawing.letters if each.is_strong}
    assert strong == {*"abcdefgkn", "3"}


def test_people_at_work_never_pass_the_crew_and_reach_it():
    drawing = drawn(FOURTEEN)
    (people,) = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.TRACE]
    heights = {round(people.points[0][1] - y, 2) for _, y in people.points}
    assert heights == {0.0, 6.0, 12.0}  # none, two and four, 3 mm each


def test_what_stands_open_is_hatched_as_long_as_its_check_says():
    drawing = drawn(OPENED)
    (hatch,) = [mark for mark in drawing.marks if isinstance(mark, Strokes)]
    measured = CHECKS["open_to_rain"].of(package_of(OPENED))[0]
    (figure,) = [f for f in drawing.figures if f.what == "Open to rain: roof gap"]
    assert figure.amount.si == measured.values[0]
    (box,) = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.FINE and m.is_closed]
    per_min = wide(bars(drawing)[0]) / 15
    assert wide(box) / per_min == pytest.approx(measured.values[0] / 60)
    assert len(hatch.segments) > 10


def test_what_isnt_said_to_open_is_no_good_news():
    bare = drawn(FOURTEEN)
    assert "open to rain: not given" in {each.words for each in bare.letters}
    assert [gap.says for gap in bare.gaps] == ["what stands open to rain: not given"]
    none = drawn(changed(FOURTEEN, "a", opens="none"))
    assert "open to rain: nothing" in {each.words for each in none.letters}
    assert none.gaps == ()
    packing = drawn(FOURTEEN, "pack_time")
    assert not any("open" in each.words for each in packing.letters)


def test_the_limit_is_a_heavy_line_at_its_time():
    drawing = drawn(FOURTEEN, limit="150")
    (limit,) = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    first = bars(drawing)[0]
    at = (limit.points[0][0] - first.points[0][0]) / (wide(first) / 15)
    assert at == pytest.approx(150)
    assert {"3 h 05", "asked 2 h 30"} <= {each.words for each in drawing.letters}
    (end,) = [m for m in drawing.marks if isinstance(m, Path) and m.tone is Tone.SHORT]
    assert end.points[0][0] > limit.points[0][0]


def test_each_lettered_figure_is_the_findings():
    drawing = drawn(OPENED, limit="150")
    package = package_of(OPENED)
    steps = [*asked_of(package, "setup_time").measured.steps]
    steps += CHECKS["open_to_rain"].of(package)[0].steps
    known = {a.si for step in steps for a in step.amounts if isinstance(a, Amount)}
    minutes = {60.0 * int(row["minutes"]) for row in OPENED}
    known |= minutes | {150 * 60, 4, 80 * 60}  # the limit, people, and what is open
    assert {figure.amount.si for figure in drawing.figures} <= known


# oracle states-steps “fourteen”: 185 with four, 175 with five, the length of the chain
@pytest.mark.parametrize(
    ("steps", "crew", "said"),
    [
        (FOURTEEN, "4", "Four people: 3 h 05; five: 2 h 55, and more don't help."),
        (FOURTEEN, "5", "Five people: 2 h 55, and more don't help."),
        (SEVEN, "1", "One person: 20 min; two: 16 min, and more don't help."),
        (
            FIVE,
            "1",
            "One person: 50 min; two: 30 min; three: 20 min; no number of people beats 10 min.",
        ),
        (FIVE, "3", "Three people: 20 min; five: 10 min, and more don't help."),
        (SIX, "20", "20 people: 45 min, and more don't help."),
    ],
)
def test_what_more_people_are_worth_is_said_in_a_sentence(steps, crew, said):
    assert by_people(plan_of(package_of(steps, crew))) == said


def test_of_many_steps_more_people_arent_tried():
    many = typed(", ".join(f"S{n} 10 1" for n in range(20)))
    assert by_people(plan_of(package_of(many, "1"))) == (
        "One person: 3 h 20; no number of people beats 10 min."
    )


def test_what_isnt_proved_is_at_most():
    plan = plan_of(package_of(FOURTEEN))
    found = replace(plan, found=replace(plan.found, at_least=170))
    assert by_people(found).startswith("Four people: at most 3 h 05; five")


@pytest.mark.parametrize("minutes", ["1", "9999"])
def test_two_hundred_steps_stay_on_a_sheet_and_the_rest_is_named(minutes):
    steps = typed(", ".join(f"S{n} {minutes} 1" for n in range(200)))
    for field in FIELDS[::2]:
        drawing = drawn(steps, field=field, crew="7")
        keeps_the_rules(drawing)
        assert drawing.height_mm < 240
        assert drawing.key[0].count("S") == 164


def test_one_step_is_drawn():
    keeps_the_rules(drawn(typed("A 1 1"), crew="1"))


def test_steps_that_make_no_sequence_arent_drawn():
    assert sequenced(package_of(typed("A 10 1 B, B 10 1 A")), "setup_time") is None
    assert sequenced(package_of([]), "pack_time") is None


def test_it_says_the_answer_first():
    drawing = drawn(FOURTEEN, limit="150")
    assert drawing.title == "Bars of time to set up"
    assert drawing.says == (
        "Four people: 3 h 05; five: 2 h 55, and more don't help. Over. "
        "Longest chain: a, b, c, d, e, f, g, k, n."
    )


@pytest.mark.parametrize(
    ("check", "beside"),
    [
        ("open_to_rain", "open: "),
        ("least_crew", ""),
        ("person_hours", "4 people, "),
        ("heaviest_set_up_lift", ""),
    ],
)
def test_another_figure_of_the_steps_heads_them_and_stands_at_its_place(check, beside):
    lifts = [row | {"kg": "38" if row["mark"] == "a" else "1"} for row in OPENED]
    tables = {"steps": lifts, "site": [{"crew": "4"}], "states": STATES}
    asked = seen_of(tables, check).asked
    begins = beside or f"{asked.measured.subject} "
    for drawing in in_each_field(tables, check):
        strong = [(each.words, each.at[1]) for each in drawing.letters if each.is_strong]
        (figure,) = [f for f in drawing.figures if f.what == asked.title]
        assert figure.amount == asked.amount
        said = {y for words, y in strong if words.endswith(figure.lettered)}
        lines = {letter.at[1] for letter in drawing.letters if letter.words.startswith(begins)}
        is_cut = drawing.width_mm < 100 and check == "person_hours"
        assert is_cut or said & lines


def test_what_is_open_to_the_end_says_how_long_before_its_bar():
    late = changed(changed(FOURTEEN, "c", opens="roof gap"), "n", closes="Roof gap")
    tables = {"steps": late, "site": [{"crew": "4"}], "states": STATES}
    for drawing in in_each_field(tables, "open_to_rain"):
        said = drawing.figures[-1].lettered or drawing.figures[-2].lettered
        assert said.endswith(" min")


def test_steps_that_are_out_of_order_are_picked_out_by_name():
    tables = {"steps": OPENED, "site": [{"crew": "4"}], "states": STATES}
    seen = seen_of(tables, "order_possible")
    late = replace(seen.asked, measured=Measured(shown="not: c"), amount=None)
    (drawing,) = in_fields([Field()], replace(seen, asked=late))
    (bar,) = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    assert bar.is_closed
    assert "not: c" in {each.words for each in drawing.letters}
    unknown = replace(seen.asked, measured=Measured(), amount=None)
    (drawing,) = in_fields([Field()], replace(seen, asked=unknown))
    assert "not known" in {each.words for each in drawing.letters}
