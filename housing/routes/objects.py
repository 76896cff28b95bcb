"""Addresses of the home page, the objects and the imports."""

from django.urls import path

from housing.views import home, imports, objects

urlpatterns = [
    path("", home.home, name="home"),
    path("progress/places/", home.place_progress, name="progress-places"),
    # /objects/
    path("objects/", objects.object_list, name="object-list"),
    path("objects/act/", objects.object_act, name="object-act"),
    path("objects/<int:pk>/", objects.object_detail, name="object-detail"),
    path("housings/<int:pk>/move/", objects.housing_move, name="housing-move"),
    # /import/
    path("import/", imports.import_start, name="import-start"),
    path("import/<int:pk>/", imports.import_preview, name="import-preview"),
    path("import/<int:pk>/read/", imports.import_read, name="import-read"),
    path("import/<int:pk>/save/", imports.import_save, name="import-save"),
    path("import/<int:pk>/drop/", imports.import_drop, name="import-drop"),
    path("import/<int:pk>/undo/", imports.import_undo, name="import-undo"),
    path("import/<int:pk>/report.csv", imports.import_report, {"form": "csv"}, name="import-report-csv"),
    path("import/<int:pk>/report.xlsx", imports.import_report, {"form": "xlsx"}, name="import-report-xlsx"),
]
