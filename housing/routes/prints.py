"""Addresses of the prints."""

from django.urls import path

from housing.views import earlier_prints, prints

urlpatterns = [
    # /prints/
    path("prints/", prints.print_choose, name="print-choose"),
    path("prints/cut-sheets/", prints.print_cut_sheets, name="print-cut-sheets"),
    path("prints/labels/", prints.print_labels, name="print-labels"),
    path("prints/expected/", prints.print_count, name="print-count"),
    path("prints/earlier/", earlier_prints.print_list, name="print-list"),
    path("prints/pick-list/", prints.print_pick_list, name="print-pick-list"),
    path("prints/box-lists/", prints.print_box_lists, name="print-box-lists"),
    path("prints/batch-cover/", prints.print_batch_cover, name="print-batch-cover"),
    path("prints/<int:pk>/file/", prints.print_file, name="print-file"),
    path("prints/<int:pk>/go-on/", earlier_prints.print_go_on, name="print-go-on"),
    path("prints/<int:pk>/remove/", earlier_prints.print_drop, name="print-drop"),
]
