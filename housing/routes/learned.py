"""Addresses of what was learned from the log."""

from django.urls import path

from housing.views import learned

urlpatterns = [
    # /campaigns/.../budget/learned/
    path("campaigns/<int:pk>/budget/learned/", learned.campaign_learned, name="campaign-learned"),
    path("campaigns/<int:pk>/budget/learned/use/", learned.campaign_learned_use, name="campaign-learned-use"),
]
