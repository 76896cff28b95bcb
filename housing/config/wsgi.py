"""The way in for web servers: `gunicorn housing.config.wsgi`."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "housing.config.settings")

application = get_wsgi_application()
