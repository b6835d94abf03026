"""What is agreed at a desk: kept once, by the version seen; what isn't done is carried on."""

from uuid import uuid4

import pytest

from reviews.deeds.desk_crit_keeping import DeskSent, keep_desk_crit, says, tick_step
from reviews.models import DeskCrit, NextStep
from reviews.models.briefs import Frozen
from reviews.reading.desk_crits import open_steps, unseen
from reviews.versions import Newer
from tests import factories

pytestmark = pytest.mark.django_db

STAIR = DeskSent("The stair.", ("Draw the stair", "", "Weigh the roof"))


@pytest.fixture
def keep(cast):
    def keep(sent=STAIR, seen=0, key=None, by=cast.leader, scheme=cast.scheme):
        return keep_desk_crit(scheme, key or uuid4(), sent, seen, by)

    return keep


def words(scheme):
    return [step.words for step in open_steps(scheme)]


def test_a_note_sent_again_is_one_note(cast, keep):
    key = uuid4()
    first = keep(key=key)
    again = keep(key=key)
    assert (first.pk, first.version) == (again.pk, again.version)
    assert DeskCrit.objects.count() == 1
    assert NextStep.objects.count() == 2
    assert says(again) == STAIR


def test_a_save_over_a_newer_one_is_refused_with_both(keep):
    key = uuid4()
    keep(key=key)
    keep(DeskSent("The roof.", STAIR.steps), 1, key)
    with pytest.raises(Newer) as met:
        keep(DeskSent("The door.", STAIR.steps), 1, key)
    assert met.value.kept.words == "The roof."
    assert met.value.sent.words == "The door."
    assert DeskCrit.objects.get().words == "The roof."
    with pytest.raises(Newer):
        keep(DeskSent("The door."), 0, key)


def test_steps_are_changed_and_taken_out_before_the_next_meeting(cast, keep):
    key = uuid4()
    keep(key=key)
    keep(DeskSent("The stair.", ("Draw it 1:20", "", "")), 1, key)
    assert words(cast.scheme) == ["Draw it 1:20"]


def test_what_is_not_done_is_carried_to_the_next_meeting(cast, keep):
    first = keep()
    tick_step(first.steps.get(position=1), cast.student)
    second = keep(DeskSent("Again.", ("Number the pieces", "", "")))
    assert words(cast.scheme) == ["Weigh the roof", "Number the pieces"]
    third = keep(DeskSent("Once more."))
    assert words(cast.scheme) == ["Weigh the roof", "Number the pieces"]
    carried = third.steps.get(words="Weigh the roof")
    assert carried.carried_from.carried_from.desk_crit == first
    assert says(second).steps == ("Number the pieces", "", "")


def test_steps_of_a_meeting_that_is_followed_stand_and_its_words_do_not(keep):
    key = uuid4()
    keep(key=key)
    keep(DeskSent("Later."))
    with pytest.raises(Frozen):
        keep(DeskSent("The stair.", ("Something else", "", "")), 1, key)
    assert keep(DeskSent("The steep stair.", STAIR.steps), 1, key).version == 2
    assert NextStep.objects.filter(words="Something else").count() == 0


def test_a_step_taken_over_meanwhile_is_ticked_where_it_stands_now(cast, keep):
    seen = keep().steps.get(position=1)
    keep(DeskSent("Later."))
    ticked = tick_step(seen, cast.student)
    assert ticked.carried_from == seen
    assert words(cast.scheme) == ["Weigh the roof"]
    assert NextStep.objects.get(pk=seen.pk).done_at is None
    tick_step(seen, cast.student, is_done=False)
    assert words(cast.scheme) == ["Draw the stair", "Weigh the roof"]


def test_ticked_twice_the_first_stands(cast, keep):
    step = keep().steps.get(position=1)
    first = tick_step(step, cast.student)
    again = tick_step(step, cast.mate)
    assert (again.done_by, again.done_at) == (cast.student, first.done_at)


def test_a_key_of_another_scheme_or_leader_is_not_taken(cast, keep):
    key = uuid4()
    keep(key=key)
    for more in ({"scheme": cast.other_scheme}, {"by": cast.other_leader}):
        with pytest.raises(DeskCrit.DoesNotExist):
            keep(DeskSent("Mine."), 0, key, **more)
    assert DeskCrit.objects.get().words == "The stair."


def test_who_was_not_seen_for_longest_stands_first(cast, monkeypatch):
    now = factories.PENS_DOWN.replace(hour=12)
    monkeypatch.setattr("reviews.clock.now", lambda: now)
    third = factories.SchemeFactory(studio=cast.studio, number="R03")
    gone = factories.SchemeFactory(studio=cast.studio, withdrawn_at=now)
    for scheme, day in ((cast.scheme, 1), (cast.scheme, 3), (third, 2), (gone, 1)):
        factories.DeskCritFactory(scheme=scheme, by=cast.leader, at=now.replace(day=day))
    lines = unseen([cast.studio])[cast.studio.pk]
    assert [(line.scheme, line.words) for line in lines] == [
        (cast.other_scheme, "none yet"),
        (third, "yesterday"),
        (cast.scheme, "today"),
    ]
