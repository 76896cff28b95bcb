"""Addresses of the scenarios of campaigns."""

from django.urls import path

from housing.views import scenarios

urlpatterns = [
    # /campaigns/.../scenarios/
    path("campaigns/<int:pk>/scenarios/", scenarios.scenario_list, name="scenario-list"),
    path("campaigns/<int:pk>/scenarios/new/", scenarios.scenario_new, name="scenario-new"),
    path(
        "campaigns/<int:pk>/scenarios/work-out/",
        scenarios.scenario_work_out_all,
        name="scenario-work-out-all",
    ),
    # /scenarios/
    path("scenarios/<int:pk>/edit/", scenarios.scenario_edit, name="scenario-edit"),
    path("scenarios/<int:pk>/copy/", scenarios.scenario_copy, name="scenario-copy"),
    path("scenarios/<int:pk>/delete/", scenarios.scenario_delete, name="scenario-delete"),
    path("scenarios/<int:pk>/work-out/", scenarios.scenario_work_out, name="scenario-work-out"),
]
