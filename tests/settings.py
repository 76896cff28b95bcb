"""The site's settings, made quick and kept away from real records."""

import atexit
import os
import shutil
import tempfile

os.environ.update(
    DEBUG="", SECRET_KEY="shared by all tests", VAR_DIR=tempfile.mkdtemp(prefix="planner-tests-")
)
atexit.register(shutil.rmtree, os.environ["VAR_DIR"], ignore_errors=True)

from housing.config.settings import *  # noqa: E402, F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
TASKS = {"default": {"BACKEND": "django.tasks.backends.immediate.ImmediateBackend"}}
