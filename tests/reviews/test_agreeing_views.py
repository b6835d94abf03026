"""A leader's page on which levels are agreed and verdicts given."""

from django.urls import reverse

from reviews.deeds import crit_agreeing
from reviews.deeds.crit_agreeing import Decided
from reviews.models import AgreedLevel, Verdict
from reviews.reading.crit_agreed import agreed_of
from tests import factories
from tests.reviews.jury_steps import lock, read


def page_url(cast):
    return reverse("moderate-scheme", args=[cast.crit.pk, cast.scheme.pk])


def agree_url(cast):
    return reverse("agree-scheme", args=[cast.crit.pk, cast.scheme.pk])


def as_shown(client, cast):
    """What the page's form would send untouched."""
    form = client.get(page_url(cast)).context["agree"]
    return sent_by(form)


def sent_by(form):
    return {name: value for name in form.fields if (value := form[name].value()) is not None}


def judged(cast):
    lock(cast, cast.seat, 3)
    lock(cast, factories.SeatFactory(crit=cast.crit, name="Kit Second"), 4)


def test_levels_reasons_and_verdict_are_saved_in_one_go(cast):
    judged(cast)
    leader, pk = cast.client(cast.leader), cast.criterion.pk
    page = read(leader, page_url(cast))
    assert "Mean 3.50, just between two levels: 4 half up." in page
    sent = as_shown(leader, cast) | {
        f"level_{pk}": "3", "verdict": "again", "words": "Prove the stair.",
    }  # fmt: skip
    refused = leader.post(agree_url(cast), sent)
    words = refused.content.decode()
    assert "Read nothing. Expected why it is 3 where the jurors&#x27; mean is 3.50." in words
    assert "Read nothing. Expected a criterion or more that stay open." in words
    assert "Prove the stair." in words
    assert not AgreedLevel.objects.exists()
    assert not Verdict.objects.exists()
    sent |= {f"reason_{pk}": "No section.", "open": ["F1"]}
    assert leader.post(agree_url(cast), sent, follow=True).status_code == 200
    assert agreed_of(cast.crit)[cast.scheme.pk][pk].reason == "No section."
    after = read(leader, page_url(cast))
    assert "Show again: F1 stay open" in after
    assert "no level agreed yet for F2" in after
    leader.post(agree_url(cast), sent)
    assert (AgreedLevel.objects.count(), Verdict.objects.count()) == (1, 1)


def test_two_leaders_at_once_both_are_shown(cast):
    judged(cast)
    leader, pk = cast.client(cast.leader), cast.criterion.pk
    sent = as_shown(leader, cast) | {f"level_{pk}": "3", f"reason_{pk}": "No section."}
    first = Decided(4, "", sent[f"seen_{pk}"])
    crit_agreeing.agree_levels(cast.crit, cast.scheme, cast.other_leader, {pk: first})
    told = leader.post(agree_url(cast), sent)
    words = told.content.decode()
    assert told.status_code == 409
    assert "Stands: 4, by Olaf Other." in words
    assert "No section." in words
    leader.post(agree_url(cast), sent_by(told.context["agree"]))
    assert agreed_of(cast.crit)[cast.scheme.pk][pk].level == 3


def test_one_press_says_what_it_agreed_and_what_it_left(cast):
    judged(cast)
    lock(cast, factories.SeatFactory(crit=cast.crit, name="Lu Third"), 4)
    told = cast.client(cast.leader).post(reverse("agree-means", args=[cast.crit.pk]), follow=True)
    assert "2 levels agreed at the mean." in told.content.decode()


def test_a_leader_on_the_jury_sees_nothing_agreed_before_their_own_lock(cast):
    judged(cast)
    factories.SeatFactory(crit=cast.crit, name=cast.leader.name)
    leader = cast.client(cast.leader)
    assert "agreed-title" not in read(leader, page_url(cast))
    assert leader.post(agree_url(cast), {}).status_code == 403
