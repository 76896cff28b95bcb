"""Addresses of the catalogue."""

from django.urls import path

from objects import views

app_name = "objects"
urlpatterns = [
    # /catalogue/
    path("new/", views.object_new, name="object-new"),
    path("<int:pk>/edit/", views.object_edit, name="object-edit"),
    path("<int:pk>/photo/", views.photo, name="photo"),
    # /catalogue/locations/
    path("locations/", views.location_list, name="location-list"),
    path("locations/new/", views.location_new, name="location-new"),
    path("locations/<int:pk>/edit/", views.location_edit, name="location-edit"),
    # /catalogue/preferences/
    path("preferences/", views.preferences, name="preferences"),
]
