"""Addresses of the label sheets."""

from django.urls import path

from housing.views import label_sheets

urlpatterns = [
    # /label-sheets/
    path("label-sheets/", label_sheets.label_sheet_list, name="label-sheet-list"),
    path("label-sheets/new/", label_sheets.label_sheet_new, name="label-sheet-new"),
    path("label-sheets/<int:pk>/edit/", label_sheets.label_sheet_edit, name="label-sheet-edit"),
    path("label-sheets/<int:pk>/delete/", label_sheets.label_sheet_delete, name="label-sheet-delete"),
    path("label-sheets/<int:pk>/test/", label_sheets.label_sheet_test, name="label-sheet-test"),
]
