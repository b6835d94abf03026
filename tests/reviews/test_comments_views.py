"""Comments on the moderation page and before their juror: read together, ruled on, reworded."""

from datetime import timedelta
from io import BytesIO
from zipfile import ZipFile

import pytest
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import crit_moderating
from reviews.deeds.crit_releasing import release_crit
from reviews.models import AlikeGroup, Comment, OpposedPair, Rewording
from tests import factories
from tests.reviews.jury_steps import lock, read

OWN, OFFERED = "This looks like you gave up.", "The render is ahead of the plan."


@pytest.fixture
def said(cast, settings, tmp_path):
    """Of two jurors: a comment held for its tone, one to keep, one against it, a hazard, a stub."""
    settings.MEDIA_ROOT = tmp_path
    sheet = factories.issue_sheets(cast, "02", schemes=[cast.scheme])[0].sheets.get()
    pia = factories.SeatFactory(crit=cast.crit, name="Pia Norrow")
    first, second = lock(cast, cast.seat), lock(cast, pia)
    rows = (
        (first, "Rework", OWN, ""),
        (first, "Keep", "Hide it.", "B2"),
        (second, "Rework", "It hides too well.", "B2"),
        (second, "Hazard", "No second way out.", ""),
        (second, "Draw", "", "C3"),
    )
    made = [
        factories.CommentFactory(
            jury_sheet=on, kind=kind, words=words, zone=zone, issued_sheet=sheet if zone else None
        )
        for on, kind, words, zone in rows
    ]
    crit_moderating.hold_comment(made[0], cast.leader, "Tone")
    return made


def page_url(cast):
    return reverse("moderate-scheme", args=[cast.crit.pk, cast.scheme.pk])


def choose(cast, comments, stand, **more):
    data = {"comment": [each.pk for each in comments], "stand": stand} | more
    address = reverse("choose-comments", args=[cast.crit.pk, cast.scheme.pk])
    return cast.client(cast.leader).post(address, data, follow=True)


def test_hazards_come_first_stubs_last_and_tone_is_noted_to_the_leader(cast, said):
    page = read(cast.client(cast.leader), page_url(cast))
    shown = [page.index(words) for words in ("No second way out.", "It hides too well.", OWN)]
    assert shown == sorted(shown)
    assert page.index("Stubs without words") > max(shown)
    assert "About the person, perhaps: “you gave up”" in page
    assert "Read: let this hazard go out" in page
    assert "Could be read together" in page
    hazard = said[3]
    decided = cast.client(cast.leader).post(
        reverse("decide-comment", args=[hazard.pk]),
        {"seen": hazard.version, "of": cast.scheme.pk},
    )
    assert decided["Location"] == f"{page_url(cast)}#comment-{hazard.pk}"
    assert "Read: let this hazard go out" not in read(cast.client(cast.leader), page_url(cast))


def test_two_are_paired_ruled_on_and_taken_back(cast, said):
    _, keep, rework, *_ = said
    page = choose(cast, [keep, rework], "opposed").content.decode()
    assert "no ruling yet" in page
    pair = OpposedPair.objects.get()
    leader, address = cast.client(cast.leader), reverse("rule-pair", args=[pair.pk])
    empty = leader.post(address, {"seen": 1}).content.decode()
    assert "Read nothing. Expected the ruling, or a day" in empty
    early = leader.post(address, {"seen": 1, "argue_by": "2001-01-01", "ruling": "Argue it."})
    assert "or later" in early.content.decode()
    assert "Argue it." in early.content.decode()
    ruled = {"seen": 1, "ruling": "Your decision.", "argue_by": f"{cast.crit.day}"}
    page = leader.post(address, ruled, follow=True).content.decode()
    assert "Your decision." in page
    assert "no ruling yet" not in page
    older = leader.post(address, {"seen": 1, "ruling": "Mine instead."})
    assert older.status_code == 409
    assert "Your decision." in older.content.decode()
    assert "Mine instead." in older.content.decode()
    leader.post(reverse("take-back-pair", args=[pair.pk]))
    pair.refresh_from_db()
    assert (pair.taken_back_by, pair.ruling) == (cast.leader, "Your decision.")


def test_a_wrong_choice_says_what_was_read_and_loses_nothing(cast, said):
    _, keep, rework, hazard, _ = said
    page = choose(cast, [keep, rework, hazard], "opposed", heading="The way out").content.decode()
    assert "Read 3 chosen. Expected two that oppose." in page
    assert "The way out" in page
    assert page.count("checked") == 3
    assert "Read 1 chosen. Expected two or more." in choose(cast, [keep], "alike").content.decode()
    assert "Read none chosen." in choose(cast, [], "alike").content.decode()
    elsewhere = factories.CommentFactory()
    odd = choose(cast, [keep, elsewhere], "alike").content.decode()
    assert "Read a comment that isn&#x27;t read here." in odd
    assert "Expected that they are opposed, or alike" in choose(cast, [keep], "?").content.decode()
    assert not OpposedPair.objects.exists()
    assert not AlikeGroup.objects.exists()


def test_alike_are_grouped_with_every_wording_and_taken_apart(cast, said):
    _, keep, _, hazard, _ = said
    page = choose(cast, [keep, hazard], "alike", heading="The way out").content.decode()
    assert "Two jurors: The way out" in page
    group = AlikeGroup.objects.get()
    address = reverse("take-back-group", args=[group.pk])
    page = cast.client(cast.leader).post(address, follow=True).content.decode()
    assert "Two jurors: The way out" not in page
    cast.crit = release_crit(cast.crit, cast.leader, "Thank you.")
    page = choose(cast, [keep, hazard], "alike").content.decode()
    assert "The crit is released." in page
    assert 'form="choose"' not in page


def offer(cast, comment, words=OFFERED):
    address = reverse("reword-comment", args=[comment.pk])
    return cast.client(cast.leader).post(address, {"words": words}, follow=True).content.decode()


def test_a_juror_takes_offered_words_by_the_link(cast, said):
    assert "Expected other words than its juror" in offer(cast, said[0], OWN)
    assert "tell them" in offer(cast, said[0])
    juror = cast.client(cast.seat)
    assert "Other words are offered" in read(juror, reverse("show-jury"))
    address = reverse("show-offered-words")
    assert OFFERED in read(juror, address)
    waits = Rewording.objects.get()
    answer = reverse("answer-offered-words", args=[waits.pk])
    unsure = juror.post(answer, {"reply": "taken", "own_words": "Mine."}).content.decode()
    assert "this field empty" in unsure
    assert "Mine." in unsure
    assert (
        "Read nothing. Expected words of your own"
        in juror.post(answer, {"reply": "own"}).content.decode()
    )
    assert "Expected one of the three buttons." in juror.post(answer, {}).content.decode()
    page = juror.post(answer, {"reply": "taken"}, follow=True).content.decode()
    assert "You took these words." in page
    assert "Other words are offered" not in read(juror, reverse("show-jury"))
    moderated = read(cast.client(cast.leader), page_url(cast))
    assert "Goes out as" in moderated
    assert OWN in moderated
    other = factories.SeatFactory(crit=cast.crit)
    assert OFFERED not in read(cast.client(other), address)
    assert cast.client(other).post(answer, {"reply": "refused"}).status_code == 404


def test_a_refusal_leaves_it_to_the_leader_and_an_offer_can_be_taken_back(cast, said):
    offer(cast, said[0])
    first = Rewording.objects.get()
    leader = cast.client(cast.leader)
    leader.post(reverse("take-back-offer", args=[first.pk]))
    assert OFFERED not in read(cast.client(cast.seat), reverse("show-offered-words"))
    offer(cast, said[0])
    second = Rewording.objects.order_by("pk").last()
    answer = reverse("answer-offered-words", args=[second.pk])
    cast.client(cast.seat).post(answer, {"reply": "refused"})
    page = read(leader, page_url(cast))
    assert "send it as it is, or hold it" in page
    assert Comment.objects.get(pk=said[0].pk).held_at
    late = leader.post(reverse("take-back-offer", args=[second.pk]), follow=True)
    assert "has answered" in late.content.decode()


def test_the_link_ends_the_answer(cast, said):
    offer(cast, said[0])
    juror = cast.client(cast.seat)
    cast.crit.day = timezone.localdate() - timedelta(days=40)
    cast.crit.save()
    assert juror.get(reverse("show-offered-words")).status_code == 404


LEAKS = (OWN, OFFERED, "About the person", "It judges effort", "data-tone", "Tone", "pposed")


def test_nothing_held_offered_unruled_or_noted_reaches_students(cast, said):
    """Before the release and after it, in pages, close views, exports and their home."""
    held, keep, rework, *_ = said
    offer(cast, held)
    choose(cast, [keep, rework], "opposed")
    revision = cast.scheme.revisions.get()
    of_crit = [cast.crit.pk, cast.scheme.pk]
    addresses = [
        reverse("home"),
        reverse("show-crit", args=[cast.crit.pk]),
        reverse("show-results", args=of_crit),
        reverse("export-annotations", args=of_crit),
        reverse("show-issued-sheet", args=[revision.pk, "02"]),
        reverse("show-revision", args=[revision.pk]),
        reverse("show-studio", args=[cast.studio.pk]),
        reverse("export-you"),
    ]
    for is_released in (False, True):
        if is_released:
            cast.crit = release_crit(cast.crit, cast.leader, "Thank you.")
        for who in (cast.student, cast.mate, cast.classmate, cast.scribe):
            client = cast.client(who)
            for address in addresses:
                answer = client.get(address)
                body = b"".join(answer) if answer.streaming else answer.content
                if body.startswith(b"PK"):
                    body = ZipFile(BytesIO(body)).read("data.json")
                found = [words for words in LEAKS if words.encode() in body]
                assert found == [], (who.name, address, found)
