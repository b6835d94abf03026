"""Write a letter at the moment it is sent, by what holds then; nothing where it no longer does."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, time, timedelta

from django.conf import settings
from django.db.models import Q
from django.utils import timezone

from reviews import clock
from reviews.deeds import mail_choosing, person_links
from reviews.deeds.mail_day_writing import day_letter
from reviews.deeds.mail_words import Written, in_eights, one_line, whole_address
from reviews.models import (
    Appeal,
    Comment,
    Crit,
    JurorLetter,
    Mail,
    Membership,
    Revision,
    Rewording,
    Scheme,
    Seat,
)
from reviews.models.mails import SWITCHABLE
from reviews.moments import day_words, moment_words
from reviews.reading.comment_rulings import as_they_go_out
from reviews.reading.crit_evening import stubs_of
from reviews.reading.juror_letters import consenting_schemes, facts_of

MOST_QUOTED = 300
"""Characters of a comment that a letter repeats."""


@dataclass(frozen=True)
class Letter:
    """What a letter says, in words of one line each.

    facts   label and value
    link    its words, and the whole address
    why     why it came
    stop    the whole address that switches its kind off; blank where it can't be
    """

    subject: str
    lines: list[str]
    why: str
    facts: list[tuple[str, str]]
    link: tuple[str, str]
    stop: str = ""
    settings: str = ""


def letter_of(mail: Mail) -> Letter | None:
    """Write a letter; None where what it tells of holds no more."""
    written = _WRITERS[Mail.Kind(mail.kind)](mail)
    if written is None:
        return None
    subject, lines, why, facts, link = written
    is_switchable = mail.kind in dict(SWITCHABLE)
    token = mail_choosing.token_for(mail.address, mail.kind)
    return Letter(
        one_line(subject)[:200],
        [one_line(line) for line in lines],
        one_line(why),
        [(one_line(label), one_line(value)) for label, value in facts],
        link,
        whole_address("stop-mail", token) if is_switchable else "",
        whole_address("you") if is_switchable and mail.person_id else "",
    )


def _invitation(mail: Mail) -> Written | None:
    place = Membership.objects.filter(pk=mail.about).select_related("studio", "person").first()
    if place is None or not place.person.is_active:
        return None
    person, studio = place.person, place.studio
    if person.has_usable_password():
        how = "Sign in with this address and the password you have."
        link = ("Sign in", whole_address("sign-in"))
    else:
        how = f"The link sets your password, once, within {person_links.DAYS} days."
        link = ("Set your password", f"{settings.SITE_ADDRESS}{person_links.path_for(person)}")
    joins = "are invited to" if place.is_invited else "belong to"
    lines = [f"{person}, you {joins} the studio {studio}.", how]
    lines += ["The first page then asks whether you join."] if place.is_invited else []
    why = (
        f"This came because a leader of {studio.title} put {person.email} on the list of its "
        "people. If that was a mistake, do nothing."
    )
    facts = [("Studio", str(studio)), ("As", place.get_role_display())]
    return f"Your way into {studio.title}", lines, why, facts, link


def _seat(mail: Mail) -> Seat | None:
    """The seat that a letter is for, where its address still is the juror's."""
    seats = Seat.objects.filter(pk=mail.about, email__iexact=mail.address)
    return seats.select_related("crit__studio").first()


def _link(mail: Mail) -> Written | None:
    seat = _seat(mail)
    if seat is None or clock.now() > seat.link_ends_at:
        return None
    crit = seat.crit
    lines = [
        f"{seat.name}, you sit on the jury of {crit.studio}.",
        "The link below is yours alone and needs no account: whoever opens it is you. It opens "
        "the running order, the sheets and your jury sheets, on as many devices as you like.",
    ]
    facts = [("Crit", f"{crit.get_kind_display()}, {day_words(crit.day)}")]
    facts += [("Room", seat.room)] if seat.room else []
    facts += [("Year level", crit.studio.year_line)] if crit.studio.year_line else []
    facts += [("The link ends", moment_words(seat.link_ends_at))]
    why = f"This came because {crit.studio.title} has you on its list of jurors."
    link = ("Open your jury sheets", whole_address("enter-jury", seat.code))
    return f"Your link for the {crit} of {crit.studio.title}", lines, why, facts, link


def _receipt(mail: Mail) -> Written | None:
    revisions = Revision.objects.filter(pk=mail.about, students=mail.person)
    revision = revisions.select_related("scheme__studio", "crit", "issued_by").first()
    if revision is None:
        return None
    crit, scheme = revision.crit, revision.scheme
    late = f"late issue, by {revision.late_words}" if revision.minutes_late else "in time"
    facts = [
        ("Scheme", str(scheme)),
        ("Revision", revision.letter),
        ("Issued", f"{moment_words(revision.issued_at)}, by {revision.issued_by}"),
        ("For", f"{crit}, {late}" if crit else "no crit"),
        ("Hand-in list lacks", "; ".join(revision.lacks) or "nothing"),
        ("Receipt number", in_eights(revision.fingerprint)),
    ]
    lines = [f"Revision {revision.letter} of {scheme} is issued. Keep this letter as a receipt."]
    if revision.behalf_words:
        lines.append(f"{revision.issued_by} handed it in for you: {revision.behalf_words}")
    why = f"This came because you are a student of {scheme}."
    link = ("See what is issued", whole_address("show-revision", revision.pk))
    return f"Receipt: {scheme}, revision {revision.letter}", lines, why, facts, link


def _results(mail: Mail) -> Written | None:
    crit = Crit.objects.released().filter(pk=mail.about).select_related("studio").first()
    if crit is None or crit.released_at is None or mail.queued_at < crit.released_at - _SLACK:
        return None
    schemes = _shown_by(mail, crit)
    if not schemes:
        return None
    lines = ["The leader has released what the jury set and wrote. Each comment takes an answer."]
    facts = [
        ("Crit", f"{crit}, {crit.studio}"),
        ("Scheme", ", ".join(map(str, schemes))),
        ("Released", moment_words(crit.released_at)),
    ]
    why = f"This came because you showed {schemes[0]} at this crit."
    link = ("Read the results", whole_address("show-results", crit.pk, schemes[0].pk))
    return f"Results are released: {crit}, {crit.studio.title}", lines, why, facts, link


def _stopped(mail: Mail) -> Written | None:
    crit = Crit.objects.to_come().filter(pk=mail.about).select_related("studio").first()
    if crit is None or not crit.release_stopped:
        return None
    lines = ["Nothing reached the students.", crit.release_stopped]
    why = f"This came because you lead {crit.studio}."
    link = ("Open the release", whole_address("release-crit", crit.pk))
    facts = [("Crit", f"{crit}, {crit.studio}")]
    return f"Not released: {crit}, {crit.studio.title}", lines, why, facts, link


def _shown_by(mail: Mail, crit: Crit) -> list[Scheme]:
    """The schemes that somebody shows at a crit, or of which they issued work for it."""
    own = Q(members=mail.person) & Q(slots__crit=crit)
    issued = Q(revisions__crit=crit, revisions__students=mail.person)
    return list(Scheme.objects.filter(own | issued).distinct())


def _comments(mail: Mail) -> Written | None:
    """Told while levels are still to come; once they are out, their own letter says so."""
    crit = Crit.objects.to_come().filter(pk=mail.about).select_related("studio").first()
    if crit is None or crit.comments_sent_at is None:
        return None
    schemes = _shown_by(mail, crit)
    if not schemes:
        return None
    lines = [
        "The leader has sent what the jury said of each sheet. Levels follow at the release.",
    ]
    facts = [
        ("Crit", f"{crit}, {crit.studio}"),
        ("Scheme", ", ".join(map(str, schemes))),
        ("Sent", moment_words(crit.comments_sent_at)),
    ]
    why = f"This came because you showed {schemes[0]} at this crit."
    link = ("Read the comments", whole_address("show-results", crit.pk, schemes[0].pk))
    return f"Comments of the day: {crit}, {crit.studio.title}", lines, why, facts, link


def _stubs(mail: Mail) -> Written | None:
    seat = _seat(mail)
    if seat is None or seat.crit.is_released or clock.now() > seat.link_ends_at:
        return None
    stubs = [stub for stub in stubs_of(seat.crit) if stub.jury_sheet.seat_id == seat.pk]
    if not stubs:
        return None
    facts = [
        (f"{stub.jury_sheet.scheme}", f"{stub.kind or 'no kind'} {stub.place}".strip())
        for stub in stubs
    ]
    lines = [
        f"{seat.name}, these comments of yours have a place and no words yet. A sentence each "
        "does; without words a student reads nothing of them this evening.",
        "This is the one letter about it.",
    ]
    why = f"This came because you sat on the jury of {seat.crit.studio}."
    link = ("Open your jury sheets", whole_address("enter-jury", seat.code))
    subject = f"Comments that wait for your words, {seat.crit}, {seat.crit.studio.title}"
    return subject, lines, why, facts, link


def _rewording(mail: Mail) -> Written | None:
    """Told while an offer waits; the words themselves stand behind the link alone."""
    seat = _seat(mail)
    if seat is None or clock.now() > seat.link_ends_at:
        return None
    offers = Rewording.objects.open().filter(comment__jury_sheet__seat=seat)
    offers = offers.select_related("comment__jury_sheet__scheme", "comment__issued_sheet")
    facts = [(f"{offer.comment.jury_sheet.scheme}", f"{offer.comment}") for offer in offers]
    if not facts:
        return None
    lines = [
        f"{seat.name}, the studio leader holds a comment of yours and offers other words for it. "
        "Take them, write others, or leave it: nothing goes out in your name without you.",
    ]
    why = f"This came because you sat on the jury of {seat.crit.studio}."
    link = ("Read the offered words", whole_address("enter-jury", seat.code))
    return f"Other words offered, {seat.crit}, {seat.crit.studio.title}", lines, why, facts, link


_SLACK = timedelta(minutes=1)
"""By how much the moment of a release may lie after that of its letters: clocks differ."""


def _answers(mail: Mail) -> Written | None:
    seat = _seat(mail)
    if seat is None or mail.day is None:
        return None
    begin = timezone.make_aware(datetime.combine(mail.day, time.min))
    answered = Comment.objects.released().not_held().with_places()
    answered = answered.filter(
        jury_sheet__seat=seat,
        answer__answered_at__gte=begin,
        answer__answered_at__lt=begin + timedelta(days=1),
    ).select_related("answer", "jury_sheet__scheme", "issued_sheet")
    said = as_they_go_out(answered)
    facts = [(f"{comment.jury_sheet.scheme}, {comment}", _quoted(comment)) for comment in said]
    if not facts:
        return None
    lines = [f"{seat.name}, students answered comments of yours on {day_words(mail.day)}."]
    studio = seat.crit.studio
    why = f"This came because you wrote these comments as a juror of {studio}."
    subject = f"Answers to your comments, {seat.crit}, {studio.title}"
    return subject, lines, why, facts, ("", "")


def _letter(mail: Mail) -> Written | None:
    """As it was kept when it was sent, less what students have ended their consent to since."""
    seat = _seat(mail)
    letter = JurorLetter.objects.filter(seat=seat).first() if seat else None
    if seat is None or letter is None:
        return None
    allowed = consenting_schemes(seat.crit)
    told = [each for each in letter.contents if each["scheme_id"] in allowed]
    facts = [fact for each in told for fact in facts_of(each)]
    if not facts:
        return None
    studio = seat.crit.studio
    lines = [
        f"{seat.name}, this is what became of your remarks at the {seat.crit}. The students of "
        "each scheme allowed that you read it.",
    ]
    why = f"This came because you sat on the jury of {studio}. It comes once."
    return f"What became of your remarks, {seat.crit}, {studio.title}", lines, why, facts, ("", "")


def _quoted(comment: Comment) -> str:
    answer = comment.answer
    said = f"“{comment.words[:MOST_QUOTED]}{'…' * (len(comment.words) > MOST_QUOTED)}” "
    words = f": “{answer.words}”" if answer.words else ""
    place = f" Now at {answer.place_now}." if answer.place_now else ""
    return f"{said if comment.words else ''}→ {answer.kind}{words}.{place}"


def _appeal(mail: Mail) -> Written | None:
    """That one was made, or decided: of its words nothing stands in a letter."""
    appeals = Appeal.objects.standing().filter(pk=mail.about)
    appeal = appeals.select_related("crit__studio", "scheme", "by").first()
    if appeal is None or mail.person is None:
        return None
    crit, is_theirs = appeal.crit, mail.person_id == appeal.by_id
    if appeal.decided_at is None or not is_theirs:
        lines = [f"{appeal.by} appeals against the results of {appeal.scheme}."]
        what, at = "An appeal is made", appeal.at
        why = f"This came because you lead {crit.studio.title}, or coordinate."
    else:
        lines = ["Your appeal is decided. The reasons, and what is put right, stand beside it."]
        what, at = "Your appeal is decided", appeal.decided_at
        why = "This came because you made the appeal."
    facts = [("Crit", f"{crit}, {crit.studio}"), ("Scheme", str(appeal.scheme))]
    facts.append(("At", moment_words(at)))
    link = ("Read the appeal", whole_address("show-appeal", appeal.pk))
    return f"{what}: {crit}, {crit.studio.title}", lines, why, facts, link


def _passkey(mail: Mail) -> Written | None:
    """Said of whatever happened: whoever added one and took it away again was in the account."""
    if mail.person is None:
        return None
    is_new = mail.kind == Mail.Kind.PASSKEY_ADDED
    deed, now = ("added to", "signs in") if is_new else ("removed from", "signs nobody in any more")
    lines = [
        f"A passkey was {deed} your account: it {now}.",
        "If that wasn't you, somebody was in your account: remove every passkey that you don't "
        "know, set another password, and tell whoever runs the site.",
    ]
    facts = [
        ("Account", mail.address),
        ("Passkey", mail.named),
        ("At", moment_words(mail.queued_at)),
    ]
    why = f"This came because {mail.address} is the account's address. It can't be switched off."
    link = ("See your passkeys", whole_address("keep-passkeys"))
    return f"A passkey was {deed} your account", lines, why, facts, link


def _token(mail: Mail) -> Written | None:
    """Said of whoever made one: it reads for as long as it stands."""
    if mail.person is None:
        return None
    lines = [
        "A token for scripts was made in your account: whoever has it reads what you may read, "
        "until you end it. It changes nothing.",
        "If that wasn't you, somebody was in your account: end it, set another password, and tell "
        "whoever runs the site.",
    ]
    facts = [
        ("Account", mail.address),
        ("Token", mail.named),
        ("At", moment_words(mail.queued_at)),
    ]
    why = f"This came because {mail.address} is the account's address. It can't be switched off."
    link = ("See your tokens", whole_address("keep-tokens"))
    return "A token for scripts was made in your account", lines, why, facts, link


def _readdressed(mail: Mail) -> Written | None:
    """Said at the address before and at the one now; neither is told the other."""
    if mail.person is None or mail.studio is None:
        return None
    lines = [
        "Your account has another address: the one that your school has of you now. By it you "
        "sign in, and to it letters go. Password, passkeys and all that you made stay.",
        f"A leader of {mail.studio} brought it in. Ask there if you don't know of it.",
    ]
    why = f"This came because {mail.address} is or was the account's address. It can't be switched "
    facts = [("Studio", str(mail.studio)), ("At", moment_words(mail.queued_at))]
    link = ("Sign in", whole_address("sign-in"))
    return "Your account has another address", lines, f"{why}off.", facts, link


_WRITERS: dict[Mail.Kind, Callable[[Mail], Written | None]] = {
    Mail.Kind.INVITATION: _invitation,
    Mail.Kind.LINK: _link,
    Mail.Kind.RECEIPT: _receipt,
    Mail.Kind.COMMENTS: _comments,
    Mail.Kind.STUBS: _stubs,
    Mail.Kind.REWORDING: _rewording,
    Mail.Kind.RESULTS: _results,
    Mail.Kind.STOPPED: _stopped,
    Mail.Kind.ANSWERS: _answers,
    Mail.Kind.LETTER: _letter,
    Mail.Kind.APPEAL: _appeal,
    Mail.Kind.DAY: day_letter,
    Mail.Kind.PASSKEY_ADDED: _passkey,
    Mail.Kind.PASSKEY_REMOVED: _passkey,
    Mail.Kind.TOKEN_MADE: _token,
    Mail.Kind.READDRESSED: _readdressed,
}
