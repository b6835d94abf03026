"""The site's settings with the bare addresses of tests.bare.urls beside its own."""

from reviews.settings import *  # noqa: F403

ROOT_URLCONF = "tests.bare.urls"
