"""Settings: one file, read from the environment, safe by default.

MUNTIN_SECRET_KEY must be set, except under the demo's command, which makes its own.
"""

import secrets
import sys
from datetime import timedelta
from pathlib import Path

from csp.constants import NONE, SELF

from reviews import demo_mark, env, env_mail, env_school, env_store

BASE_DIR = Path(__file__).resolve().parent.parent
IS_LOADING_DEMO = sys.argv[1:2] == ["demo"]
DATA_DIR = env.data_dir("MUNTIN_DATA_DIR", BASE_DIR, "demo" if IS_LOADING_DEMO else "")
STATIC_ROOT = DATA_DIR / "static"
if not IS_LOADING_DEMO:  # which makes a folder only once it knows that it may
    env.make_folder("MUNTIN_DATA_DIR", STATIC_ROOT)
DEMO_MARK = demo_mark.of_folder(DATA_DIR)
IS_DEMO_GROUND = IS_LOADING_DEMO or bool(DEMO_MARK)
"""Whether this is the demo's folder: nothing goes out of it, and no school signs anybody in."""
DEBUG = env.boolean("MUNTIN_DEBUG", False)

if IS_LOADING_DEMO and not env.text("MUNTIN_SECRET_KEY"):
    SECRET_KEY = secrets.token_urlsafe(48)
else:
    SECRET_KEY = env.secret_key("MUNTIN_SECRET_KEY")

ALLOWED_HOSTS = env.hosts("MUNTIN_HOSTS", "localhost,127.0.0.1,[::1]")
CSRF_TRUSTED_ORIGINS = env.origins("MUNTIN_ORIGINS")
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
    "axes",
    "allauth.account",
    "allauth.socialaccount",
    "allauth.mfa",
    "django_tasks",
    "django_tasks_db",
    "reviews",
]

MIDDLEWARE = [
    "reviews.watch.WatchMiddleware",
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "reviews.compressing.TextCompression",
    "reviews.middleware.unstored",
    "reviews.script_problems.ProblemsInJson",
    "reviews.middleware.Sessions",
    "django.middleware.common.CommonMiddleware",
    "reviews.request_size.RequestSizeMiddleware",
    "reviews.middleware.tokens_of_pages",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "reviews.access.SignInMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "reviews.access.ViewerMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "reviews.middleware.OddInput",
    "reviews.middleware.StillComing",
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

DATABASES = {"default": env.database("DATABASE_URL", str(DATA_DIR / "muntin.sqlite3"))}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "reviews.Person"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
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

CLIENT_HEADER = env.text("MUNTIN_CLIENT_HEADER").strip()
"""The header in which a front server writes whence somebody asks, such as X-Real-IP."""

# guessing of passwords is slowed: see reviews.deeds.signing_in
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_FAILURE_LIMIT = "reviews.deeds.signing_in.most_failures"
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
AXES_RESET_ON_SUCCESS = True
AXES_CLIENT_IP_CALLABLE = "reviews.deeds.signing_in.client_address"
AXES_USERNAME_FORM_FIELD = "username"
AXES_USERNAME_CALLABLE = "reviews.deeds.signing_in.account_named"
AXES_DISABLE_ACCESS_LOG = True
AXES_VERBOSE = False

SCHOOL = env_school.School() if IS_DEMO_GROUND else env_school.school("MUNTIN_SCHOOL")
"""Through whom people may sign in: see reviews.deeds.school_asking."""
# of the library that speaks with it, nothing else is used: no page, no sign-up, no table of apps
ACCOUNT_USER_MODEL_USERNAME_FIELD = None
ACCOUNT_LOGIN_METHODS = {"email"}
ACCOUNT_SIGNUP_FIELDS = ["email*"]
SOCIALACCOUNT_REQUESTS_TIMEOUT = 4  # of each question that a thread waits with [s]
MFA_SUPPORTED_TYPES = ["webauthn"]

LANGUAGE_CODE = "en-gb"
TIME_ZONE = env.time_zone("MUNTIN_TIME_ZONE")
USE_TZ = True

STATIC_URL = "static/"
MEDIA_ROOT = DATA_DIR / "media"
"""Sheets and their pictures, where no store keeps them, and this machine's work on them.

They are never served but through a view that asks reviews.access.
"""

STORAGES = {
    "default": env_store.FOLDER if IS_DEMO_GROUND else env_store.store("MUNTIN_STORE"),
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if DEBUG
        else "reviews.stylesheets.WithOneStylesheet"
    },
}
WHITENOISE_USE_FINDERS = DEBUG

FILES_BY = env.choice(
    "MUNTIN_FILES_BY", {"site": "", **{by: by for by in ("x-accel", "x-sendfile", "store")}}
)
"""Who sends pictures and files once the site has said who may have them: see reviews.reading."""

MOST_UPLOAD_MB = env.integer("MUNTIN_MOST_UPLOAD_MB", 100, least=1, most=500)
"""Largest sheet that is taken [MB]."""
MOST_REQUEST_MB = 10 * MOST_UPLOAD_MB
"""Largest request that is taken, several sheets at once; a larger is refused unread [MB]."""
MOST_STUDIO_MB = env.integer("MUNTIN_MOST_STUDIO_MB", 5000, least=10, most=10_000_000)
"""Most that the pictures of one studio may take [MB]."""
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024
# a tick for each row and each cell that a file proposes: schedules of a thousand rows among them
DATA_UPLOAD_MAX_NUMBER_FIELDS = 12_000
FILE_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024

MAIL_SERVER = env_mail.MailServer() if IS_DEMO_GROUND else env_mail.mail_server("MUNTIN_SMTP")
EMAIL_BACKEND = (
    f"django.core.mail.backends.{'smtp' if MAIL_SERVER.host else 'filebased'}.EmailBackend"
)
"""Without a server, and in the demo always, letters are written into a folder."""
EMAIL_FILE_PATH = DATA_DIR / "mail"
EMAIL_TIMEOUT = 20
EMAIL_HOST, EMAIL_PORT = MAIL_SERVER.host, MAIL_SERVER.port
EMAIL_HOST_USER, EMAIL_HOST_PASSWORD = MAIL_SERVER.user, MAIL_SERVER.password
EMAIL_USE_TLS, EMAIL_USE_SSL = MAIL_SERVER.starts_tls, MAIL_SERVER.is_tls
SITE_ADDRESS = env_mail.site_address("MUNTIN_ADDRESS", ALLOWED_HOSTS, is_https=IS_HTTPS)
"""Where links in letters lead: never taken from a request."""
DEFAULT_FROM_EMAIL = env_mail.sender("MUNTIN_MAIL_FROM", is_needed=bool(MAIL_SERVER.host))

MAILBOX = (
    env_mail.MailServer() if IS_DEMO_GROUND else env_mail.mail_server("MUNTIN_BOUNCES", "imap")
)
"""Where refusals come back to as letters: see reviews.deeds.mail_bounces."""

CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.locmem.LocMemCache",
        "OPTIONS": {"MAX_ENTRIES": 300},
    }
}
"""Parts of pages that each process keeps, by the fingerprint of what they show: worked_out."""

TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}
"""Work in the background is queued in the database: see reviews.jobs and reviews.background."""

SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = IS_HTTPS
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_AGE = 30 * 86_400
SECURE_HSTS_SECONDS = 31_536_000 if IS_HTTPS else 0
SECURE_REDIRECT_EXEMPT = [r"^healthz$"]  # asked on the machine itself, by plain http
SECURE_REFERRER_POLICY = "same-origin"
# to bind a school's other hosts, or a browser's own list, is the school's decision;
# the sign-in form itself says when somebody has to wait
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021", "axes.W002"]
X_FRAME_OPTIONS = "DENY"
if IS_HTTPS:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, *env_store.sent_from(STORAGES["default"], FILES_BY)],
        "font-src": [SELF],
        "connect-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "object-src": [NONE],
        "frame-ancestors": [NONE],
        "manifest-src": [SELF],
    }
}

LOG_AS = env.choice("MUNTIN_LOG", {"lines": "reviews.logs.Lines", "json": "reviews.logs.JsonLines"})
LOGS_REQUESTS = env.boolean("MUNTIN_LOG_REQUESTS", False)
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"()": LOG_AS}},
    "filters": {"without_addresses": {"()": "reviews.logs.WithoutAddresses"}},
    "handlers": {
        "console": {
            "class": "logging.StreamHandler",
            "formatter": "line",
            "filters": ["without_addresses"],
        }
    },
    "root": {"handlers": ["console"], "level": "WARNING"},
    "loggers": {
        "django": {"level": "WARNING"},  # in place of Django's own handlers
        "reviews.watch": {"level": "INFO" if LOGS_REQUESTS else "WARNING"},
        "waitress.queue": {"level": "ERROR"},  # that requests wait their turn is no fault
    },
}
