"""The site's settings as tests need them: a key, cheap passwords, no built files, a base apart."""

import os

os.environ.setdefault("MUNTIN_SECRET_KEY", "for tests alone, as long as one of life: 0123456789")

from reviews.env import SQLITE_OPTIONS
from reviews.settings import *  # noqa: F403
from reviews.settings import DATA_DIR, DATABASES, STORAGES

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {
    **STORAGES,
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
TASKS = {"default": {"BACKEND": "django_tasks.backends.immediate.ImmediateBackend"}}
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = True  # each client would walk all files before it asks for any
if "sqlite3" in str(DATABASES["default"]["ENGINE"]):
    # a file, so that a browser's requests have connections of their own, as in life; no test loses
    # power, so that none waits for the disk
    DATABASES["default"]["OPTIONS"] = SQLITE_OPTIONS | {
        "init_command": str(SQLITE_OPTIONS["init_command"]).replace("FULL", "OFF")
    }
    DATABASES["default"]["TEST"] = {"NAME": str(DATA_DIR / f"test-{os.getpid()}.sqlite3")}
