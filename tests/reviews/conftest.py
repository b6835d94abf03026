"""Who looks at a page, and an issued package for jurors to look at."""

import pytest

from reviews.deeds import package_keeping
from reviews.models import Brief
from tests import factories
from tests.reviews.schedule_steps import KITCHEN


@pytest.fixture
def issued(cast, settings, tmp_path):
    """Revision A of the scheme with sheets 02 and 03."""
    settings.MEDIA_ROOT = tmp_path
    return factories.issue_sheets(cast, "02", "03", schemes=[cast.scheme])[0]


@pytest.fixture
def leader(cast):
    return cast.client(cast.leader)


@pytest.fixture
def juror(cast):
    return cast.client(cast.seat)


@pytest.fixture
def draft(cast) -> Brief:
    """The cast's brief, in preparation again."""
    Brief.objects.update(issued_at=None)
    return Brief.objects.get(studio=cast.studio)


@pytest.fixture
def brief_url(cast) -> str:
    return f"/studios/{cast.studio.pk}/brief/"


@pytest.fixture
def package(cast):
    return cast.scheme.package


@pytest.fixture
def row(cast, package):
    return package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
