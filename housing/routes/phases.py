"""Addresses of the phases of campaigns, and of budgets as files."""

from django.urls import path

from housing.views import budget_files, phases

urlpatterns = [
    # /campaigns/.../phases/
    path("campaigns/<int:pk>/phases/", phases.phase_list, name="phase-list"),
    path("campaigns/<int:pk>/phases/new/", phases.phase_new, name="phase-new"),
    path("phases/<int:pk>/edit/", phases.phase_edit, name="phase-edit"),
    path("phases/<int:pk>/delete/", phases.phase_delete, name="phase-delete"),
    # /campaigns/.../budget/... as files
    path("campaigns/<int:pk>/budget/<int:budget>.pdf", budget_files.budget_pdf, name="campaign-budget-pdf"),
    path(
        "campaigns/<int:pk>/budget/<int:budget>.xlsx", budget_files.budget_xlsx, name="campaign-budget-xlsx"
    ),
]
