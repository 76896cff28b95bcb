"""Addresses of printed layouts of sheets, and of files for cutting machines."""

from django.urls import path

from housing.views import machine_files, sheet_layouts

urlpatterns = [
    # /prints/
    path("prints/sheet-layouts/", sheet_layouts.print_sheet_layouts, name="print-sheet-layouts"),
    # /machine/
    path("machine/boxes/<int:pk>/", machine_files.machine_box, name="machine-box"),
    path("machine/boxes/<int:pk>/all.zip", machine_files.machine_box_zip, name="machine-box-zip"),
    path("machine/boxes/<int:pk>/<int:blank>.<str:kind>", machine_files.machine_blank, name="machine-blank"),
    path("machine/sheets/", machine_files.machine_sheets, name="machine-sheets"),
    path("machine/sheets.zip", machine_files.machine_sheets_zip, name="machine-sheets-zip"),
    path("machine/sheets/<int:pk>.<str:kind>", machine_files.machine_sheet, name="machine-sheet"),
    path("machine/designs/<int:pk>/", machine_files.machine_design, name="machine-design"),
    path("machine/designs/<int:pk>/all.zip", machine_files.machine_design_zip, name="machine-design-zip"),
    path(
        "machine/designs/<int:pk>/<int:part>.<str:kind>",
        machine_files.machine_design_part,
        name="machine-design-part",
    ),
]
