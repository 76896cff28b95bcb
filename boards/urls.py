"""Addresses of the boards and their stock, of suppliers and of supplies."""

from django.urls import path

from boards.views import boards as views
from boards.views import supplies

app_name = "boards"
urlpatterns = [
    # /boards/
    path("", views.board_list, name="board-list"),
    path("new/", views.board_new, name="board-new"),
    path("<int:pk>/", views.board_detail, name="board-detail"),
    path("<int:pk>/edit/", views.board_edit, name="board-edit"),
    path("<int:pk>/stock/", views.stock_move, name="stock-move"),
    path("<int:pk>/offcuts/", views.offcut_keep, name="offcut-keep"),
    path("<int:pk>/sheets/new/", views.sheet_new, name="sheet-new"),
    path("sheets/<int:pk>/edit/", views.sheet_edit, name="sheet-edit"),
    path("<int:pk>/statements/new/", views.statement_new, name="statement-new"),
    path("statements/<int:pk>/edit/", views.statement_edit, name="statement-edit"),
    path("statements/<int:pk>/delete/", views.statement_delete, name="statement-delete"),
    path("movements/<int:pk>/reverse/", views.movement_reverse, name="movement-reverse"),
    path("offcuts/<int:pk>/gone/", views.offcut_gone, name="offcut-gone"),
    # /boards/supplies/
    path("supplies/", supplies.supply_list, name="supply-list"),
    path("supplies/new/", supplies.supply_new, name="supply-new"),
    path("supplies/<int:pk>/edit/", supplies.supply_edit, name="supply-edit"),
    path("supplies/<int:pk>/delete/", supplies.supply_delete, name="supply-delete"),
    # /boards/suppliers/
    path("suppliers/new/", supplies.supplier_new, name="supplier-new"),
    path("suppliers/<int:pk>/edit/", supplies.supplier_edit, name="supplier-edit"),
    path("suppliers/<int:pk>/delete/", supplies.supplier_delete, name="supplier-delete"),
]
