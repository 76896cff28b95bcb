"""Addresses of the choices within limits."""

from django.urls import path

from housing.views import selections

urlpatterns = [
    # /campaigns/.../within/
    path("campaigns/<int:pk>/within/", selections.selection_list, name="selection-list"),
    path("campaigns/<int:pk>/within/new/", selections.selection_new, name="selection-new"),
    path("campaigns/<int:pk>/within/<int:selection>/", selections.selection_detail, name="selection-detail"),
    path("campaigns/<int:pk>/within/<int:selection>/edit/", selections.selection_edit, name="selection-edit"),
    path("campaigns/<int:pk>/within/<int:selection>/find/", selections.selection_find, name="selection-find"),
    path(
        "campaigns/<int:pk>/within/<int:selection>/delete/",
        selections.selection_delete,
        name="selection-delete",
    ),
    path(
        "campaigns/<int:pk>/within/<int:selection>/scenario/",
        selections.selection_scenario,
        name="selection-scenario",
    ),
    path(
        "campaigns/<int:pk>/within/<int:selection>/batch/", selections.selection_batch, name="selection-batch"
    ),
]
