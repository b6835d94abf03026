from datetime import timedelta

import pytest
from django.utils import timezone

from reviews import clock


@pytest.fixture
def demo_ground(settings, tmp_path):
    settings.DATA_DIR, settings.IS_DEMO_GROUND = tmp_path, True
    return tmp_path


def stands_at(moment) -> bool:
    return abs(clock.now() - moment) < timedelta(seconds=5)


def test_a_school_s_clock_is_the_machine_s_and_nobody_moves_it(settings, tmp_path):
    settings.DATA_DIR = tmp_path
    (tmp_path / clock.SHIFT).write_text("3600")
    assert stands_at(timezone.now())
    with pytest.raises(ValueError, match="Only the demo's clock is moved"):
        clock.move_to(timezone.now())


@pytest.mark.parametrize("days", [-400, -1, 0, 5])
def test_the_demo_s_stands_where_it_is_moved_and_goes_on(demo_ground, days):
    moment = timezone.now() + timedelta(days=days, hours=3)
    clock.move_to(moment)
    assert stands_at(moment)
    assert clock.here() - clock.now() < timedelta(seconds=1)
    assert clock.today() == timezone.localtime(moment).date()
    assert [path.name for path in demo_ground.iterdir()] == [clock.SHIFT]


@pytest.mark.parametrize("kept", ["", "noon", "nan hours"])
def test_what_cannot_be_read_leaves_the_machine_s(demo_ground, kept):
    (demo_ground / clock.SHIFT).write_text(kept)
    assert stands_at(timezone.now())
