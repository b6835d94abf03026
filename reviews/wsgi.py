"""The door for a server: `gunicorn reviews.wsgi`."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "reviews.settings")
application = get_wsgi_application()
