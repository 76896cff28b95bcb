"""Addresses of the boards and their stock, of suppliers and of supplies."""

from django.urls import path

from boards.views import boards as views
from boards.views import counts, offcuts, stock, supplies, supply_stock

app_name = "boards"
urlpatterns = [
    # /boards/
    path("", views.board_list, name="board-list"),
    path("new/", views.board_new, name="board-new"),
    path("<int:pk>/", views.board_detail, name="board-detail"),
    path("<int:pk>/edit/", views.board_edit, name="board-edit"),
    path("<int:pk>/stock/", stock.stock_move, name="stock-move"),
    path("<int:pk>/count/", counts.board_count, name="board-count"),
    path("<int:pk>/offcuts/", offcuts.offcut_keep, name="offcut-keep"),
    path("<int:pk>/sheets/new/", views.sheet_new, name="sheet-new"),
    path("sheets/<int:pk>/edit/", views.sheet_edit, name="sheet-edit"),
    path("<int:pk>/statements/new/", views.statement_new, name="statement-new"),
    path("statements/<int:pk>/edit/", views.statement_edit, name="statement-edit"),
    path("statements/<int:pk>/delete/", views.statement_delete, name="statement-delete"),
    path("movements/<int:pk>/reverse/", stock.movement_reverse, name="movement-reverse"),
    path("offcuts/<int:pk>/", offcuts.offcut_detail, name="offcut-detail"),
    path("offcuts/<int:pk>/take/", offcuts.offcut_take, name="offcut-take"),
    path("offcuts/<int:pk>/back/", offcuts.offcut_back, name="offcut-back"),
    path("offcuts/<int:pk>/gone/", offcuts.offcut_gone, name="offcut-gone"),
    # /boards/supplies/
    path("supplies/", supplies.supply_list, name="supply-list"),
    path("supplies/new/", supplies.supply_new, name="supply-new"),
    path("supplies/count/", counts.supply_count, name="supply-count"),
    path("supplies/count/<slug:kind>/", counts.supply_count, name="supply-count-kind"),
    path("supplies/<int:pk>/", supply_stock.supply_detail, name="supply-detail"),
    path("supplies/<int:pk>/stock/", supply_stock.supply_move, name="supply-move"),
    path("supplies/movements/<int:pk>/reverse/", supply_stock.supply_reverse, name="supply-reverse"),
    path("supplies/<int:pk>/edit/", supplies.supply_edit, name="supply-edit"),
    path("supplies/<int:pk>/delete/", supplies.supply_delete, name="supply-delete"),
    # /boards/suppliers/
    path("suppliers/new/", supplies.supplier_new, name="supplier-new"),
    path("suppliers/<int:pk>/edit/", supplies.supplier_edit, name="supplier-edit"),
    path("suppliers/<int:pk>/delete/", supplies.supplier_delete, name="supplier-delete"),
]
