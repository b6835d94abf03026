"""Who reads what as JSON: as on pages, with the rights that the person has at that moment.

token        of an account that stands; it writes nothing, and nobody reads more by it. A juror's
             link has none, and counts for nothing here
package      in preparation and its check sheet: whoever finds it among `access.packages`
revision     with its check sheet: whoever sees more of it than its sheets
results      once they are released
"""

from __future__ import annotations

from django.db.models import Exists, OuterRef, Q, QuerySet

from reviews.access import READERS, Role, Viewer, can_read_results, revisions
from reviews.models import Crit, Revision, Scheme, ScriptToken, Slot
from reviews.models.tokens import digest_of


def token_behind(sent: str) -> ScriptToken | None:
    """The token that was sent, of an account that stands."""
    tokens = ScriptToken.objects.select_related("person")
    return tokens.filter(digest=digest_of(sent), person__is_active=True).first()


def own_tokens(viewer: Viewer) -> QuerySet[ScriptToken]:
    """Those that the person made."""
    return ScriptToken.objects.filter(person=viewer.person)


def whole_revisions(viewer: Viewer) -> QuerySet[Revision]:
    """Those of `access.revisions` whose schedules a person may read: `can_read_schedules`."""
    if viewer.is_coordinator:
        return revisions(viewer)
    whole = Q(scheme_id__in=viewer.own_scheme_ids) | Q(pk__in=viewer.issued_ids)
    whole |= Q(scheme__studio_id__in=viewer.studios_as(*READERS))
    examined = viewer.studios_as(Role.EXAMINER)
    whole |= Q(scheme__studio_id__in=examined, crit__in=Crit.objects.released())
    return revisions(viewer).filter(whole)


def released_slots(viewer: Viewer) -> QuerySet[Slot]:
    """The schemes of released crits whose results a person may read, each by its slot."""
    released = Slot.objects.filter(crit__in=Crit.objects.released())
    if viewer.is_coordinator:
        return released
    theirs = Revision.objects.filter(
        crit=OuterRef("crit"), scheme=OuterRef("scheme"), pk__in=viewer.issued_ids
    )
    reads = Q(crit__studio_id__in=viewer.studios_as(Role.LEADER, Role.EXAMINER))
    return released.filter(reads | Q(scheme_id__in=viewer.own_scheme_ids) | Exists(theirs))


def can_tell_results(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """Whoever reads them on their page, once they are released."""
    return crit.is_released and can_read_results(viewer, crit, scheme)
