"""The files a print page may use: the site's own static and media files, and nothing from anywhere else.

Importing this module imports WeasyPrint, so housing.pdf imports it only once a PDF is asked for.
"""

import mimetypes
from pathlib import Path
from urllib.parse import unquote, urljoin, urlsplit

from django.conf import settings
from django.contrib.staticfiles import finders
from django.utils._os import safe_join
from weasyprint.urls import URLFetcher, URLFetcherResponse

from objects.core.refusals import Refusal


class FileRefused(Refusal):
    """A print page asks for something that is not one of the site's own files."""


class OwnFiles(URLFetcher):
    """Reads what WeasyPrint asks for: data written into the page, or an own file; never the network."""

    def __init__(self, base_url: str):
        super().__init__(allowed_protocols=("data",), allow_redirects=False)
        self.base_url = base_url

    def fetch(self, url: str, headers: dict | None = None) -> URLFetcherResponse:
        if url.startswith("data:"):
            return super().fetch(url, headers)
        path = own_file(self.base_url, url)
        kind = mimetypes.guess_type(path.name)[0] or "application/octet-stream"
        return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": kind})


def own_file(base_url: str, url: str) -> Path:
    """The static or media file that an address below base_url stands for; anything else is refused."""
    address = urlsplit(url)._replace(query="", fragment="").geturl()
    static, media = urljoin(base_url, settings.STATIC_URL), urljoin(base_url, settings.MEDIA_URL)
    if address.startswith(static):
        name = unquote(address.removeprefix(static))
        return Path(finders.find(name) or safe_join(settings.STATIC_ROOT, name))
    if address.startswith(media):
        return Path(safe_join(settings.MEDIA_ROOT, unquote(address.removeprefix(media))))
    raise FileRefused(f"{url} is not a static or media file of this site")
