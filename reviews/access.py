"""Who may see and do what: every rule, and nowhere else.

A view starts from one of the querysets here (what isn't in it is 404, as if it weren't
there) and then asks a predicate (seen, but not yours to do, is 403). Templates are given
answers, never roles.

    student, team mate   own draft: read and edit; own revisions; own results after release
    former student       what was issued while it was theirs, with its results: read
    classmate            issued sheets only, where the studio's wall is open
    juror of the crit    issued revisions of the schemes seen, own jury sheets
    scribe               issued revisions of the studio
    leader               everything of the studio; levels and comments always, but of a jury that
                         they sit on only beside their own locked sheet
    coordinator          everything, read only, levels once released
    external examiner    results, and the revisions issued for a crit, once it is released
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

from django import http
from django.contrib.auth.middleware import LoginRequiredMiddleware
from django.core.exceptions import PermissionDenied
from django.db.models import Q, QuerySet
from django.http import HttpResponse, HttpResponseBase
from django.utils.functional import SimpleLazyObject
from django_htmx.middleware import HtmxDetails

from reviews import clock
from reviews.models import (
    Comment,
    Crit,
    Interest,
    JurySheet,
    LevelGiven,
    Membership,
    Person,
    Revision,
    Scheme,
    Seat,
    Slot,
    Studio,
)
from reviews.models.jury import JurySheetQuerySet

Role = Membership.Role
READERS = (Role.LEADER, Role.SCRIBE)
"""Roles that read what a studio's schemes issue, whole, before any release."""

SEAT_KEY = "seat"
"""Session key under which an opened personal link is remembered, as [pk, code]."""


@dataclass
class Viewer:
    """Whoever asks: a person signed in, a juror by personal link, both, or nobody."""

    person: Person | None = None
    seat: Seat | None = None

    @cached_property
    def places(self) -> list[Membership]:
        """The person's places, each with its studio, the latest first; read once a request."""
        if not self.person:
            return []
        held = self.person.memberships.joined().select_related("studio").order_by()
        return sorted(held, key=lambda held: (held.studio.opened_at, held.studio_id), reverse=True)

    @cached_property
    def roles(self) -> dict[int, set[str]]:
        """Roles by studio."""
        held = [(place.studio_id, place.role) for place in self.places]
        return {studio: {role for pk, role in held if pk == studio} for studio, _ in held}

    @cached_property
    def own_scheme_ids(self) -> set[int]:
        """Schemes of which the person is a member, read once a request."""
        drawn = Scheme.members.through.objects.filter(person=self.person)
        return set(drawn.values_list("scheme_id", flat=True)) if self.person else set()

    @cached_property
    def issued_ids(self) -> set[int]:
        """Revisions that are the person's own work, whoever draws the scheme now."""
        return set(self.person.issued.values_list("pk", flat=True)) if self.person else set()

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


class HttpRequest(http.HttpRequest):
    """A request as every view gets it: the middlewares have hung these on it."""

    viewer: Viewer
    htmx: HtmxDetails
    user: Person


class ViewerMiddleware:
    """Hangs the viewer on the request, to be looked up once somebody asks who it is."""

    def __init__(self, get_response: Callable[[http.HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: http.HttpRequest) -> HttpResponse:
        request.viewer = SimpleLazyObject(partial(viewer_of, request))  # type: ignore[attr-defined]
        return self.get_response(request)


class SignInMiddleware(LoginRequiredMiddleware):
    """Sends strangers to sign in; who it is isn't asked for a view that is open to all."""

    def process_view(
        self, request: http.HttpRequest, view: Callable[..., Any], *args: Any
    ) -> HttpResponseBase | None:
        if not getattr(view, "login_required", True):
            return None
        return super().process_view(request, view, *args)


def viewer_of(request: http.HttpRequest) -> Viewer:
    """Return who asks; a seat counts while its code stands and its link hasn't ended."""
    person = request.user if request.user.is_authenticated else None
    pk, code = request.session.get(SEAT_KEY) or (0, "")
    seat = seat_behind(code) if pk else None
    return Viewer(person, seat if seat and seat.pk == pk else None)


def seat_behind(code: str) -> Seat | None:
    """The seat of a personal link, while the link hasn't ended."""
    seats = Seat.objects.named().filter(code=code.strip().lower()).order_by()
    seat = next(iter(seats.select_related("crit__studio")), None)
    return seat if seat and clock.now() <= seat.link_ends_at else None


def require(allowed: bool) -> None:
    """Raise PermissionDenied (403) unless allowed."""
    if not allowed:
        raise PermissionDenied


# Studios


def can_open_studios(viewer: Viewer) -> bool:
    """Leaders and coordinators."""
    return bool(viewer.person and (viewer.person.opens_studios or viewer.is_coordinator))


def can_see_status(viewer: Viewer) -> bool:
    """Coordinators: how the site stands is of nobody, and for whoever runs it."""
    return viewer.is_coordinator


def studios(viewer: Viewer) -> QuerySet[Studio]:
    """Studios the viewer belongs to; all of them for a coordinator."""
    if viewer.is_coordinator:
        return Studio.objects.all()
    return Studio.objects.filter(pk__in=list(viewer.roles))


def led_studios(viewer: Viewer) -> QuerySet[Studio]:
    """Studios that the viewer leads."""
    return Studio.objects.filter(pk__in=viewer.studios_as(Role.LEADER))


def can_lead(viewer: Viewer, studio_id: int) -> bool:
    """Leaders of the studio."""
    return viewer.is_(Role.LEADER, studio_id)


def can_see_people(viewer: Viewer, studio_id: int) -> bool:
    """Leaders, who also change them, and coordinators."""
    return can_lead(viewer, studio_id) or viewer.is_coordinator


def can_make_link(viewer: Viewer, person: Person) -> bool:
    """Leaders of every studio the person belongs to: whoever sets a password opens the account.

    Never for a coordinator or somebody who opens studios, nor where work of theirs was issued
    elsewhere.
    """
    if person.is_coordinator or person.opens_studios or person.erased_at:
        return False
    places = {place.studio_id for place in person.memberships.all() if not place.is_invited}
    there = places | {revision.scheme.studio_id for revision in person.issued.all()}
    return bool(places) and all(can_lead(viewer, studio_id) for studio_id in there)


def invitations(viewer: Viewer) -> QuerySet[Membership]:
    """Places that are offered to the viewer."""
    return Membership.objects.invited().filter(person=viewer.person)


def can_see_brief(viewer: Viewer, studio: Studio) -> bool:
    """Leaders and coordinators always; everyone else of the studio once it is issued."""
    is_open = studio.pk in viewer.roles and studio.brief.is_issued
    return is_open or can_lead(viewer, studio.pk) or viewer.is_coordinator


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
    if viewer.is_coordinator:
        return Revision.objects.all()
    reads = viewer.studios_as(*READERS)
    seen = Q(scheme_id__in=viewer.own_scheme_ids) | Q(scheme__studio_id__in=reads)
    seen |= Q(pk__in=viewer.issued_ids)
    seen |= Q(
        scheme__studio_id__in=viewer.studios_as(Role.STUDENT), scheme__studio__is_wall_open=True
    )
    examined = viewer.studios_as(Role.EXAMINER)
    seen |= Q(scheme__studio_id__in=examined, crit__in=Crit.objects.released())
    if viewer.seat:
        seen |= Q(scheme_id__in=seen_slots(viewer.seat).values("scheme_id"))
    return Revision.objects.filter(seen)


def can_read_schedules(viewer: Viewer, revision: Revision) -> bool:
    """Whoever may see more than the sheets: not classmates."""
    scheme = revision.scheme
    crit = revision.crit
    if viewer.is_coordinator or is_own(viewer, scheme.pk) or revision.pk in viewer.issued_ids:
        return True
    readers = (*READERS, Role.EXAMINER) if crit and crit.is_released else READERS
    if any(viewer.is_(role, scheme.studio_id) for role in readers):
        return True
    return bool(viewer.seat and seen_slots(viewer.seat).filter(scheme=scheme).exists())


def is_own_or_led(viewer: Viewer, scheme: Scheme) -> bool:
    """The scheme's students and the studio's leaders: likely questions, files as they were sent."""
    return is_own(viewer, scheme.pk) or can_lead(viewer, scheme.studio_id)


def can_take_revision(viewer: Viewer, revision: Revision) -> bool:
    """The same, and those whose work it was."""
    return is_own_or_led(viewer, revision.scheme) or revision.pk in viewer.issued_ids


# Crits


def crits(viewer: Viewer, studio: Studio | None = None) -> QuerySet[Crit]:
    """Crits of the viewer's studios; of one, where it is named."""
    seen = Crit.objects.filter(studio__in=studios(viewer))
    return seen.filter(studio=studio) if studio else seen


def moderated_crits(viewer: Viewer) -> QuerySet[Crit]:
    """Crits whose table of levels the viewer may read: leaders; coordinators once released."""
    led = Crit.objects.filter(studio__in=viewer.studios_as(Role.LEADER))
    return led | Crit.objects.released() if viewer.is_coordinator else led


def seen_slots(seat: Seat) -> QuerySet[Slot]:
    """Slots that a juror sees."""
    return Slot.objects.seen_by(seat)


def can_judge(viewer: Viewer, slot: Slot) -> bool:
    """A juror, for a scheme whose slot they see, until the crit is released."""
    seat = viewer.seat
    return seat is not None and seat.crit_id == slot.crit_id and not seat.crit.is_released


def opened_sheets(own: JurySheet) -> QuerySet[JurySheet]:
    """Other jurors' locked sheets of the same scheme, once a juror's own is locked and counts."""
    counting = JurySheet.objects.of(own.seat.crit_id, own.scheme_id).counting()
    return counting.exclude(pk=own.pk) if counting.filter(pk=own.pk).exists() else counting.none()


def closed_schemes(viewer: Viewer, crit: Crit) -> set[int]:
    """Schemes whose levels a leader may not read yet: on that jury, their own sheet not locked."""
    closed: set[int] = set()
    if viewer.person is None or crit.is_released:
        return closed
    for seat in crit.seats.sat_by(viewer.person).prefetch_related("interests", "crossings"):
        begun = dict(seat.sheets.values_list("scheme_id", "locked_at"))
        closed |= {
            slot.scheme_id
            for slot in seen_slots(seat).select_related("scheme", "crit")
            if slot.is_asked_of(seat, begun=slot.scheme_id in begun)
            and not begun.get(slot.scheme_id)
            and seat.interest_in(slot.scheme_id) is None
        }
    return closed


def can_moderate(viewer: Viewer, crit: Crit, scheme_id: int) -> bool:
    """Leaders, but for the schemes closed to them."""
    return can_lead(viewer, crit.studio_id) and scheme_id not in closed_schemes(viewer, crit)


def led_jury_sheets(viewer: Viewer) -> JurySheetQuerySet:
    """Jury sheets of the studios that the viewer leads."""
    return JurySheet.objects.filter(seat__crit__studio_id__in=viewer.studios_as(Role.LEADER))


def led_comments(viewer: Viewer) -> QuerySet[Comment]:
    """Comments that the viewer's studios' leaders may read: kept, on sheets that are read."""
    sheets = led_jury_sheets(viewer).read()
    return Comment.objects.kept().filter(jury_sheet__in=sheets)


def can_read_results(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """The scheme's students, examiners and coordinators once released; leaders, as they moderate.

    Its students are those of now, and those whose work the crit saw.
    """
    if scheme.studio_id != crit.studio_id:
        return False
    if can_moderate(viewer, crit, scheme.pk):
        return True
    reads = viewer.is_coordinator or viewer.is_(Role.EXAMINER, crit.studio_id)
    return crit.is_released and (reads or is_or_was_own(viewer, crit, scheme))


def can_take_results(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """Its own people and leaders, once it is released."""
    is_theirs = is_or_was_own(viewer, crit, scheme) or can_lead(viewer, crit.studio_id)
    return crit.is_released and is_theirs


def is_or_was_own(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """Students of the scheme, and those whose work was issued for the crit."""
    return (
        is_own(viewer, scheme.pk)
        or crit.revisions.filter(scheme=scheme, pk__in=viewer.issued_ids).exists()
    )


def led_levels(viewer: Viewer) -> QuerySet[LevelGiven]:
    """Levels on sheets that count, of the studios that the viewer leads."""
    return LevelGiven.objects.filter(jury_sheet__in=led_jury_sheets(viewer).counting())


def led_interests(viewer: Viewer) -> QuerySet[Interest]:
    """Interests that stand, of the studios that the viewer leads."""
    led = viewer.studios_as(Role.LEADER)
    return Interest.objects.standing().filter(seat__crit__studio_id__in=led)


def can_answer(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """The scheme's students, once it is released: each comment that isn't held since."""
    return crit.is_released and is_own(viewer, scheme.pk)


def answerable_comments(viewer: Viewer) -> QuerySet[Comment]:
    """Released comments on the viewer's own schemes, less those held since."""
    own = JurySheet.objects.filter(scheme__in=viewer.own_scheme_ids)
    return Comment.objects.released().not_held().filter(jury_sheet__in=own)
