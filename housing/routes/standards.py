"""Addresses of the standard times."""

from django.urls import path

from housing.views import standards

urlpatterns = [
    # /standards/
    path("standards/", standards.standard_list, name="standard-list"),
    path("standards/new/", standards.standard_new, name="standard-new"),
    path("standards/<int:pk>/edit/", standards.standard_time_edit, name="standard-time-edit"),
    path("standards/<int:pk>/reset/", standards.standard_reset, name="standard-reset"),
    path("standards/<slug:element>/", standards.standard_edit, name="standard-edit"),
]
