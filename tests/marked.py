"""Words that stand nowhere else, each where practice withholds something, and who may read it.

Written from the table of public and private things that a design school keeps to (common
practice), not from the code: what the walk of tests/test_leaks.py finds is held to it.
"""

from dataclasses import dataclass
from uuid import UUID, uuid4

from django.utils import timezone

from reviews.deeds.crit_appealing import make_appeal
from reviews.deeds.crit_moderating import reopen_sheet
from reviews.models import (
    Adjustment,
    AgreedLevel,
    AlikeGroup,
    Answer,
    Closing,
    Comment,
    Conversation,
    Interest,
    JurorLetter,
    JurySheet,
    LevelGiven,
    NextStep,
    OpposedPair,
    Option,
    OwnReleaseWords,
    PrivateNote,
    QuietNote,
    Revision,
    SpokenNote,
    Verdict,
)
from reviews.models.after import AppealWords
from reviews.models.spoken import ChangedLevel
from tests import factories
from tests.world import World

LEADS = "leader sitting"
OWN = "student mate"
MARKED = "beside"
"""The juror whose locked sheet is marked."""
OFFICE = f"coordinator {LEADS}"
RESULTS = f"{OWN} examiner coordinator {LEADS}"
"""Whoever reads results after the release."""


@dataclass(frozen=True)
class Mark:
    """Who reads one word before the release, and after it; nobody else ever does.

    may     who may read it as well, where practice leaves it open
    there   addresses at which who leads or coordinates may: a trail and a book are whole
    """

    before: str = ""
    after: str = ""
    may: str = ""
    there: str = ""

    def reads(self, when: str) -> list[str]:
        """Who must find it somewhere."""
        return str(getattr(self, when)).split()

    def allows(self, role: str, when: str, address: str) -> bool:
        """Whether somebody may find it at an address."""
        if role in OFFICE.split() and address.partition(" ")[0] in self.there.split():
            return True
        return role in [*self.reads(when), *self.may.split()]


def always(who: str, may: str = "") -> Mark:
    """Of what no release changes."""
    return Mark(who, who, may)


LEVEL = "4.26"
"""The weighted level of the marked sheet, of 3 and 5 at 37 and 63 in 100: no other comes to it."""

MARKS = {
    LEVEL: Mark("leader", f"coordinator {LEADS}", may="beside coordinator",
                there="show-book-scheme take-evidence-book"),
    # what is issued: sheets to the whole studio, schedules not to classmates; examiners a sample
    "qxsheet": Mark(f"{OWN} classmate juror beside scribe coordinator {LEADS}",
                    f"{OWN} classmate juror beside scribe coordinator {LEADS} examiner"),
    "qxissuedroom": Mark(f"{OWN} juror beside coordinator {LEADS}",
                         f"{OWN} juror beside coordinator examiner {LEADS}", "scribe"),
    # what is in preparation
    "qxdraftsheet": always(f"{OWN} coordinator {LEADS}"),
    "qxdraftroom": always(f"{OWN} coordinator {LEADS}"),
    "qxdraftwords": always(f"{OWN} coordinator {LEADS}"),
    "qxdesk": always(f"{OWN} coordinator {LEADS}"),
    "qxstep": always(f"{OWN} coordinator {LEADS}"),
    "qxoption": always(f"{OWN} {LEADS}"),
    # a leader who sits on the jury reads others' words once the own sheet is locked
    "qxplain": Mark("leader beside", f"{RESULTS} beside"),
    "qxruling": Mark("leader", RESULTS),
    "qxheading": Mark("leader", RESULTS),
    "qxverdict": Mark("leader", RESULTS),
    "qxownwords": Mark("leader", RESULTS, may="sitting"),
    "qxrelease": Mark("", f"classmate {LEADS}", may=f"{OWN} coordinator examiner"),
    "qxanswer": Mark("", RESULTS, may="beside"),
    "qxagreed": Mark("leader", f"student coordinator {LEADS}", may="mate examiner"),
    # spoken: the scribe typed it, its juror reads the own; a coordinator reads none
    "qxspoken": Mark("leader scribe beside", f"{OWN} examiner beside {LEADS}",
                     may="sitting scribe",
                     there="show-appeal show-book-scheme take-evidence-book"),
    # on sheets not locked: their juror's alone
    "qxunlocked": always("juror"),
    "qxprivate": always("juror"),
    "qxphrase": always("juror"),
    # held, and why: its juror and the leader; of an appeal its offices; examiners on request
    "qxheld": Mark("leader beside", f"beside coordinator {LEADS}"),
    "qxwhyheld": Mark("leader beside", f"beside coordinator {LEADS}"),
    "qxotherheld": Mark("leader juror", f"juror {LEADS}", may="sitting"),
    "qxoffered": Mark("leader beside", f"beside {LEADS}", may="coordinator"),
    # an appeal's trail tells its student why a level was changed and a sheet opened again
    "qxchanged": Mark("leader beside", f"student beside coordinator {LEADS}"),
    "qxreopened": Mark("leader", f"student coordinator {LEADS}", may="beside"),
    "qxappeal": Mark("", f"student coordinator {LEADS}"),
    "qxadded": Mark("", f"student coordinator {LEADS}"),
    "qxtalk": Mark("", f"{OWN} {LEADS}"),
    "qxagreement": Mark("", f"{OWN} {LEADS}"),
    "qxclosing": Mark("", f"{OWN} coordinator {LEADS}", may="examiner beside"),
    # in a re-crit that isn't released: its leader's alone
    "qxagain": Mark("", "", may=LEADS),
    "qxletter": Mark("", "leader", may="beside sitting"),
    # how somebody presents: their own; the jury learns of the effect
    "qxadjust": always(f"student coordinator {LEADS}"),
    "qxinterest": Mark("leader juror", "leader", may=f"juror {LEADS} coordinator"),
    # of a quiet round that is open: whoever wrote it, and the leader
    "qxquiet": always("student leader", may="sitting"),
}  # fmt: skip


def mark(world: World) -> None:
    """Write every word of before the release into a world."""
    cast = world.cast
    cast.crit.names_jurors = False
    cast.crit.save()
    seat = cast.crit.seats.get(name="Ina Interest")
    sheet = JurySheet.objects.get(seat=seat, scheme=cast.scheme)
    of = {"scheme": cast.scheme, "by": cast.leader}
    held = {"held_at": timezone.now(), "held_by": cast.leader}
    plain, second = (factories.CommentFactory(jury_sheet=sheet, words=f"qxplain {n}") for n in "ab")
    Comment.objects.filter(pk=second.pk).update(**held, held_reason="qxwhyheld", words="qxheld")
    other = Comment.objects.filter(jury_sheet__scheme=cast.other_scheme).first()
    Comment.objects.filter(pk=other.pk).update(**held, words="qxotherheld")
    second.rewordings.create(was="qxheld", words="qxoffered", offered_by=cast.leader)
    third = factories.CommentFactory(jury_sheet=sheet, words="Leave the lee.")
    OpposedPair.objects.create(crit=cast.crit, first=plain, second=third, ruling="qxruling", **of)
    group = AlikeGroup.objects.create(crit=cast.crit, heading="qxheading", **of)
    group.comments.set([plain, third])
    said = {"typed": "qxspoken", "words": "qxspoken", "seat": seat}
    SpokenNote.objects.filter(slot__crit=cast.crit, slot__scheme=cast.scheme).update(**said)
    Verdict.objects.create(crit=cast.crit, kind="corrections", words="qxverdict", **of)
    OwnReleaseWords.objects.create(crit=cast.crit, words="qxownwords", **of)
    AgreedLevel.objects.create(criterion=cast.criterion, level=2, reason="qxagreed", **of)
    given, _ = (
        LevelGiven.objects.update_or_create(
            jury_sheet=sheet, criterion=criterion, defaults={"level": level}
        )[0]
        for criterion, level in ((cast.criterion, 3), (cast.other_criterion, 5))
    )
    for criterion, weight in ((cast.criterion, 37), (cast.other_criterion, 63)):
        type(criterion).objects.filter(pk=criterion.pk).update(weight=weight)
    given.changed = ChangedLevel.objects.create(
        given=given, was="2", now="3", reason="qxchanged", at=timezone.now()
    )
    for each, why in ((sheet, "qxreopened"), (other.jury_sheet, "Again.")):
        reopen_sheet(each, cast.leader, why)
        JurySheet.objects.filter(pk=each.pk).update(locked_at=timezone.now())
    begun = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme)
    factories.CommentFactory(jury_sheet=begun, words="qxunlocked")
    PrivateNote.objects.create(seat=cast.seat, scheme=cast.scheme, words="qxprivate")
    factories.PhraseFactory(seat=cast.seat, words="qxphrase")
    Interest.objects.filter(seat=cast.seat).update(words="qxinterest")
    world.ids |= {"given_id": given.pk, "comment_id": plain.pk}
    _mark_work(world)


def _mark_work(world: World) -> None:
    """What students prepare and issue, and what passes between crits."""
    scheme = world.cast.scheme
    package = scheme.package
    type(package).objects.filter(pk=package.pk).update(statement="qxdraftwords")
    package.sheets.update(title="qxdraftsheet")
    for row in package.rows.all():
        row.cells["room"] = "qxdraftroom"
        row.save()
    first = Revision.objects.get(pk=world.ids["revision"])
    rooms = [cells | {"room": "qxissuedroom"} for cells in first.contents["schedules"]["rooms"]]
    issued = factories.RevisionFactory(
        scheme=scheme,
        letter="B",
        issued_by=first.issued_by,
        crit=first.crit,
        contents=first.contents | {"schedules": {"rooms": rooms}},
    )
    hung = first.sheets.get()
    factories.IssuedSheetFactory(
        revision=issued, title="qxsheet", file=hung.file, original=hung.original
    )
    world.ids["revision"] = issued.pk
    NextStep.objects.filter(desk_crit__scheme=scheme).update(words="qxstep")
    scheme.desk_crits.update(words="qxdesk")
    Option.objects.create(
        scheme=scheme, position=1, title="qxoption", changed_by=world.cast.student
    )
    Adjustment.objects.filter(scheme=scheme).update(words="qxadjust")
    QuietNote.objects.update(words="qxquiet")


def follow(world: World) -> None:
    """Write what follows a release: an answer, an appeal, a talk, closings, a letter."""
    cast = world.cast
    plain = Comment.objects.get(pk=world.ids["comment_id"])
    Answer.objects.create(
        comment=plain, kind="Taken up", words="qxanswer", answered_by=cast.student
    )
    appeal = make_appeal(cast.crit, cast.scheme, cast.student, UUID(int=14), "other", "qxappeal")
    AppealWords.objects.create(appeal=appeal, words="qxadded", by=cast.student)
    told = {"words": "qxtalk", "agreed": "qxagreement", "held_on": cast.crit.day}
    of = {"crit": cast.crit, "scheme": cast.scheme, "by": cast.leader}
    Conversation.objects.create(key=uuid4(), **told, **of)
    Closing.objects.create(comment=plain, is_closed=True, words="qxclosing", by=cast.leader)
    third = Comment.objects.get(words="Leave the lee.")
    Closing.objects.create(
        comment=third, is_closed=True, words="qxagain", crit_id=world.ids["recrit"], by=cast.leader
    )
    remark = dict.fromkeys(
        ("kind", "place", "revision", "answer", "answer_words", "place_now", "state"), ""
    )
    told = {"scheme_id": cast.scheme.pk, "scheme": "R01 Lee", "verdict": "", "checks": []}
    letter = [told | {"remarks": [remark | {"words": "qxletter"}]}]
    seat = cast.crit.seats.get(name="Ina Interest")
    JurorLetter.objects.create(seat=seat, contents=letter, by=cast.leader)
    world.ids |= {"appeal_id": appeal.pk, "seat_id": seat.pk}
