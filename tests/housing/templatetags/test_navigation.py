"""The navigation marks the page the reader is on, whatever page of a noun it is."""

import pytest
from django.test import RequestFactory
from django.urls import ResolverMatch

from housing.templatetags.navigation import navigation
from objects.readers import Reader


def current(view_name: str | None) -> list[str]:
    """Words of the links marked as current on the page of that name."""
    request = RequestFactory().get("/")
    if view_name:
        namespace, _, name = view_name.rpartition(":")
        spaces = [namespace] if namespace else []
        request.resolver_match = ResolverMatch(lambda: None, (), {}, url_name=name, namespaces=spaces)
    groups = navigation({"request": request, "reader": Reader(roles=frozenset({"surveyor"}))})
    return [link.words for _, links in groups for link in links if link.is_current]


@pytest.mark.parametrize(
    ("view_name", "marked"),
    [
        ("housing:home", ["How far are we?"]),
        ("housing:object-list", ["Objects"]),
        ("housing:object-detail", ["Objects"]),
        ("housing:import-preview", ["Import"]),
        ("boards:board-list", ["Boards and stock"]),
        ("boards:movement-new", ["Boards and stock"]),  # every page about boards and stock
        ("housing:campaign-budget", ["Campaigns"]),
        ("housing:phase-new", ["Campaigns"]),
        ("housing:scenario-edit", ["Campaigns"]),
        ("login", []),
        (None, []),  # an address that does not exist
    ],
)
def test_marks_the_noun_of_the_page(view_name, marked):
    assert current(view_name) == marked


def test_leaves_out_what_the_reader_may_not_open():
    groups = navigation({"request": RequestFactory().get("/"), "reader": Reader(roles=frozenset({"viewer"}))})

    assert "Import" not in [link.words for _, links in groups for link in links]
