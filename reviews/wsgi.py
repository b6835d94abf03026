"""The door for a server: that of `manage.py serve`, or a school's own."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "reviews.settings")
application = get_wsgi_application()
