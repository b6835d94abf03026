"""A juror with an issued package before them."""

import pytest

from tests import factories


@pytest.fixture
def issued(cast, settings, tmp_path):
    """Revision A of the scheme with sheets 02 and 03."""
    settings.MEDIA_ROOT = tmp_path
    return factories.issue_sheets(cast, "02", "03", schemes=[cast.scheme])[0]


@pytest.fixture
def juror(cast):
    return cast.client(cast.seat)
