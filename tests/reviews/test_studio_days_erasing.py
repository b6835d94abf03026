"""What of desk crits, options, questions and addenda goes where somebody is made anonymous."""

import pytest
from django.utils import timezone

from reviews.deeds.person_erasing import Somebody, make_anonymous
from reviews.models import Addendum, AddendumOpened, DeskCrit, Option
from tests import factories

pytestmark = pytest.mark.django_db


def test_what_is_of_a_desk_goes_with_a_draft_that_nobody_else_draws(cast):
    desk = factories.DeskCritFactory(scheme=cast.other_scheme, photo=factories.SheetFileFactory())
    factories.NextStepFactory(desk_crit=desk)
    note = factories.DeskCritFactory(scheme=cast.scheme)
    option = {"scheme": cast.other_scheme, "position": 1, "changed_by": cast.classmate}
    Option.objects.create(**option, title="A tower")
    addendum = Addendum.objects.create(
        brief=cast.studio.brief, number=1, text="750 kg.", issued_by=cast.leader
    )
    for who in (cast.classmate, cast.mate):
        AddendumOpened.objects.create(addendum=addendum, person=who, at=timezone.now())
    question = factories.BriefQuestionFactory(
        brief=cast.studio.brief,
        asked_by=cast.classmate,
        answer="Yes.\n\nClem Classmate, Thu 3 Dec 2026, 10:04: and the porch.",
    )
    make_anonymous(Somebody(cast.classmate))
    assert list(DeskCrit.objects.all()) == [note]
    assert not Option.objects.exists()
    assert [opened.person for opened in AddendumOpened.objects.all()] == [cast.mate]
    question.refresh_from_db()
    assert "Clem" not in question.answer
    assert "and the porch." in question.answer
    assert str(question.asked_by).startswith("Former student")
