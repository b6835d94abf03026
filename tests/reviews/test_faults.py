"""People save while server and database are killed: nothing kept is lost, nothing doubled.

A short form of tests/benchmarks/faults.py, on the database that the other tests run on.
"""

import random
import tempfile
from pathlib import Path

from django.db import connection
from django.urls import reverse

from tests import crowd, crowd_site
from tests.benchmarks import faults


def test_a_picture_of_the_crowd_s_is_read_whatever_bytes_are_in_it(cast, settings, tmp_path):
    """Before, its boundary stood in one of a hundred; such a one was answered 400."""
    settings.MEDIA_ROOT = tmp_path
    body = crowd.picture_form("01 Plan.png", 21_026)
    assert b"--b" in body
    page = reverse("edit-sheets", args=[cast.scheme.pk])
    answer = cast.client(cast.student).generic("POST", page, body, crowd.PICTURE_FORM)
    assert answer.status_code == 302


def test_nothing_that_was_said_to_be_kept_is_lost_or_doubled():
    random.seed(4)
    kills = ["process", "all"]
    if connection.vendor == "postgresql":
        kills = ["process", "database", "all"]
    with tempfile.TemporaryDirectory() as name:  # the database's owner isn't root, and gets in
        folder = Path(name)
        folder.chmod(0o755)
        with faults.place(connection.vendor, folder) as place:
            studio = crowd_site.seeded(6, 8, 2, **place.env)
            told = faults.under_faults(place, studio, kills, every_s=2)
    assert told.wrong == [], told.log[-3000:]
    assert told.acknowledged > 20
    assert told.answers.total() > told.acknowledged  # some were cut off, and sent again
