"""The demo's own views: shut on a school's site; its clock moved by an hour that is read."""

from datetime import time, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from reviews import clock

pytestmark = pytest.mark.django_db


@pytest.fixture
def demo(cast, settings, tmp_path, mark_as_demo):
    settings.DATA_DIR, settings.IS_DEMO_GROUND = tmp_path, True
    mark_as_demo()
    cast.crit.day = timezone.localdate() + timedelta(days=3)
    cast.crit.save()
    return cast


@pytest.mark.parametrize("typed", ["13:40", "13.40"])
def test_the_clock_is_moved_to_an_hour_of_the_running_crit_s_day(demo, client, typed):
    answer = client.post(reverse("move-demo-clock"), {"hour": typed}, follow=True)
    assert clock.today() == demo.crit.day
    assert clock.here().time().replace(second=0, microsecond=0) == time(13, 40)
    assert "clock stands at" in answer.text


@pytest.mark.parametrize("typed", ["", "half past", "25:00", "11:05:99"])
def test_an_hour_that_cannot_be_read_moves_nothing(demo, client, typed):
    answer = client.post(reverse("move-demo-clock"), {"hour": typed}, follow=True)
    assert abs(clock.now() - timezone.now()) < timedelta(seconds=5)
    assert "xpected" in answer.text
    assert typed in answer.text


def test_a_school_s_site_has_neither_the_clock_nor_its_address(cast, client):
    assert client.post(reverse("move-demo-clock"), {"hour": "13:40"}).status_code == 404
    assert "demo-clock" not in client.get(reverse("sign-in")).text
