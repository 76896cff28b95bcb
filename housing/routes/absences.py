"""Addresses of the days on which people are away."""

from django.urls import path

from housing.views import absences

urlpatterns = [
    # /people/away/
    path("people/away/", absences.absence_list, name="absence-list"),
    path("people/<int:person>/away/new/", absences.absence_new, name="absence-new"),
    path("people/away/<int:pk>/edit/", absences.absence_edit, name="absence-edit"),
    path("people/away/<int:pk>/delete/", absences.absence_delete, name="absence-delete"),
]
