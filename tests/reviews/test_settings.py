"""The site starts safe, or it doesn't start."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings
from django.urls import reverse

ROOT = Path(__file__).parent.parent.parent


def _start(tmp_path, **surroundings: str) -> subprocess.CompletedProcess[str]:
    kept = {
        k: v for k, v in os.environ.items() if not k.startswith(("MUNTIN_", "DATABASE", "PYTEST"))
    }
    ask = (
        "from django.conf import settings as s; print(s.DEBUG, s.SESSION_COOKIE_SECURE, s.IS_DEMO)"
    )
    return subprocess.run(
        [sys.executable, "-c", ask], cwd=ROOT, capture_output=True, text=True, check=False,
        env={
            **kept, "DJANGO_SETTINGS_MODULE": "reviews.settings", "MUNTIN_DATA_DIR": str(tmp_path),
            **surroundings,
        },
    )  # fmt: skip


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
