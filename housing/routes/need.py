"""Addresses of what is unhoused, of the needs people state, and of the weights of the priority score."""

from django.urls import path

from housing.views import need, priority

urlpatterns = [
    # /need/
    path("need/", need.need_list, name="need-list"),
    path("need/table.csv", need.need_table, name="need-table"),
    path("need/state/", need.need_state_many, name="need-state-many"),
    path("objects/<int:pk>/need/", need.need_state, name="need-state"),
    # /campaigns/
    path("campaigns/<int:pk>/weights/", priority.campaign_weights, name="campaign-weights"),
]
