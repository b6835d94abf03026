"""The demo as it is loaded: two studios in the state that the scenario tells."""

from concurrent.futures import Executor, Future
from datetime import date, timedelta
from pathlib import Path

import pytest
import pyvips
from django.utils.timezone import localtime
from PIL import Image

from reviews import clock
from reviews.access_studio import earlier_studios
from reviews.demo import load, packages
from reviews.demo.drawing_room import DrawingJob, Drawn, draw
from reviews.demo.scenario import SHEETS, Calendar
from reviews.demo.sheets import Told
from reviews.demo.tables import GENERATED, given, read_csv, typed, use_of
from reviews.models import (
    Adjustment,
    Answer,
    Comment,
    Crit,
    JurySheet,
    LevelGiven,
    OpposedPair,
    Revision,
    SpokenNote,
    Studio,
)
from reviews.plain_picture import write_plain
from reviews.reading.comment_rulings import with_words_out, words_out
from reviews.reading.crit_release import why_not_now
from reviews.reading.examples import examples_of
from reviews.reading.sheet_lettering import PageText

pytestmark = pytest.mark.django_db

TODAY = date(2026, 12, 4)


class _QuickDrawers(Executor):
    """Stand-ins for the drawings, which have tests of their own: each number its own picture."""

    def submit(self, fn, job, folder):
        drawn: Future = Future()
        stem = f"{folder}/{job.told.number}-{job.told.letter}"
        pictures = [
            (n, t, s, _picture(int(n), f"{stem}-{n}"))
            for n, t, s, *_ in SHEETS
            if not job.only or n in job.only
        ]
        drawn.set_result(Drawn(pictures))
        return drawn


def _picture(shade: int, stem: str) -> dict:
    return write_plain(
        pyvips.Image.new_from_array(Image.new("RGB", (60, 42), (shade, 9, 9))),
        *(f"{stem}{end}" for end in (".jpg", "-p.jpg", ".webp")),
    )


@pytest.fixture(scope="module")
def loaded(django_db_setup, django_db_blocker, tmp_path_factory):
    """Load once for the module; the database is rolled back behind it."""
    from django.db import transaction
    from django.test import override_settings

    with (
        django_db_blocker.unblock(),
        override_settings(MEDIA_ROOT=tmp_path_factory.mktemp("media")),
        pytest.MonkeyPatch.context() as patch,
        transaction.atomic(),
    ):
        patch.setattr(packages, "drawers", _QuickDrawers)
        said: list[str] = []
        load.begin(TODAY, said.append)
        issued = sorted(Revision.objects.values_list("scheme__number", "letter"))
        said.append(f"issued first: {issued}")
        said.append(f"levels first: {LevelGiven.objects.count()}")
        load.go_on(TODAY, said.append)
        yield said
        transaction.set_rollback(True)


def test_it_says_how_far_it_is(loaded):
    assert any("Twelve Bunks" in words for words in loaded)
    first = "the packages of 24 schemes from E01 Tide Table on, then all levels and comments"
    assert first in loaded
    assert loaded[-1] == "levels and comments, from Twelve Bunks on"


def test_the_packages_that_are_drawn_whole_come_first_and_no_level_before_all_are_in(loaded):
    letters = [("E11", "A"), ("E11", "B"), ("E11", "C")]
    letters += [(number, letter) for number in ("H03", "H07", "H14") for letter in "AB"]
    assert f"issued first: {letters}" in loaded
    assert "levels first: 0" in loaded


def test_both_studios_stand_with_every_scheme(loaded):
    assert load.is_loaded()
    assert {s.title: s.schemes.count() for s in Studio.objects.all()} == {
        "Twelve Bunks": 14,
        "Low Water": 14,
        "Low Water 2027": 0,
    }


def test_the_year_before_leaves_standards_examples_a_book_and_the_next_year(loaded):
    low_water = Studio.objects.get(title="Low Water")
    after = low_water.followed_by.get()
    assert low_water.standards.exists()
    assert after.brief.target_lines.count() == low_water.brief.target_lines.count()
    assert not after.brief.is_issued
    shown = [each.scheme.number for each in examples_of(earlier_studios(after)) if each.is_shown]
    assert shown == ["E04", "E11"]
    book = low_water.evidence_books.get()
    assert (book.is_anonymous, book.schemes.count()) == (False, 3)


def test_nothing_is_released_on_a_weekend():
    days = [date(2026, 12, n) for n in range(4, 11)]
    moments = [Calendar(day).working(2026, 11, 13, "10:00") for day in days]
    assert [why_not_now(moment) for moment in moments] == [""] * 7


@pytest.mark.parametrize(
    ("number", "letter", "missed"),
    [("H03", "B", 6), ("H07", "A", 18), ("H07", "B", 3), ("H14", "B", 2), ("E11", "C", 11)],
)
def test_the_four_given_packages_miss_what_the_scenario_says(loaded, number, letter, missed):
    revision = Revision.objects.get(scheme__number=number, letter=letter)
    found = revision.findings.filter(state__in=["short", "over"]).exclude(ref="")
    assert found.count() == missed
    supper = [
        "Furniture and stowage, supper: no sheet shows it"
    ]  # of E's states, the one nobody drew
    assert revision.lacks == (supper if number == "E11" else [])


def test_a_drawer_draws_what_it_is_told_without_the_database(tmp_path):
    site = read_csv("site")[0]
    told = Told(
        number="H10",
        name="Two Thirds",
        by="Pim Draycourt",
        letter="B",
        day="Fri 4 Dec 2026",
        statement="A core.",
        site=site["place"],
    )
    job = DrawingJob(told, typed(given("H10", "B", GENERATED)), site, only=("02",))
    [(number, title, scale, picture)] = draw(job, str(tmp_path)).pictures
    assert (number, title, scale) == ("02", "Plan", "1:50")
    assert (picture["width"], picture["height"]) == (2480, 1754)
    with Image.open(picture["image"]) as image:
        assert (image.format, image.size) == ("JPEG", (2480, 1754))


def test_a_set_comes_as_a_pdf_with_its_words_where_they_stand(tmp_path):
    words = dict.fromkeys(("name", "by", "day", "statement", "site"), "")
    told = Told(number="H07", letter="B", **words)
    records = {**typed(given("H07", "B")), **use_of("H")}
    job = DrawingJob(told, records, read_csv("site")[0], ("02",), is_set=True)
    drawn = draw(job, str(tmp_path))
    assert Path(drawn.pdf).read_bytes().startswith(b"%PDF-")
    [text] = (PageText.of_record(record) for record in drawn.lettering)
    assert (text.width_mm, text.is_outlined) == (420.0, False)
    marks = {word.text for word in text.kept().words}
    assert {"R1", "R2", "W1", "D1", "U17"} <= marks
    assert all(0 <= word.x < 1 and 0 <= word.y < 1 for word in text.words)


def test_an_issue_after_pens_down_is_late_by_the_minutes_told(loaded):
    late = Revision.objects.filter(minutes_late__gt=0)
    assert [(str(r.scheme.number), r.letter, r.minutes_late) for r in late] == [("H13", "B", 41)]


def test_the_lift_limit_was_changed_by_an_addendum(loaded):
    brief = Studio.objects.get(title="Twelve Bunks").brief
    assert brief.target_lines.get(addendum=None, cells__id="T26").cells["value"] == "800"
    in_force = {record["id"]: record for record in brief.target_records()}
    assert in_force["T26"]["value"] == "750"


def test_levels_stand_as_told(loaded):
    final = Crit.objects.get(studio__title="Low Water", kind="final")
    # 14 schemes by four jurors, less one who stepped aside and one who saw a part; eight criteria
    in_part = JurySheet.objects.filter(seat__crit=final).exclude(saw_in_part_at=None).get()
    assert (in_part.scheme.number, str(in_part.seat.name)) == ("E13", "Cass Ferro")
    assert LevelGiven.objects.filter(jury_sheet__seat__crit=final).count() == (14 * 4 - 2) * 8
    assert JurySheet.objects.filter(seat__crit=final, locked_at=None).count() == 0


def test_the_running_crit_stands_at_five_past_eleven(loaded):
    crit = Crit.objects.get(studio__title="Twelve Bunks", kind="final")
    assert crit.day == TODAY
    assert not crit.is_released
    locked = JurySheet.objects.filter(seat__crit=crit).exclude(locked_at=None)
    assert locked.count() == 17
    assert crit.slots.get(scheme__number="H08").state == "stood down (ill)"


def test_held_words_reach_no_student_and_the_reworded_do(loaded):
    of_16 = Comment.objects.filter(words__startswith="This looks like")
    assert of_16.get().held_reason
    assert of_16.get().answer.kind == "Taken up"
    assert words_out(with_words_out(of_16).get()).words.startswith("The render is ahead")


def test_what_opposes_is_ruled_on(loaded):
    pairs = OpposedPair.objects.standing().select_related("scheme")
    assert [(pair.scheme.number, pair.ruling.partition(" ")[0]) for pair in pairs] == [
        ("E12", "The"),
        ("H03", "Your"),
    ]


def test_what_was_said_of_lee_shelf_is_taken_down(loaded):
    said = SpokenNote.objects.filter(slot__scheme__number="H03")
    assert [(f"{localtime(s.said_at):%H:%M}", str(s.seat), s.place) for s in said] == [
        ("10:57", "Marek Ostrey", "06·C2"),
        ("10:59", "Pia Norrow", "05·D2"),
        ("11:01", "None", "02·A1"),
        ("11:04", "Hesper Quill", "07·B3"),
    ]
    assert [s.comment is not None for s in said] == [True, False, False, True]
    assert [s.held_at is not None for s in said] == [False, False, True, False]


def test_answers_are_those_told(loaded):
    assert Answer.objects.count() == 17


@pytest.fixture
def own_clock(settings, tmp_path):
    settings.DATA_DIR, settings.IS_DEMO_GROUND = tmp_path, True


def test_its_clock_stands_at_the_scenario_s_hour_and_goes_on(loaded, own_clock):
    crit = Crit.objects.get(studio__title="Twelve Bunks", kind="final")
    load.set_clock(anew=True)
    assert (clock.today(), f"{clock.here():%H:%M}") == (crit.day, "11:05")
    clock.move_to(clock.now() + timedelta(hours=2))
    load.set_clock()
    assert f"{clock.here():%H:%M}" == "13:05"
    load.set_clock(anew=True)
    assert f"{clock.here():%H:%M}" == "11:05"


def test_a_day_later_its_clock_stands_at_the_same_day_again(loaded, own_clock):
    load.set_clock(anew=True)
    clock.move_to(clock.now() + timedelta(days=1))
    load.set_clock()
    crit = Crit.objects.get(studio__title="Twelve Bunks", kind="final")
    assert (clock.today(), f"{clock.here():%H:%M}") == (crit.day, "11:05")
    assert crit.day == TODAY


def test_what_was_done_between_the_crits_is_there_to_look_at(loaded):
    hut = Studio.objects.get(title="Twelve Bunks")
    pin_up = hut.crits.get(kind=Crit.Kind.PIN_UP)
    assert pin_up.day == TODAY - timedelta(days=22)
    notes = pin_up.quiet_notes.select_related("scheme")
    assert {(note.scheme.number, note.kind) for note in notes} >= {("H07", "Keep"), ("H07", "Ask")}
    assert not [note for note in notes if note.by in note.scheme.members.all()]
    first, second = hut.schemes.get(number="H07").desk_crits.all()
    (carried,) = second.steps.exclude(carried_from=None)
    assert carried.words == first.steps.get(done_at=None).words
    asked = hut.brief.questions.all()
    assert [bool(question.answer) for question in asked] == [True, True, False]
    assert asked[0].addendum.number == 1
    effects = Adjustment.objects.order_by("scheme__number").values_list("effect", flat=True)
    assert list(effects) == ["pause", "written", "seated"]
