"""Addresses of the ranges of a budget's uncertain inputs."""

from django.urls import path

from housing.views import ranges

urlpatterns = [
    # /campaigns/.../budget/ranges/
    path("campaigns/<int:pk>/budget/ranges/", ranges.campaign_ranges, name="campaign-ranges"),
]
