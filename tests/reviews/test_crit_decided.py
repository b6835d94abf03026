"""What was decided of a scheme is read at once, the last stands, and what follows is dated."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import crit_releasing
from reviews.models import AgreedLevel, OwnReleaseWords, Verdict
from reviews.reading.crit_decided import decided_of
from tests import factories
from tests.reviews.page_steps import text_of

LONG_AGO = timezone.now() - timedelta(days=2)


@pytest.fixture
def decided(cast):
    told = {"scheme": cast.scheme, "by": cast.leader, "at": LONG_AGO}
    for criterion, level in ((cast.criterion, 2), (cast.criterion, 4), (cast.other_criterion, 3)):
        AgreedLevel.objects.create(criterion=criterion, level=level, reason="Within.", **told)
    AgreedLevel.objects.create(criterion=cast.other_criterion, level=None, **told)
    elsewhere = told | {"scheme": cast.other_scheme}
    AgreedLevel.objects.create(criterion=cast.other_criterion, level=1, **elsewhere)
    of = told | {"crit": cast.crit}
    Verdict.objects.create(kind="go-on", **of)
    Verdict.objects.create(kind="again", criteria=["F2"], words="The ramp alone.", **of)
    OwnReleaseWords.objects.create(words="To you two.", **of)
    return cast


def test_the_last_decision_stands_and_all_is_one_query(decided, django_assert_num_queries):
    cast = decided
    with django_assert_num_queries(1):
        read = decided_of(cast.crit, cast.scheme)
    assert (read.agreed(cast.criterion.pk), read.agreed(cast.other_criterion.pk)) == (4, None)
    assert [each.level for each in read.levels[cast.other_criterion.pk]] == [3, None]
    assert read.verdict
    assert (read.verdict.title, read.verdict.codes) == ("Show again", ("F2",))
    assert read.own_words == "To you two."
    assert read.is_agreed
    empty = decided_of(factories.CritFactory(studio=cast.studio), cast.scheme)
    assert (empty.verdict, empty.own_words, empty.is_agreed) == (None, None, False)


def test_students_read_own_words_verdict_and_agreed_levels_with_later_ones_dated(decided):
    cast = decided
    cast.criterion.level_4 = "Measured, and placed"
    cast.criterion.save()
    crit_releasing.release_crit(cast.crit, cast.leader, "To the whole class.")
    student = cast.client(cast.student)

    def page():
        return text_of(student.get(reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])))

    read = page()
    for words in ("To you two.", "Show again", "The ramp alone.", "F2 Making", "Resolved",
                  "Measured, and placed", "No level is agreed"):  # fmt: skip
        assert words in read, words
    assert "To the whole class." not in read
    assert "Within." not in read
    assert "Corrected" not in read
    assert read.index("To you two.") < read.index("Show again") < read.index("Resolved")
    later = {"scheme": cast.scheme, "by": cast.leader, "at": timezone.now() + timedelta(days=1)}
    AgreedLevel.objects.create(
        criterion=cast.criterion, level=5, reason="Sheet 04 was not seen.", **later
    )
    Verdict.objects.create(crit=cast.crit, kind="go-on", **later)
    read = page()
    assert "was 4, is 5. Sheet 04 was not seen." in read
    assert "was Show again, is Go on." in read
