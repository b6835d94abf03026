"""Who looks at a page, and an issued package for jurors to look at."""

import pytest

from tests import factories


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
