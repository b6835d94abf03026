"""Who may do what once a crit is released: answers and their closing, conversations, appeals.

list of answers   the studio's leaders, who also close comments; coordinators read
own answers       the scheme's students, and those whose work it was; leaders and coordinators read
conversation      the same students and the studio's leaders write and read; nobody else
appeal            made by one of those students; read whole by them, by leaders and coordinators;
                  their team mates know that there is one, and nothing of its words or its trail
decision          coordinators; where the site has none, the studio's leaders. Nobody who made it
                  or who judged the scheme
held comments     of an appeal, leaders and coordinators
"""

from __future__ import annotations

from django.db.models import Q, QuerySet

from reviews.access import Role, Viewer, can_lead, is_or_was_own
from reviews.models import Appeal, Comment, Crit, Person, Scheme, Seat, Studio
from reviews.models.after import AppealQuerySet

# Answers


def can_list_answers(viewer: Viewer, studio: Studio) -> bool:
    """Leaders and coordinators: the answers and appeals of all that a studio released."""
    return can_lead(viewer, studio.pk) or viewer.is_coordinator


def closable_comments(viewer: Viewer) -> QuerySet[Comment]:
    """Released comments of the studios that the viewer leads, less those held since."""
    led = viewer.studios_as(Role.LEADER)
    comments = Comment.objects.released().not_held()
    return comments.filter(jury_sheet__seat__crit__studio_id__in=led)


def can_read_answers(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """The scheme's students, leaders and coordinators, of what is released."""
    if not crit.is_released or scheme.studio_id != crit.studio_id:
        return False
    leads = can_lead(viewer, crit.studio_id) or viewer.is_coordinator
    return leads or is_or_was_own(viewer, crit, scheme)


# Conversations


def can_talk(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """The scheme's students and the studio's leaders, of what is released."""
    if not crit.is_released or scheme.studio_id != crit.studio_id:
        return False
    return can_lead(viewer, crit.studio_id) or is_or_was_own(viewer, crit, scheme)


# Appeals


def can_appeal(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """Students of the scheme, and those whose work the crit saw, once it is released."""
    is_theirs = scheme.studio_id == crit.studio_id and is_or_was_own(viewer, crit, scheme)
    return crit.is_released and is_theirs


def appeals(viewer: Viewer) -> AppealQuerySet:
    """Appeals that the viewer reads whole: their own, of studios they lead, a coordinator all."""
    if viewer.is_coordinator:
        return Appeal.objects.all()
    led = viewer.studios_as(Role.LEADER)
    return Appeal.objects.filter(Q(by=viewer.person) | Q(crit__studio_id__in=led))


def waiting_appeals(viewer: Viewer) -> QuerySet[Appeal]:
    """Of those, the ones that nobody has decided, the oldest first."""
    found = Appeal.objects.open().filter(pk__in=appeals(viewer)).order_by("at")
    return found.select_related("crit", "scheme", "by")


def own_appeals(viewer: Viewer, crit: Crit, scheme: Scheme) -> QuerySet[Appeal]:
    """Those that the viewer made of one scheme."""
    return Appeal.objects.of(crit, scheme).filter(by=viewer.person)


def has_office(viewer: Viewer, appeal: Appeal) -> bool:
    """Leaders and coordinators, but whoever made it: they read held comments beside it."""
    if viewer.person is None or appeal.by_id == viewer.person.pk:
        return False
    return can_lead(viewer, appeal.crit.studio_id) or viewer.is_coordinator


def held_to_read(viewer: Viewer, crit: Crit) -> set[int] | None:
    """Schemes whose held comments somebody who reads a crit's table may read; None: of all.

    Leaders read all; coordinators those of schemes with an appeal.
    """
    if can_lead(viewer, crit.studio_id):
        return None
    return {*appeals(viewer).standing().filter(crit=crit).values_list("scheme_id", flat=True)}


def can_add_words(viewer: Viewer, appeal: Appeal) -> bool:
    """Whoever made it, leaders and coordinators, until it is decided or withdrawn."""
    is_theirs = viewer.person is not None and appeal.by_id == viewer.person.pk
    return appeal.is_open and (is_theirs or has_office(viewer, appeal))


def can_withdraw(viewer: Viewer, appeal: Appeal) -> bool:
    """Whoever made it, until it is decided."""
    is_theirs = viewer.person is not None and appeal.by_id == viewer.person.pk
    return appeal.is_open and is_theirs


def has_coordinator() -> bool:
    """Whether anybody on the site coordinates."""
    return Person.objects.filter(is_coordinator=True, is_active=True).exists()


def judged(person: Person, appeal: Appeal) -> bool:
    """Whether somebody sat on the jury of the scheme."""
    seats = Seat.objects.sat_by(person).filter(crit=appeal.crit_id)
    return seats.filter(sheets__scheme=appeal.scheme_id).exists()


def may_decide(viewer: Viewer, appeal: Appeal) -> bool:
    """Whether somebody has the office of deciding it, open or not."""
    person = viewer.person
    if person is None or not has_office(viewer, appeal) or judged(person, appeal):
        return False
    return viewer.is_coordinator or not has_coordinator()


def can_decide(viewer: Viewer, appeal: Appeal) -> bool:
    """The same, while it is open."""
    return appeal.is_open and may_decide(viewer, appeal)
