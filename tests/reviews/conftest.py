"""Who looks at a page, an issued package for jurors to look at, and the demo's mark."""

import pytest
from django.db import connection

from reviews import demo_mark
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


@pytest.fixture
def mark_as_demo(settings, db):
    """Set the demo's mark, the same in folder and database if no others are given."""

    def mark(of_folder: str = "0123", of_database: str = "0123") -> None:
        settings.DEMO_MARK = of_folder
        if of_database:
            with connection.cursor() as cursor:
                cursor.execute(f"CREATE TABLE {demo_mark.TABLE} (mark varchar(32) NOT NULL)")
                cursor.execute(f"INSERT INTO {demo_mark.TABLE} VALUES (%s)", [of_database])

    return mark
