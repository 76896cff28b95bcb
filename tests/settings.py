"""The site's settings, made quick and kept away from real records."""

import os
import tempfile

os.environ.setdefault("SECRET_KEY", "the tests share this one")
os.environ.setdefault("VAR_DIR", tempfile.mkdtemp(prefix="planner-tests-"))

from housing.config.settings import *  # noqa: E402, F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.InMemoryStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
TASKS = {"default": {"BACKEND": "django.tasks.backends.immediate.ImmediateBackend"}}
