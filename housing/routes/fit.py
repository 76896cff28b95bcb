"""Addresses of what went wrong with boxes, and of photos of objects in those that fit."""

from django.urls import path

from housing.views import fit, housed_photos

urlpatterns = [
    # /fit/
    path("fit/", fit.fit_causes, name="fit-causes"),
    path("fit/photos/<int:pk>/", housed_photos.housed_photo, name="housed-photo"),
]
