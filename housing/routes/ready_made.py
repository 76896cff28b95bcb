"""Addresses of the boxes that are sold ready-made."""

from django.urls import path

from housing.views import ready_made

urlpatterns = [
    # /ready-made/
    path("ready-made/", ready_made.ready_made_list, name="ready-made-list"),
    path("ready-made/new/", ready_made.ready_made_new, name="ready-made-new"),
    path("ready-made/<int:pk>/edit/", ready_made.ready_made_edit, name="ready-made-edit"),
    path("ready-made/<int:pk>/delete/", ready_made.ready_made_delete, name="ready-made-delete"),
]
