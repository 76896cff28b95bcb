"""Addresses of the prints."""

from django.urls import path

from housing.views import prints

urlpatterns = [
    # /prints/
    path("prints/", prints.print_choose, name="print-choose"),
    path("prints/cut-sheets/", prints.print_cut_sheets, name="print-cut-sheets"),
    path("prints/labels/", prints.print_labels, name="print-labels"),
    path("prints/pick-list/", prints.print_pick_list, name="print-pick-list"),
    path("prints/box-lists/", prints.print_box_lists, name="print-box-lists"),
    path("prints/batch-cover/", prints.print_batch_cover, name="print-batch-cover"),
    path("prints/<int:pk>/file/", prints.print_file, name="print-file"),
]
