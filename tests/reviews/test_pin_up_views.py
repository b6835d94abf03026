"""The pin-up: last sheets of every scheme in one look, and one after another as slides."""

from itertools import pairwise

import pytest
from django.urls import reverse

from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def hung(cast, settings, tmp_path):
    """Two schemes' sheets, those of the first issued twice."""
    settings.MEDIA_ROOT = tmp_path
    first, other = factories.issue_sheets(
        cast, "01", "02", schemes=[cast.scheme, cast.other_scheme]
    )
    (later,) = factories.issue_sheets(cast, "03", letter="B", schemes=[cast.scheme])
    return first, later, other


def shown(cast, who, name, *args, **headers):
    answer = cast.client(who).get(reverse(name, args=args), headers=headers)
    return answer.content.decode() if answer.status_code == 200 else str(answer.status_code)


def image(revision, number):
    return reverse("issued-sheet-image", args=[revision.pk, number, "preview"])


def test_the_last_sheets_of_every_scheme_hang_in_one_look(cast, hung):
    first, later, other = hung
    page = shown(cast, cast.leader, "show-pin-up", cast.studio.pk)
    assert all(image(*each) in page for each in ((later, "03"), (other, "01"), (other, "02")))
    assert image(first, "01") not in page
    cast.other_scheme.withdrawn_at = first.issued_at
    cast.other_scheme.save()
    assert image(other, "01") not in shown(cast, cast.leader, "show-pin-up", cast.studio.pk)


def test_classmates_see_others_sheets_only_where_the_brief_lets_them(cast, hung):
    _, later, other = hung
    page = shown(cast, cast.classmate, "show-pin-up", cast.studio.pk)
    assert image(later, "03") in page
    cast.studio.is_wall_open = False
    cast.studio.save()
    own = cast.classmate if cast.classmate in cast.other_scheme.members.all() else cast.student
    page = shown(cast, own, "show-pin-up", cast.studio.pk)
    assert "classmates don’t see each other’s" in page
    seen = [image(later, "03") in page, image(other, "01") in page]
    assert seen == [own == cast.student, own != cast.student]
    assert shown(cast, cast.other_student, "show-pin-up", cast.studio.pk) == "404"


def test_a_slide_leads_on_across_schemes_by_plain_links(cast, hung):
    _, later, other = hung
    of = {cast.scheme: (later, ["03"]), cast.other_scheme: (other, ["01", "02"])}
    schemes = sorted(of, key=lambda scheme: scheme.number)
    line = [(revision, number) for revision, numbers in map(of.get, schemes) for number in numbers]
    for (revision, number), (after, next_number) in pairwise(line):
        page = shown(cast, cast.leader, "show-slide", revision.pk, number)
        onward = reverse("show-slide", args=[after.pk, next_number])
        assert f'rel="next" data-key="ArrowRight" href="{onward}"' in page
        assert image(after, next_number) in page  # fetched before it is asked for
    last = shown(cast, cast.leader, "show-slide", *[line[-1][0].pk, line[-1][1]])
    assert 'rel="next"' not in last
    assert 'rel="prev"' in last


def test_a_slide_of_a_superseded_revision_stands_among_its_own(cast, hung):
    first, later, _ = hung
    page = shown(cast, cast.leader, "show-slide", first.pk, "02")
    assert "2 of 2" in page
    assert reverse("show-slide", args=[later.pk, "03"]) not in page


def test_only_the_slide_is_sent_where_only_it_is_exchanged(cast, hung):
    args = (hung[0].pk, "01")
    part = shown(cast, cast.student, "show-slide", *args, HX_Request="true", HX_Target="slide")
    assert part.startswith('<article id="slide"')
