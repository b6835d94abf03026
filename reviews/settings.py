"""Settings: one file, read from the environment, safe by default.

MUNTIN_SECRET_KEY must be set, except under the demo's command, which makes its own.
"""

import secrets
import sys
from pathlib import Path

from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured

from reviews import env

BASE_DIR = Path(__file__).resolve().parent.parent
IS_DEMO = "demo" in sys.argv[1:2] or env.boolean("MUNTIN_DEMO", False)
# the demo keeps to a folder of its own, beside whatever a school has kept
DATA_DIR = env.data_dir("MUNTIN_DATA_DIR", BASE_DIR) / ("demo" if IS_DEMO else "")
DATA_DIR.mkdir(parents=True, exist_ok=True)
DEBUG = env.boolean("MUNTIN_DEBUG", False)

SECRET_KEY = env.text("MUNTIN_SECRET_KEY")
if not SECRET_KEY and IS_DEMO:
    SECRET_KEY = secrets.token_urlsafe(48)
if not SECRET_KEY:
    raise ImproperlyConfigured(
        "MUNTIN_SECRET_KEY is not set; expected a long random text kept secret "
        "(the demo makes one for itself)"
    )

ALLOWED_HOSTS = env.listed("MUNTIN_HOSTS", "localhost,127.0.0.1,[::1]")
CSRF_TRUSTED_ORIGINS = env.listed("MUNTIN_ORIGINS")
IS_HTTPS = env.boolean("MUNTIN_HTTPS", False)
"""Whether the site is reached over https: cookies are then sent over nothing else."""

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "csp",
    "django_htmx",
    "reviews",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "reviews.access.ViewerMiddleware",
]

ROOT_URLCONF = "reviews.urls"
WSGI_APPLICATION = "reviews.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "reviews.surroundings.surroundings",
            ],
        },
    },
]

# the demo never opens the base that a school has named
DATABASES = {
    "default": env.sqlite(str(DATA_DIR / "muntin.sqlite3"))
    if IS_DEMO
    else env.database("DATABASE_URL", str(DATA_DIR / "muntin.sqlite3"))
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "reviews.Person"
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign-in"
PASSWORD_RESET_TIMEOUT = 14 * 86_400
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]

LANGUAGE_CODE = "en-gb"
TIME_ZONE = env.text("MUNTIN_TIME_ZONE", "UTC")
USE_TZ = True

STATIC_URL = "static/"
STATIC_ROOT = DATA_DIR / "static"
STATIC_ROOT.mkdir(exist_ok=True)
MEDIA_ROOT = DATA_DIR / "media"
"""Sheets and their pictures; never served but through a view that asks reviews.access."""

STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if DEBUG
        else "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}
WHITENOISE_USE_FINDERS = DEBUG

MOST_UPLOAD_MB = env.integer("MUNTIN_MOST_UPLOAD_MB", 40, least=1, most=500)
"""Largest sheet that is taken [MB]."""
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024
FILE_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024

EMAIL_BACKEND = "django.core.mail.backends.console.EmailBackend"

SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = IS_HTTPS
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_AGE = 30 * 86_400
SECURE_HSTS_SECONDS = 31_536_000 if IS_HTTPS else 0
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
if IS_HTTPS:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF],
        "font-src": [SELF],
        "connect-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "object-src": [NONE],
        "frame-ancestors": [NONE],
        "manifest-src": [SELF],
    }
}

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "line"}},
    "loggers": {"django": {"handlers": ["console"], "level": "WARNING"}},
}
