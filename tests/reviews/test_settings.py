"""The site starts safe, or it doesn't start."""

import subprocess
import sys

import pytest
from django.conf import settings
from django.urls import reverse

from reviews import env
from tests.served import KEY, ROOT, manage, surroundings

pytestmark = pytest.mark.apart

ASK = "from django.conf import settings as s; print(s.DEBUG, s.SESSION_COOKIE_SECURE, s.DEMO_MARK)"


def _start(tmp_path, **more: str) -> list[str]:
    done = subprocess.run(
        [sys.executable, "-c", ASK],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
        env=surroundings(tmp_path, DJANGO_SETTINGS_MODULE="reviews.settings", **more),
    )
    return done.stdout.rstrip("\n").split(" ")


def _said(tmp_path, *words: str, **more: str) -> str:
    """What a command says that can't begin."""
    done = manage(*words, **surroundings(tmp_path, **more))
    assert done.returncode == 2
    assert done.stdout == ""
    assert "Traceback" not in done.stderr
    return done.stderr


def test_it_starts_with_debugging_off(tmp_path):
    assert _start(tmp_path) == ["False", "False", ""]


def test_behind_https_cookies_go_over_nothing_else(tmp_path):
    assert _start(tmp_path, MUNTIN_HTTPS="yes")[1] == "True"


@pytest.mark.parametrize(
    ("key", "read"),
    [
        ("", "Read nothing."),
        ("k" * 9, "Read 9 characters, 1 different."),
        (KEY[:49], f"Read 49 characters, {len(set(KEY[:49]))} different."),
        ("abcd" * 20, "Read 80 characters, 4 different."),
        ("django-insecure-" + KEY, "Read “django-insecure-…”."),
    ],
)
def test_a_weak_secret_key_is_refused_and_not_repeated(tmp_path, key, read):
    said = _said(tmp_path, "migrate", MUNTIN_SECRET_KEY=key)
    assert said.startswith(f"MUNTIN_SECRET_KEY: {read} Expected at least 50 characters, 5 of them")
    assert not key or key not in said


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("MUNTIN_TIME_ZONE", "Paris", "Read “Paris”. Expected a name such as Europe/Paris."),
        ("MUNTIN_TIME_ZONE", "Europe", "Read “Europe”. Expected a name such as Europe/Paris."),
        ("MUNTIN_TIME_ZONE", "../etc", "Read “../etc”. Expected a name such as Europe/Paris."),
        ("MUNTIN_DEBUG", "maybe", "Read “maybe”. Expected yes or no."),
        ("MUNTIN_HTTPS", "https", "Read “https”. Expected yes or no."),
        ("MUNTIN_MOST_UPLOAD_MB", "4²", "Read “4²”. Expected a whole number from 1 to 500."),
        ("MUNTIN_HOSTS", "https://a.example", "Read “https://a.example”. Expected names of hosts"),
        ("MUNTIN_ORIGINS", "a.example", "Read “a.example”. Expected origins such as https://"),
        ("MUNTIN_DATA_DIR", "/dev/null/x", "Read “/dev/null/x/static”. Expected a folder that can"),
        ("DATABASE_URL", "oracle://x", "Read “oracle:…”. Expected sqlite:///PATH or postgresql"),
    ],
)
def test_an_odd_setting_says_what_was_read_and_expected(tmp_path, name, text, said):
    assert _said(tmp_path, "check", **{name: text}).startswith(f"{name}: {said}")


def test_a_database_that_does_not_answer_is_said_in_words(tmp_path):
    said = _said(tmp_path, "migrate", DATABASE_URL=f"sqlite:///{tmp_path}/no/such.sqlite3")
    assert said == "The database answered: unable to open database file\n"


def test_the_check_before_opening_finds_nothing_with_a_schools_settings(tmp_path):
    school = {"MUNTIN_HTTPS": "yes", "MUNTIN_HOSTS": "muntin.example.org"}
    done = manage(
        "check", "--deploy", "--fail-level", "WARNING", **surroundings(tmp_path, **school)
    )
    assert done.returncode == 0, done.stderr


def test_without_https_that_check_says_so(tmp_path):
    done = manage("check", "--deploy", "--fail-level", "WARNING", **surroundings(tmp_path))
    assert done.returncode == 1
    assert "SESSION_COOKIE_SECURE" in done.stderr


@pytest.mark.django_db
def test_every_answer_carries_a_strict_content_policy(client):
    policy = client.get(reverse("sign-in")).headers["Content-Security-Policy"]
    parts = {part.split()[0]: part.split()[1:] for part in policy.split("; ")}
    assert parts["default-src"] == ["'none'"]
    assert parts["script-src"] == parts["style-src"] == ["'self'"]
    assert "unsafe" not in policy


def test_people_sign_in_by_e_mail_from_the_first_migration():
    assert settings.AUTH_USER_MODEL == "reviews.Person"


@pytest.mark.parametrize(
    ("named", "expected"),
    [
        ({"MUNTIN_DATA_DIR": "/srv/muntin"}, "/srv/muntin"),
        ({"XDG_DATA_HOME": "/srv/data"}, "/srv/data/muntin"),
        ({"HOME": "/home/school"}, "/home/school/.local/share/muntin"),
    ],
)
def test_where_it_is_installed_data_lies_outside_the_packages(
    monkeypatch, tmp_path, named, expected
):
    for name in ("MUNTIN_DATA_DIR", "XDG_DATA_HOME"):
        monkeypatch.delenv(name, raising=False)
    for name, value in named.items():
        monkeypatch.setenv(name, value)
    assert str(env.data_dir("MUNTIN_DATA_DIR", tmp_path)) == expected


def test_in_a_checkout_data_lies_beside_the_code(monkeypatch, tmp_path):
    monkeypatch.delenv("MUNTIN_DATA_DIR", raising=False)
    (tmp_path / "manage.py").touch()
    assert env.data_dir("MUNTIN_DATA_DIR", tmp_path) == tmp_path / ".data"
    assert env.data_dir("MUNTIN_DATA_DIR", tmp_path, "demo") == tmp_path / ".data" / "demo"
