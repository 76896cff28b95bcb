"""Pages of suppliers and of what is bought besides board."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from boards.forms import SupplierForm, SupplyForm
from boards.models import Supplier, Supply
from boards.queries import suppliers_listed, supplies_listed
from boards.services import SupplierInUse, SupplyInUse, delete_supplier, delete_supply
from boards.tables import SupplierTable, SupplyTable
from objects.core.words import say, say_count
from objects.readers import reader_of
from objects.roles import role_required
from objects.views.asking import Question, asks_first
from objects.views.tables import TABLE, shape, table_file, wants_file


@require_safe
def supply_list(request: HttpRequest) -> HttpResponse:
    can_edit = reader_of(request).is_manager
    supplies = SupplyTable(supplies_listed(), today=timezone.localdate(), can_edit=can_edit)
    suppliers = SupplierTable(suppliers_listed(), can_edit=can_edit)
    for table in (supplies, suppliers):
        shape(request, table)
    if wants_file(request):
        return table_file(request, suppliers if request.GET.get(TABLE) == suppliers.key else supplies)
    context = {"supplies": supplies, "suppliers": suppliers, "kinds": Supply.Kind.choices}
    return render(request, "boards/supply_list.html", context)


@role_required()
def supply_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, SupplyForm, Supply(), say("New supply"))


@role_required()
def supply_edit(request: HttpRequest, pk: int) -> HttpResponse:
    supply = get_object_or_404(Supply, pk=pk)
    return _edit(request, SupplyForm, supply, say("Edit {supply}", supply=supply))


def _supply_gone(request: HttpRequest, pk: int) -> Question | None:
    supply = get_object_or_404(Supply, pk=pk)
    if supply.movements.exists():
        return None  # which is refused
    consequences = [
        say_count(
            "Its price and {count:,} price break are gone; budgets that need it are out of date.",
            "Its price and {count:,} price breaks are gone; budgets that need it are out of date.",
            supply.price_breaks.count(),
        )
    ]
    return Question(say("Take “{supply}” off the list?", supply=supply), consequences, say("Delete"))


def _supplier_gone(request: HttpRequest, pk: int) -> Question | None:
    supplier = get_object_or_404(Supplier, pk=pk)
    if supplier.supplies.exists() or supplier.sheet_sizes.exists():
        return None  # which is refused
    consequences = [say("What freight costs there, how long it takes and how to order is gone.")]
    return Question(say("Take “{supplier}” off the list?", supplier=supplier), consequences, say("Delete"))


@require_POST
@role_required()
@asks_first(_supply_gone)
def supply_delete(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a supply off the list; what still needs it is named by the budgets worked out from then on."""
    supply = get_object_or_404(Supply, pk=pk)
    try:
        delete_supply(supply=supply)
    except SupplyInUse as refused:
        messages.error(request, str(refused))
    else:
        messages.success(
            request, say("{supply} is off the list. Budgets show themselves out of date.", supply=supply)
        )
    return redirect("boards:supply-list")


@role_required()
def supplier_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, SupplierForm, Supplier(), say("New supplier"))


@role_required()
def supplier_edit(request: HttpRequest, pk: int) -> HttpResponse:
    supplier = get_object_or_404(Supplier, pk=pk)
    return _edit(request, SupplierForm, supplier, say("Edit {supplier}", supplier=supplier))


@require_POST
@role_required()
@asks_first(_supplier_gone)
def supplier_delete(request: HttpRequest, pk: int) -> HttpResponse:
    supplier = get_object_or_404(Supplier, pk=pk)
    try:
        delete_supplier(supplier=supplier)
    except SupplierInUse as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, say("{supplier} is off the list.", supplier=supplier))
    return redirect("boards:supply-list")


def _edit(
    request: HttpRequest,
    form_class: type[SupplierForm | SupplyForm],
    record: Supplier | Supply,
    heading: str,
) -> HttpResponse:
    form = form_class(request.POST or None, instance=record, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        form.by = request.user
        saved = form.save()
        messages.success(request, say("{saved} is saved.", saved=saved))
        return redirect("boards:supply-list")
    return render(request, "boards/supply_edit.html", {"form": form, "heading": heading})
