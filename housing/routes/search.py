"""Address of the search."""

from django.urls import path

from housing.views import search

urlpatterns = [
    # /search/
    path("search/", search.search_results, name="search"),
]
