"""Address of what went wrong with boxes."""

from django.urls import path

from housing.views import fit

urlpatterns = [
    # /fit/
    path("fit/", fit.fit_causes, name="fit-causes"),
]
