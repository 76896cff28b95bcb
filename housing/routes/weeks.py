"""Addresses of the work of a campaign by person and week."""

from django.urls import path

from housing.views import weeks

urlpatterns = [
    # /campaigns/<pk>/tasks/
    path("campaigns/<int:pk>/tasks/", weeks.campaign_tasks, name="campaign-tasks"),
    path("campaigns/<int:pk>/tasks/move/", weeks.campaign_move, name="campaign-move"),
    path("campaigns/<int:pk>/tasks/give-out/", weeks.campaign_give_out, name="campaign-give-out"),
]
