"""The words of the scripts, in each language: what they say is looked up in the catalogue djangojs."""

from functools import cache
from hashlib import sha256

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import condition, require_safe
from django.views.i18n import JavaScriptCatalog

from objects.core.words import LANGUAGES
from objects.speaking import in_language


@cache
def _written(language: str) -> bytes:
    """The script that gives the others gettext() and its kin with the words of a language."""
    with in_language(language):
        return JavaScriptCatalog(packages=["objects"]).get(HttpRequest()).content


def words_version(language: str) -> str:
    """What is different as soon as a word is."""
    return sha256(_written(language)).hexdigest()[:16] if language in LANGUAGES else ""


@require_safe
@login_not_required  # the page of signing in may need it; it holds nothing of the collection
@condition(etag_func=lambda request, language: f'"{words_version(language)}"')
def words(request: HttpRequest, language: str) -> HttpResponse:
    """The script, the same for everybody who reads that language."""
    if language not in LANGUAGES:
        raise Http404
    answer = HttpResponse(_written(language), content_type="text/javascript; charset=utf-8")
    answer["Cache-Control"] = "no-cache"
    return answer
