"""The jurors of a crit, page by page, as its leader seats them."""

import pytest

from reviews.deeds.crit_seating import lines_of as seats_of
from reviews.models import Seat
from tests.reviews.page_steps import rows_of, text_of


@pytest.fixture
def url(cast) -> str:
    return f"/crits/{cast.crit.pk}/"


def test_seats_are_kept_added_and_left_out(cast, leader, url):
    sent = rows_of(leader.get(f"{url}jurors/"), **{"rows-1-name": "Ann", "rows-1-room": "A"})
    assert leader.post(f"{url}jurors/", sent).status_code == 302
    assert cast.crit.seats.get(name="Ann").room == "A"
    page = leader.get(f"{url}jurors/")
    number = [form.initial.get("name") for form in page.context["rows"].forms].index("Ann")
    leader.post(f"{url}jurors/", rows_of(page, **{f"rows-{number}-DELETE": "on"}))
    assert [line["name"] for line in seats_of(cast.crit)] == ["Jo Juror"]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"rows-0-name": ""}, "Read nothing. Expected a name of at most 120 characters."),
        ({"rows-1-name": "jo juror"}, "Read “jo juror”. Expected a name that no juror above has."),
        ({"rows-0-email": "at home"}, "Read “at home”. Expected an e-mail address, or a blank."),
        ({"rows-0-kind": "critic"}, "Read “critic”. Expected one of the kinds."),
        ({"rows-TOTAL_FORMS": "many"}, "The rows were cut short on the way."),
    ],
)
def test_a_bad_seat_is_named(cast, leader, url, change, said):
    before = seats_of(cast.crit)
    assert said in text_of(
        leader.post(f"{url}jurors/", rows_of(leader.get(f"{url}jurors/")) | change)
    )
    assert seats_of(cast.crit) == before


def test_a_seat_of_another_crit_is_not_touched(cast, leader, url):
    sent = rows_of(
        leader.get(f"{url}jurors/"), **{"rows-0-pk": cast.other_seat.pk, "rows-0-name": "X"}
    )
    leader.post(f"{url}jurors/", sent)
    cast.other_seat.refresh_from_db()
    assert cast.other_seat.name == "Jan Otherjuror"


def test_jurors_come_in_from_a_table_after_a_preview(cast, leader, url):
    typed = "name,room\nHesper,A\n"
    assert "new seat" in text_of(leader.post(f"{url}jurors/bring-in/", {"text": typed}))
    assert not cast.crit.seats.filter(name="Hesper").exists()
    leader.post(f"{url}jurors/bring-in/", {"text": typed, "keep": "yes"})
    assert cast.crit.seats.get(name="Hesper").room == "A"


def test_the_last_change_of_the_jurors_is_named_and_can_be_undone(cast, leader, url):
    page = f"{url}jurors/"
    assert "Undo it" not in text_of(leader.get(page))
    leader.post(page, rows_of(leader.get(page), **{"rows-0-room": "A"}))
    change = cast.crit.changes.get()
    said = f"Last change: Jo Juror: Room blank → A, by {cast.leader}, "
    assert said in text_of(leader.get(page))
    for number in ("x", "0", "9" * 5000):
        late = leader.post(f"{page}undo/", {"change": number}, follow=True)
        assert "The table of jurors was changed meanwhile. Nothing was undone" in text_of(late)
    done = leader.post(f"{page}undo/", {"change": change.pk}, follow=True)
    assert "Undone: Jo Juror: Room blank → A." in text_of(done)
    assert cast.crit.seats.get().room == ""
    leader.post(f"{page}bring-in/", {"text": "name\nHesper", "keep": "yes"})
    seat = cast.crit.seats.get(name="Hesper")
    cast.client().get(f"/j/{seat.code}/")
    last = cast.crit.changes.first().pk
    refused = leader.post(f"{page}undo/", {"change": last}, follow=True)
    assert "Hesper has opened the personal link: nothing was undone." in text_of(refused)
    assert cast.crit.seats.contains(seat)


def test_a_table_of_jurors_looked_at_before_another_change_is_shown_again(cast, leader, url):
    page, typed = f"{url}jurors/bring-in/", "name,room\nHesper,A\n"
    seen = leader.post(page, {"text": typed}).context["form"].data["seen"]
    leader.post(page, {"text": "name\nBo", "keep": "yes"})
    late = leader.post(page, {"text": typed, "keep": "yes", "seen": seen})
    assert late.status_code == 409
    assert f"changed meanwhile: Bo: new seat, by {cast.leader}. Nothing was kept" in text_of(late)
    assert not cast.crit.seats.filter(name="Hesper").exists()


def test_links_are_printed_one_strip_a_juror(cast, leader, url):
    text = text_of(leader.get(f"{url}jurors/links/"))
    assert f"http://testserver/j/{cast.seat.code}/" in text
    assert "The link ends " in text


def test_a_link_is_renewed_for_a_seat_of_this_crit_alone(cast, leader, url):
    assert leader.post(f"{url}jurors/{cast.seat.pk}/new-code/").status_code == 302
    assert Seat.objects.get(pk=cast.seat.pk).code != cast.seat.code
    assert leader.post(f"{url}jurors/{cast.other_seat.pk}/new-code/").status_code == 404
