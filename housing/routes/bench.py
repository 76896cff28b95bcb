"""Addresses of the pages for whoever stands at the bench."""

from django.urls import path

from housing.views import bench, bench_entries

urlpatterns = [
    # /bench/
    path("bench/", bench.bench, name="bench"),
    path("bench/person/", bench.bench_person, name="bench-person"),
    path("bench/sheets/<int:pk>/", bench.bench_sheet, name="bench-sheet"),
    path("bench/boxes/<int:pk>/", bench.bench_box, name="bench-box"),
    path("bench/entries/", bench_entries.bench_entry, name="bench-entry"),
    path("bench/undo/", bench_entries.bench_undo, name="bench-undo"),
]
