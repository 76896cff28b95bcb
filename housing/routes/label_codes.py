"""Addresses that the codes of labels lead to: short, so that the codes are coarse and easy to scan."""

from django.urls import path

from housing.views import label_codes

urlpatterns = [
    # /q/
    path("q/", label_codes.label_code_typed, name="label-code-typed"),
    path("q/<str:code>/", label_codes.label_code, name="label-code"),
    # /Q/, in capitals and without a stroke at the end as labels carry it: fewer modules
    path("Q/<str:code>", label_codes.label_code, name="label-code-scanned"),
    # /Q/…/…, as cut sheets carry it: with their version
    path("Q/<str:code>/<str:version>", label_codes.cut_sheet_code, name="cut-sheet-scanned"),
    path("q/<str:code>/<str:version>", label_codes.cut_sheet_code, name="cut-sheet-code"),
]
