"""Addresses of the standard sizes of campaigns."""

from django.urls import path

from housing.views import sizes

urlpatterns = [
    # /campaigns/.../sizes/
    path("campaigns/<int:pk>/sizes/", sizes.size_family_list, name="size-family-list"),
    path("campaigns/<int:pk>/sizes/new/", sizes.size_family_new, name="size-family-new"),
    path("campaigns/<int:pk>/sizes/<int:family>/", sizes.size_family_detail, name="size-family-detail"),
    path("campaigns/<int:pk>/sizes/<int:family>/edit/", sizes.size_family_edit, name="size-family-edit"),
    path("campaigns/<int:pk>/sizes/<int:family>/find/", sizes.size_family_find, name="size-family-find"),
    path(
        "campaigns/<int:pk>/sizes/<int:family>/delete/", sizes.size_family_delete, name="size-family-delete"
    ),
    path(
        "campaigns/<int:pk>/sizes/<int:family>/scenario/",
        sizes.size_family_scenario,
        name="size-family-scenario",
    ),
]
