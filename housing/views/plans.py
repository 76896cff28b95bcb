"""A campaign's plan: making it, its sheets, its boxes as a table, and noting that a sheet is cut."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST, require_safe

from boards.services import StockRefused
from housing.core.drawing.charts import BarChart
from housing.core.figures import together
from housing.forms.plans import SheetFilter
from housing.models import Campaign, CuttingPlan, Job, PlannedSheet
from housing.printing.box_table import box_csv
from housing.printing.planned_sheets import drawn_sheets
from housing.queries.campaigns import open_plan_job
from housing.queries.figures import use_of_sheets
from housing.queries.plans import add_objects, alike, batches_of, board_rows, plan_of, sheets_of
from housing.queries.progress import is_plan_current
from housing.services.housings import HousingRefused
from housing.services.jobs import start_job
from housing.services.nesting import PlanRefused
from housing.services.sheets import cut_sheet
from housing.views.charts import chart_file, sheet_use_chart
from objects.readers import reader_of
from objects.roles import MAKER, role_required

DRAWINGS_PER_PAGE = 12
SHEETS_IN_CHART = 8  # those with the most waste


@require_POST
@role_required()
def campaign_make_plan(request: HttpRequest, pk: int) -> HttpResponse:
    """Begin to plan, leaving sheets that can stay if so asked; if it is being planned already, show that."""
    campaign = get_object_or_404(Campaign, pk=pk)
    if campaign.is_closed:
        messages.error(
            request,
            _("“{campaign}” is closed. Open it again on its edit page, then plan it.").format(
                campaign=campaign
            ),
        )
        return redirect("housing:campaign-detail", pk=campaign.pk)
    job = open_plan_job(campaign) or start_job(
        kind=Job.Kind.PLAN,
        title=_("Plan “{campaign}”").format(campaign=campaign),
        parameters={"campaign": campaign.pk} | ({"keep": True} if request.POST.get("keep") == "on" else {}),
        by=request.user,
    )
    return redirect("housing:job-detail", pk=job.pk)


@require_safe
def campaign_plan(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    context: dict = {"campaign": campaign, "plan": (plan := plan_of(campaign))}
    if plan:
        charts = _use_charts(plan)
        if file := chart_file(request, charts):
            return file
        batches = batches_of(plan)
        chosen = SheetFilter(request.GET, sheets_of(plan), plan=plan, batches=batches)
        groups = alike(chosen.qs)
        page = Paginator(groups, DRAWINGS_PER_PAGE).get_page(request.GET.get("page"))
        shown = sheets_of(plan).in_bulk([key for group in page for key in group])
        add_objects(shown.values())
        context |= {
            "board_rows": board_rows(plan),
            "use_chart": charts["use"],
            "filter": chosen,
            "has_batches": len(batches) > 1,
            "page": page,
            "number": sum(map(len, groups)),
            "drawn": [drawn_sheets([shown[key] for key in group], reader_of(request)) for group in page],
            "is_current": is_plan_current(campaign),
        }
    return render(request, "housing/campaign_plan.html", context)


def _use_charts(plan: CuttingPlan) -> dict[str, BarChart]:
    """What becomes of the sheets of a plan: of all together and those with the most waste, and of all."""
    uses = [use for _sheet, use in use_of_sheets(plan.sheets.order_by("position"))]
    worst = sorted(uses, key=lambda use: use.percents[2], reverse=True)[:SHEETS_IN_CHART]
    all_of_it = [together(_("All sheets"), uses)] if uses else []
    title = _("What becomes of the board")
    return {
        "use": sheet_use_chart(title, (("", use) for use in (*all_of_it, *worst))),
        "all": sheet_use_chart(title, (("", use) for use in uses)),
    }


@require_POST
@role_required(MAKER)
def sheet_cut(request: HttpRequest, pk: int) -> HttpResponse:
    """Note that a sheet is cut, then show it again; a refusal shows the top of the page, where it is said."""
    sheet = PlannedSheet.objects.select_related("plan", "board").filter(pk=pk).first()
    if sheet is None:
        return _sheet_is_gone(request)
    try:
        done = cut_sheet(sheet=sheet, by=request.user)
    except (PlanRefused, StockRefused, HousingRefused) as refused:
        messages.error(request, str(refused))
        place = ""
    else:
        place = f"#sheet-{sheet.position}"
        messages.success(request, _what_is_done(done))
    address = reverse("housing:campaign-plan", args=[sheet.plan.campaign_id])
    return redirect(f"{address}?{request.GET.urlencode()}{place}")


def _sheet_is_gone(request: HttpRequest) -> HttpResponse:
    """A page from before the campaign was planned again named a sheet: say so, and show the plan of now."""
    campaign = get_object_or_404(Campaign, pk=_number(request.POST.get("campaign", "")))
    messages.error(
        request,
        _(
            "That sheet is not in the plan any more: the campaign was planned again since. If you "
            "have cut it, write the sheet off and put what is left of it on the rack, both on the "
            "page of its board."
        ),
    )
    return redirect("housing:campaign-plan", pk=campaign.pk)


def _number(text: str) -> int:
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 10 else 0


def _what_is_done(sheet: PlannedSheet) -> str:
    """What noting that a sheet is cut has changed."""
    used = (
        _("Offcut {offcut_id} is used up").format(offcut_id=sheet.offcut_id)
        if sheet.offcut_id
        else _("The stock is one less")
    )
    rack = ""
    if kept := len(sheet.offcuts):
        rack = ngettext(
            " {kept} offcut is on the rack now; the page of {code} tells its number.",
            " {kept} offcuts are on the rack now; the page of {code} tells their numbers.",
            kept,
        ).format(kept=kept, code=sheet.board.code)
    return _("{sheet} is cut. {used}, and the boxes on it are now in work.{rack}").format(
        sheet=sheet, used=used, rack=rack
    )


@require_safe
def campaign_boxes(request: HttpRequest, pk: int) -> HttpResponse:
    """All boxes of a campaign as a table to download."""
    campaign = get_object_or_404(Campaign, pk=pk)
    return HttpResponse(
        box_csv(campaign),
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="boxes-{campaign.pk}.csv"'},
    )
