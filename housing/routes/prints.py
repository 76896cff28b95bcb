"""Addresses of the prints."""

from django.urls import path

from housing.views import prints

urlpatterns = [
    # /prints/
    path("prints/", prints.print_choose, name="print-choose"),
    path("prints/cut-sheets/", prints.print_cut_sheets, name="print-cut-sheets"),
    path("prints/labels/", prints.print_labels, name="print-labels"),
    path("prints/<int:pk>/file/", prints.print_file, name="print-file"),
]
