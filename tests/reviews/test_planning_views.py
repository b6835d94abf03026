"""Planning a crit's day, page by page: hours, the draw, the order by hand and as a sheet."""

from datetime import time

import pytest
from django.utils import timezone

from reviews.deeds.crit_running_order import last_laid
from reviews.deeds.crit_running_order import lines_of as order_of
from reviews.deeds.record_versions import version_of
from reviews.models import OrderBreak, Scheme, Seat, Slot
from tests import factories
from tests.reviews.page_steps import rows_of, text_of

DAY = {
    "rooms": "A B", "opening": "0", "first": "09:15",
    "break_every": "3", "break_min": "15", "move_min": "11",
}  # fmt: skip
DRAW = DAY | {"lot": "7"}


@pytest.fixture
def url(cast) -> str:
    return f"/crits/{cast.crit.pk}/"


def _kept(page, **change):
    """What the page of a draw sends when it is kept."""
    return {"seen": page.context["page"].keep["seen"].value()} | DRAW | change


def test_hours_are_worked_out_before_anybody_is_invited(cast, leader, url):
    """Practice: 14 finals in one room are 378 min before breaks; two rooms with an opening pair
    2 × 27 + 6 × 27 + 26 min of breaks and change of rooms = 4 h 02 min, from 09:15 to 13:17.
    """
    asked = DAY | {"opening": "2", "schemes": "14", "jurors": "6"}
    text = text_of(leader.get(f"{url}plan/", asked))
    for said in ("6 h 18 min", "4 h 2 min", "13:17", "A juror sees 14 schemes; more than 9"):
        assert said in text
    assert "9 jurors are wanted, 3 a room; there are 6." in text
    assert f"{url}draw/?rooms=A+B&amp;first=09%3A15&amp;opening=2" in text


def test_hours_are_asked_of_what_stands_where_nothing_is_typed(cast, leader, url):
    page = leader.get(f"{url}plan/")
    assert page.context["form"]["schemes"].value() == 2
    assert page.context["asked"].hours.rooms == 1


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"first": "nine"}, "Read “nine”. Expected an hour, such as 09:15."),
        ({"schemes": "0"}, "Read “0”. Expected 1 to 200 schemes."),
        ({"rooms": "A A"}, "Read “A A”. Expected at most 6 names, each once"),
        ({"rooms": "x" * 13}, "of 12 characters at most."),
    ],
)
def test_what_cannot_be_planned_is_named(cast, leader, url, change, said):
    asked = DAY | {"schemes": "14", "jurors": "6"} | change
    page = leader.get(f"{url}plan/", asked)
    assert said in text_of(page)
    assert page.context["rows"] == []


def test_a_draw_is_shown_with_its_lot_and_kept_when_kept(cast, leader, url):
    before = order_of(cast.crit)
    page = leader.get(f"{url}draw/", DRAW)
    assert "Lot <strong>7</strong>" in page.content.decode()
    assert order_of(cast.crit) == before
    assert leader.post(f"{url}draw/", _kept(page)).status_code == 302
    cast.crit.refresh_from_db()
    assert cast.crit.drawn_seed == 7
    assert {line["room"] for line in order_of(cast.crit)} == {"A", "B"}
    assert "drawn by lot 7" in text_of(cast.client(cast.student).get(url))
    kept = cast.crit.orders.get()
    assert kept.plan["laid"]["rooms"] == ["A", "B"]
    assert leader.get(f"{url}draw/").context["page"].form["rooms"].value() == "A B"


def test_the_same_draw_sent_twice_is_kept_once(cast, leader, url):
    sent = _kept(leader.get(f"{url}draw/", DRAW))
    assert [leader.post(f"{url}draw/", sent).status_code for _ in range(2)] == [302, 302]
    assert cast.crit.orders.count() == 1


def test_jurors_are_shared_among_rooms_by_the_same_lot(cast, leader, url):
    for n, kind in enumerate(("in-house", "visiting", "industry") * 2):
        factories.SeatFactory(crit=cast.crit, name=f"Juror {n}", kind=kind)
    Seat.objects.filter(pk=cast.seat.pk).delete()
    for n in range(3, 9):
        factories.SchemeFactory(studio=cast.studio, number=f"R{n:02d}")
    asked = {"shares": "on", "half_time_swap": "on", "opening": "2"}
    page = leader.get(f"{url}draw/", DRAW | asked)
    assert "(then room" in text_of(page)
    assert leader.post(f"{url}draw/", _kept(page, **asked)).status_code == 302
    assert sorted(cast.crit.seats.values_list("room", flat=True)) == ["A"] * 3 + ["B"] * 3
    assert {one.by for seat in cast.crit.seats.all() for one in seat.crossings.all()} == {
        cast.leader
    }


def test_half_time_without_sharing_is_named(cast, leader, url):
    page = leader.get(f"{url}draw/", DRAW | {"half_time_swap": "on"})
    assert "Expected jurors shared among the rooms too." in text_of(page)
    assert page.context["page"].day is None


def test_an_order_changed_meanwhile_is_not_run_over(cast, leader, url):
    sent = _kept(leader.get(f"{url}draw/", DRAW))
    cast.crit.slots.update(room="C")
    late = leader.post(f"{url}draw/", sent)
    assert late.status_code == 409
    assert "The order was changed meanwhile." in text_of(late)
    assert {slot.room for slot in cast.crit.slots.all()} == {"C"}
    assert leader.post(f"{url}draw/", _kept(late)).status_code == 302


def test_whoever_was_early_last_time_is_named_and_spared(cast, leader, url):
    interim = factories.CritFactory(studio=cast.studio, kind="interim", day="2020-10-22")
    factories.SlotFactory(crit=interim, scheme=cast.scheme, position=1)
    for n in range(3, 7):
        scheme = factories.SchemeFactory(studio=cast.studio, number=f"R{n:02d}")
        factories.SlotFactory(crit=interim, scheme=scheme, position=n)
    page = leader.get(f"{url}draw/", DRAW | {"rooms": "", "rotates": "on"})
    assert "In the first third last time, and not now: R01." in text_of(page)
    assert "R01" not in page.context["page"].day.drawn.order[:2]


def test_the_opening_is_drawn_of_those_who_agree(cast, leader, url):
    asked = DRAW | {"opening": "1", "agree": "r02, R02"}
    page = leader.get(f"{url}draw/", asked)
    assert "of those who agree to open: R02." in text_of(page)
    for lot in range(8):
        day = leader.get(f"{url}draw/", asked | {"lot": f"{lot}"}).context["page"].day
        assert day.drawn.order[0] == "R02"
    assert leader.post(f"{url}draw/", _kept(page, **asked)).status_code == 302
    assert cast.crit.slots.order_by("position").first().scheme.number == "R02"
    assert last_laid(cast.crit)["agree"] == ["R02"]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"agree": "R02 H99"}, "Read “H99”. Expected numbers of schemes of this studio"),
        ({"lot": "x"}, "Read “x”. Expected a whole number from 0 to 999999."),
        ({"first": "nine"}, "Read “nine”. Expected an hour, such as 09:15."),
        ({"first": "23:50"}, "The day would go on past midnight."),
    ],
)
def test_a_bad_draw_is_named(cast, leader, url, change, said):
    page = leader.get(f"{url}draw/", DRAW | change)
    assert said in text_of(page)
    assert page.context["page"].day is None


def test_places_rooms_and_hours_are_written_by_hand(cast, leader, url):
    sent = rows_of(leader.get(f"{url}order/"), deed="keep")
    sent |= {"rows-0-position": "2", "rows-0-room": "A", "rows-0-starts_at": "9.15"}
    sent |= {"rows-1-position": "", "rows-1-room": ""}
    assert leader.post(f"{url}order/", sent).status_code == 302
    (line,) = order_of(cast.crit)
    assert (line["position"], line["room"], f"{line['starts_at']:%H:%M}") == (2, "A", "09:15")
    assert "R02 Keel is not in the order." in text_of(leader.get(f"{url}order/"))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"rows-0-position": "first"}, "Read “first”. Expected a whole number from 1 to 200"),
        ({"rows-0-position": "2"}, "Read “2”. Expected a place that no scheme of the same room"),
        ({"rows-0-starts_at": "25:00"}, "Read “25:00”. Expected an hour, such as 09:15."),
        ({"rows-0-room": "x" * 13}, "Expected a room of at most 12 characters."),
        ({"rows-0-scheme": "999999"}, "isn&#x27;t of this studio"),
    ],
)
def test_a_bad_place_is_named(cast, leader, url, change, said):
    before = order_of(cast.crit)
    sent = rows_of(leader.get(f"{url}order/"), deed="keep") | change
    assert said in text_of(leader.post(f"{url}order/", sent))
    assert order_of(cast.crit) == before


def test_another_crits_order_is_copied_as_a_proposal(cast, leader):
    crit = factories.CritFactory(studio=cast.studio, kind="interim")
    Scheme.objects.filter(pk=cast.scheme.pk).update(withdrawn_at=timezone.now())
    page = leader.post(f"/crits/{crit.pk}/order/", {"deed": "copy", "copy-crit": cast.crit.pk})
    rows = page.context["page"].rows.forms
    assert [row.presents for row in rows] == [cast.other_scheme]
    assert order_of(crit) == []
    other = leader.post(
        f"/crits/{crit.pk}/order/", {"deed": "copy", "copy-crit": cast.other_crit.pk}
    )
    assert "Expected a crit of this studio with an order." in text_of(other)


def test_an_order_that_somebody_else_kept_is_shown(cast, leader, url):
    page = leader.get(f"{url}order/")
    cast.crit.slots.update(room="C")
    late = leader.post(f"{url}order/", rows_of(page, **{"deed": "keep", "rows-0-room": "B"}))
    assert late.status_code == 409
    assert "Somebody changed this since" in text_of(late)
    assert version_of(order_of(cast.crit)) == late.context["page"].order["seen"].value()


def test_breaks_are_written_by_hand_beside_the_order(cast, leader, url):
    page = leader.get(f"{url}order/")
    sent = rows_of(page, deed="keep") | {
        "breaks-TOTAL_FORMS": "1", "breaks-INITIAL_FORMS": "0", "breaks-0-starts_at": "11:41",
        "breaks-0-minutes": "15", "breaks-0-room": "", "breaks-0-words": "tea",
    }  # fmt: skip
    assert leader.post(f"{url}order/", sent).status_code == 302
    assert str(OrderBreak.objects.get()) == "11:41 tea, 15 min"
    bad = leader.post(f"{url}order/", sent | {"breaks-0-minutes": "long"})
    assert "Read “long”. Expected 1 to 240 minutes." in text_of(bad)


def test_the_sheet_for_the_wall_shows_rooms_breaks_and_names_and_no_warning(cast, url):
    Slot.objects.filter(scheme=cast.scheme).update(room="A", starts_at=time(9, 15))
    Slot.objects.filter(scheme=cast.other_scheme).update(room="B", starts_at=time(9, 15))
    OrderBreak.objects.create(crit=cast.crit, starts_at=time(9, 42), minutes=15, words="break")
    cast.seat.interests.create(scheme=cast.scheme)
    page = cast.client(cast.student).get(f"{url}order/sheet/")
    text = text_of(page)
    for said in ("Lee", "Stef Student", "Room A", "Room B", "Break, 15 min", "8 min presenting"):
        assert said in text
    for private in ("stepped", "usual", "To think over"):
        assert private not in text
    assert [row.has_cells for row in page.context["grid"].rows] == [True, False]
    assert (
        "tall-metric.css"
        in cast.client(cast.leader).get(f"{url}order/sheet/?paper=tall").content.decode()
    )


def test_strips_say_hours_and_one_is_for_the_projector(cast, leader, url):
    Slot.objects.filter(scheme=cast.scheme).update(starts_at=time(9, 15))
    Slot.objects.filter(scheme=cast.other_scheme).update(starts_at=time(9, 42))
    link = cast.crit.room_links.create(room="A")
    text = text_of(leader.get(f"{url}jurors/links/"))
    assert "09:15 to 10:09" in text
    assert "Projector in room A" in text
    assert f"/rooms/{link.code}/" in text


def test_a_draw_makes_addresses_for_the_projectors_of_its_rooms(cast, leader, url):
    asked = DRAW | {"opening": "1"}
    leader.post(f"{url}draw/", _kept(leader.get(f"{url}draw/", asked), opening="1"))
    assert [link.room for link in cast.crit.room_links.all()] == ["A"]
