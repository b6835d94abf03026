"""A room's daylight on the site: shown, tried, refused in its fields, adopted and undone."""

import re
import uuid

import pytest
from django.urls import reverse

from reviews.deeds import package_keeping
from reviews.deeds.record_changes import last_change
from reviews.models import Change, Row
from tests import factories

ROOM = {"mark": "R1", "room": "Day room", "floor_m2": "12", "clear_height_m": "2.5", "use": "day"}
WINDOW = {
    "mark": "W1", "room": "R1", "n": "1", "frame_w": "1160", "frame_h": "1160", "glass_w": "1000",
    "glass_h": "1000", "sill": "800", "faces": "S", "u": "1.0",
}  # fmt: skip
ELSEWHERE = {**WINDOW, "mark": "W9", "room": "R2", "u": "0.9"}
HTMX = {"HX-Request": "true"}


@pytest.fixture
def package(cast):
    package = cast.scheme.package
    package_keeping.bring_in(package, "rooms", [ROOM, {**ROOM, "mark": "R2"}], cast.student)
    package_keeping.bring_in(package, "windows", [WINDOW, ELSEWHERE], cast.student)
    return package


@pytest.fixture
def client(cast):
    return cast.client(cast.student)


def url(name, package, mark="R1"):
    return reverse(name, args=[package.scheme_id, mark])


def form_of(response):
    """What a browser would send of the trial's form as it stands."""
    form = response.context["form"]
    sent = {"lines": str(len(form.lines)), "seen": str(form.seen), "key": str(form.key)}
    for line in form.lines:
        for field in line:
            if field.name != "drop" and field.value() is not None:
                sent[field.html_name] = str(field.value())
    return sent


@pytest.fixture
def sent(client, package):
    return form_of(client.get(url("show-daylight", package)))


def windows(package):
    rows = Row.objects.filter(package=package, schedule="windows")
    return {row.cells["mark"]: row.cells for row in rows}


def test_a_room_is_shown_with_its_plan_and_figures(client, package):
    response = client.get(url("show-daylight", package))
    html = response.content.decode()
    assert "Daylight plan of R1 Day room" in html
    assert "W1: no place given, evenly spread along the wall" in html
    assert "8.3 %" in html  # 1 m² of glass to 12 m² of floor
    assert "BS 8206-2" in html
    assert not re.search(r"\sstyle=|<style", html)


def test_a_room_that_is_not_there_is_not_found(client, package):
    assert client.get(url("show-daylight", package, "R7")).status_code == 404


def test_a_room_too_bare_to_draw_says_what_it_needs(client, cast, package):
    package_keeping.add_row(
        package, "rooms", {"mark": "R3", "room": "Loft", "use": "day"}, cast.student
    )
    html = client.get(url("show-daylight", package, "R3")).content.decode()
    assert "Still needs R3, Clear height (room schedule); R3, Floor (room schedule)" in html


def test_rows_that_cannot_be_built_say_both_numbers(client, cast, package):
    package_keeping.add_row(
        package, "windows", {**WINDOW, "mark": "W2", "sill": "1900"}, cast.student
    )
    html = client.get(url("show-daylight", package)).content.decode()
    assert "Window W2, height: read sill 1.9 m + height 1 m = head 2.9 m." in html
    assert "Expected at most 2.5 m, the height of the room." in html


def test_all_rooms_are_shown_together(client, package):
    html = client.get(reverse("list-daylight", args=[package.scheme_id])).content.decode()
    assert "Daylight plan of R1 Day room" in html
    assert "Daylight plan of R2 Day room" in html
    ids = re.findall(r'\sid="([^"]+)"', html)
    assert len(ids) == len(set(ids))


# The trial


def test_a_trial_stands_beside_the_schedules_own_and_keeps_nothing(client, package, sent):
    before = Change.objects.count()
    response = client.post(url("try-daylight", package), {**sent, "o0-width": "1500"})
    shown = response.context["shown"]
    ratio = next(line for line in shown.figures if line.figure.key == "ratio")
    # by hand: 1.5 m² ÷ 12 m² = 12.5 %, 4.2 % more than 8.3 %
    assert (ratio.own, ratio.trial, ratio.change) == ("8.3 %", "12.5 %", "+4.2 %")
    # by hand: U 1.0 × 1.66 m × 1.16 m, at no ΔT known: no data; the sun 1.5 × 0.5 × 500 = 375 W
    gain = next(line for line in shown.figures if line.figure.key == "gain")
    assert (gain.own, gain.trial) == ("250 W", "375 W")
    assert Change.objects.count() == before


def test_a_trial_loses_heat_by_its_frame(client, cast, package, sent):
    brief = cast.studio.brief
    brief.site |= {"design_inside_c": "20", "design_outside_c": "-10"}
    brief.save()
    response = client.post(url("try-daylight", package), {**sent, "o0-width": "1500"})
    heat = next(line for line in response.context["shown"].figures if line.figure.key == "heat")
    # by hand: 1.0 × 1.16 × 1.16 × 30 = 40.4 W; 1.0 × 1.66 × 1.16 × 30 = 57.8 W
    assert (heat.own, heat.trial, heat.change) == ("40 W", "58 W", "+17 W")


def test_htmx_gets_the_answer_alone_with_every_fields_refusals(client, package, sent):
    response = client.post(url("try-daylight", package), {**sent, "o0-left": "400"}, headers=HTMX)
    html = response.content.decode()
    assert html.lstrip().startswith('<div id="daylight-answer"')
    assert html.count('class="error-slot"') == 5
    assert "400 mm from its left" in html


def test_moving_a_window_changes_the_field_and_not_the_ratio(client, package, sent):
    response = client.post(url("try-daylight", package), {**sent, "o0-left": "0"})
    figures = {line.figure.key: line for line in response.context["shown"].figures}
    assert figures["ratio"].change == "same"
    assert figures["mean"].own != figures["mean"].trial


def test_an_unmoved_window_is_exactly_the_schedules(client, cast, package, sent):
    cast.student.units = "us"
    cast.student.save()
    sent = form_of(client.get(url("show-daylight", package)))
    assert sent["o0-width"] == "3'-3 3/8\""
    response = client.post(url("try-daylight", package), sent)
    assert {line.change for line in response.context["shown"].figures} <= {"same", "–"}


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("left", "3001", "Read 3\u202f001 mm + 1\u202f000 mm = 4\u202f001 mm. "
         "Expected at most 4\u202f000 mm, the length of the S wall."),
        ("sill", "1501", "Read 1\u202f501 mm + 1\u202f000 mm = 2\u202f501 mm. "
         "Expected at most 2\u202f500 mm, the height of the room."),
        ("width", "wide", "Read “wide”. Expected a length"),
        ("width", "", "Read nothing. Expected a length"),
        ("height", "0", "Read “0”. Expected a length"),
        ("left", "-50", "Read “-50”. Expected a length"),
        ("face", "NE", "Read “NE”. Expected one of: N, E, S, W."),
    ],
)  # fmt: skip
def test_what_cannot_be_built_is_refused_in_its_field(client, package, sent, field, typed, said):
    response = client.post(url("try-daylight", package), {**sent, f"o0-{field}": typed})
    (line,) = response.context["form"].lines
    assert any(each.startswith(said) for each in line.errors[field])
    html = response.content.decode()
    assert f'id="id_o0-{field}_error"' in html
    assert "The trial can't be built as it is typed" in html
    if field != "face":
        assert line[field].value() == typed  # nothing typed is lost


def test_windows_that_overlap_are_refused(client, package, sent):
    more = {"lines": "2", "o1-mark": "W10", "o1-face": "S", "o1-left": "2000", "o1-sill": "800",
            "o1-width": "900", "o1-height": "1000", "o1-row": ""}  # fmt: skip
    response = client.post(url("try-daylight", package), {**sent, **more})
    assert response.context["form"].lines[1].errors["left"] == [
        "Read 2\u202f000 mm to 2\u202f900 mm in the S wall. "
        "Expected clear of W1, which takes 1\u202f500 mm to 2\u202f500 mm."
    ]


def test_every_line_is_refused_at_once(client, package, sent):
    more = {"lines": "2", "o1-mark": "W10", "o1-face": "S", "o1-left": "x", "o1-sill": "800",
            "o1-width": "900", "o1-height": "1000", "o1-row": ""}  # fmt: skip
    response = client.post(url("try-daylight", package), {**sent, **more, "o0-sill": "1900"})
    first, second = response.context["form"].lines
    assert list(first.errors) == ["sill"]
    assert list(second.errors) == ["left"]


def test_a_window_is_added_where_there_is_room(client, package, sent):
    response = client.post(url("try-daylight", package), {**sent, "add": "1"})
    form = response.context["form"]
    assert [line.like.mark for line in form.lines] == ["W1", "W10"]
    assert not form.is_refused
    assert response.context["shown"].windows[1].is_new


def test_a_window_is_dropped(client, package, sent):
    response = client.post(url("try-daylight", package), {**sent, "o0-drop": "on"})
    assert response.context["shown"].windows == ()
    assert response.context["shown"].first.trial == "0.00 %"


def test_a_trial_of_another_line_count_is_read_as_it_is(client, package, sent):
    response = client.post(url("try-daylight", package), {**sent, "lines": "many"})
    assert response.status_code == 200
    assert response.context["form"].lines == []


# Adopting


def test_a_trial_is_adopted_as_one_change_and_undone(client, cast, package, sent):
    before = windows(package)
    response = client.post(
        url("adopt-daylight", package), {**sent, "o0-left": "400", "o0-width": "1,200"}
    )
    assert response.headers["Location"] == url("show-daylight", package)
    now = windows(package)
    assert (now["W1"]["left"], now["W1"]["glass_w"], now["W1"]["frame_w"]) == (
        "400",
        "1200",
        "1360",
    )
    assert now["W9"] == before["W9"]
    change = last_change(package, "windows")
    assert change.what == "R1, trial adopted: W1 moved, W1 resized"
    response = client.post(url("undo-daylight", package), {"change": change.pk}, follow=True)
    assert "Undone: R1, trial adopted" in response.content.decode()
    assert windows(package) == before


def test_adopting_twice_adopts_once(client, package, sent):
    for _ in range(2):
        client.post(url("adopt-daylight", package), {**sent, "o0-left": "400"})
    assert Change.objects.filter(what__contains="trial adopted").count() == 1


def test_a_trial_that_cannot_be_built_is_not_adopted(client, package, sent):
    before = windows(package)
    response = client.post(url("adopt-daylight", package), {**sent, "o0-left": "3500"})
    assert response.context["form"].lines[0]["left"].value() == "3500"
    assert windows(package) == before


def test_a_trial_over_a_newer_schedule_is_refused_and_stands(client, cast, package, sent):
    row = Row.objects.get(package=package, schedule="windows", cells__mark="W1")
    package_keeping.save_row(package, row.pk, {"u": "0.8"}, row.version, cast.mate)
    response = client.post(url("adopt-daylight", package), {**sent, "o0-left": "400"})
    assert response.status_code == 409
    html = response.content.decode()
    assert "changed meanwhile by Mira Mate: W1: U 1.0 → 0.8. Nothing was adopted." in html
    assert windows(package)["W1"]["u"] == "0.8"
    again = form_of(response)
    assert again["o0-left"] == "400"
    client.post(url("adopt-daylight", package), again)
    assert (windows(package)["W1"]["left"], windows(package)["W1"]["u"]) == ("400", "0.8")


def test_undoing_over_a_newer_change_undoes_nothing(client, cast, package, sent):
    client.post(url("adopt-daylight", package), {**sent, "o0-left": "400"})
    change = last_change(package, "windows")
    package_keeping.add_row(package, "windows", {**WINDOW, "mark": "W11"}, cast.mate)
    response = client.post(url("undo-daylight", package), {"change": change.pk}, follow=True)
    assert "Nothing was undone" in response.content.decode()
    assert windows(package)["W1"]["left"] == "400"


@pytest.mark.parametrize("name", ["adopt-daylight", "undo-daylight"])
def test_who_only_reads_adopts_nothing(cast, package, sent, name):
    leader = cast.client(cast.leader)
    assert leader.post(url(name, package), {**sent, "o0-left": "400"}).status_code == 403
    assert "left" not in windows(package)["W1"]
    html = leader.get(url("show-daylight", package)).content.decode()
    assert "Adopt into the schedule" not in html


@pytest.mark.parametrize("name", ["try-daylight", "adopt-daylight", "undo-daylight"])
def test_nothing_is_tried_or_kept_by_reading(client, package, name):
    assert client.get(url(name, package)).status_code == 405


def test_a_key_that_is_none_is_made(client, package, sent):
    client.post(url("adopt-daylight", package), {**sent, "key": "x", "o0-left": "400"})
    assert isinstance(last_change(package, "windows").key, uuid.UUID)


# As issued


def test_an_issued_plan_is_read_only_and_as_it_was(cast, package):
    revision = factories.RevisionFactory(
        scheme=cast.scheme,
        issued_by=cast.student,
        crit=cast.crit,
        contents={
            "statement": "",
            "sheets": [],
            "targets": [],
            "site": {"latitude": "46.7"},
            "schedules": {"rooms": [ROOM], "windows": [WINDOW]},
        },
    )
    juror = cast.client(cast.seat)
    html = juror.get(reverse("show-issued-daylight", args=[revision.pk, "R1"])).content.decode()
    assert "Daylight plan of R1 Day room" in html
    assert 'id="trial"' not in html
    assert "data-left" not in html
    assert 'data-lamp="off"' in html  # a juror's room is dark
    everything = juror.get(reverse("list-issued-daylight", args=[revision.pk]))
    assert everything.status_code == 200
    assert 'data-lamp="off"' in everything.content.decode()
    missing = juror.get(reverse("show-issued-daylight", args=[revision.pk, "R9"]))
    assert missing.status_code == 404


def test_a_juror_finds_the_plan_folded_beside_the_criterion_it_is_about(cast, package):
    factories.RevisionFactory(
        scheme=cast.scheme,
        issued_by=cast.student,
        crit=cast.crit,
        contents={
            "statement": "",
            "sheets": [],
            "site": {},
            "schedules": {"rooms": [ROOM], "windows": [WINDOW]},
            "targets": cast.studio.brief.target_records(),
        },
    )
    juror = cast.client(cast.seat)
    html = juror.get(reverse("show-jury-sheet", args=[cast.scheme.pk])).content.decode()
    # criterion F1 names T01, the day room's daylight ratio; F2 names nothing
    # laid out for a sheet and for a telephone
    assert html.count("Daylight plan of R1 Day room</title>") == 2
    assert re.search(r"<details class=\"facts-fold\"><summary>Daylight plan of R1 Day room", html)
