"""The site starts safe, or it doesn't start."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings
from django.urls import reverse

from reviews import env

ROOT = Path(__file__).parent.parent.parent


ASK = "from django.conf import settings as s; print(s.DEBUG, s.SESSION_COOKIE_SECURE, s.IS_DEMO)"


def _start(tmp_path, ask=ASK, **surroundings: str) -> subprocess.CompletedProcess[str]:
    kept = {
        k: v for k, v in os.environ.items() if not k.startswith(("MUNTIN_", "DATABASE", "PYTEST"))
    }
    own = {"DJANGO_SETTINGS_MODULE": "reviews.settings", "MUNTIN_DATA_DIR": str(tmp_path)}
    return subprocess.run(
        [sys.executable, "-c", ask],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env={**kept, **own, **surroundings},
    )


def test_without_a_secret_key_it_does_not_start(tmp_path):
    started = _start(tmp_path)
    assert started.returncode != 0
    assert "MUNTIN_SECRET_KEY is not set; expected a long random text" in started.stderr


def test_with_one_it_starts_with_debugging_off(tmp_path):
    assert _start(tmp_path, MUNTIN_SECRET_KEY="k").stdout.split() == ["False", "False", "False"]


def test_behind_https_cookies_go_over_nothing_else(tmp_path):
    started = _start(tmp_path, MUNTIN_SECRET_KEY="k", MUNTIN_HTTPS="yes")
    assert started.stdout.split()[1] == "True"


@pytest.mark.django_db
def test_every_answer_carries_a_strict_content_policy(client):
    policy = client.get(reverse("sign-in")).headers["Content-Security-Policy"]
    parts = {part.split()[0]: part.split()[1:] for part in policy.split("; ")}
    assert parts["default-src"] == ["'none'"]
    assert parts["script-src"] == parts["style-src"] == ["'self'"]
    assert "unsafe" not in policy


def test_people_sign_in_by_e_mail_from_the_first_migration():
    assert settings.AUTH_USER_MODEL == "reviews.Person"


def test_the_demo_keeps_to_its_own_base_whatever_a_school_has_named(tmp_path):
    ask = "from django.conf import settings as s; print(s.DATA_DIR, s.DATABASES['default']['NAME'])"
    started = _start(
        tmp_path, ask, MUNTIN_DEMO="yes", DATABASE_URL=f"sqlite:///{tmp_path}/school.sqlite3"
    )
    own = tmp_path / "demo"
    assert started.stdout.split() == [str(own), str(own / "muntin.sqlite3")]


@pytest.mark.parametrize(
    ("surroundings", "expected"),
    [
        ({"MUNTIN_DATA_DIR": "/srv/muntin"}, "/srv/muntin"),
        ({"XDG_DATA_HOME": "/srv/data"}, "/srv/data/muntin"),
        ({"HOME": "/home/school"}, "/home/school/.local/share/muntin"),
    ],
)
def test_where_it_is_installed_data_lies_outside_the_packages(
    monkeypatch, tmp_path, surroundings, expected
):
    for name in ("MUNTIN_DATA_DIR", "XDG_DATA_HOME"):
        monkeypatch.delenv(name, raising=False)
    for name, value in surroundings.items():
        monkeypatch.setenv(name, value)
    assert str(env.data_dir("MUNTIN_DATA_DIR", tmp_path)) == expected


def test_in_a_checkout_data_lies_beside_the_code(monkeypatch, tmp_path):
    monkeypatch.delenv("MUNTIN_DATA_DIR", raising=False)
    (tmp_path / "manage.py").touch()
    assert env.data_dir("MUNTIN_DATA_DIR", tmp_path) == tmp_path / ".data"
