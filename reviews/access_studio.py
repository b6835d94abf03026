"""Who may do what in a studio between crits: desk crits, quiet rounds, questions, adjustments.

desk crit      the scheme's students, the studio's leaders; coordinators read
next step      ticked by the scheme's students and the leaders
quiet round    the studio's students take part; leaders see who has fewest and close it;
               coordinators read it closed; nobody else, for whoever only looks reads none
options        the scheme's students, the studio's leaders; nobody else, and no jury
questions      asked by the studio's students, answered by its leaders, read by all who read
               the brief
next year      opened by the studio's leaders and by coordinators, who also name leaders
examples       a student allows for themselves alone that later years are shown the package; read
               by students and leaders of the studios that follow, and by coordinators
portfolios     written by the scheme's students; read by them, by those whose work was issued, by
               leaders and coordinators
adjustments    set by leaders and coordinators; each read by the student whom it is for
evidence       the map of standards and books are made by leaders and coordinators, read by
               examiners too
files          rows are taken from a file, or from an earlier revision, by the scheme's students
cohorts        what released crits left is compared by leaders and examiners of each studio, and
               by coordinators; nobody changes anything there
archive        it holds talks, spoken notes and held comments: a studio goes out by its leaders
               alone, once no jury's sheets wait for their release; it comes in by coordinators
"""

from __future__ import annotations

from django.db.models import Q, QuerySet

from reviews.access import (
    Role,
    Viewer,
    can_edit_package,
    can_lead,
    can_see_brief,
    crits,
    is_own_or_led,
    revisions,
)
from reviews.models import Adjustment, Crit, DeskCrit, EvidenceBook, Revision, Scheme, Studio

# Desk crits, quiet rounds, questions


def can_note_desk_crit(viewer: Viewer, scheme: Scheme) -> bool:
    """Leaders of the studio."""
    return can_lead(viewer, scheme.studio_id)


def can_change_desk_crit(viewer: Viewer, note: DeskCrit) -> bool:
    """Whoever wrote it, while they lead the studio: it is signed."""
    is_theirs = viewer.person is not None and note.by_id == viewer.person.pk
    return is_theirs and can_note_desk_crit(viewer, note.scheme)


def can_tick_step(viewer: Viewer, scheme: Scheme) -> bool:
    """The scheme's students, while it isn't withdrawn, and the studio's leaders."""
    return can_edit_package(viewer, scheme) or can_lead(viewer, scheme.studio_id)


def quiet_rounds(viewer: Viewer) -> QuerySet[Crit]:
    """Pin-ups of the viewer's studios."""
    return crits(viewer).filter(kind=Crit.Kind.PIN_UP)


def can_leave_notes(viewer: Viewer, crit: Crit) -> bool:
    """The studio's students."""
    return viewer.is_(Role.STUDENT, crit.studio_id)


def can_close_round(viewer: Viewer, crit: Crit) -> bool:
    """Leaders, who also read what was left before its schemes do."""
    return can_lead(viewer, crit.studio_id)


def can_see_round(viewer: Viewer, crit: Crit) -> bool:
    """Leaders, coordinators, and the studio's students."""
    return can_close_round(viewer, crit) or viewer.is_coordinator or can_leave_notes(viewer, crit)


def can_read_notes(viewer: Viewer, crit: Crit) -> bool:
    """What was left on every scheme: leaders at once, coordinators once the round is closed."""
    is_closed = crit.quiet_closed_at is not None
    return can_close_round(viewer, crit) or (viewer.is_coordinator and is_closed)


def can_ask_question(viewer: Viewer, studio: Studio) -> bool:
    """The studio's students, once they can read its brief."""
    return viewer.is_(Role.STUDENT, studio.pk) and can_see_brief(viewer, studio)


def can_answer_question(viewer: Viewer, studio: Studio) -> bool:
    """Leaders of the studio."""
    return can_lead(viewer, studio.pk)


def opens_addenda(viewer: Viewer, studio: Studio) -> bool:
    """The studio's students: of whom it is kept when they first opened an addendum."""
    return viewer.is_(Role.STUDENT, studio.pk) and can_see_brief(viewer, studio)


# How somebody presents


def can_adjust(viewer: Viewer, scheme: Scheme) -> bool:
    """Leaders of the studio, and coordinators."""
    return can_lead(viewer, scheme.studio_id) or viewer.is_coordinator


def adjustments(viewer: Viewer, scheme: Scheme) -> QuerySet[Adjustment]:
    """All of a scheme for whoever sets them; to a student the own alone, not a team mate's."""
    held = scheme.adjustments.select_related("person", "set_by", "ended_by")
    if can_adjust(viewer, scheme):
        return held
    return held.filter(person=viewer.person) if viewer.person else held.none()


# Handing in for somebody


def can_issue_for(viewer: Viewer, scheme: Scheme) -> bool:
    """Leaders of the studio, while the scheme isn't withdrawn."""
    return can_lead(viewer, scheme.studio_id) and scheme.withdrawn_at is None


def can_read_behalf(viewer: Viewer, revision: Revision) -> bool:
    """Why a revision was handed in for its students: they, leaders and coordinators."""
    is_theirs = revision.pk in viewer.issued_ids or revision.scheme_id in viewer.own_scheme_ids
    return is_theirs or can_lead(viewer, revision.scheme.studio_id) or viewer.is_coordinator


# Portfolios


def portfolios(viewer: Viewer) -> QuerySet[Scheme]:
    """Schemes whose portfolio the viewer may read: their own, those that they lead, all of them."""
    if viewer.is_coordinator:
        return Scheme.objects.all()
    own = Q(pk__in=viewer.own_scheme_ids) | Q(revisions__in=viewer.issued_ids)
    led = Q(studio_id__in=viewer.studios_as(Role.LEADER))
    return Scheme.objects.filter(pk__in=Scheme.objects.filter(own | led).values("pk"))


def can_edit_portfolio(viewer: Viewer, scheme: Scheme) -> bool:
    """Its own students, whatever became of the scheme: it is theirs to keep."""
    return scheme.pk in viewer.own_scheme_ids


# Examples for later years


def earlier_studios(studio: Studio) -> list[int]:
    """The studios of the years before, as each was carried over: the last first."""
    found: list[int] = []
    before = studio.follows
    while before and before.pk not in (studio.pk, *found):
        found.append(before.pk)
        before = before.follows
    return found


def can_see_examples(viewer: Viewer, studio: Studio) -> bool:
    """The studio's students and leaders, and coordinators; not who looks in on it."""
    is_theirs = viewer.is_(Role.STUDENT, studio.pk) or can_lead(viewer, studio.pk)
    return is_theirs or viewer.is_coordinator


def can_allow_example(viewer: Viewer, scheme: Scheme) -> bool:
    """Whoever draws the scheme, or drew what was issued of it, each for themselves alone."""
    if scheme.pk in viewer.own_scheme_ids:
        return True
    return scheme.revisions.filter(pk__in=viewer.issued_ids).exists()


# The next year


def can_carry(viewer: Viewer, studio: Studio) -> bool:
    """Leaders of the studio, and coordinators: they open the one that follows it."""
    return can_lead(viewer, studio.pk) or viewer.is_coordinator


def can_name_leaders(viewer: Viewer, studio: Studio) -> bool:
    """Coordinators; a leader brings others in by the list of people."""
    return viewer.is_coordinator and not can_lead(viewer, studio.pk)


# Cohorts


def compared_studios(viewer: Viewer) -> QuerySet[Studio]:
    """Studios of which the viewer reads what was released, to compare: led or examined, or all."""
    if viewer.is_coordinator:
        return Studio.objects.all()
    return Studio.objects.filter(pk__in=viewer.studios_as(Role.LEADER, Role.EXAMINER))


def can_compare(viewer: Viewer, studio_id: int) -> bool:
    """Whoever finds the studio among these."""
    return viewer.is_coordinator or studio_id in viewer.studios_as(Role.LEADER, Role.EXAMINER)


# Evidence: the register, the map of standards, the books


def can_keep_evidence(viewer: Viewer, studio: Studio) -> bool:
    """Leaders of the studio, and coordinators: who make books and map standards."""
    return can_lead(viewer, studio.pk) or viewer.is_coordinator


def can_read_evidence(viewer: Viewer, studio: Studio) -> bool:
    """The same, and the studio's external examiners."""
    return can_keep_evidence(viewer, studio) or viewer.is_(Role.EXAMINER, studio.pk)


def can_take_studio_out(viewer: Viewer, studio: Studio) -> bool:
    """Leaders of the studio: an archive is whole, with what no coordinator reads."""
    return can_lead(viewer, studio.pk)


def crits_at_work(studio: Studio) -> QuerySet[Crit]:
    """Crits of a studio with a jury sheet and no release: nobody takes their levels out."""
    return Crit.objects.to_come().filter(studio=studio, seats__sheets__isnull=False).distinct()


def evidence_books(viewer: Viewer, studio: Studio) -> QuerySet[EvidenceBook]:
    """The books of a studio: all for whoever makes them; to examiners those that are frozen."""
    books = EvidenceBook.objects.filter(studio=studio)
    if can_keep_evidence(viewer, studio):
        return books
    is_theirs = can_read_evidence(viewer, studio)
    return books.exclude(frozen_at=None) if is_theirs else books.none()


def can_read_package(viewer: Viewer, scheme: Scheme) -> bool:
    """Whoever finds it among `access.packages`, asked of a scheme that is at hand."""
    return viewer.is_coordinator or is_own_or_led(viewer, scheme)


def can_see_crits(viewer: Viewer, studio_id: int) -> bool:
    """Whoever finds its crits among `access.crits`, likewise."""
    return viewer.is_coordinator or studio_id in viewer.roles


def revisions_to_copy(viewer: Viewer, scheme: Scheme) -> QuerySet[Revision]:
    """Revisions whose rows a student may take into a scheme: its own, and the person's own work."""
    own = Q(scheme=scheme) | Q(pk__in=viewer.issued_ids)
    return revisions(viewer).filter(own).order_by("-pk")
