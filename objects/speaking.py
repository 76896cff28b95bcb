"""The language of a request and of a piece of work: pages and everything below them speak the same one."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from django.http import HttpRequest, HttpResponse
from django.utils import translation
from django.utils.functional import lazy

from objects.core import words
from objects.readers import reader_of


def speaks_to_reader(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable:
    """Middleware, after that of signing in: the language she chose, else the one her browser asks for."""

    def middleware(request: HttpRequest) -> HttpResponse:
        with in_language(reader_of(request).language or translation.get_language_from_request(request)):
            response = get_response(request)
            response.headers.setdefault("Content-Language", words.spoken())
            return response

    return middleware


say_later = lazy(words.say, str)  # for what is put together once, such as the help of a form's field


@contextmanager
def in_language(language: str) -> Iterator[None]:
    """Everything within says what it says in this language; English where it is not one of ours."""
    known = language if language in words.LANGUAGES else "en"
    with words.speaking(known), translation.override(known):
        yield
