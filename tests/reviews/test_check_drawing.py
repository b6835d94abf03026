"""The drawing on a check's page: what decided it, the others one click away, kept while it can."""

import re

import pytest
from django.urls import reverse

from criteria.drawing.catalogue import BY_CHECK
from reviews.models import Brief, Person, Row, TargetLine
from reviews.pages import check_drawing
from reviews.worked_out import forget
from tests.criteria.checks.steps import FOURTEEN, changed
from tests.factories import RevisionFactory, RowFactory, TargetLineFactory
from tests.folding_cabin import SCHEDULES, STATES
from tests.reviews.schedule_steps import HTMX, at, saved


@pytest.fixture
def client(cast):
    Brief.objects.filter(pk=cast.studio.brief.pk).update(states=STATES)
    for ref, check, rule, value in (
        ("T70", "way_to_bed", "at least", "700 mm"),
        ("T71", "doors_open_fully", "all", "yes"),
    ):
        cells = {"id": ref, "check": check, "rule": rule, "value": value}
        TargetLineFactory(brief=cast.studio.brief, cells=cells)
    for schedule, rows in SCHEDULES.items():
        for cells in rows:
            RowFactory(package=cast.scheme.package, schedule=schedule, cells=cells)
    return cast.client(cast.student)


@pytest.fixture
def shown(cast, client):
    def text(key, **query):
        address = reverse("show-check", args=[cast.scheme.pk, key])
        return client.get(address, query).content.decode()

    return text


def titles(text):
    return re.findall(r'<title id="\w+-wide-title">(.*?)</title>', text)


def test_what_decided_is_drawn_and_the_others_are_one_click_away(shown):
    text = shown("T70")
    assert titles(text) == ["Plan, night: Way to each bed, U1"]
    assert re.findall(r'href="(\?drawn=\d+#drawing)"', text) == [
        "?drawn=0#drawing",
        "?drawn=1#drawing",
    ]
    assert titles(shown("T70", drawn="1")) == ["Plan, night: Way to each bed, U4"]


@pytest.mark.parametrize("odd", ["", "x", "-1", "2", "99999999999999999999", "0.5"])
def test_an_odd_choice_draws_what_decided(shown, odd):
    assert titles(shown("T70", drawn=odd)) == ["Plan, night: Way to each bed, U1"]


def test_a_figure_of_several_states_is_drawn_in_each(shown):
    """Day and night are alike to the front door, which meets the kitchen in both."""
    assert titles(shown("T71")) == ["Plan, day: Doors open fully"]
    assert titles(shown("T71", drawn="1")) == ["Plan, night: Doors open fully"]


def test_it_is_laid_out_for_a_sheet_and_for_a_telephone_with_its_figures_as_a_table(shown):
    text = shown("T70")
    assert 'width="175mm"' in text
    assert 'width="87mm"' in text
    table = text[text.index("The same figures") :]
    assert '<td class="num">533 mm</td><td class="num">533</td>' in table
    assert '<td class="num">167 mm</td><td class="num">167 short</td>' in table


def test_over_the_check_sheet_what_is_short_is_drawn_small_where_it_is_low_enough(
    cast, client, monkeypatch
):
    address = reverse("show-checks", args=[cast.scheme.pk])
    plan = 'worst-0-title">Plan, night: Way to each bed, U1<'
    for most, is_drawn in ((1000.0, True), (10.0, False)):
        forget()
        monkeypatch.setattr(check_drawing, "MOST_HIGH_MM", most)
        assert (plan in client.get(address).content.decode()) is is_drawn


def test_what_isnt_given_is_named_with_the_schedule_that_it_belongs_to(cast, shown):
    text = shown("T70")
    for says, slug in (("W2: place not given", "windows"), ("U8: it has no size", "furniture")):
        address = reverse("show-schedule", args=[cast.scheme.pk, slug])
        assert f'<li>{says} <a href="{address}">' in text


def test_a_reader_of_feet_and_inches_is_drawn_in_them(cast, shown):
    assert ">533</text>" in shown("T70")
    Person.objects.filter(pk=cast.student.pk).update(units="us")
    text = shown("T70")
    assert ">1&#x27;-9&quot;</text>" in text  # 533 mm are 20.98 in
    assert "1/4&quot; = 1&#x27;-0&quot;" in text


def test_a_page_that_changed_nothing_draws_nothing(shown, monkeypatch):
    first = shown("T70")

    def never(**kwargs):
        raise AssertionError("drawn again")

    monkeypatch.setattr(check_drawing, "Seen", never)
    assert titles(shown("T70")) == titles(first)
    with pytest.raises(AssertionError, match="drawn again"):
        shown("T70", drawn="1")


def test_it_follows_a_row_that_changed(shown):
    assert ">533</text>" in shown("T70")
    row = Row.objects.get(schedule="furniture_by_state", cells__mark="U2")
    Row.objects.filter(pk=row.pk).update(cells=row.cells | {"x": "3500"})
    assert ">533</text>" not in shown("T70")


def test_rows_that_make_no_plan_say_what_one_wants(shown):
    for row in Row.objects.filter(schedule="rooms"):
        Row.objects.filter(pk=row.pk).update(cells=row.cells | {"width_m": "", "depth_m": ""})
    text = shown("T70")
    assert titles(text) == []
    assert "Nothing can be drawn yet" in text


def test_a_check_that_no_drawing_shows_any_more_says_nothing_of_drawings(shown, monkeypatch):
    monkeypatch.delitem(BY_CHECK, "loft_stair")
    text = shown("loft_stair")
    assert 'id="drawing"' not in text
    assert "drawn.css" not in text


def test_an_issued_check_is_drawn_of_the_rows_as_issued(cast, client):
    revision = RevisionFactory(
        scheme=cast.scheme,
        issued_by=cast.student,
        crit=cast.crit,
        contents={
            "statement": "",
            "site": dict(cast.studio.brief.site),
            "states": STATES,
            "sheets": [],
            "schedules": SCHEDULES,
            "targets": cast.studio.brief.target_records(),
        },
    )
    Row.objects.filter(schedule="furniture").delete()
    text = client.get(reverse("show-issued-check", args=[revision.pk, "T70"])).content.decode()
    assert titles(text) == ["Plan, night: Way to each bed, U1"]
    assert reverse("show-issued-schedule", args=[revision.pk, "windows"]) in text


STEPS = changed(changed(FOURTEEN, "c", opens="roof gap"), "g", closes="roof gap")


@pytest.fixture
def setting_up(cast, client):
    """Fourteen steps, and a brief that asks for two hours and a half by four."""
    brief = cast.studio.brief
    Brief.objects.filter(pk=brief.pk).update(site=brief.site | {"crew": "4"})
    for ref, check in (("T80", "setup_time"), ("T81", "pack_time")):
        cells = {"id": ref, "check": check, "rule": "at most", "value": "150 min"}
        TargetLineFactory(brief=brief, cells=cells)
    for cells in STEPS:
        typed = cells | {"to": "day"}
        RowFactory(package=cast.scheme.package, schedule="steps", cells=typed)
    return brief


SENTENCE = "<li>Four people: 3 h 05; five: 2 h 55, and more don&#x27;t help.</li>"


@pytest.mark.parametrize(
    ("key", "title"), [("T80", "Bars of time to set up"), ("T81", "Bars of time to pack")]
)
def test_setting_up_and_packing_are_bars_and_a_sentence(setting_up, shown, key, title):
    text = shown(key)
    assert titles(text) == [title]
    assert SENTENCE in text
    assert ">3 h 05</text>" in text


def test_the_schedule_of_steps_is_drawn_above_its_table(cast, setting_up, client):
    address = reverse("show-schedule", args=[cast.scheme.pk, "steps"])
    text = client.get(address).content.decode()
    assert titles(text) == ["Bars of time to set up"]
    assert text.index(SENTENCE) < text.index('id="row-new"')
    assert "state state-over" in text


def test_it_is_drawn_where_no_brief_asks_for_it(cast, setting_up, client):
    TargetLine.objects.all().delete()
    address = reverse("show-schedule", args=[cast.scheme.pk, "steps"])
    text = client.get(address).content.decode()
    assert titles(text) == ["Bars of time to set up"]
    assert "asked 2 h 30" not in text


def test_claims_are_drawn_of_their_rows_alone_without_a_state(cast, client):
    address = reverse("show-schedule", args=[cast.scheme.pk, "claims"])
    assert "What sheets say" not in client.get(address).content.decode()
    claim = {"about": "Water", "text": "10 days"}
    RowFactory(package=cast.scheme.package, schedule="claims", cells=claim)
    text = client.get(address).content.decode()
    assert titles(text) == ["What sheets say, and what the rows give"]
    assert "<figcaption><span>What sheets say" in text


def test_without_steps_nothing_is_drawn_and_no_other_schedule_has_a_drawing(cast, client):
    for slug in ("steps", "states"):
        address = reverse("show-schedule", args=[cast.scheme.pk, slug])
        assert 'id="drawing"' not in client.get(address).content.decode()


def test_steps_that_go_in_a_circle_say_that_nothing_can_be_drawn(cast, setting_up, client):
    first = Row.objects.get(schedule="steps", cells__mark="a")
    Row.objects.filter(pk=first.pk).update(cells=first.cells | {"after": "n"})
    address = reverse("show-schedule", args=[cast.scheme.pk, "steps"])
    assert "Nothing can be drawn yet" in client.get(address).content.decode()


def test_it_follows_the_typing(cast, setting_up, client):
    """What answers a keep brings the drawing with it, as it brings the checks."""
    row = Row.objects.get(schedule="steps", cells__mark="b")
    address = at("save-row", cast.scheme, row.pk, slug="steps")
    text = client.post(address, saved(row, minutes="40"), **HTMX).content.decode()
    assert 'id="drawing" data-follow' in text
    assert "Four people: 3 h 15; five: 3 h 05" in text
