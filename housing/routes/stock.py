"""Addresses of the stock beside what is needed, and of the labels of offcuts."""

from django.urls import path

from housing.views import stock

urlpatterns = [
    # /stock/
    path("stock/", stock.stock, name="stock"),
    path("stock/sheets/<int:pk>/", stock.stock_sheet, name="stock-sheet"),
    path("stock/movements/<int:pk>/undo/", stock.stock_undo, name="stock-undo"),
    # /offcuts/
    path("offcuts/labels/", stock.offcut_labels, name="offcut-labels"),
    path("offcuts/<int:pk>/label.pdf", stock.offcut_label, name="offcut-label"),
]
