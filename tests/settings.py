"""The site's settings as tests need them: a key, cheap passwords, no built files, a base apart."""

import os

os.environ.setdefault("MUNTIN_SECRET_KEY", "for tests alone, as long as one of life: 0123456789")

from reviews.settings import *  # noqa: F403
from reviews.settings import DATA_DIR, DATABASES, STORAGES

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {
    **STORAGES,
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
TASKS = {"default": {"BACKEND": "django_tasks.backends.immediate.ImmediateBackend"}}
WHITENOISE_USE_FINDERS = True
if "sqlite3" in str(DATABASES["default"]["ENGINE"]):
    # a file, so that a browser's requests have connections of their own, as in life; no test loses
    # power, so that none waits for the disk
    DATABASES["default"]["OPTIONS"] = {
        **DATABASES["default"]["OPTIONS"],
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=OFF; PRAGMA foreign_keys=ON;",
    }
    DATABASES["default"]["TEST"] = {"NAME": str(DATA_DIR / f"test-{os.getpid()}.sqlite3")}
