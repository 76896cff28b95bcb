"""Address of the collection in figures."""

from django.urls import path

from housing.views import figures

urlpatterns = [
    # /figures/
    path("figures/", figures.figures, name="figures"),
]
