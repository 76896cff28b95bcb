"""Addresses of the catalogue."""

from django.urls import path

from objects.views import catalogue

app_name = "objects"
urlpatterns = [
    # /catalogue/
    path("new/", catalogue.object_new, name="object-new"),
    path("<int:pk>/edit/", catalogue.object_edit, name="object-edit"),
    path("<int:pk>/photo/", catalogue.photo, name="photo"),
    # /catalogue/locations/
    path("locations/", catalogue.location_list, name="location-list"),
    path("locations/new/", catalogue.location_new, name="location-new"),
    path("locations/<int:pk>/edit/", catalogue.location_edit, name="location-edit"),
    # /catalogue/preferences/
    path("preferences/", catalogue.preferences, name="preferences"),
]
