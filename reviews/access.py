"""Who may see and do what: every rule, and nowhere else.

A view starts from one of the querysets here (what isn't in it is 404, as if it weren't
there) and then asks a predicate (seen, but not yours to do, is 403). Templates are given
answers, never roles.

    student, team mate   own draft: read and edit; own revisions; own results after release
    classmate            issued sheets only, where the studio's wall is open
    juror of the crit    issued revisions of the schemes seen, own jury sheets
    scribe               issued revisions of the studio
    leader               everything of the studio; levels and comments always
    coordinator          everything, read only, levels once released
    external examiner    results, and the revisions issued for a crit, once it is released
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from django.core.exceptions import PermissionDenied
from django.db.models import Exists, OuterRef, Q, QuerySet
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from reviews.models import (
    Comment,
    Crit,
    JurySheet,
    Membership,
    Person,
    Revision,
    Scheme,
    Seat,
    Slot,
    StepAside,
    Studio,
)

Role = Membership.Role
SEAT_KEY = "seat"
"""Session key under which an opened personal link is remembered, as [pk, code]."""


@dataclass
class Viewer:
    """Whoever asks: a person signed in, a juror by personal link, both, or nobody."""

    person: Person | None = None
    seat: Seat | None = None

    @cached_property
    def roles(self) -> dict[int, set[str]]:
        """Roles by studio, read once a request."""
        found: dict[int, set[str]] = {}
        if self.person:
            rows = self.person.memberships.values_list("studio_id", "role")
            for studio_id, role in rows:
                found.setdefault(studio_id, set()).add(role)
        return found

    @cached_property
    def own_scheme_ids(self) -> set[int]:
        """Schemes of which the person is a member, read once a request."""
        if not self.person:
            return set()
        return set(self.person.schemes.values_list("pk", flat=True))

    @property
    def is_coordinator(self) -> bool:
        """Whether the person coordinates the programme."""
        return bool(self.person and self.person.is_coordinator)

    def is_(self, role: str, studio_id: int) -> bool:
        """Tell whether the person has a role in a studio."""
        return role in self.roles.get(studio_id, ())

    def studios_as(self, *roles: str) -> list[int]:
        """Return the studios in which the person has one of some roles."""
        return [pk for pk, held in self.roles.items() if held & set(roles)]


class ViewerMiddleware:
    """Hangs the viewer on the request."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        request.viewer = viewer_of(request)  # type: ignore[attr-defined]
        return self.get_response(request)


def viewer_of(request: HttpRequest) -> Viewer:
    """Return who asks; a seat counts while its code stands and its link hasn't ended."""
    person = request.user if request.user.is_authenticated else None
    seat = None
    if held := request.session.get(SEAT_KEY):
        pk, code = held
        found = Seat.objects.select_related("crit__studio").filter(pk=pk, code=code).first()
        if found and timezone.now() <= found.link_ends_at:
            seat = found
    return Viewer(person, seat)


def require(allowed: bool) -> None:
    """Raise PermissionDenied (403) unless allowed."""
    if not allowed:
        raise PermissionDenied


# Studios


def can_open_studios(viewer: Viewer) -> bool:
    """Leaders and coordinators."""
    return bool(viewer.person and (viewer.person.opens_studios or viewer.is_coordinator))


def studios(viewer: Viewer) -> QuerySet[Studio]:
    """Studios the viewer belongs to; all of them for a coordinator."""
    if viewer.is_coordinator:
        return Studio.objects.all()
    return Studio.objects.filter(pk__in=list(viewer.roles))


def led_studios(viewer: Viewer) -> QuerySet[Studio]:
    """Studios that the viewer leads: those whose cohorts they may compare."""
    return Studio.objects.filter(pk__in=viewer.studios_as(Role.LEADER))


def can_lead(viewer: Viewer, studio_id: int) -> bool:
    """Leaders of the studio."""
    return viewer.is_(Role.LEADER, studio_id)


def can_see_people(viewer: Viewer, studio_id: int) -> bool:
    """Leaders, who also change them, and coordinators."""
    return can_lead(viewer, studio_id) or viewer.is_coordinator


def can_make_link(viewer: Viewer, person: Person) -> bool:
    """Leaders of every studio the person belongs to: whoever sets a password opens the account.

    Never for a coordinator or somebody who opens studios. Of a student who has set no password
    yet, any of their leaders may make the link.
    """
    if person.is_coordinator or person.opens_studios:
        return False
    places = list(person.memberships.all())
    elsewhere = [place.role for place in places if not can_lead(viewer, place.studio_id)]
    if len(elsewhere) == len(places):
        return False
    waits = not person.has_usable_password() and set(elsewhere) == {Role.STUDENT}
    return not elsewhere or waits


def can_see_brief(viewer: Viewer, studio: Studio) -> bool:
    """Leaders and coordinators always; everyone else of the studio once it is issued."""
    if can_lead(viewer, studio.pk) or viewer.is_coordinator:
        return True
    return studio.pk in viewer.roles and studio.brief.is_issued


# Schemes and packages


def schemes(viewer: Viewer) -> QuerySet[Scheme]:
    """Schemes whose place in the studio the viewer may know of: number, name, issued or not."""
    if viewer.is_coordinator:
        return Scheme.objects.all()
    return Scheme.objects.filter(studio_id__in=list(viewer.roles))


def packages(viewer: Viewer) -> QuerySet[Scheme]:
    """Schemes whose package in preparation the viewer may read."""
    if viewer.is_coordinator:
        return Scheme.objects.all()
    leads = viewer.studios_as(Role.LEADER)
    return Scheme.objects.filter(Q(pk__in=viewer.own_scheme_ids) | Q(studio_id__in=leads))


def can_edit_package(viewer: Viewer, scheme: Scheme) -> bool:
    """Its own students, while it isn't withdrawn."""
    return scheme.pk in viewer.own_scheme_ids and scheme.withdrawn_at is None


def is_own(viewer: Viewer, scheme_id: int) -> bool:
    """Students of the scheme."""
    return scheme_id in viewer.own_scheme_ids


# Issued revisions


def revisions(viewer: Viewer) -> QuerySet[Revision]:
    """Issued revisions of which the viewer may see at least the sheets."""
    held = Revision.objects.all()
    if viewer.is_coordinator:
        return held
    reads = viewer.studios_as(Role.LEADER, Role.SCRIBE)
    seen = Q(scheme_id__in=viewer.own_scheme_ids) | Q(scheme__studio_id__in=reads)
    seen |= Q(
        scheme__studio_id__in=viewer.studios_as(Role.STUDENT), scheme__studio__is_wall_open=True
    )
    examined = viewer.studios_as(Role.EXAMINER)
    seen |= Q(scheme__studio_id__in=examined, crit__released_at__isnull=False)
    if viewer.seat:
        seen |= Q(scheme_id__in=seen_slots(viewer.seat).values("scheme_id"))
    return held.filter(seen)


def can_read_schedules(viewer: Viewer, scheme: Scheme) -> bool:
    """Whoever may see more than the sheets: not classmates."""
    studio_id = scheme.studio_id
    if viewer.is_coordinator or is_own(viewer, scheme.pk):
        return True
    if any(viewer.is_(role, studio_id) for role in (Role.LEADER, Role.SCRIBE, Role.EXAMINER)):
        return True
    return bool(viewer.seat and seen_slots(viewer.seat).filter(scheme=scheme).exists())


def can_read_questions(viewer: Viewer, scheme: Scheme) -> bool:
    """The scheme's students and the studio's leaders: questions are a rehearsal."""
    return is_own(viewer, scheme.pk) or can_lead(viewer, scheme.studio_id)


# Crits


def crits(viewer: Viewer) -> QuerySet[Crit]:
    """Crits of the viewer's studios."""
    if viewer.is_coordinator:
        return Crit.objects.all()
    return Crit.objects.filter(studio_id__in=list(viewer.roles))


def moderated_crits(viewer: Viewer) -> QuerySet[Crit]:
    """Crits whose table of levels the viewer may read: leaders; coordinators once released."""
    led = Q(studio_id__in=viewer.studios_as(Role.LEADER))
    if viewer.is_coordinator:
        led |= Q(released_at__isnull=False)
    return Crit.objects.filter(led)


def seen_slots(seat: Seat) -> QuerySet[Slot]:
    """Slots that a juror sees: of their room and of no room, less those stepped aside from."""
    slots = Slot.objects.filter(crit=seat.crit)
    if seat.room:
        slots = slots.filter(Q(room="") | Q(room=seat.room))
    return slots.exclude(scheme__steps_aside__seat=seat)


def can_judge(viewer: Viewer, scheme_id: int) -> bool:
    """A juror, for a scheme they see, until the crit is released."""
    seat = viewer.seat
    if seat is None or seat.crit.is_released:
        return False
    return seen_slots(seat).filter(scheme_id=scheme_id).exists()


def opened_sheets(own: JurySheet) -> QuerySet[JurySheet]:
    """Other jurors' locked sheets of the same scheme, once a juror's own is locked."""
    if not own.is_locked:
        return JurySheet.objects.none()
    return locked_sheets(own.seat.crit_id, own.scheme_id).exclude(pk=own.pk)


def locked_sheets(crit_id: int, scheme_id: int) -> QuerySet[JurySheet]:
    """Jury sheets that count for a scheme: locked, and not of a juror who stepped aside."""
    left = StepAside.objects.filter(seat=OuterRef("seat"), scheme=OuterRef("scheme"))
    return JurySheet.objects.filter(
        ~Exists(left), seat__crit_id=crit_id, scheme_id=scheme_id, locked_at__isnull=False
    )


def led_jury_sheets(viewer: Viewer) -> QuerySet[JurySheet]:
    """Jury sheets of the studios that the viewer leads."""
    return JurySheet.objects.filter(seat__crit__studio_id__in=viewer.studios_as(Role.LEADER))


def led_comments(viewer: Viewer) -> QuerySet[Comment]:
    """Comments on locked sheets of the studios that the viewer leads."""
    return Comment.objects.filter(
        jury_sheet__seat__crit__studio_id__in=viewer.studios_as(Role.LEADER),
        jury_sheet__locked_at__isnull=False,
        removed_at=None,
    )


def can_read_results(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """The scheme's students, examiners and coordinators once released; leaders always."""
    if scheme.studio_id != crit.studio_id:
        return False
    if can_lead(viewer, crit.studio_id):
        return True
    if not crit.is_released:
        return False
    examines = viewer.is_(Role.EXAMINER, crit.studio_id)
    return is_own(viewer, scheme.pk) or examines or viewer.is_coordinator


def open_comments(crit_id: int, scheme_id: int) -> QuerySet[Comment]:
    """Comments that a scheme's students read once the crit is released.

    Not those held or removed, those of a sheet that doesn't count, nor stubs without a kind.
    """
    return Comment.objects.filter(
        jury_sheet__in=locked_sheets(crit_id, scheme_id), held_at=None, removed_at=None
    ).exclude(kind="", words="")


def answerable_comments(viewer: Viewer) -> QuerySet[Comment]:
    """Released comments on the viewer's own schemes."""
    left = StepAside.objects.filter(
        seat=OuterRef("jury_sheet__seat"), scheme=OuterRef("jury_sheet__scheme")
    )
    return Comment.objects.filter(
        ~Exists(left),
        jury_sheet__scheme_id__in=viewer.own_scheme_ids,
        jury_sheet__seat__crit__released_at__isnull=False,
        jury_sheet__locked_at__isnull=False,
        held_at=None,
        removed_at=None,
    ).exclude(kind="", words="")
