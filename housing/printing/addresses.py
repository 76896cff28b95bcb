"""The addresses that codes on prints lead to, handed on to a press, which does without the site's pages."""

from collections.abc import Iterable, Iterator

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import URLPattern, URLResolver, get_resolver, include, path

urlpatterns: list[URLPattern | URLResolver] = []  # those of a press; it fills them


def site_addresses() -> list[tuple[str, str, str]]:
    """Namespace, name and route of all pages of the site."""
    return list(_below(get_resolver(), "", ""))


def taken_over(addresses: Iterable[tuple[str, str, str]]) -> list[URLPattern | URLResolver]:
    """Patterns that give the same addresses by the same names; no page stands behind them."""
    by_space: dict[str, list[URLPattern]] = {}
    for space, name, route in addresses:
        by_space.setdefault(space, []).append(path(route, _no_page, name=name))
    return [
        path("", include((patterns, space), namespace=space) if space else include(patterns))
        for space, patterns in by_space.items()
    ]


def _below(resolver: URLResolver, space: str, before: str) -> Iterator[tuple[str, str, str]]:
    for entry in resolver.url_patterns:
        route = before + str(entry.pattern)
        if isinstance(entry, URLResolver):
            yield from _below(entry, ":".join(filter(None, (space, entry.namespace))), route)
        elif entry.name:
            yield space, entry.name, route


def _no_page(request: HttpRequest, **given: object) -> HttpResponse:
    raise Http404
