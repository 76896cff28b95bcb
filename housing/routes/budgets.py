"""Addresses of the budgets of campaigns."""

from django.urls import path
from django.views.generic import RedirectView

from housing.views import budgets

urlpatterns = [
    # /campaigns/.../budget/
    path("campaigns/<int:pk>/budget/", budgets.campaign_budget, name="campaign-budget"),
    path("campaigns/<int:pk>/budget/make/", budgets.campaign_budget_make, name="campaign-budget-make"),
    path("campaigns/<int:pk>/budget/terms/", budgets.campaign_budget_terms, name="campaign-budget-terms"),
    path(
        "campaigns/<int:pk>/budget/contingency/",
        budgets.campaign_budget_contingency,
        name="campaign-budget-contingency",
    ),
    path("campaigns/<int:pk>/budget/freeze/", budgets.campaign_budget_freeze, name="campaign-budget-freeze"),
    path("campaigns/<int:pk>/budget/<int:budget>/", budgets.campaign_baseline, name="campaign-baseline"),
    # as it was called before
    path(
        "campaigns/<int:pk>/estimate/",
        RedirectView.as_view(pattern_name="housing:campaign-budget", permanent=True),
        name="campaign-estimate",
    ),
]
