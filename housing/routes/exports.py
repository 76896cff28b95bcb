"""Addresses of the lists taken out of the planner."""

from django.urls import path

from housing.views import exports

urlpatterns = [
    # /export/
    path("export/", exports.export_choose, name="export-choose"),
    path("export/file/", exports.export_write, name="export-write"),
    path("export/<int:pk>/file/", exports.export_file, name="export-file"),
]
