"""Settings of the site, read from environment variables, with defaults that work on a fresh copy.

DEBUG decides between three ways to run:

    not set   a copy on this computer: pages as users see them, reachable from this computer only, plain
              http, a secret key made once and kept in var/secret_key
    on        the same, with Django's pages for tracing errors
    off       a shared installation: SECRET_KEY and ALLOWED_HOSTS must be given, pages need https
"""

import os
import secrets
from pathlib import Path

import environ
from django.core.exceptions import ImproperlyConfigured
from django.utils.csp import CSP

from objects.core import words

env = environ.Env()


def kept_secret_key(path: Path) -> str:
    """The secret key of a copy on this computer: made once, readable by its owner only, then kept."""
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        with os.fdopen(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "w") as file:
            file.write(secrets.token_urlsafe(50))
    except FileExistsError:
        pass
    if not (key := path.read_text().strip()):
        raise ImproperlyConfigured(f"{path} is empty. Delete it, and the next start makes a new one.")
    return key


def required(name: str, why: str) -> str:
    """The value of an environment variable that a shared installation cannot do without."""
    if not (value := env.str(name, default="")):
        raise ImproperlyConfigured(f"{name} is not set. With DEBUG=off {why}.")
    return value


BASE_DIR = Path(__file__).resolve().parents[2]
VAR_DIR = Path(env.str("VAR_DIR", default=str(BASE_DIR / "var")))

LOCAL = env.str("DEBUG", default="") == "" or env.bool("DEBUG")
DEBUG = LOCAL and env.bool("DEBUG", default=False)

if LOCAL:
    SECRET_KEY = env.str("SECRET_KEY", default="") or kept_secret_key(VAR_DIR / "secret_key")
else:
    SECRET_KEY = required("SECRET_KEY", "the site needs a secret of its own: 50 or more random characters")

THIS_COMPUTER = ["localhost", "127.0.0.1", "[::1]"]
ALLOWED_HOSTS = env.list("ALLOWED_HOSTS", default=THIS_COMPUTER if LOCAL else [])
if not ALLOWED_HOSTS:
    required("ALLOWED_HOSTS", "it lists the names the site is reached by, separated by commas")

# ---- The parts of the site -------------------------------------------------------------------------------

INSTALLED_APPS = [
    "objects",
    "boards",
    "housing",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.humanize",
    "django.contrib.messages",
    "django.contrib.sessions",
    "django.contrib.staticfiles",
    "django.forms",
    "django_filters",
    "django_htmx",
    "django_tables2",
    "django_tasks_db",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.middleware.csp.ContentSecurityPolicyMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "objects.speaking.speaks_to_reader",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]

ROOT_URLCONF = "housing.config.urls"
WSGI_APPLICATION = "housing.config.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.template.context_processors.csp",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "objects.readers.reader",
            ],
        },
    },
]

FORM_RENDERER = "django.forms.renderers.TemplatesSetting"  # templates/django/forms/ says how fields look
DJANGO_TABLES2_TEMPLATE = "parts/table.html"

# ---- Records, queue and files ----------------------------------------------------------------------------

SQLITE_URL = f"sqlite:///{(VAR_DIR / 'planner.sqlite3').as_posix()}"
DATABASES = {"default": env.db("DATABASE_URL", default=SQLITE_URL)}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    VAR_DIR.mkdir(parents=True, exist_ok=True)
    # Several people write at once: taking the write lock first and waiting for it is what avoids "database is
    # locked". synchronous=FULL because these may be the only copy of the records when the power goes.
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; "
        "PRAGMA cache_size=-20000; PRAGMA temp_store=MEMORY;",
        **DATABASES["default"].get("OPTIONS", {}),
    }
else:
    DATABASES["default"]["CONN_MAX_AGE"] = 60
    DATABASES["default"]["CONN_HEALTH_CHECKS"] = True

TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend", "QUEUES": ["default"]}}

# Big prints are set by so many processes side by side, one a core if not set; 0 for the worker itself. One
# that has grown larger than so much memory is begun anew.
PRINT_PROCESSES = env.int("PRINT_PROCESSES", default=None)
PRINT_MEMORY_MB = env.int("PRINT_MEMORY_MB", default=230)

MEDIA_ROOT = VAR_DIR / "media"
MEDIA_URL = "media/"
STATIC_ROOT = VAR_DIR / "static"
STATIC_URL = "static/"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if LOCAL
        else "whitenoise.storage.CompressedManifestStaticFilesStorage",
    },
}
WHITENOISE_ALLOW_ALL_ORIGINS = False
WHITENOISE_AUTOREFRESH = WHITENOISE_USE_FINDERS = LOCAL  # a copy on this computer needs no collectstatic

UPLOAD_LIMIT_BYTES = 30 * 1024 * 1024  # a catalogue list of 100,000 rows is about 20 MB; assumed
DATA_UPLOAD_MAX_MEMORY_SIZE = UPLOAD_LIMIT_BYTES
DATA_UPLOAD_MAX_NUMBER_FIELDS = 20_000  # thousands of objects can be ticked on one page

# ---- People and safety -----------------------------------------------------------------------------------

AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in ("UserAttributeSimilarityValidator", "MinimumLengthValidator", "CommonPasswordValidator")
]
LOGIN_URL = "login"
LOGIN_REDIRECT_URL = "/"
LOGOUT_REDIRECT_URL = "login"

SECURE_CSP = {
    "default-src": [CSP.NONE],
    "script-src": [CSP.SELF, CSP.NONCE],
    "style-src": [CSP.SELF, CSP.NONCE],
    "img-src": [CSP.SELF, "data:"],
    "font-src": [CSP.SELF],
    "connect-src": [CSP.SELF],
    "worker-src": [CSP.SELF],
    "form-action": [CSP.SELF],
    "base-uri": [CSP.NONE],
    "frame-ancestors": [CSP.NONE],
}
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"

HTTPS = env.bool("HTTPS", default=not LOCAL)
SECURE_SSL_REDIRECT = HTTPS
SESSION_COOKIE_SECURE = HTTPS
CSRF_COOKIE_SECURE = HTTPS
SECURE_HSTS_SECONDS = env.int("HSTS_SECONDS", default=30 * 24 * 3600) if HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = env.bool("HSTS_INCLUDE_SUBDOMAINS", default=HTTPS)
SECURE_HSTS_PRELOAD = env.bool("HSTS_PRELOAD", default=HTTPS)
if env.bool("BEHIND_PROXY", default=False):
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

# ---- Language, time and numbers --------------------------------------------------------------------------

LANGUAGE_CODE = "en"
LANGUAGES = list(words.LANGUAGES.items())  # whoever reads chooses one; the first in the browser's list else
LOCALE_PATHS = [words.CATALOGUES]
TIME_ZONE = env.str("TIME_ZONE", default="UTC")
FORMAT_MODULE_PATH = "housing.config.formats"
# Off, because a comma inside a coordinate or a record's number breaks drawings and addresses; money and
# counts ask for their commas with the intcomma filter.
USE_THOUSAND_SEPARATOR = False

# ---- What is written to the console ----------------------------------------------------------------------

LOG_LEVEL = env.str("LOG_LEVEL", default="INFO")
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    "loggers": {
        "django": {"handlers": [], "level": LOG_LEVEL, "propagate": True},
        **{name: {"level": LOG_LEVEL} for name in ("objects", "boards", "housing", "django_tasks_db")},
    },
}
