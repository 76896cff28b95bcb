"""Address of the questions that boxes wait for."""

from django.urls import path

from housing.views import holds

urlpatterns = [
    # /questions/
    path("questions/", holds.hold_list, name="hold-list"),
]
