"""From a scheme's package, results and brief to each of the others that its reader may open."""

from __future__ import annotations

from django.urls import reverse

from reviews import access, access_day, access_studio
from reviews.access import HttpRequest
from reviews.models import Scheme, Studio


def ways_on(request: HttpRequest, scheme: Scheme) -> list[tuple[str, str]]:
    """Words and addresses, less that of the page which asks."""
    viewer, studio, here = request.viewer, scheme.studio, {"scheme_id": scheme.pk}
    found = []
    if access_studio.can_read_package(viewer, scheme):
        found.append(("Package", reverse("show-package", kwargs=here)))
        found.append(("Check sheet", reverse("show-checks", kwargs=here)))
    if access.can_see_brief(viewer, studio):
        found.append(("Brief", reverse("show-brief", kwargs={"studio_id": studio.pk})))
    for crit in studio.crits.all() if access_studio.can_see_crits(viewer, studio.pk) else ():
        if not crit.asks_for(scheme.pk):
            continue
        if crit.is_released and access.can_read_results(viewer, crit, scheme):
            address = reverse("show-results", kwargs={"crit_id": crit.pk, **here})
            found.append((f"Results, {crit}", address))
        elif access_day.can_read_comments(viewer, crit, scheme):
            address = reverse("show-results", kwargs={"crit_id": crit.pk, **here})
            found.append((f"Comments of the day, {crit}", address))
    if access.is_own_or_led(viewer, scheme):
        found.append(("Portfolio", reverse("show-portfolio", kwargs=here)))
    return [(words, url) for words, url in found if url != request.path]


def own_ways(request: HttpRequest, studio: Studio) -> list[tuple[Scheme, list[tuple[str, str]]]]:
    """The same of each scheme of a studio that is the reader's own."""
    own = Scheme.objects.filter(pk__in=request.viewer.own_scheme_ids, studio=studio)
    return [(scheme, ways_on(request, scheme)) for scheme in own.select_related("studio__brief")]
