"""Asking before something is lost: one page for all that names what will be gone, in numbers."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import wraps

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme

CONFIRMED = "confirmed"


@dataclass(frozen=True)
class Question:
    """What is asked: heading; consequences, a sentence each; button: what is done when confirmed."""

    heading: str
    consequences: Sequence[str]
    button: str


def asks_first(question: Callable[..., Question | None]) -> Callable:
    """Lets a view that loses something run only once its consequences were read and confirmed.

    question: of the request and the view's arguments; None where nothing would be lost.
    """

    def decorate(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
        @wraps(view)
        def asking(request: HttpRequest, *args, **kwargs) -> HttpResponse:
            if CONFIRMED not in request.POST and (asked := question(request, *args, **kwargs)):
                return ask(request, asked)
            return view(request, *args, **kwargs)

        asking.asks_first = True
        return asking

    return decorate


def ask(request: HttpRequest, asked: Question) -> HttpResponse:
    """The page that asks; it sends on what was sent, and the way back leads to where the button was."""
    sent = [(name, value) for name, values in request.POST.lists() for value in values]
    back = request.headers.get("referer", "")
    if not url_has_allowed_host_and_scheme(back, {request.get_host()}, request.is_secure()):
        back = reverse("housing:home")
    return render(
        request,
        "parts/confirm.html",
        {
            "asked": asked,
            "sent": [(name, value) for name, value in sent if name != "csrfmiddlewaretoken"],
            "back": back,
        },
    )
